package refdata

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
)

// TestStanding: the loader keeps the four ways to know a thing apart, and the
// mark goes wherever the value goes.
func TestStanding(t *testing.T) {
	s := Load("toy", fstest.MapFS{"refdata/a.toml": {Data: []byte(`
[source.read]
text = "A Handbook, table 2"
confidence = "looked-up"

[source.quoted]
text = "A Standard, section 4"
confidence = "second-hand"

[source.heard]
text = "A Talk"
confidence = "memory"

[source.practice]
practice = true

[value.gap]
is = "1 in"
source = "quoted"
`)}})
	for key, want := range map[string][2]string{
		"read":     {"looked up", "A Handbook, table 2"},
		"quoted":   {"second-hand", "A Standard, section 4 (second-hand)"},
		"heard":    {"from memory", "A Talk (from memory)"},
		"practice": {"common practice", "common practice, no source"},
	} {
		c := s.Source(key)
		assert.Equal(t, want, [2]string{c.Standing(), c.String()}, key)
	}
	assert.Equal(t, "A Standard, section 4 (second-hand)", s.Value("gap").Source().Cite)
	assert.PanicsWithValue(t, "reference data of toy: source x needs text and a confidence, or practice", func() {
		Load("toy", fstest.MapFS{"refdata/a.toml": {Data: []byte("[source.x]\ntext = \"y\"\nconfidence = \"certain\"\n")}})
	})
}

package paperwork

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/rules/packtest"
)

// TestStepsInACircle: the steps that come before themselves are those that are met
// again when what comes before them is followed, whatever the steps come after.
func TestStepsInACircle(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 8))
	circles := 0
	for range 40 {
		var text strings.Builder
		for i := range 9 {
			var after []string
			for range rnd.IntN(3) {
				after = append(after, fmt.Sprintf("%q", fmt.Sprintf("work.s%d", rnd.IntN(9))))
			}
			fmt.Fprintf(&text, "[work.s%d]\ntitle = \"S\"\nafter = [%s]\n", i, strings.Join(after, ", "))
		}
		b := packtest.Build(t, text.String())
		o := orderOf(b)
		for _, w := range b.Works() {
			assert.Equal(t, o.comesBefore(w, w), o.circle[w.Path()], "%s of\n%s", w.Path(), text.String())
			if o.circle[w.Path()] {
				circles++
			}
		}
	}
	assert.Greater(t, circles, 50)
}

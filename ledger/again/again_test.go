package again

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// copied is a ledger's copy, from one file.
func copied(t *testing.T, text string) string {
	t.Helper()
	c, err := Copy([]File{{"build.toml", []byte(text)}}, Origin{"heron", "abc:builds/heron", "plover"})
	require.NoError(t, err)
	require.Len(t, c.Files, 1)
	return string(c.Files[0].Text)
}

// What becomes of each kind of value, in whichever way it is written.
func TestValues(t *testing.T) {
	head := "# Begun from heron. What was read there is an estimate here (~), with the old reading behind it,\n# and what is certified of one vehicle is a comment: read it on this one.\n\n[build]\ntitle = \"plover\"\nstage = \"intake\"\nfrom = \"abc:builds/heron\"\n\n"
	for name, c := range map[string]struct{ from, want string }{
		"ten percent":                {"[vehicle]\nheight = \"76 ± 1/4 in\"\n", "[vehicle]\nheight = \"~76 in\" # read on heron: 76 ± 1/4 in\n"},
		"an inch at the least":       {"[gap.a]\nmeasured = \"1 7/8 in\" # cold\n", "[gap.a]\nmeasured = \"~1 7/8 ± 1 in\" # read on heron: 1 7/8 in # cold\n"},
		"an inch, in millimeters":    {"[gap.a]\nmeasured = \"48 mm\"\n", "[gap.a]\nmeasured = \"~48 ± 26 mm\" # read on heron: 48 mm\n"},
		"ten degrees Fahrenheit":     {"[zone.a]\ntemperature = \"185 ± 2 degF\"\n", "[zone.a]\ntemperature = \"~185 ± 10 degF\" # read on heron: 185 ± 2 degF\n"},
		"a rating":                   {"[vehicle]\ngross-rating = \"9200 lb\" # label\n", "[vehicle]\n# of heron: gross-rating = \"9200 lb\" # label\n"},
		"a stated value of a part":   {"[part.a]\nmass = \"612 lb\"\n", "[part.a]\nmass = \"612 lb\"\n"},
		"a part that was weighed":    {"[part.a]\nmass = \"612 ± 3 lb\"\n", "[part.a]\nmass = \"~612 lb\" # read on heron: 612 ± 3 lb\n"},
		"inside a line":              {"[part.a]\ngives = { vacuum = \"20 ± 1 inHg\", heat = true }\n", "[part.a]\ngives = { vacuum = \"~20 inHg\", heat = true } # read on heron: 20 ± 1 inHg\n"},
		"a place is design":          {"[part.a]\nat = { behind = \"3 ± 1 in\" }\n", "[part.a]\nat = { behind = \"3 ± 1 in\" }\n"},
		"dates, price, fate":         {"[part.a]\nfitted-on = 2026-01-01\nprice = \"3 USD\"\nfate = \"sold\"\norder-as = \"a\"\n", "[part.a]\norder-as = \"a\"\n"},
		"the last key of an entry":   {"[part.a]\norder-as = \"a\"\narrived = 2026-01-01\n\n[part.b]\n", "[part.a]\norder-as = \"a\"\n\n[part.b]\n"},
		"a step is to do again":      {"[work.a]\ntitle = \"weld\"\ndid = \"made\"\nspent = \"3 h\"\ndate = 2026-01-01\nfound = \"rust\"\nhours = \"~2 h\"\n", "[work.a]\ntitle = \"weld\"\ndid = \"made\"\nhours = \"~2 h\"\n"},
		"an entry, with its comment": {"# Kept.\n\n# The scale.\n[weighing.a]\nfront = \"1 lb\"\n[weighing.a.levels]\n\"tank.a\" = 1\n\n[part.b]\n", "# Kept.\n\n[part.b]\n"},
		"names of what is left":      {"[part.a]\ndonor = \"donor.b\"\nmade = { material = \"steel\", drawing = \"document.d\" }\n\n[donor.b]\n\n[document.d]\n\n[faq.f]\nabout = [\"part.a\", \"document.d\"]\n", "[part.a]\nmade = { material = \"steel\" }\n\n[faq.f]\nabout = [\"part.a\"]\n"},
		"what a driver is told":      {"[part.a]\n\n[instruction.b]\ndo = \"9200 lb\"\n", "[part.a]\n"},
		"the fuse that it came with": {"[part.block]\norigin = \"original\"\n\n[part.lamp]\norigin = \"original\"\n\n[circuit.a]\nfrom = \"part.block\"\nto = [\"part.lamp\"]\nfuse = \"20 A\"\n", "[part.block]\norigin = \"original\"\n\n[part.lamp]\norigin = \"original\"\n\n[circuit.a]\nfrom = \"part.block\"\nto = [\"part.lamp\"]\n# of heron: fuse = \"20 A\"\n"},
	} {
		t.Run(name, func(t *testing.T) { assert.Equal(t, head+c.want, copied(t, c.from)) })
	}
}

// The keys of [build] are replaced where they stand.
func TestInfo(t *testing.T) {
	got := copied(t, "[build]\nstage = \"delivery\" # at last\ndelivered = 2026-01-01\nquoted = \"3 USD\"\ntitle = \"Heron\"\nunits = \"us\"\n")
	assert.Contains(t, got, "[build]\nfrom = \"abc:builds/heron\"\nstage = \"intake\" # at last\ntitle = \"plover\"\nunits = \"us\"\n")
}

package edit

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/syntax"
)

// layouts are files, and how they are laid out.
var layouts = []struct{ name, text, want string }{
	{"keys in their order, each with its comments",
		"[part.a]\n# by the crane\nmass   = '12 lb' # wet\n\nat.above = \"3 in\"\n  role = \"engine\"\nat.behind=\"1 in\"\nname = \"A\"\n",
		"[part.a]\nname = \"A\"\nrole = \"engine\"\n# by the crane\nmass = \"12 lb\" # wet\nat.behind = \"1 in\"\nat.above = \"3 in\"\n"},
	{"a comment below stays below",
		"[part.a]\nmass = \"1 lb\"\n# scale was off\n\nname = \"A\"\n# last word\n\n\n[part.b]\n",
		"[part.a]\nname = \"A\"\n# last word\n\nmass = \"1 lb\"\n# scale was off\n\n[part.b]\n"},
	{"a comment that stands alone parts what is above from what is below",
		"# ours\n\n\n[part.a]\nmass = \"1 lb\"\nname = \"A\"\n\n# ---- bought\n\nprice = \"2 USD\"\nsupplier = \"B\"\n\n\n# ---- next\n\n[part.b]\n",
		"# ours\n\n[part.a]\nname = \"A\"\nmass = \"1 lb\"\n\n# ---- bought\n\nsupplier = \"B\"\nprice = \"2 USD\"\n\n# ---- next\n\n[part.b]\n"},
	{"entries and their order, and what the header says",
		"[ part . \"b\" ]   # so\nname = 'b'\n[part.'a x']\n# of a\n[vehicle]\nfront.tires = 2\nmake = \"T\"\nfront.rating = \"900 lb\"",
		"[part.b]   # so\nname = \"b\"\n\n[part.\"a x\"]\n\n# of a\n[vehicle]\nmake = \"T\"\nfront.rating = \"900 lb\"\nfront.tires = 2\n"},
	{"quantities as they are printed, to the last digit",
		"[gap.a]\nmeasured = \"3½″\"\nleast = \"0.50 inch\"\nmotion = \"1 in +/- 1/16 in\"\nrelief = \"2  to 3 inches\"\n[tank.a]\ncapacity = \"+30.00 gallons\"\n[zone.b]\ntemperature = \"90 °C\"\n[circuit.a]\ngauge = \"#12 awg\"\n[circuit.b]\ngauge = \"2.50 mm²\"\n",
		"[gap.a]\nmeasured = \"3 1/2 in\"\nrelief = \"2 to 3 in\"\nmotion = \"1 ± 1/16 in\"\nleast = \"0.50 in\"\n\n[tank.a]\ncapacity = \"30.00 gal\"\n\n[zone.b]\ntemperature = \"90 degC\"\n\n[circuit.a]\ngauge = \"12 AWG\"\n\n[circuit.b]\ngauge = \"2.50 mm²\"\n"},
	{"what is no quantity stays as it is spelled",
		"[part.a]\nname = \"12  inches\"\ncount = 4.0\nfitted-on = \"2026-01-02\"\narrived = 2026-01-03\nwhy = 'a \"b\" \\ c'\nnote = \"\\u00e9 \\t\"\n",
		"[part.a]\nname = \"12  inches\"\ncount = 4.0\narrived = 2026-01-03\nfitted-on = \"2026-01-02\"\nwhy = 'a \"b\" \\ c'\nnote = \"\\u00e9 \\t\"\n"},
	{"tables and lists on one line",
		"[part.a]\nat={above='1 in',  behind = \"2 inches\", right=\"0 in\",}\nneeds = { vacuum = { from = 'part.p', least = \"10 in Hg\" }, air = {} }\n[gap.a]\nbetween=['part.a' ,\"b\",]\n",
		"[part.a]\nat = { behind = \"2 in\", right = \"0 in\", above = \"1 in\" }\nneeds = { vacuum = { least = \"10 inHg\", from = \"part.p\" }, air = {} }\n\n[gap.a]\nbetween = [\"part.a\", \"b\"]\n"},
	{"of several lines: as they are, but for quotes and spelling",
		"[gap.a]\nbetween = [ # two\n    'part.a', # one\n  # other\n\t\"b\"\n]\n[part.a]\nat = { # here\n above = '1 in', right.x = 1, behind = \"2 inches\", right.y = '''q''' }\nwhy = '''\n  [part.b]\n# no comment\n'''\nname = \"\"\"A\"\"\"\n",
		"[gap.a]\nbetween = [ # two\n    \"part.a\", # one\n  # other\n\t\"b\"\n]\n\n[part.a]\nname = \"A\"\nat = { # here\n above = \"1 in\", right.x = 1, behind = \"2 in\", right.y = \"q\" }\nwhy = '''\n  [part.b]\n# no comment\n'''\n"},
	{"rows in columns",
		"[plug.a.pins]\n1  = { now = 'new',    to = \"part.a\" }\n10 = { now = \"capped\", color = \"red\" }\n\n[plug.b.pins]\n1  = { to = 'part.a', now = \"new\" }\n10={ now = \"kept\" }\n",
		"[plug.a.pins]\n1  = { now = \"new\",    to = \"part.a\" }\n10 = { now = \"capped\", color = \"red\" }\n\n[plug.b.pins]\n1 = { now = \"new\", to = \"part.a\" }\n10 = { now = \"kept\" }\n"},
	{"what stands before the first header keeps its order",
		"\n\npart.b.name = \"b\"\n\n\npart.b.mass = '1 lb'\npart.a.name = \"a\"\n# end",
		"part.b.name = \"b\"\n\npart.b.mass = \"1 lb\"\npart.a.name = \"a\"\n# end\n"},
	{"nothing", "", ""},
	{"only comments", "\n# a\n\n\n  # b\n# c", "# a\n\n# b\n# c\n"},
	{"keys that the schema does not know, and lists of tables",
		"[[x.y]]\nb = 1\n\n\n\na = 2\n[[x.y]]#z\n[part.a]\nzz = 1\nname = \"A\"\naa = 2\n",
		"[[x.y]]\nb = 1\n\na = 2\n\n[[x.y]] #z\n\n[part.a]\nname = \"A\"\nzz = 1\naa = 2\n"},
}

func TestStraight(t *testing.T) {
	for _, c := range layouts {
		for _, end := range []string{"\n", "\r\n"} {
			text, want := strings.ReplaceAll(c.text, "\n", end), strings.ReplaceAll(c.want, "\n", end)
			assert.Equal(t, want, checkStraight(t, text), c.name)
		}
	}
}

// checkStraight lays out a file, and checks that it says the same as before and
// that to do it twice changes nothing.
func checkStraight(t *testing.T, text string) string {
	t.Helper()
	d := syntax.Read([]byte(text))
	require.Empty(t, d.Faults)
	out := straight(d)
	now := syntax.Read([]byte(out))
	require.Empty(t, now.Faults, "%q", out)
	require.True(t, reflect.DeepEqual(straightTree(d.Root, nil), treeOf(now.Root)), "%q", out)
	require.Equal(t, commentsOfNodes(d.Root), commentsOfNodes(now.Root), "%q", out)
	require.Equal(t, out, straight(now))
	return out
}

// commentsOfNodes are the comments above and behind each key.
func commentsOfNodes(root *syntax.Node) map[string]string {
	out := map[string]string{}
	var walk func(n *syntax.Node, path string)
	walk = func(n *syntax.Node, path string) {
		for i, c := range n.Children {
			at := path + "\x00" + c.Key
			if n.Kind == syntax.Array {
				at += string(rune('0' + i))
			}
			out[at] = c.Comment
			walk(c, at)
		}
	}
	walk(root, "")
	return out
}

// The examples are straight.
func TestExamplesAreStraight(t *testing.T) {
	for _, name := range []string{"builds/marten", "builds/heron", "builds/dunlin", "changes/winch/before", "changes/winch/after"} {
		d, err := Begin(open(t, filepath.Join("../../examples/tamarack", name)))
		require.NoError(t, err)
		require.Empty(t, d.Before().Faults)
		require.NoError(t, d.Straighten())
		for _, f := range d.Rewritten() {
			assert.Fail(t, f.Name+" is not straight; fishplate straighten lays it out")
		}
	}
}

// FuzzStraight: whatever a file says, it says laid out, with the comments where
// they were.
func FuzzStraight(f *testing.F) {
	for _, c := range layouts {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if d := syntax.Read([]byte(text)); len(d.Faults) == 0 && !d.Mark {
			checkStraight(t, text)
		}
	})
}

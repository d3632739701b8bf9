package edit

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/ledger/syntax"
)

const mergeBase = `# Taped on its wheels.

[gap.fan]
between = ["part.fan", "core"]
measured = "2 3/4 in" # cold
read = 2026-03-01

# The pan.
[gap.pan]
measured = "3 in"
`

func TestMerge(t *testing.T) {
	for name, c := range map[string]struct {
		ours, theirs []string // replacements in the base
		more         [2]string
		want         string
		conflicts    []Conflict
	}{
		"both sides add at the end": {nil, nil, [2]string{"\n[document.a]\nfile = \"a.jpg\"\n", "\n[document.b]\nfile = \"b.jpg\" # the other\n"},
			mergeBase + "\n[document.a]\nfile = \"a.jpg\"\n\n[document.b]\nfile = \"b.jpg\" # the other\n", nil},
		"different keys of one entry": {[]string{`"2 3/4 in"`, `"2 in"`}, []string{"2026-03-01", "2026-03-05"}, [2]string{},
			strings.NewReplacer(`"2 3/4 in"`, `"2 in"`, "2026-03-01", "2026-03-05").Replace(mergeBase), nil},
		"the same key to the same value": {[]string{`"3 in"`, `"2 in"`}, []string{`"3 in"`, `'2 in' # again`}, [2]string{},
			strings.Replace(mergeBase, `measured = "3 in"`, "# again\nmeasured = \"2 in\"", 1), nil},
		"the same key to two values": {[]string{`"3 in"`, `"2 in"`}, []string{`"3 in"`, `"4 in"`}, [2]string{},
			strings.Replace(mergeBase, "measured = \"3 in\"\n", "<<<<<<< ours\nmeasured = \"2 in\"\n=======\nmeasured = \"4 in\"\n>>>>>>> theirs\n", 1),
			[]Conflict{{"gap.pan.measured", 10, `measured = "2 in"`, `measured = "4 in"`}}},
		"a value and the comment beside it": {[]string{`"2 3/4 in"`, `"2 in"`}, []string{"# cold", "# hot"}, [2]string{},
			strings.Replace(mergeBase, `measured = "2 3/4 in" # cold`, "# hot\nmeasured = \"2 in\" # cold", 1), nil},
		"a key added by each": {[]string{"read", "motion = \"1/4 in\"\nread"}, []string{"read", "along = \"back\"\nread"}, [2]string{},
			strings.Replace(mergeBase, "read", "motion = \"1/4 in\"\nalong = \"back\"\nread", 1), nil},
		"taken away, and changed": {[]string{"\n# The pan.\n[gap.pan]\nmeasured = \"3 in\"\n", ""}, []string{`"3 in"`, `"4 in"`}, [2]string{},
			strings.Replace(mergeBase, "# The pan.\n[gap.pan]\nmeasured = \"3 in\"\n", "<<<<<<< ours\n=======\n# The pan.\n[gap.pan]\nmeasured = \"4 in\"\n>>>>>>> theirs\n", 1),
			[]Conflict{{"gap.pan", 8, "", "[gap.pan]"}}},
		"a key taken away, and another changed": {[]string{"read = 2026-03-01\n", ""}, []string{`"3 in"`, `"4 in"`}, [2]string{},
			strings.NewReplacer("read = 2026-03-01\n", "", `"3 in"`, `"4 in"`).Replace(mergeBase), nil},
		"an entry gone, a comment on another": {[]string{"\n# The pan.\n[gap.pan]\nmeasured = \"3 in\"\n", ""}, []string{"[gap.fan]", "# By the core.\n[gap.fan]"}, [2]string{},
			strings.NewReplacer("\n# The pan.\n[gap.pan]\nmeasured = \"3 in\"\n", "", "[gap.fan]", "# By the core.\n[gap.fan]").Replace(mergeBase), nil},
		"both add the same entry": {nil, nil, [2]string{"\n[gap.x]\nmeasured = \"1 in\"\nread = 2026-01-01\n", "\n[gap.x]\nmeasured = \"1 in\"\nmotion = \"0 in\"\n"},
			mergeBase + "\n[gap.x]\nmeasured = \"1 in\"\nread = 2026-01-01\nmotion = \"0 in\"\n", nil},
	} {
		t.Run(name, func(t *testing.T) {
			ours := strings.NewReplacer(c.ours...).Replace(mergeBase) + c.more[0]
			theirs := strings.NewReplacer(c.theirs...).Replace(mergeBase) + c.more[1]
			m, err := Merge([]byte(mergeBase), []byte(ours), []byte(theirs))
			require.NoError(t, err)
			assert.Equal(t, c.want, string(m.Text))
			assert.Equal(t, c.conflicts, m.Conflicts)
		})
	}
}

// What cannot be told apart by keys, as a table laid out in another way, stands
// whole between the marks: nothing is lost.
// What stands at the top of a file is said of the file: it stays there, wherever either
// side put the first entry, and whatever went.
func TestMergeOfTheHead(t *testing.T) {
	const head, fan, pan = "# Taped on the slab.\n# By June.\n\n", "[gap.fan]\nmeasured = \"1 in\"\n", "[gap.pan]\nmeasured = \"2 in\"\n"
	const drag = "[gap.drag]\nmeasured = \"3 in\"\n"
	base := head + fan + "\n" + pan + "\n" + drag
	two := strings.Replace(base, "2 in", "4 in", 1)
	for name, c := range map[string][3]string{
		"theirs moved one to the top": {two, head + drag + "\n" + fan + "\n" + pan, two},
		"ours moved one to the top":   {head + drag + "\n" + fan + "\n" + strings.Replace(pan, "2 in", "4 in", 1), base, head + drag + "\n" + fan + "\n" + strings.Replace(pan, "2 in", "4 in", 1)},
		"the first is gone":           {head + pan + "\n" + drag, two, head + strings.Replace(pan, "2 in", "4 in", 1) + "\n" + drag},
		"theirs adds above":           {two, head + "[gap.new]\nmeasured = \"5 in\"\n\n" + base[len(head):], head + "[gap.new]\nmeasured = \"5 in\"\n\n" + two[len(head):]},
		"the head changed too":        {strings.Replace(two, "June", "Teo", 1), head + drag + "\n" + fan + "\n" + pan, strings.Replace(two, "June", "Teo", 1)},
	} {
		got, err := Merge([]byte(base), []byte(c[0]), []byte(c[1]))
		require.NoError(t, err, name)
		assert.Empty(t, got.Conflicts, name)
		assert.Equal(t, c[2], string(got.Text), name)
	}
}

func TestMergeOfLayouts(t *testing.T) {
	m, err := Merge([]byte("[part.a]\nmass = \"1 lb\"\n"), []byte("part.a.mass = \"1 lb\"\n"), []byte("[part.a]\nmass = \"2 lb\"\n"))
	require.NoError(t, err)
	assert.NotEmpty(t, m.Conflicts)
	assert.Contains(t, string(m.Text), "2 lb")
	m, err = Merge(nil, []byte("\ufeff[part.a]\r\nmass = \"1 lb\"\r\n"), []byte("[part.b]\nmass = \"2 lb\""))
	require.NoError(t, err)
	assert.Empty(t, m.Conflicts)
	assert.Equal(t, "\ufeff[part.a]\r\nmass = \"1 lb\"\r\n\r\n[part.b]\r\nmass = \"2 lb\"\r\n", string(m.Text))
	_, err = Merge(nil, []byte("a = 1\n"), []byte("a = \n"))
	assert.ErrorContains(t, err, "theirs:1:")
}

// sheet is a file in a model: entries, each with keys and comments.
type sheet map[string]map[string]string

func (s sheet) clone() sheet {
	out := sheet{}
	for id, keys := range s {
		out[id] = maps.Clone(keys)
	}
	return out
}

// text writes a model down; a key that begins with # is a comment beside the key.
func (s sheet) text() string {
	var b strings.Builder
	b.WriteString("# A file.\n\n")
	for _, id := range slices.Sorted(maps.Keys(s)) {
		fmt.Fprintf(&b, "# On %s.\n[part.%s]\n", id, id)
		for _, k := range slices.Sorted(maps.Keys(s[id])) {
			if beside, ok := strings.CutPrefix(k, "#"); ok {
				fmt.Fprintf(&b, "# %s %s %s\n", id, beside, s[id][k])
				continue
			}
			fmt.Fprintf(&b, "%s = %q\n", k, s[id][k])
		}
		b.WriteString("\n# ---\n\n")
	}
	return b.String()
}

func sheets(t *rapid.T) sheet {
	out := sheet{}
	for range rapid.IntRange(0, 5).Draw(t, "entries") {
		keys := map[string]string{}
		for range rapid.IntRange(0, 4).Draw(t, "keys") {
			keys[rapid.SampledFrom([]string{"a", "b", "c", "d", "#a", "#c"}).Draw(t, "key")] = rapid.SampledFrom([]string{"1", "2", "3"}).Draw(t, "value")
		}
		out[rapid.SampledFrom([]string{"p", "q", "r", "s", "t"}).Draw(t, "id")] = keys
	}
	return out
}

// change makes some edits of a model, of those entries and keys that may says.
func (s sheet) change(t *rapid.T, ids []string, may func(id, key string) bool) sheet {
	out := s.clone()
	for range rapid.IntRange(0, 6).Draw(t, "edits") {
		id := rapid.SampledFrom(ids).Draw(t, "at")
		key := rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "#a", "#d"}).Draw(t, "what")
		if !may(id, key) {
			continue
		}
		if out[id] == nil {
			out[id] = map[string]string{}
		}
		switch rapid.IntRange(0, 5).Draw(t, "how") {
		case 0:
			delete(out[id], key)
		case 1:
			if may(id, "") {
				delete(out, id)
			}
		default:
			out[id][key] = rapid.SampledFrom([]string{"1", "2", "4", "5"}).Draw(t, "new")
		}
	}
	return out
}

func valuesIn(t require.TestingT, text string) map[string]any {
	p, err := partsOf([]byte(text))
	require.NoError(t, err, text)
	return p.values()
}

// TestMergeOfDisjointEdits: where the two sides change other keys, the merge is
// what both changes one after the other give.
func TestMergeOfDisjointEdits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := sheets(t)
		// p, q and n are of ours as a whole, s and m of theirs; of r and t each has some keys.
		mine := func(side int) func(id, key string) bool {
			return func(id, key string) bool {
				switch id {
				case "p", "q", "n":
					return side == 0
				case "s", "m":
					return side == 1
				}
				return base[id] != nil && key != "" && (strings.Contains("ab#a", key)) == (side == 0)
			}
		}
		ids := []string{"p", "q", "r", "s", "t", "n", "m"}
		ours, theirs := base.change(t, ids, mine(0)), base.change(t, ids, mine(1))
		both := ours.clone()
		for _, id := range ids {
			if mine(1)(id, "") {
				delete(both, id)
				if theirs[id] != nil {
					both[id] = theirs[id]
				}
				continue
			}
			for k, v := range theirs[id] {
				if mine(1)(id, k) {
					both[id][k] = v
				}
			}
			for k := range base[id] {
				if _, still := theirs[id][k]; !still && mine(1)(id, k) {
					delete(both[id], k)
				}
			}
		}
		m, err := Merge([]byte(base.text()), []byte(ours.text()), []byte(theirs.text()))
		require.NoError(t, err)
		require.Empty(t, m.Conflicts, string(m.Text))
		require.Equal(t, valuesIn(t, both.text()), valuesIn(t, string(m.Text)), string(m.Text))
		for _, c := range remarks(both.text()) {
			if strings.Contains(ours.text(), c) && strings.Contains(theirs.text(), c) || !strings.Contains(base.text(), c) {
				require.Contains(t, string(m.Text), c)
			}
		}
	})
}

// side is the merged text with one side of what stands between the marks.
func sideOf(text string, ours bool) string {
	var b strings.Builder
	keep, in := true, false
	for _, line := range lines(text) {
		switch {
		case line == markOurs:
			in, keep = true, ours
		case line == markMiddle && in:
			keep = !ours
		case line == markTheirs:
			in, keep = false, true
		case keep:
			b.WriteString(line)
		}
	}
	return b.String()
}

// TestMergeLosesNothing: whatever the two sides change, each key and each comment that a side
// changed or added is in the merged file, and either side of the marks is TOML that
// says for every key what one of the two says.
func TestMergeLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := sheets(t)
		ids := []string{"p", "q", "r", "n"}
		all := func(string, string) bool { return true }
		ours, theirs := base.change(t, ids, all), base.change(t, ids, all)
		m, err := Merge([]byte(base.text()), []byte(ours.text()), []byte(theirs.text()))
		require.NoError(t, err)
		b, o, th := valuesIn(t, base.text()), valuesIn(t, ours.text()), valuesIn(t, theirs.text())
		one, two := valuesIn(t, sideOf(string(m.Text), true)), valuesIn(t, sideOf(string(m.Text), false))
		for _, side := range []map[string]any{o, th} {
			for path, v := range side {
				if same(side, b, path) {
					continue
				}
				require.True(t, assert.ObjectsAreEqual(v, one[path]) || assert.ObjectsAreEqual(v, two[path]), "%q\n%s", path, m.Text)
			}
		}
		for path := range b {
			if same(o, b, path) && same(th, b, path) {
				require.True(t, same(one, b, path) || same(two, b, path), "%q\n%s", path, m.Text)
			}
		}
		if len(m.Conflicts) == 0 {
			for path := range one {
				require.True(t, same(one, o, path) || same(one, th, path), path)
			}
		}
		was := remarks(base.text())
		for _, text := range []string{ours.text(), theirs.text()} {
			for _, c := range remarks(text) {
				if !slices.Contains(was, c) {
					require.Contains(t, string(m.Text), c)
				}
			}
		}
		again, err := Merge([]byte(base.text()), []byte(ours.text()), []byte(ours.text()))
		require.NoError(t, err)
		require.Equal(t, ours.text(), string(again.Text))
	})
}

// TestMergeOfExamples: in every file of the examples two values that stand one behind the
// other are changed, one on each side: byte for byte, only those two differ.
func TestMergeOfExamples(t *testing.T) {
	n := 0
	require.NoError(t, filepath.WalkDir("../../examples", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, ".toml") {
			return err
		}
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		doc := syntax.Read(data)
		var values []span
		for _, s := range statements(doc) {
			if r := s.node.ValueRange; !s.inline && !s.header && !r.Empty() {
				values = append(values, span{int(r.From), int(r.To)})
			}
		}
		with := func(which ...int) string {
			text := doc.Text
			for _, i := range which { // the last first
				text = text[:values[i].from] + fmt.Sprintf("\"changed %d\"", i) + text[values[i].to:]
			}
			return text
		}
		for i := 1; i < len(values); i += 31 {
			m, err := Merge(data, []byte(with(i-1)), []byte(with(i)))
			require.NoError(t, err)
			require.Empty(t, m.Conflicts, name)
			require.Equal(t, with(i, i-1), string(m.Text), name)
			n++
		}
		return nil
	}))
	require.Greater(t, n, 100)
}

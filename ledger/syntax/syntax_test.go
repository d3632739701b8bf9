package syntax

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// parse reads a file whole or not at all: the root of a refused one is nil.
func parse(data []byte) (*Node, []Fault) {
	d := Read(data)
	if d.Refused {
		return nil, d.Faults
	}
	return d.Root, d.Faults
}

// told gives faults one a line, as line:col message.
func told(faults []Fault) []string {
	var lines []string
	for _, f := range faults {
		lines = append(lines, f.At.String()+" "+f.Message)
	}
	return lines
}

// show draws a tree, one node a line: place of key, place of value, what it is.
func show(n *Node, indent string, b *strings.Builder) {
	what := n.Kind.String()
	if n.Inline {
		what = "inline " + what
	}
	if n.Value != nil {
		what = fmt.Sprintf("%s %#v", n.Text, n.Value)
	}
	fmt.Fprintf(b, "%s%s %s %s: %s", indent, n.KeyAt, n.ValueAt, quoteKey(n.Key), what)
	if n.Comment != "" {
		fmt.Fprintf(b, " # %q", n.Comment)
	}
	b.WriteString("\n")
	for _, c := range n.Children {
		show(c, indent+"  ", b)
	}
}

func TestTree(t *testing.T) {
	src := `# The shop's file.

# Its name,
# by hand
name = "Bär" # so painted
size.wide = 2  # dotted
size.tall = 1.5

# A battery.
[[part]]
mass = ["½ kg", 3,
  # two at a time
  { a.b = 1, c = [] }, # the last
]
[part.'mount point'] # steel
[[ part ]]
[van.rear]
[van] # later
on = true
`
	root, faults := parse([]byte("\ufeff" + src))
	require.Empty(t, faults)
	var b strings.Builder
	show(root, "", &b)
	assert.Equal(t, `1:1 1:1 "": table
  5:1 5:8 name: "Bär" "Bär" # "Its name,\nby hand\nso painted"
  6:1 6:1 size: table
    6:6 6:13 wide: 2 2 # "dotted"
    7:6 7:13 tall: 1.5 1.5
  10:3 10:3 part: array
    10:3 10:3 "": table # "A battery."
      11:1 11:8 mass: inline array
        11:9 11:9 "": "½ kg" "½ kg"
        11:17 11:17 "": 3 3
        13:3 13:3 "": inline table # "two at a time\nthe last"
          13:5 13:5 a: table
            13:7 13:11 b: 1 1
          13:14 13:18 c: inline array
      15:7 15:7 "mount point": table # "steel"
    16:4 16:4 "": table
  18:2 18:2 van: table # "later"
    17:6 17:6 rear: table
    19:1 19:6 on: true true
`, b.String())
}

func TestFaults(t *testing.T) {
	deep := strings.Repeat("[", maxDepth+1)
	for name, c := range map[string]struct {
		src    string
		usable bool
		want   []string
	}{
		"empty":             {"", true, nil},
		"only a comment":    {"# nothing", true, nil},
		"too large":         {strings.Repeat("#", MaxSize+1), false, []string{"1:1 the file has 1048577 bytes, more than the 1048576 that are read"}},
		"UTF-16":            {"\xff\xfea\x00", false, []string{"1:1 the file is in UTF-16, it must be in UTF-8"}},
		"bad UTF-8":         {"é = 'é\xff'", false, []string{"1:7 the byte 0xff is not valid UTF-8"}},
		"raw control":       {"a = 'x\x00'\nb = 1\r", false, []string{"1:7 a control character (U+0000) is not allowed in a TOML file", "2:6 a carriage return (U+000D) without a newline is not allowed in a TOML file"}},
		"mark in the file":  {"\ufeff\ufeffa = 1", false, []string{"1:1 a byte order mark (U+FEFF) is allowed only at the very start of a file"}},
		"deep array":        {"a = 1\nb = " + deep, false, []string{"2:37 nested deeper than 32 levels"}},
		"deep key":          {strings.Repeat("a.", maxDepth) + "a.a = 1", false, []string{"1:66 nested deeper than 32 levels"}},
		"deep together":     {"[" + strings.Repeat("a.", 16) + "a]\n" + strings.Repeat("b.", 16) + "b = 1", false, []string{"2:32 nested deeper than 32 levels"}},
		"brackets in text":  {"a = '" + deep + "' # " + deep, true, nil},
		"no quotes":         {"mass = 12 kg\n\n# and\n[part]\ncolour = red\nlength = 1,5", false, []string{"1:11 expected the end of the line, but found 'k' (text is written in quotes: \"12 kg\")", "5:10 expected a value, but found \"red\" (text is written in quotes: \"red\")", "6:11 expected the end of the line, but found ',' (decimals are written with a point)"}},
		"wide columns":      {"a = \"½é\" é", false, []string{"1:10 expected the end of the line, but found 'é'"}},
		"True":              {"a = True", false, []string{`1:5 expected a value, but found "True" (true and false are written in small letters)`}},
		"a fraction":        {"a = 1 3/8 in\nb = 1 3/8 in\"", false, []string{`1:7 expected the end of the line, but found '3' (text is written in quotes: "1 3/8 in")`, `2:7 expected the end of the line, but found '3' (text is written in quotes: "1 3/8 in")`}},
		"an inch mark":      {"a = '3'6\"'\nb = \"1 3/8\"\"", false, []string{`1:8 expected the end of the line, but found '6' (the text ended at the mark before it: inches are written in, and feet ft)`}},
		"an inch mark, too": {"a = \"1 3/8\"\"\nb = 1\n", false, []string{`1:12 expected the end of the line, but found '"' (the text ended at the mark before it: inches are written in, and feet ft)`}},
		"curly quotes":      {"a = \u201c1 in\u201d\n", false, []string{`1:5 expected a value, but found '“' (text is written in plain quotes: ")`}},
		"two values":        {"a = \"b\", \"c\"\n", false, []string{`1:8 expected the end of the line, but found ',' (more than one is written in brackets: ["a", "b"])`}},
		"the month first":   {"a = 3/1/2026\nb = 2026-3-1\n", false, []string{"1:6 expected the end of the line, but found '/' (a date is written year first, as in 2026-03-01)", `2:5 invalid date or time "2026-3-1"; a date is year, month and day, as in 2026-03-01`}},
		"yes":               {"a = yes\n", false, []string{`1:5 expected a value, but found "yes" (yes and no are written true and false; text is written in quotes)`}},
		"spaces in names":   {"before move = true\n\n[gap.fan to core]\n", false, []string{"1:8 expected '=' after the key, but found 'm' (a name has no spaces: before-move)", "3:10 expected ']' after the table's name, but found 't' (a name has no spaces: gap.fan-to-core)"}},
		"no value":          {"a =\nb\n", false, []string{"1:4 expected a value, but found the end of the line"}},
		"prose, no cascade": {"note = first line\nsecond line\n= 3", false, []string{`1:8 expected a value, but found "first" (text is written in quotes: "first line")`}},
		"half a string":     {"note = \"first\nb = 2\nsecond\"\n", false, []string{"1:14 the string is not closed before the end of its line: a quotation mark is missing"}},
		"open string":       {"a = 1\nb = \"\"\"\nc = 2\n", false, []string{"2:5 the string that begins here is not closed"}},
		"open array":        {"a = [1, 2\n# end\n", false, []string{"1:5 the array that begins here is not closed"}},
		"array runs on":     {"a = [1, 2\nb = 3\n", false, []string{"2:1 expected a comma or ']' in the array, but found 'b'"}},
		"half a header":     {"[part\nmass = 1 kg\n", false, []string{"1:6 expected ']' after the table's name, but found the end of the line"}},
		"backslash":         {`a = "C:\Users"`, false, []string{`1:8 expected eight hexadecimal digits after '\U', but got "C:\\Us" (in single quotes a backslash stands for itself)`}},
		"bad values, all":   {"a = 2021-02-30\nb = 99999999999999999999\nc = [1e400, 1]\nd = 1\n", false, []string{`1:5 invalid date or time "2021-02-30"; a date is year, month and day, as in 2026-03-01`, "2:5 99999999999999999999 is out of range for int64", "3:6 1e400 is out of range for float64"}},
		"offset":            {"a = 2021-01-01T00:00:00+24:00\nb = 2021-01-01T00:00:00+23:59", false, []string{"1:5 invalid date and time 2021-01-01T00:00:00+24:00: an offset has hours up to 23 and minutes up to 59"}},
		"twice":             {"a = 1\na = 2\na = 3\n[t]\n[t]\n[t.u]\nx = 1\nx = 2\n", false, []string{"2:1 the key a is already defined at 1:1", "3:1 the key a is already defined at 1:1", "5:2 the table t is already defined at 4:2", "8:1 the key x is already defined at 7:1"}},
		"not an array":      {"[t]\n[[t]]\n[s]\nt = 1\n[[s.t]]\n[[s.t]]\n", false, []string{"2:3 t is a single table since 1:2 and cannot become an array of tables", "5:5 the key s.t is already defined at 4:1"}},
		"an array":          {"[[t]]\n[t]\n", false, []string{"2:2 t is an array of tables since 1:3: its header needs two brackets, [[t]]"}},
		"written out":       {"a = {}\nb = []\na.x = 1\n[[b]]\n[a.y]\n", false, []string{"3:1 cannot add to a: the inline table at 1:5 is complete as it is written", "4:3 cannot add to b: the array at 2:5 is complete as it is written", "5:2 cannot add to a: the inline table at 1:5 is complete as it is written"}},
		"through a value":   {"a = 1\na.b = 1\n[a.c]\n", false, []string{"2:1 a is not a table: it is an integer at 1:1", "3:2 a is not a table: it is an integer at 1:1"}},
		"dots and headers":  {"[a.b]\n[c]\n[[d.e]]\n[a]\nb.x = 1\n[d]\ne.x = 1\n", false, []string{"5:1 a dotted key cannot add to the table b, which has its own header at 1:4", "7:1 a dotted key cannot add to the array of tables e at 3:5"}},
		"super-tables":      {"[a.b.c]\n[a]\nb.x = 1\n[a.b.d]\n", true, nil},
		"only case":         {"Mass = 1\nmass = 2\n[t]\nmass = 3\n[T]\n", true, []string{"2:1 the keys Mass at 1:1 and mass at 2:1 differ only in case", "5:2 the keys t at 3:2 and T at 5:2 differ only in case"}},
		"only case, wide":   {"'straße' = 1\n'STRAßE' = 1\nk = 1\n\"\u212a\" = 2\n", true, []string{"2:1 the keys \"straße\" at 1:1 and \"STRAßE\" at 2:1 differ only in case", "4:1 the keys k at 3:1 and \"\u212a\" at 4:1 differ only in case"}},
		"not finite":        {"a = inf\nb = [-inf, nan]", true, []string{"1:5 the number inf is not allowed: it must be finite", "2:6 the number -inf is not allowed: it must be finite", "2:12 the number nan is not allowed: it must be finite"}},
		"escaped control":   {`a = "x\e"` + "\n" + `"\u0085" = 1`, true, []string{"1:5 a control character (U+001B) is not allowed in a string", "2:1 a control character (U+0085) is not allowed in a key"}},
		"turned text":       {"a = ['''\né\u202e''']\nb = '\u2066'\n", true, []string{"2:2 a control character (U+202E) is not allowed in a string", "3:6 a control character (U+2066) is not allowed in a string"}},
		"return alone":      {`a = "x\r"` + "\n" + `b = "x\r\n"`, true, []string{"1:5 a control character (U+000D) is not allowed in a string"}},
		"several kinds":     {"a = inf\nA = 12 kg\nb = 1979-13-01\nB = 1\nB = 2\n", false, []string{"1:5 the number inf is not allowed: it must be finite", "2:8 expected the end of the line, but found 'k' (text is written in quotes: \"12 kg\")", `3:5 invalid date or time "1979-13-01"; a date is year, month and day, as in 2026-03-01`, "4:1 the keys b at 3:1 and B at 4:1 differ only in case", "5:1 the key B is already defined at 4:1"}},
	} {
		t.Run(name, func(t *testing.T) {
			root, faults := parse([]byte(c.src))
			assert.Equal(t, c.want, told(faults))
			assert.Equal(t, c.usable, root != nil)
			root, faults = parse([]byte(windows(c.src)))
			if !strings.HasSuffix(c.src, "\r") && len(c.src) <= MaxSize && name != "UTF-16" && name != "mark in the file" {
				assert.Equal(t, c.want, told(faults), "with BOM and CRLF")
				assert.Equal(t, c.usable, root != nil)
			}
		})
	}
}

func TestOnlyCaseInLargeTables(t *testing.T) {
	// Small tables are compared pairwise, large ones through a map: both must
	// find the same, whatever their letters fold to.
	for _, pair := range [][2]string{{"mass", "MASS"}, {"k", "\u212a"}, {"s", "\u017f"}, {"ǆ", "ǅ"}, {"σ", "ς"}, {"ß", "ẞ"}} {
		assert.Equal(t, strings.EqualFold(pair[0], pair[1]), foldCase(pair[0]) == foldCase(pair[1]), "%q", pair)
		for _, filler := range []int{0, 2 * fewKeys} {
			var b strings.Builder
			fmt.Fprintf(&b, "%q = 1\n", pair[0])
			for i := range filler {
				fmt.Fprintf(&b, "x%d = 1\n", i)
			}
			fmt.Fprintf(&b, "%q = 1\n", pair[1])
			root, faults := parse([]byte(b.String()))
			require.NotNil(t, root)
			assert.Len(t, faults, 1, "%q among %d", pair, filler)
		}
	}
}

func TestManyFaultsEndWithANote(t *testing.T) {
	for name, src := range map[string]string{
		"syntax":  strings.Repeat("a = b c\n", 100000),
		"bytes":   strings.Repeat("\x00", MaxSize),
		"doubles": strings.Repeat("a = 1\n", 100000),
	} {
		t.Run(name, func(t *testing.T) {
			root, faults := parse([]byte(src))
			assert.Nil(t, root)
			require.Len(t, faults, maxFaults+1)
			assert.Equal(t, "there are more faults: only 100 are shown", faults[maxFaults].Message)
		})
	}
}

func TestChildOfAnArrayIsNil(t *testing.T) {
	root, _ := parse([]byte("a = [1]"))
	assert.Nil(t, root.Child("b"))
	assert.Nil(t, root.Child("a").Child(""))
}

func TestFaultsAreSorted(t *testing.T) {
	_, faults := parse([]byte("x = nan\nX = 1\nx.y = 1\n[Z]\n[z]\na = 1 b\n"))
	assert.Len(t, faults, 5)
	assert.True(t, slices.IsSortedFunc(faults, func(a, b Fault) int { return a.At.compare(b.At) }))
}

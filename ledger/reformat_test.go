package ledger_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
)

// edited is a copy of the node with one value changed, taken away or added; nil
// where the sort of edit that was drawn does not fit.
func edited(rnd *rand.Rand, n *syntax.Node, path string) (*syntax.Node, string) {
	c := *n
	c.Children = slices.Clone(n.Children)
	if len(n.Children) == 0 || rnd.IntN(12) == 0 {
		if n.Kind != syntax.Table || n.Child("note") != nil || strings.Contains(path, " ") {
			return nil, ""
		}
		c.Children = append(c.Children, &syntax.Node{Key: "note", Kind: syntax.String, Value: "new"})
		return &c, "note added"
	}
	i := rnd.IntN(len(n.Children))
	child := n.Children[i]
	if path == "build" && child.Key == "stage" {
		return nil, ""
	}
	if rnd.IntN(8) == 0 {
		c.Children = slices.Delete(c.Children, i, i+1)
		return &c, "removed " + child.Key
	}
	if child.Kind == syntax.Table || child.Kind == syntax.Array {
		d, what := edited(rnd, child, path+" "+child.Key)
		c.Children[i] = d
		if d == nil {
			return nil, ""
		}
		return &c, what
	}
	d := *child
	what := ""
	d.Value, what = editedValue(rnd, child.Value)
	if d.Value == child.Value {
		return nil, ""
	}
	c.Children[i] = &d
	return &c, fmt.Sprintf("%s %s: %v -> %v", what, child.Key, child.Value, d.Value)
}

func editedValue(rnd *rand.Rand, v any) (any, string) {
	switch v := v.(type) {
	case bool:
		return !v, "flipped"
	case int64:
		return v + 1 + rnd.Int64N(5), "counted"
	case float64:
		return v + 0.01, "shifted"
	case time.Time:
		return v.AddDate(0, 0, 1+rnd.IntN(40)), "dated"
	case string:
		if i := strings.IndexAny(v, "0123456789"); i >= 0 && rnd.IntN(3) > 0 {
			for v[i] < '0' || v[i] > '9' || rnd.IntN(2) == 0 {
				i = rnd.IntN(len(v))
			}
			digit := byte('0' + (int(v[i]-'0')+1+rnd.IntN(9))%10)
			return v[:i] + string(digit) + v[i+1:], "digit"
		}
		words := []string{v + "x", "~" + strings.TrimPrefix(v, "~"), v + " ± 1 %", strings.ToUpper(v), "other", "part.bracket", "part.engine", "intermittent", "3 lb"}
		if w := words[rnd.IntN(len(words))]; w != v {
			return w, "word"
		}
	}
	return v, ""
}

// writer writes values in TOML; with a source of chance in any of the ways that
// there are, else in one.
type writer struct {
	rnd   *rand.Rand
	types map[string]string // what each value of the entry is
}

var plain = &writer{}

// one draws one of n ways; the first where there is no chance.
func (w *writer) one(n int) int {
	if w.rnd == nil {
		return 0
	}
	return w.rnd.IntN(n)
}

func (w *writer) value(n *syntax.Node) string { return w.typed(n, "") }

func (w *writer) typed(n *syntax.Node, path string) string {
	switch v := n.Value.(type) {
	case string:
		if w.types[path] == "date" && w.one(2) == 1 {
			return v
		}
		return w.text(w.respelt(v, w.types[path]))
	case bool:
		return fmt.Sprint(v)
	case int64:
		return []string{fmt.Sprint(v), fmt.Sprintf("0x%x", v), fmt.Sprintf("%d.0", v), fmt.Sprintf("+%d", v), fmt.Sprintf("%d_000e-3", v)}[w.one(5)]
	case float64:
		return []string{fmt.Sprint(v), strconv.FormatFloat(v, 'e', -1, 64), strconv.FormatFloat(v, 'f', 9, 64)}[w.one(3)]
	case time.Time:
		day := v.Format(time.DateOnly)
		return []string{day, `"` + day + `"`}[w.one(2)]
	}
	if n.Kind == syntax.Array {
		return w.list(n, path)
	}
	return w.table(n, path)
}

func (w *writer) list(n *syntax.Node, path string) string {
	gap := []string{" ", "\n  ", " # and\n", "  "}[w.one(4)]
	out := "["
	for i, c := range n.Children {
		out += gap + w.typed(c, below(path, strconv.Itoa(i)))
		if i < len(n.Children)-1 || w.one(2) == 1 {
			out += ","
		}
	}
	return out + gap + "]"
}

// table is an inline table; TOML 1.1 lets it have lines, comments and a comma
// at its end.
func (w *writer) table(n *syntax.Node, path string) string {
	gap := []string{" ", "\n\t", " # so\n", ""}[w.one(4)]
	out := "{"
	for i, c := range w.shuffled(n.Children) {
		out += gap
		if c.Kind == syntax.Table && len(c.Children) == 1 && w.one(2) == 1 {
			only := c.Children[0]
			out += w.key(c.Key) + "." + w.key(only.Key) + " = " + w.typed(only, below(below(path, c.Key), only.Key))
		} else {
			out += w.key(c.Key) + " = " + w.typed(c, below(path, c.Key))
		}
		if i < len(n.Children)-1 || w.one(2) == 1 {
			out += ","
		}
	}
	return out + gap + "}"
}

func below(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func (w *writer) shuffled(ns []*syntax.Node) []*syntax.Node {
	if w.rnd == nil {
		return ns
	}
	ns = slices.Clone(ns)
	w.rnd.Shuffle(len(ns), func(i, j int) { ns[i], ns[j] = ns[j], ns[i] })
	return ns
}

func (w *writer) key(k string) string {
	bare := strings.Trim(k, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
	switch {
	case bare && w.one(4) > 0:
		return k
	case w.one(2) == 1:
		return "'" + k + "'"
	}
	return strconv.Quote(k)
}

// text is a string in any of TOML's four forms that can hold it.
func (w *writer) text(s string) string {
	basic := strings.NewReplacer("\\", `\\`, "\"", `\"`, "\n", `\n`, "\t", `\t`).Replace(s)
	ways := []string{`"` + basic + `"`, `"""` + basic + `"""`, "\"\"\"\n" + strings.ReplaceAll(basic, `\n`, "\n") + `"""`, `"` + escaped(s) + `"`}
	if !strings.ContainsAny(s, "'\n\t") {
		ways = append(ways, "'"+s+"'", "'''"+s+"'''")
	}
	if !strings.Contains(s, "'") {
		ways = append(ways, "'''\n"+s+"'''")
	}
	return ways[w.one(len(ways))]
}

func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		fmt.Fprintf(&b, `\u%04x`, r)
	}
	return b.String()
}

// spelt are other ways to write a unit.
var spelt = map[string][]string{
	"lb": {"lbs", "pound", "pounds"}, "in": {"inch", "inches", "\"", "″"}, "gal": {"gallon", "gallons"}, "L": {"l", "liter", "liters"},
	"mi": {"mile", "miles"}, "rpm": {"r/min"}, "lb-ft": {"ft-lb", "lbf·ft", "lb ft"}, "deg": {"°", "degrees"}, "psi": {"psig"}, "%": {"percent"},
	"inHg": {"in Hg", "inHg vacuum"}, "um": {"micron", "µm", "μm"}, "A": {"amp", "amps"}, "degF": {"°F", "deg F"}, "cSt": {"mm2/s", "mm²/s"}, "lb/in": {"lbf/in"},
}

// respelt is a quantity with its unit, spacing and signs written another way.
func (w *writer) respelt(s, kind string) string {
	if kind == "size" {
		return []string{s, strings.ToLower(s), strings.ReplaceAll(s, " ", ""), "  " + s}[w.one(4)]
	}
	if kind != "quantity" || w.rnd == nil {
		return s
	}
	number, unit := s, ""
	if i := strings.LastIndexByte(s, ' '); i >= 0 {
		number, unit = s[:i], s[i+1:]
	}
	if others := spelt[unit]; len(others) > 0 && w.one(2) == 1 {
		unit = others[w.one(len(others))]
	}
	if before, after, ok := strings.Cut(number, " ± "); ok {
		sign := []string{" ± ", " +/- ", "±", " +/-  "}[w.one(4)]
		if u := spelt[unit]; w.one(3) == 0 && u == nil && unit != "%" && unit != "percent" && !strings.HasSuffix(before, " lb") {
			number = before + " " + unit + sign + after // 12 lb ± 1 lb
		} else {
			number = before + sign + after
		}
	}
	number = strings.NewReplacer("1/2", []string{"1/2", "½"}[w.one(2)], "1/4", []string{"1/4", "¼"}[w.one(2)], "~", []string{"~", "~ "}[w.one(2)]).Replace(number)
	if rest, ok := strings.CutPrefix(number, "-"); ok {
		number = []string{"-", "−"}[w.one(2)] + rest
	}
	out := strings.TrimSpace(number + []string{" ", "  ", "\t"}[w.one(3)] + unit)
	return []string{out, " " + out, out + " "}[w.one(3)]
}

// reformatted writes the entries in another way: in other files, another order
// and form, with other comments and line ends.
func reformatted(t *testing.T, rnd *rand.Rand, entries []*entryNode) map[string]string {
	entries = slices.Clone(entries)
	rnd.Shuffle(len(entries), func(i, j int) { entries[i], entries[j] = entries[j], entries[i] })
	names := []string{ledger.MainFile, "a.toml", "parts/b.toml", "parts/deep/c.TOML", "build-2.toml"}[:1+rnd.IntN(5)]
	piles := map[string][]*entryNode{}
	for _, name := range names {
		piles[name] = nil
	}
	for _, e := range entries {
		name := names[rnd.IntN(len(names))]
		piles[name] = append(piles[name], e)
	}
	files := map[string]string{}
	for name, pile := range piles {
		text := file(rnd, pile)
		if rnd.IntN(4) == 0 {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		if rnd.IntN(8) == 0 {
			text = "\ufeff" + text
		}
		files[name] = text
	}
	if rnd.IntN(2) == 0 {
		for name := range files {
			files[name] = strings.ReplaceAll(files[name], `"assembly"`, `"delivery"`)
		}
	}
	require.Contains(t, files, ledger.MainFile)
	return files
}

// file writes entries: first those with dotted keys, then inline ones below
// their kind, then those with headers.
func file(rnd *rand.Rand, entries []*entryNode) string {
	var dotted, headed strings.Builder
	for _, e := range entries {
		w := &writer{rnd, typesOf(e)}
		comment := []string{"", "\n", "# " + e.path + " ± \"quoted\"\n", "\n\n# [not.a-table]\n"}[rnd.IntN(4)]
		if !strings.HasPrefix(e.path, "vehicle") && rnd.IntN(3) == 0 {
			dotted.WriteString(comment + e.path + " = " + w.value(e.node) + []string{"\n", " # so\n"}[rnd.IntN(2)])
			continue
		}
		headed.WriteString(comment + headedEntry(w, e))
	}
	return dotted.String() + headed.String()
}

func headedEntry(w *writer, e *entryNode) string {
	var keys, tables strings.Builder
	for _, c := range w.shuffled(e.node.Children) {
		switch {
		case c.Kind == syntax.Table && w.one(3) == 0:
			fmt.Fprintf(&tables, "[%s.%s]\n", e.path, w.key(c.Key))
			for _, d := range w.shuffled(c.Children) {
				fmt.Fprintf(&tables, "%s = %s\n", w.key(d.Key), w.typed(d, below(c.Key, d.Key)))
			}
		case c.Kind == syntax.Table && len(c.Children) > 0 && w.one(2) == 0:
			for _, d := range w.shuffled(c.Children) {
				fmt.Fprintf(&keys, "%s.%s = %s\n", w.key(c.Key), w.key(d.Key), w.typed(d, below(c.Key, d.Key)))
			}
		default:
			fmt.Fprintf(&keys, "%s%s%s= %s # %d\n", []string{"", "\t", "  "}[w.one(3)], w.key(c.Key), []string{" ", "   "}[w.one(2)], w.typed(c, c.Key), w.one(9))
		}
	}
	return "[" + e.path + "]\n" + keys.String() + tables.String()
}

// typesOf tells which values of an entry may be spelt otherwise.
func typesOf(e *entryNode) map[string]string {
	quantities := map[string]bool{}
	for _, f := range ledger.KindOf(e.path).Fields {
		quantities[f.Key] = !strings.Contains(f.Takes(), "words") && !strings.Contains(f.Takes(), "one of")
	}
	out := map[string]string{}
	var walk func(n *syntax.Node, path, top string)
	walk = func(n *syntax.Node, path, top string) {
		for i, c := range n.Children {
			key := c.Key
			if n.Kind == syntax.Array {
				key = strconv.Itoa(i)
			}
			p, head := below(path, key), top
			if head == "" {
				head = key
			}
			s, _ := c.Value.(string)
			_, err := quantity.Parse(s, quantity.Any, quantity.Options{})
			switch {
			case key == "gauge":
				out[p] = "size"
			case c.Kind == syntax.String && err == nil && quantities[head] && head != "made" && key != "from":
				out[p] = "quantity"
			case key == "fitted-on":
				out[p] = "date"
			}
			walk(c, p, head)
		}
	}
	walk(e.node, "", "")
	return out
}

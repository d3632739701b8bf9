package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/enter"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// SheetKinds are the outputs of sheet.
var SheetKinds = []Kind{
	{"text", "for a person at a bench", sheetText},
	{"csv", "a table for a spreadsheet (RFC 4180), to be filled and entered", func(to io.Writer, opt Options) *Writer { return tableCSV(sheetTable(opt), to) }},
	{"html", "a page to be printed and filled by hand", sheetHTML},
}

// blank is a line of a sheet, in words.
type blank struct {
	Entry, Key     string
	What           string // what it is
	Where, At      string // what its entry is called, or goes between; and where that is
	Now            string // what is written
	Unit           string
	GoodTo, Remark string
	System         string
	Checks         []string // the rules that wait, each once
}

// sheetOf are the lines of a sheet, in the order of a walk round the vehicle,
// and how many checks wait for something that is no value.
func (s *screen) sheetOf(r *lint.Report) (out []blank, others int) {
	list, rest := lint.Blanks(r.Build, InOrderOfHarm(s.pressing(r)))
	lint.Walk(r.Build, list)
	for _, n := range list {
		l := lineOf(n, r.Build)
		if s.opt.System == "" || l.System == s.opt.System {
			out = append(out, l)
		}
	}
	for _, c := range rest {
		if c.Verdict != lint.Fail || c.Undone() {
			others++
		}
	}
	return out, others
}

func lineOf(n *lint.Blank, b *ledger.Build) blank {
	l := blank{Entry: n.Path, Key: n.Key, What: what(n), System: n.System(b)}
	l.Where, l.At = where(n, b)
	written, ok := b.Value(n.Path, n.Key)
	if ok && !written.Private {
		l.Now = written.Text
	}
	switch {
	case n.Leaf.Known() && n.Leaf.Grade() == quantity.Assumed:
		l.Now = "taken as " + n.Leaf.Spelling()
	case n.Leaf.Known():
		l.Now = n.Leaf.Spelling()
	}
	if n.Half > 0 {
		l.GoodTo = Tolerance(n.Leaf, n.Half, b.Style())
	}
	l.Unit = unitOfBlank(n, l.Now, b)
	switch {
	case n.Or != "":
		l.Remark = "one will do: " + n.Or
	case n.Again:
		l.Remark = "read it again"
	}
	for _, c := range n.Checks {
		if !slices.Contains(l.Checks, c.Rule.Name) {
			l.Checks = append(l.Checks, c.Rule.Name)
		}
	}
	return l
}

// axes are the distances of a place, in words.
var axes = map[string]string{"behind": "back from the front axle line", "right": "right of the center line", "above": "up from the ground"}

// what is what a blank takes, in words.
func what(n *lint.Blank) string {
	say := n.Field.About
	outer, key := cutLast(n.Key)
	if way := axes[key]; way != "" && n.Field.Position && say == "" {
		say = way
	}
	if say == "" {
		say = key
	}
	if f := ledger.KindOf(n.Path).At(outer); outer != "" && f != nil && f.About != "" && f.About != say {
		say = f.About + ": " + say
	}
	if words := schema.Or(n.Field.OneOf); len(n.Field.OneOf) > 0 && say != words {
		say += ": " + words
	}
	if n.Again && n.Field.Moves == schema.MovedBefore {
		say += "; write false once it is read again"
	}
	return say
}

// cutLast parts the last part of a key from those before it.
func cutLast(key string) (outer, last string) {
	i := strings.LastIndexByte(key, '.')
	return key[:max(i, 0)], key[i+1:]
}

// where is what a blank's entry goes between, else what it is called and where
// it is.
func where(n *lint.Blank, b *ledger.Build) (called, at string) {
	if n.Entry == nil {
		return "", ""
	}
	if ends := b.Ends(n.Entry); ends != nil {
		return "from " + ends[0] + " to " + ends[1], ""
	}
	if p, ok := b.Whereabouts(n.Entry); ok {
		style := b.Style()
		at = "at " + side(p.X, "back", "ahead", style) + ", " + side(p.Y, "right", "left", style)
		if p.Z.Known() {
			at += ", " + side(p.Z, "up", "down", style)
		}
	}
	return b.Called(n.Entry), at
}

// side is a distance to one side or the other.
func side(d quantity.Quantity, way, other string, style quantity.Style) string {
	if d.Value() < 0 {
		return style.Plain(d.Neg()) + " " + other
	}
	return style.Plain(d) + " " + way
}

// place is where to look for a blank's entry, in one line.
func (l blank) place() string { return strings.TrimSpace(l.Where + " " + l.At) }

// What is written where there is no unit.
const (
	trueOrFalse = "true or false"
	aDate       = "date"
)

// unitOfBlank is the unit in which a value is to be written: that in which it
// is, else the build's; of a name, which names would do.
func unitOfBlank(n *lint.Blank, now string, b *ledger.Build) string {
	style := b.Style()
	switch {
	case n.Field.Type == schema.Ref:
		return namesFor(n.Field, b)
	case n.Field.Type == schema.Truth:
		return trueOrFalse
	case n.Field.Type == schema.Date:
		return aDate
	case !n.Field.TakesQuantity():
		return ""
	}
	if r, err := quantity.Parse(now, n.Field.Dim, quantity.Options{Exact: n.Field.Exact}); err == nil {
		return r.Unit.Symbol
	}
	if n.Field.Units == "" && n.Field.Dim != quantity.Any {
		shown := style.Unit(quantity.Waits(n.Field.Dim, "", quantity.Place{})).Symbol
		if _, ok := quantity.UnitNamed(shown); ok { // some are shown that no ledger has
			return shown
		}
	}
	units := n.Field.UnitsWritten()
	for _, u := range units {
		if slices.Contains(shown.American, u) != style.SI {
			return u
		}
	}
	return strings.Join(units[:min(1, len(units))], "")
}

// namesFor are the entries that a key may name, else their kind: tire.x.
func namesFor(f *schema.Field, b *ledger.Build) string {
	var names, kinds []string
	for _, k := range f.Refs {
		kinds = append(kinds, k+".x")
		for _, e := range b.Entries() {
			if e.Kind == k {
				names = append(names, e.Path())
			}
		}
	}
	if len(names) == 0 || len(names) > mostNames {
		return schema.Or(kinds)
	}
	return schema.Or(names)
}

// sheetTable is a sheet as enter reads it.
func sheetTable(opt Options) table {
	return table{enter.Columns, func(r *lint.Report) [][]string {
		s := &screen{text: newText(io.Discard, opt)}
		var out [][]string
		list, _ := s.sheetOf(r)
		for _, l := range list {
			where := l.place()
			if l.Remark != "" {
				where = strings.TrimPrefix(where+"; "+l.Remark, "; ")
			}
			out = append(out, []string{l.Entry, l.Key, "", l.Now, l.Unit, l.GoodTo, l.System, where, strings.Join(l.Checks, "; ")})
		}
		return out
	}}
}

// sheetText writes a sheet for a person: under the systems, entry by entry.
func sheetText(to io.Writer, opt Options) *Writer {
	s := &screen{text: newText(to, opt)}
	build := func(r *lint.Report) error {
		s.top(r)
		list, others := s.sheetOf(r)
		s.wrap("", "  ", "", sheetHead(len(list)))
		system := "\x00"
		for _, e := range byEntry(list) {
			if e[0].System != system {
				system = e[0].System
				s.line("\n%s", s.paint(bold, Upper(SystemName(system))))
			}
			head := strings.TrimSuffix(Clean(e[0].Entry)+": "+Clean(e[0].place()), ": ")
			s.wrap("  ", "      ", "", strings.TrimSuffix(head+"; "+Clean(shared(e)), "; "))
			for _, l := range e {
				s.wrap("    ", "        ", "", l.words())
			}
		}
		s.line("")
		if others > 0 {
			s.wrap("", "  ", "", otherWord(others))
		}
		s.wrap("", "  ", "", "sheet --report html prints with boxes; sheet --report csv is filled and goes in with enter.")
		return s.w.Flush()
	}
	return &Writer{Build: build, Partial: build, Close: func(n *Totals) error { return s.leftOut(n, true) }}
}

func sheetHead(n int) string {
	if n == 0 {
		return "Nothing to read or find out."
	}
	return fmt.Sprintf("What to read or find out, in the order of a walk round the vehicle (%d)", n)
}

// otherWord tells of what a sheet has no box for.
func otherWord(n int) string {
	verb := "wait"
	if n == 1 {
		verb = "waits"
	}
	return fmt.Sprintf("%s %s for work, a test or an answer, or for what no reading settles: next lists them.", Plural(n, "check"), verb)
}

// byEntry parts lines by their entries.
func byEntry(list []blank) (out [][]blank) {
	for i, l := range list {
		if i == 0 || l.Entry != list[i-1].Entry {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], l)
	}
	return out
}

// shared is the remark and the checks that all lines of an entry have in
// common, which is taken off them; "" where they differ.
func shared(list []blank) string {
	say := list[0].why()
	for _, l := range list {
		if l.why() != say {
			return ""
		}
	}
	for i := range list {
		list[i].Remark, list[i].Checks = "", nil
	}
	return say
}

// why is a line's remark, and the checks that wait for it.
func (l blank) why() string {
	var say []string
	if l.Remark != "" {
		say = append(say, l.Remark)
	}
	if len(l.Checks) > 0 {
		say = append(say, "for "+strings.Join(l.Checks, ", "))
	}
	return strings.Join(say, ", ")
}

// words are a line in a sentence.
func (l blank) words() string {
	say := Clean(l.Key) + ": " + Clean(l.What)
	if l.Unit != "" {
		say += " [" + Clean(l.Unit) + "]"
	}
	if l.Now != "" {
		say += "; now " + Clean(l.Now)
	}
	if l.GoodTo != "" {
		say += "; good to " + Clean(l.GoodTo)
	}
	if why := l.why(); why != "" {
		say += "; " + Clean(why)
	}
	return say
}

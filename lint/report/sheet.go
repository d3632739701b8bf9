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
	What, Where    string // what it is; between what, or where it is to be found
	Now            string // what is written
	Unit           string
	GoodTo, Remark string
	System         string
	Checks         []string // the rules that wait, each once
}

// sheetOf are the lines of a sheet, in the order of a walk round the vehicle,
// and how many checks wait for something that is no value.
func (s *screen) sheetOf(r *lint.Report) (out []blank, others int) {
	list, rest := lint.Blanks(r.Build, inOrderOfHarm(s.pressing(r)))
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
	l := blank{Entry: n.Path, Key: n.Key, What: what(n), Where: where(n, b), System: n.System(b)}
	written, ok := b.Value(n.Path, n.Key)
	if ok {
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
	l.Unit = unitOfBlank(n, l.Now, b.Style())
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
	if outer, key, ok := cutLast(n.Key); ok && say == "" {
		if f := ledger.KindOf(n.Path).At(outer); f != nil {
			say = f.About
		}
		if way := axes[key]; way != "" && n.Field.Position {
			say = strings.TrimPrefix(say+", ", ", ") + way
		} else {
			say = strings.TrimPrefix(say+", ", ", ") + key
		}
	}
	if say == "" {
		say = n.Key
	}
	if len(n.Field.OneOf) > 0 {
		say += ": " + schema.Or(n.Field.OneOf)
	}
	return say
}

func cutLast(key string) (outer, last string, ok bool) {
	i := strings.LastIndexByte(key, '.')
	if i < 0 {
		return "", key, false
	}
	return key[:i], key[i+1:], true
}

// where is what a blank's entry goes between, else where it is.
func where(n *lint.Blank, b *ledger.Build) string {
	if n.Entry == nil {
		return ""
	}
	if ends := b.Ends(n.Entry); ends != nil {
		return ends[0] + " to " + ends[1]
	}
	name := b.Called(n.Entry)
	p, ok := b.Whereabouts(n.Entry)
	if !ok {
		return name
	}
	style := b.Style()
	at := fmt.Sprintf("%s back, %s right", style.Plain(p.X), style.Plain(p.Y))
	if p.Z.Known() {
		at += ", " + style.Plain(p.Z) + " up"
	}
	if name != "" {
		return name + " at " + at
	}
	return at
}

// unitOfBlank is the unit in which a value is to be written: that in which it
// is, else the build's.
func unitOfBlank(n *lint.Blank, now string, style quantity.Style) string {
	switch {
	case n.Field.Type == schema.Truth:
		return "true or false"
	case n.Field.Type == schema.Date:
		return "date"
	case !n.Field.TakesQuantity():
		return ""
	}
	if r, err := quantity.Parse(now, n.Field.Dim, quantity.Options{Exact: n.Field.Exact}); err == nil {
		return r.Unit.Symbol
	}
	units := n.Field.UnitsWritten()
	if len(units) == 0 {
		return ""
	}
	for _, u := range units {
		if slices.Contains(american, u) != style.SI {
			return u
		}
	}
	return units[0]
}

// sheetTable is a sheet as enter reads it.
func sheetTable(opt Options) table {
	return table{enter.Columns, func(r *lint.Report) [][]string {
		s := &screen{text: newText(io.Discard, opt)}
		var out [][]string
		list, _ := s.sheetOf(r)
		for _, l := range list {
			where := l.Where
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
		system, entry := "\x00", ""
		for _, l := range list {
			if l.System != system {
				system, entry = l.System, ""
				s.line("\n%s", s.paint(bold, upper(systemName(system))))
			}
			if l.Entry != entry {
				entry = l.Entry
				s.wrap("  ", "      ", "", strings.TrimSuffix(Clean(l.Entry)+": "+Clean(l.Where), ": "))
			}
			s.wrap("    ", "        ", "", l.words())
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
	if l.Remark != "" {
		say += "; " + Clean(l.Remark)
	}
	return say + "; for " + Clean(strings.Join(l.Checks, ", "))
}

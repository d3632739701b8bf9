package report

import (
	_ "embed"
	"html/template"
	"io"

	"fishplate/lint"
)

//go:embed sheet.html
var sheetPage string

// The page is a template that escapes what is put into it, and what is put into
// it is clean already.
var sheetTemplate = template.Must(template.New("sheet").Parse(sheetPage))

// page is a sheet to be printed.
type page struct {
	Title, Stage, Head, Others string
	Systems                    []pageSystem
}

type pageSystem struct {
	Name    string
	Entries []pageEntry
}

type pageEntry struct {
	Path, Where, At, Why string
	Blanks               []blank
}

// Long tells that an entry may have to go over to the next page; each of its
// lines says then whose it is.
func (e pageEntry) Long() bool { return len(e.Blanks) > longEntry }

// longEntry is how many lines are always kept together: half a page of boxes.
const longEntry = 6

// sheetHTML writes a page that prints on letter and on A4, with a box for each
// value.
func sheetHTML(to io.Writer, opt Options) *Writer {
	s := &screen{text: newText(io.Discard, opt)}
	build := func(r *lint.Report) error {
		list, others := s.sheetOf(r)
		p := page{Title: Clean(r.Title), Stage: stageLine(r), Head: sheetHead(len(list))}
		if others > 0 {
			p.Others = otherWord(others)
		}
		for i := range list {
			list[i] = list[i].clean()
		}
		for _, e := range byEntry(list) {
			p.add(e)
		}
		return sheetTemplate.Execute(to, p)
	}
	return &Writer{Build: build, Partial: build, Close: func(*Totals) error { return nil }}
}

// add puts the lines of an entry under their system.
func (p *page) add(list []blank) {
	name := Upper(SystemName(list[0].System))
	if n := len(p.Systems); n == 0 || p.Systems[n-1].Name != name {
		p.Systems = append(p.Systems, pageSystem{Name: name})
	}
	s := &p.Systems[len(p.Systems)-1]
	why := shared(list)
	s.Entries = append(s.Entries, pageEntry{list[0].Entry, list[0].Where, list[0].At, why, list})
}

// clean is the line with what has no shape spelt out.
func (l blank) clean() blank {
	for _, s := range []*string{&l.Entry, &l.Key, &l.What, &l.Where, &l.At, &l.Now, &l.Unit, &l.GoodTo, &l.Remark, &l.System} {
		*s = Clean(*s)
	}
	l.Checks = cleaned(l.Checks)
	return l
}

// Why is why a line is on the page.
func (l blank) Why() string { return l.why() }

// Words are what is chosen between: true or false; nil where a value is
// written.
func (l blank) Words() []string {
	if l.Unit == trueOrFalse {
		return []string{"true", "false"}
	}
	return nil
}

// Small tells that there is little to write: a date.
func (l blank) Small() bool { return l.Unit == aDate }

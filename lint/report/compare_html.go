package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report/drawing"
)

//go:embed compare.html
var comparePage string

var compareTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("compare").Parse(comparePage))
})

// comparison is a comparison to be put on a page; every word in it is clean, and
// the template escapes it.
type comparison struct {
	Title, Summary, Sides string
	Style                 template.CSS
	First, Changes        []compareGroup // those to be seen first, and the others
	Again, Asks           []string       // readings to take again; before or after the weighing?
	Notices, Moves        []string
	Drawings              []template.HTML
	Edits                 []compareEdit
	EditCount             int
	MoreEdits             string
}

type compareGroup struct {
	Title  string
	Count  int
	Rows   []compareRow
	More   string
	Slight string // how many moved by less than their figures show
}

type compareRow struct {
	Word, Rule, Subject, Before, Now, Total string
	Bad                                     bool
	Causes                                  []string
}

type compareEdit struct {
	Kind, Entry, Key string
	Before, Now      []compareSpan
}

type compareSpan struct {
	Text    string
	Changed bool
}

// CompareHTML writes a comparison as one page with its drawings, which opens and
// prints anywhere.
func CompareHTML(to io.Writer, opt Options) *Writer {
	return &Writer{
		Compare: func(c *compare.Comparison) error {
			p, err := comparisonOf(c, opt)
			if err != nil {
				return err
			}
			return compareTemplate().Execute(to, p)
		},
		Close: func(*Totals) error { return nil },
	}
}

func comparisonOf(c *compare.Comparison, opt Options) (*comparison, error) {
	s := c.After.Build.Style()
	p := &comparison{
		Title: Clean(c.After.Title), Summary: CompareSummary(c), Style: drawing.Style(), EditCount: len(c.Edits),
		Sides: Clean(fmt.Sprintf("%s%s at stage %s, against %s%s at stage %s, both as of %s.", c.After.Revision, c.After.Folder, c.After.Stage, c.Before.Revision, c.Before.Folder, c.Before.Stage, c.After.AsOf)),
	}
	for _, t := range changeTitles {
		xs := ofKind(c, t.kind)
		if len(xs) == 0 {
			continue
		}
		told, slight := toTell(xs, s, opt.All)
		g := compareGroup{Title: t.title, Count: len(xs), More: moreThan(len(told))}
		if slight > 0 {
			g.Slight = Upper(slightly(slight, len(told))) + "."
		}
		for _, x := range cut(told) {
			g.Rows = append(g.Rows, compareRowOf(x, s))
		}
		if t.kind == compare.Worse || t.kind == compare.Better {
			p.First = append(p.First, g)
		} else {
			p.Changes = append(p.Changes, g)
		}
	}
	for _, a := range c.Again {
		p.Again = append(p.Again, Clean(a.Entry+": "+againOf(a, s)+" at "+Where(a.Place)))
	}
	for _, a := range c.Asks {
		p.Asks = append(p.Asks, Clean(a.Entry+" "+askOf(a)+" at "+Where(a.Place)))
	}
	for _, n := range cut(c.Notices) {
		mark := ""
		if n.Loosens {
			mark = "! "
		}
		p.Notices = append(p.Notices, Clean(mark+noticeOf(n)+" at "+Where(n.Place)))
	}
	for _, m := range cut(c.Moves) {
		p.Moves = append(p.Moves, compareMove(m, s))
	}
	p.edits(c.Edits)
	if opt.Drawn == nil {
		return p, nil
	}
	for _, d := range drawing.Over(c, opt.Drawn(c.Before.Build), opt.Drawn(c.After.Build)) {
		h, err := d.HTML()
		if err != nil {
			return nil, err
		}
		p.Drawings = append(p.Drawings, h)
	}
	return p, nil
}

// moreThan says how many lines a page leaves out.
func moreThan(n int) string {
	if n > mostRows {
		return fmt.Sprintf("And %d more.", n-mostRows)
	}
	return ""
}

func compareRowOf(x *compare.Change, s quantity.Style) compareRow {
	r := compareRow{Rule: Clean(x.Rule.Name), Subject: Clean(subjectOf(x)), Before: Clean(stateOf(x.Before, s)), Now: Clean(stateOf(x.After, s)), Bad: x.Counts}
	switch {
	case x.Kind == compare.Worse && !x.Counts:
		r.Word = "advice"
	case x.After != nil && x.After.Verdict != lint.Pass:
		r.Word = x.After.Word()
	}
	if x.Why != "" {
		r.Now += "; " + Clean(x.Why)
	}
	if x.Kind != compare.Worse && x.Kind != compare.Better {
		return r
	}
	total, parts := causesOf(x, s)
	r.Total = Clean(total)
	for _, part := range parts {
		text := []string{}
		for _, w := range []string{strings.TrimSpace(part.share + "  " + part.entry), whereAt(part.place), part.say} {
			if w != "" {
				text = append(text, Clean(w))
			}
		}
		r.Causes = append(r.Causes, strings.Join(text, ", "))
	}
	return r
}

func compareMove(m *compare.MovedAssembly, s quantity.Style) string {
	text := m.Assembly + " moved " + moveOf(m.By, s) + "."
	for _, r := range cut(m.Readings) {
		if r.Follows {
			text += " " + r.Entry + " was read at the old place, and is carried over by the move."
		} else {
			text += " " + r.Entry + " was read at the old place: read it again."
		}
	}
	return Clean(text)
}

// edits puts the entries that differ on the page, value by value.
func (p *comparison) edits(es []*compare.Edit) {
	p.MoreEdits = moreThan(len(es))
	for _, e := range cut(es) {
		row := compareEdit{Kind: string(e.Kind), Entry: Clean(e.Entry)}
		if more := settingOf(e); more != "" || e.Kind != compare.Altered {
			row.Now = []compareSpan{{Text: more}}
			p.Edits = append(p.Edits, row)
			row.Kind, row.Entry, row.Now = "", "", nil
		}
		if e.Kind != compare.Altered {
			continue
		}
		for _, v := range cut(e.Values) {
			row.Key, row.Before, row.Now = Clean(v.Key), sideOf(v, '-'), sideOf(v, '+')
			p.Edits = append(p.Edits, row)
			row.Kind, row.Entry = "", ""
		}
	}
}

// sideOf is one side of a value that changed, its words apart that the other side
// has not.
func sideOf(v *compare.ValueEdit, side byte) []compareSpan {
	if len(v.Words) == 0 || v.Private {
		text := v.Before
		if side == '+' {
			text = v.After
		}
		return []compareSpan{{Text: valueOf(v, text)}}
	}
	var out []compareSpan
	for _, s := range v.Words {
		if s.Op == '=' || s.Op == side {
			out = append(out, compareSpan{Clean(s.Text), s.Op == side})
		}
	}
	return out
}

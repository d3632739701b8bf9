package book

import (
	"html/template"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/schema"
	"fishplate/lint"
	"fishplate/lint/report"
)

// chapter is what a book tells of one system.
type chapter struct {
	Name, ID  string
	State     string // what its checks came to
	Drawings  []template.HTML
	Photos    []photo
	Tables    []table
	Pairs     []table // of entries that have one of their own
	Decisions []decision
	Notes     []noted
}

// decision is what was chosen, and why.
type decision struct {
	ID               string
	Question, Chose  string
	Because, Trigger string
	InsteadOf, About cell
	Note             template.HTML
}

// noted is an entry's note.
type noted struct {
	Of   cell
	Says template.HTML
}

// drawnIn are the drawings of a chapter, by system.
var drawnIn = map[string][]string{"driveline": {"driveline"}, "electrical": {"wiring", "plugs"}, "cooling": {"loops"}}

// chapters are the systems that there is something to tell of, in their order. Of
// the public edition they hold what was chosen, and nothing else.
func (r *reader) chapters(drawn drawings, photos []photo) []chapter {
	by := map[string][]*ledger.Entry{}
	var names []string
	for _, e := range r.entries() {
		if apart[e.Kind] || len(r.shown(e)) == 0 || r.ed == Public && !e.Public() {
			continue
		}
		s := r.System(e)
		by[s] = append(by[s], e)
		names = append(names, s)
	}
	// A drawing whose system has no entries of its own goes with the first chapter.
	var out []chapter
	for _, s := range ledger.Systems(names) {
		c := chapter{Name: systemTitle(s), ID: "chapter-" + s, State: r.stateOf(by[s])}
		if s == "" {
			c.ID = "chapter-none"
		}
		for _, kind := range drawnIn[s] {
			if d := drawn[kind]; d != "" {
				c.Drawings = append(c.Drawings, d)
				delete(drawn, kind)
			}
		}
		c.Photos = photosOf(photos, by[s])
		c.Tables, c.Pairs = r.tables(by[s])
		for _, e := range r.ofKind("decision", by[s]) {
			c.Decisions = append(c.Decisions, r.decision(e))
		}
		for _, e := range by[s] {
			if n := r.note(e); n != "" && e.Kind != "decision" {
				c.Notes = append(c.Notes, noted{cell{{Text: r.name(e), To: r.anchor(e)}}, n})
			}
		}
		if len(c.Tables)+len(c.Pairs)+len(c.Decisions)+len(c.Photos)+len(c.Drawings)+len(c.Notes) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// apart are the kinds of entry that other pages tell of.
var apart = map[string]bool{"build": true, "owner": true, "shop": true, "document": true, "signature": true, "waiver": true,
	"instruction": true, "faq": true, "visit": true, "word": true, "hookup": true, "question": true}

func (r *reader) decision(e *ledger.Entry) decision {
	return decision{r.anchor(e), r.says(e, "question"), r.says(e, "chose"), r.says(e, "because"), r.says(e, "trigger"), r.cell(e, "instead-of"), r.cell(e, "about"), r.note(e)}
}

// stateOf says what the checks on some entries came to.
func (r *reader) stateOf(list []*ledger.Entry) string {
	if r.ed == Public {
		return ""
	}
	on := map[string]bool{}
	for _, e := range list {
		on[e.Path()] = true
	}
	n := map[string]int{}
	for _, c := range r.rep.Results {
		if on[c.Entry] && c.Verdict != lint.NotApplicable {
			n[c.Word()]++
		}
	}
	var say []string
	for _, w := range []string{"pass", "waived", "unproven", "missing", "to do", "not met", "fail"} {
		if n[w] > 0 {
			say = append(say, report.Plural(n[w], "check")+" "+w)
		}
	}
	return strings.Join(say, ", ")
}

// column is a column of a table of entries: a heading and the keys that stand under
// it.
type column struct {
	Head string
	Keys string
}

// layout says which columns the table of a kind has; a kind without one has a
// column a key.
type layout struct {
	kind   string
	cols   []column
	margin bool // with what its closest check has to spare
}

var layouts = []layout{
	{"part", []column{{"Role", "role"}, {"From", "origin"}, {"Mass of one", "mass"}, {"Where", "at"}, {"Was", "was-at mass-was"}, {"Why", "why"}}, false},
	{"assembly", []column{{"Placed by", "datum"}, {"Now", "at"}, {"Was", "was-at"}, {"Moved", "moved"}}, false},
	{"gap", []column{{"Between", "between"}, {"Kind", "kind"}, {"Measured", "measured"}, {"Moves", "motion"}, {"Cut out", "relief"}, {"Least", "least"}, {"Read", "read"}}, true},
	{"circuit", []column{{"From", "from"}, {"To", "to"}, {"Load", "load power"}, {"Wire", "gauge insulation color"}, {"Length", "length"}, {"Fuse", "fuse breaker"}, {"Switched by", "relay"}}, true},
	{"hose", []column{{"Carries", "carries role"}, {"From", "from"}, {"To", "to"}, {"Bore", "bore"}, {"Length", "length"}, {"Made of", "material class"}, {"Joined", "joined clamps"}, {"Ask for", "order-as"}}, false},
	{"loop", []column{{"Carries", "carries"}, {"Through", "through"}, {"Closed", "closed"}}, false},
	{"work", []column{{"Parts", "parts"}, {"Done", "did"}, {"On", "date"}, {"By", "by"}, {"Found", "found"}, {"Read", "reading torque"}, {"Hours", "hours spent"}, {"Price", "price"}}, false},
	{"answer", []column{{"Answer", "says"}, {"On", "date"}, {"About", "entries"}}, false},
	{"test", []column{{"What", "kind"}, {"On", "date"}, {"By", "by"}, {"Read", "readings"}, {"Paper", "document"}}, false},
	{"weighing", []column{{"When", "when"}, {"Front", "front"}, {"Rear", "rear"}, {"Aboard", "aboard"}, {"Tanks", "levels"}, {"On", "date"}, {"Ticket", "document"}}, false},
	{"splice", []column{{"Joins", "joins"}, {"How", "how"}, {"Where", "mounted-on"}}, false},
}

// mostColumns is how many columns a table of entries has at most; of more keys, each
// entry has a table of its own.
const mostColumns = 7

// tables are the tables of a system's entries, kind by kind.
func (r *reader) tables(list []*ledger.Entry) (out, pairs []table) {
	var kinds []*schema.Kind
	for _, l := range layouts {
		kinds = append(kinds, ledger.KindNamed(l.kind))
	}
	for _, e := range list {
		if k := e.Schema(); !slices.Contains(kinds, k) && k.Name != "decision" && k.Name != "plug" {
			kinds = append(kinds, k)
		}
	}
	for _, k := range kinds {
		if of := r.ofKind(k.Name, list); len(of) > 0 {
			rows, own := r.kindTables(k, of)
			out, pairs = append(out, rows...), append(pairs, own...)
		}
	}
	for _, e := range r.ofKind("plug", list) {
		out = append(out, r.pins(e))
	}
	blank := func(t table) bool { return t.Rows() == 0 }
	return slices.DeleteFunc(out, blank), slices.DeleteFunc(pairs, blank)
}

// kindTables are the table of a kind, or of its entries one each.
func (r *reader) kindTables(k *schema.Kind, of []*ledger.Entry) (rows, own []table) {
	i := slices.IndexFunc(layouts, func(l layout) bool { return l.kind == k.Name })
	if i >= 0 {
		return []table{r.laidOut(k, layouts[i], of)}, nil
	}
	l := layout{kind: k.Name}
	for _, f := range k.Fields {
		if slices.ContainsFunc(of, func(e *ledger.Entry) bool { return !r.one(e, f.Key).empty() }) {
			l.cols = append(l.cols, column{keyWords(f.Key), f.Key})
		}
	}
	if !k.Single && len(l.cols) <= mostColumns {
		return []table{r.laidOut(k, l, of)}, nil
	}
	for _, e := range of {
		own = append(own, r.facing(e))
	}
	return nil, own
}

// laidOut is a table with a row an entry.
func (r *reader) laidOut(k *schema.Kind, l layout, of []*ledger.Entry) table {
	t := table{Caption: report.Upper(k.Plural), Heads: []string{report.Upper(k.Called)}, Numbers: []bool{false}}
	for _, c := range l.cols {
		t.Heads = append(t.Heads, c.Head)
	}
	if l.margin {
		t.Heads = append(t.Heads, "To its limit")
	}
	for _, e := range of {
		rw := row{Cells: []cell{r.entry(e)}}
		for _, c := range l.cols {
			rw.Cells = append(rw.Cells, spacedKeys(r.cell(e, strings.Fields(c.Keys)...)))
		}
		if l.margin {
			rw.Cells = append(rw.Cells, r.closest(e))
		}
		t.add("", rw)
	}
	return t.trim()
}

// spacedKeys leaves values as they are written, and takes the hyphens out of the
// ledger's own words.
func spacedKeys(c cell) cell {
	for i := range c {
		if c[i].To == "" {
			c[i] = spaced(cell{c[i]})[0]
		}
	}
	return c
}

// facing is an entry as a table of its own: a key, and what it says.
func (r *reader) facing(e *ledger.Entry) table {
	name := report.Upper(r.name(e))
	if e.Schema().Single {
		name = report.Upper(e.Schema().Called)
	}
	var keys []string
	for _, f := range e.Schema().Fields {
		keys = append(keys, f.Key)
	}
	return r.listed(e, name, keys)
}

// closest is how far an entry's closest check is from its limit.
func (r *reader) closest(e *ledger.Entry) cell {
	if r.ed == Public {
		return nil
	}
	best, nearest := "", 0.0
	for _, c := range r.rep.Results {
		span, ok := c.Span()
		if !ok || c.Entry != e.Path() || c.Should {
			continue
		}
		if share := c.Margin.Value() / span; best == "" || share < nearest {
			best, nearest = report.NumbersOf(c, r.rep.Build.Style()).Off, share
		}
	}
	return words(best)
}

// pins is a plug, pin by pin.
func (r *reader) pins(e *ledger.Entry) table {
	head := r.name(e)
	for _, key := range []string{"ways", "mates", "mounted-on"} {
		if c := r.cell(e, key); !c.empty() {
			var text string
			for _, s := range c {
				text += s.Text
			}
			head += ", " + map[string]string{"ways": text + " ways", "mates": "mates " + text, "mounted-on": "on " + text}[key]
		}
	}
	t := table{Caption: report.Upper(head), Heads: []string{"Pin", "Circuit", "Color", "Wire", "Goes to", "Does", "Was"}}
	p, ok := r.View(e).(*ledger.Plug)
	if !ok || r.ed == Public {
		return t
	}
	var names []string
	for n := range p.Pins {
		names = append(names, n)
	}
	slices.SortFunc(names, ledger.Natural)
	for _, n := range names {
		key := "pins." + n + "."
		t.add("", row{Cells: []cell{{{Text: n, To: r.anchor(e)}}, r.cell(e, key+"circuit"), r.cell(e, key+"color", key+"mark"), r.cell(e, key+"gauge"), r.cell(e, key+"to"), r.cell(e, key+"now", key+"other-end"), r.cell(e, key+"was", key+"color-was")}})
	}
	if c := r.cell(e, "unused"); !c.empty() {
		t.add("", row{Cells: []cell{words("empty"), c, nil, nil, nil, nil, nil}})
	}
	return t.trim()
}

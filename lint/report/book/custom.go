package book

import (
	"fmt"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/lint/report"
)

// custom is what is custom and what is not.
type custom struct {
	Sum     string
	Parts   table
	Removed table
}

func (r *reader) custom() custom {
	t := table{Caption: "Everything that is on the vehicle, by system", Heads: []string{"Part", "It is", "What was done", "Ask for"}}
	counts := map[string]int{}
	for _, line := range r.rows("custom") {
		p := r.View(line.Entry).(*ledger.Part)
		is := r.origin(p)
		counts[is]++
		name := r.entry(line.Entry)
		if line.Count != "1" && line.Count != "" {
			name = append(name, span{Text: " × " + line.Count})
		}
		t.add(systemTitle(line.System), row{Cells: []cell{name, words(is), r.done(line.Entry), words(r.says(line.Entry, "order-as"))}})
	}
	out := custom{Parts: t, Removed: r.removed()}
	var say []string
	for _, w := range origins {
		if counts[w.is] > 0 {
			say = append(say, fmt.Sprintf("%d %s", counts[w.is], w.many))
		}
	}
	if n := t.Rows(); n > 0 {
		out.Sum = fmt.Sprintf("Of %s on the vehicle: %s.", report.Plural(n, "kind of part"), strings.Join(say, ", "))
		out.Sum = strings.Replace(out.Sum, "kind of parts", "kinds of part", 1)
	}
	return out
}

// rows are a list of the shop's, of entries that the edition tells of.
func (r *reader) rows(list string) (out []job.Row) {
	k, _ := job.KindNamed(list)
	for _, line := range k.Rows(r.Job) {
		if r.has(line.Entry) && len(r.shown(line.Entry)) > 0 {
			out = append(out, line)
		}
	}
	return out
}

// origins are what a part can be.
var origins = []struct{ is, many string }{
	{"kept", "kept as they were"}, {"altered", "original and altered"}, {"made", "made for it"}, {"bought", "bought"}, {"donor", "from a donor"}, {"not said", "of which it is not said"},
}

// origin is whether a part is the vehicle's own, altered, made, bought or a donor's.
func (r *reader) origin(p *ledger.Part) string {
	switch {
	case p.Origin.Is("original").Holds() && (p.Change.Known() || p.MassWas.Known()):
		return "altered"
	case p.Origin.Is("original").Holds():
		return "kept"
	case p.Origin.Is("made", "bought", "donor").Holds():
		return p.Origin.String()
	}
	return "not said"
}

// done is what was done to a part: what was altered, how it was made, from what it
// is.
func (r *reader) done(e *ledger.Entry) cell {
	made := r.cell(e, "made.material", "made.process")
	if by := r.cell(e, "made.by"); !by.empty() {
		made = joined(", by ", made, by)
	}
	if d := r.cell(e, "made.drawing"); !d.empty() {
		made = joined("; drawing: ", made, d)
	}
	var from cell
	if c := r.cell(e, "donor"); !c.empty() {
		from = r.donor(e)
	}
	why := words(r.says(e, "why"))
	return joined("; ", r.cell(e, "change"), made, from, why)
}

// donor is the vehicle that a part came from.
func (r *reader) donor(e *ledger.Entry) cell {
	d := r.EntryOf(r.says(e, "donor"))
	if d == nil {
		return r.cell(e, "donor")
	}
	of := joined(" ", r.cell(d, "year"), r.cell(d, "make"), r.cell(d, "model"))
	if of.empty() {
		return r.cell(e, "donor")
	}
	var text string
	for _, s := range of {
		text += s.Text
	}
	return cell{{Text: "from the "}, {Text: text, To: r.anchor(d)}}
}

// removed is what came off, and what became of it.
func (r *reader) removed() table {
	t := table{Caption: "What is not on it any more", Heads: []string{"Part", "It was", "Came off", "What became of it", "Why"}}
	for _, line := range r.rows("removed") {
		e := line.Entry
		t.add(systemTitle(line.System), row{Cells: []cell{r.entry(e), r.cell(e, "origin"), r.cell(e, "removed-on"), r.cell(e, "fate"), words(r.says(e, "why"))}})
	}
	return t.trim()
}

package book

import (
	"html/template"

	"fishplate/ledger"
)

// living is how to live with the vehicle.
type living struct {
	Instructions []instruction
	Fluids       table
	Wears        table
	Fuses        table
	Wires        bool // the wires stand in a chapter
}

// instruction is what a driver or keeper must do.
type instruction struct {
	ID       string
	When, Do string
	About    cell
	Gauge    cell
	Note     template.HTML
}

func (r *reader) living() living {
	out := living{Fluids: r.fluids(), Wears: r.wears(), Fuses: r.fuses()}
	for _, e := range r.ofKind("instruction", r.entries()) {
		i := instruction{r.anchor(e), r.says(e, "when"), r.says(e, "do"), r.cell(e, "about"), r.cell(e, "gauge"), r.note(e)}
		if i.When+i.Do != "" {
			out.Instructions = append(out.Instructions, i)
		}
	}
	out.Wires = r.ed != Public && len(r.rows("wires")) > 0
	return out
}

// fluids are what is filled in, and how much.
func (r *reader) fluids() table {
	t := table{Caption: "Fluids", Heads: []string{"Where", "What", "How much", "Ask for"}}
	for _, e := range r.ofKind("tank", r.entries()) {
		if v, ok := r.View(e).(*ledger.Tank); ok && v.Capacity.Equals(0).Holds() {
			continue
		}
		t.add("", row{Cells: []cell{r.among(e), spaced(r.cell(e, "fluid")), r.cell(e, "capacity"), nil}})
	}
	for _, e := range r.ofKind("loop", r.entries()) {
		t.add("", row{Cells: []cell{r.among(e), spaced(r.cell(e, "carries")), nil, nil}})
	}
	for _, e := range r.ofKind("part", r.entries()) {
		if r.says(e, "role") == "fluid" && r.says(e, "fitted") != "false" {
			t.add("", row{Cells: []cell{r.entry(e), nil, r.cell(e, "mass"), words(r.says(e, "order-as"))}})
		}
	}
	return t.trim()
}

// wears is what the next owner has to buy.
func (r *reader) wears() table {
	t := table{Caption: "What wears, and what to ask for", Heads: []string{"What", "Ask for", "From"}}
	for _, line := range r.rows("wears") {
		e := line.Entry
		name := r.among(e)
		if e.Kind == "hose" {
			name = append(name, span{Text: ", " + line.Name, Weak: true})
		}
		t.add(systemTitle(line.System), row{Cells: []cell{name, words(r.says(e, "order-as")), r.cell(e, "supplier")}})
	}
	return t.trim()
}

// fuses are all fuses, with what they protect.
func (r *reader) fuses() table {
	t := table{Caption: "Fuses and breakers", Heads: []string{"Circuit", "Fuse", "Protects", "Fed from", "Wire"}}
	if r.ed == Public {
		return t
	}
	for _, line := range r.rows("fuses") {
		e := line.Entry
		t.add("", row{Cells: []cell{r.entry(e), r.cell(e, "fuse", "breaker"), r.cell(e, "to"), r.cell(e, "from"), r.cell(e, "gauge", "color")}})
	}
	return t.trim()
}

package drawing

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/lint/report/drawing/layout"
	"fishplate/lint/report/shown"
)

// node is a line of the wiring's tree: a source, or a circuit.
type node struct {
	source  string
	circuit *ledger.Circuit
	parent  int
}

func wiring(s *subject) Drawing {
	d := Drawing{Title: "Wiring"}
	nodes := s.nodes()
	if len(nodes) == 0 {
		return d
	}
	parents := make([]int, len(nodes))
	for i, n := range nodes {
		parents[i] = n.parent
	}
	t := tree{s, nodes, layout.Tree(parents)}
	caption := "From the source to the load. A box on a wire is its fuse or breaker, a box with a stroke the relay that works it. Drop is what is lost from the source to the wire's end and back, as a share of the system's voltage."
	d.Panels = inPanels(caption, len(t.lines), func(i int) bool { return nodes[t.lines[i].Node].circuit == nil }, t.lay)
	d.Tables = []Table{s.fuseTable()}
	if len(d.Tables[0].Rows) == 0 {
		d.Tables = nil
	}
	sources := 0
	for _, n := range nodes {
		if n.circuit == nil {
			sources++
		}
	}
	d.Text = fmt.Sprintf("A tree of %s from %s, each wire with its size, color, length, fuse, load and voltage drop.", counted(len(nodes)-sources, "circuit"), counted(sources, "source"))
	return d
}

// nodes are the sources and circuits, each circuit under what feeds it: another
// circuit, by its name or through a relay, else the part that it comes from.
func (s *subject) nodes() []node {
	circuits := s.Build.Circuits()
	fed := map[string]string{} // by circuit or relay: the circuit that leads to it
	for _, c := range circuits {
		for _, to := range c.To {
			if _, ok := fed[to.String()]; !ok && (to.Kind() == "circuit" || to.Kind() == "relay") {
				fed[to.String()] = c.Path()
			}
		}
	}
	var sources []string
	above := func(c *ledger.Circuit) string {
		switch {
		case c.Duty.Is("ground").Holds():
			return returns
		case c.From.Kind() == "circuit":
			return c.From.String()
		case c.From.Kind() == "relay" && fed[c.From.String()] != "":
			return fed[c.From.String()]
		case c.From.Known():
			return s.nameOf(c.From)
		case fed[c.Path()] != "":
			return fed[c.Path()]
		case c.Relay.Known() && fed[c.Relay.String()] != "":
			return fed[c.Relay.String()]
		}
		return "Source not in the ledger"
	}
	isCircuit := map[string]bool{}
	for _, c := range circuits {
		isCircuit[c.Path()] = true
	}
	feeds := map[string]int{}
	for _, c := range circuits {
		if a := above(c); !isCircuit[a] {
			if feeds[a] == 0 {
				sources = append(sources, a)
			}
			feeds[a] += weightOf(c)
		}
	}
	slices.SortStableFunc(sources, func(a, b string) int { return feeds[b] - feeds[a] })
	var out []node
	index := map[string]int{}
	for _, name := range sources {
		index[name] = len(out)
		out = append(out, node{source: name, parent: -1})
	}
	first := len(out)
	for _, c := range circuits {
		index[c.Path()] = len(out)
		out = append(out, node{circuit: c})
	}
	for i := first; i < len(out); i++ {
		out[i].parent = index[above(out[i].circuit)]
	}
	return out
}

// returns is what grounds hang on.
const returns = "Back to the battery"

// weightOf puts the sources of power before those of signals, and what comes back
// last.
func weightOf(c *ledger.Circuit) int {
	switch {
	case c.Duty.Is("ground").Holds():
		return -1000
	case c.Duty.Is("signal").Holds():
		return 1
	}
	return 100
}

// nameOf is what people call what a reference names.
func (s *subject) nameOf(r ledger.Ref) string {
	if e, ok := s.Build.Entry(r.String()); ok {
		if s.Reader != nil {
			return s.called(r.String(), "")
		}
		if name := s.Build.Called(e); name != "" {
			return shown.Clean(name)
		}
		if r.Kind() == "relay" {
			return "relay " + spaced(idOf(r.String()))
		}
		return spaced(idOf(r.String()))
	}
	return shown.Clean(r.String())
}

// fuseTable lists the fuses and breakers, the largest first.
func (s *subject) fuseTable() Table {
	t := Table{Caption: "Fuses and breakers", Head: []string{"rating", "circuit", "wire", "protects"}, Numbers: []bool{true}}
	type fused struct {
		rating float64
		cells  []string
	}
	var all []fused
	for _, c := range s.Build.Circuits() {
		rating, what := c.Fuse, ""
		if !known(rating) {
			rating, what = c.Breaker, " breaker"
		}
		if !known(rating) {
			continue
		}
		var to []string
		for _, r := range c.To {
			to = append(to, s.nameOf(r))
		}
		all = append(all, fused{rating.Value(), []string{s.short(rating) + what, spaced(idOf(c.Path())), wireWords(c), strings.Join(to, ", ")}})
	}
	slices.SortStableFunc(all, func(a, b fused) int {
		switch {
		case a.rating > b.rating:
			return -1
		case a.rating < b.rating:
			return 1
		}
		return 0
	})
	for _, f := range all {
		t.Rows = append(t.Rows, f.cells)
	}
	return t
}

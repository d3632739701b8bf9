package harness

import (
	"maps"
	"slices"
	"strconv"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// allOthers is said of a plug whose every way is unused that has no row.
const allOthers = "all others"

// unused are the ways that a plug says, in one line, have no wire.
type unused struct {
	said   map[string]quantity.Word // by the way's name
	others quantity.Word            // known where all that have no row are
}

// unusedOf reads them. All others than none would be all of a plug that
// somebody opened: there the line says nothing.
func unusedOf(p *ledger.Plug) unused {
	out := unused{said: map[string]quantity.Word{}}
	for _, w := range p.Unused {
		switch {
		case !w.Known():
		case w.String() != allOthers:
			out.said[w.String()] = w
		case len(p.Pins) > 0:
			out.others = w
		}
	}
	return out
}

// says is what says that a way is unused; it is not known where nothing does.
func (p *plug) says(name string) quantity.Word {
	_, row := p.Pins[name]
	if w, ok := p.unused.said[name]; ok || row {
		return w
	}
	return p.unused.others
}

// named is how many ways the plug names, in its rows or as unused.
func (p *plug) named() int {
	n := len(p.Pins)
	for name := range p.unused.said {
		if _, row := p.Pins[name]; !row {
			n++
		}
	}
	return n
}

// contradictions judges the ways that are said to be unused against the rows
// and the number of ways. What another pin or a splice says of one that is
// empty is for both-ends to judge.
func (p *plug) contradictions(s *lint.Sheet) {
	numbered := len(p.Pins) > 0 && p.Ways.Known()
	for name := range p.Pins {
		numbered = numbered && isNumber(name, p.Ways.Value())
	}
	for _, name := range slices.SortedFunc(maps.Keys(p.unused.said), inOrder) {
		u := s.On(p, "unused "+name).At(p.unused.said[name].Source().Place).When(p.off.Not(), cameOff)
		if numbered && !isNumber(name, p.Ways.Value()) {
			u.Holds(quantity.Is(false), "the plug's rows go by number, and it has no way %s", name)
			continue
		}
		row := p.Pins[name]
		wired := row.Now.Given().And(row.Now.Is("empty").Not()).OrElse(false)
		for _, w := range []quantity.Word{row.To.Word, row.Circuit.Word, row.Gauge, row.Function, row.Color, row.Mark} {
			wired = wired.Or(quantity.Is(w.Known()))
		}
		u.Holds(wired.Not(), "it is said to be unused, and its row has a wire in it: one of the two is wrong")
	}
}

// isNumber tells whether a name is a number from 1 to the number of ways.
func isNumber(name string, ways float64) bool {
	n, err := strconv.Atoi(name)
	return err == nil && n >= 1 && float64(n) <= ways && strconv.Itoa(n) == name
}

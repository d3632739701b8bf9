package harness

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// cavity is one way of a plug, with its row of the plug's table.
type cavity struct {
	plug *ledger.Plug
	name string
	row  ledger.Pin
	now  quantity.Word // what became of it
}

// Path is the plug's: a cavity is judged as an aspect of its plug.
func (c *cavity) Path() string { return c.plug.Path() }

// Place is the row's, or the plug's where there is none.
func (c *cavity) Place() quantity.Place {
	if p, ok := c.row.Place(); ok {
		return p
	}
	return c.plug.Place()
}

// ref is the cavity as a reference names it.
func (c *cavity) ref() string { return c.plug.PinName(c.name) }

func (c *cavity) aspect() string { return "pin " + c.name }

// carries holds where a wire is in it that leads somewhere.
func (c *cavity) carries() quantity.Truth { return c.now.Is("kept", "moved", "new") }

// cut holds where the wire was cut off here.
func (c *cavity) cut() quantity.Truth { return c.now.Is("cut", "capped") }

// displaced holds where the wire that was in it was pulled out of it.
func (c *cavity) displaced() quantity.Truth {
	return c.row.ColorWas.Given().And(c.now.Is("moved", "new", "empty"))
}

// color is the wire's: as the row says, as it was where it stayed what it
// was, or as its circuit says.
func (c *cavity) color(b *ledger.Build) quantity.Word {
	said := c.row.Color
	if c.now.Is("kept").Holds() {
		said = quantity.FirstWord(said, c.row.ColorWas)
	}
	return quantity.FirstWord(said, b.Circuit(c.row.Circuit).Color)
}

// plug is a plug with its cavities.
type plug struct {
	*ledger.Plug
	opened   quantity.Truth
	unused   unused
	off      quantity.Truth // the finished vehicle does not carry it
	cavities []*cavity      // the rows of its table
	byName   map[string]*cavity
	left     []*cavity // of a plug that was opened: those of which the table does not say what became
}

// loom is all that the ledger says of plugs, worked out once a build.
type loom struct {
	plugs   []*plug
	byPath  map[string]*plug
	ends    lists                      // the pins and splices whose wires end in a pin, by "plug.x:4"
	mates   lists                      // what a plug plugs into, and what says that it plugs into it
	settled map[*cavity]bool           // the wire pulled out here is in another pin now
	spliced map[string]map[string]bool // what a splice that says it joins, by its path
}

type key struct{}

func loomOf(b *ledger.Build) *loom {
	return ledger.Memo(b, key{}, func() *loom {
		l := &loom{byPath: map[string]*plug{}, ends: lists{}, mates: lists{}, settled: map[*cavity]bool{}, spliced: map[string]map[string]bool{}}
		told := 0
		for _, p := range b.Plugs() {
			pl := newPlug(b, p)
			if most := max(1, mostLeft-told); len(pl.left) > most {
				pl.left = pl.left[:most]
			}
			told += len(pl.left)
			l.plugs = append(l.plugs, pl)
			l.byPath[p.Path()] = pl
			if p.Mates.Known() {
				l.mates.note(p.Path(), p.Mates.String())
				l.mates.note(p.Mates.String(), p.Path())
			}
		}
		l.noteEnds(b)
		l.settle()
		return l
	})
}

// lists are names by what they are noted at, each once and in the order of
// noting.
type lists map[string]*noted

type noted struct {
	all []string
	has map[string]bool
}

func (l lists) note(at, what string) {
	if l[at] == nil {
		l[at] = &noted{has: map[string]bool{}}
	}
	if n := l[at]; !n.has[what] {
		n.has[what] = true
		n.all = append(n.all, what)
	}
}

func (l lists) at(name string) []string {
	if n := l[name]; n != nil {
		return n.all
	}
	return nil
}

func newPlug(b *ledger.Build, p *ledger.Plug) *plug {
	out := &plug{Plug: p, unused: unusedOf(p), byName: map[string]*cavity{}, opened: p.Opened, off: p.MountedOn.Names("part").And(b.Part(p.MountedOn).Fitted.Not()).OrElse(false)}
	for _, row := range p.Pins { // whoever changed a pin has opened the plug
		out.opened = out.opened.Or(row.Now.Is("moved", "new", "cut", "capped").OrElse(false))
	}
	in, left := out.ways()
	for _, name := range in {
		if c := out.cavity(name); out.opened.And(c.now.Given().Not()).Holds() {
			out.left = append(out.left, c)
		} else {
			out.cavities = append(out.cavities, c)
			out.byName[name] = c
		}
	}
	for _, name := range left {
		out.left = append(out.left, out.cavity(name))
	}
	return out
}

// cavity is a way of the plug. One that is said to be unused is empty; in a
// plug that was not opened every other pin is as it was, said or not.
func (p *plug) cavity(name string) *cavity {
	c := &cavity{plug: p.Plug, name: name, row: p.Pin(name)}
	c.now = c.row.Now
	if says := p.says(name); says.Known() && !c.now.Given().Holds() {
		c.now = quantity.Written("empty", says.Source())
	}
	if p.opened.Fails() {
		c.now = c.now.Or("kept")
	}
	return c
}

// pins checks each pin that the rule may apply to; where there is none, it says
// so once.
func (p *plug) pins(s *lint.Sheet, respect string, applies func(*cavity) quantity.Truth, none string, check func(*cavity, *lint.Subject)) {
	any := false
	for _, c := range p.cavities {
		if t := applies(c); !t.Fails() {
			any = true
			check(c, s.On(c, c.aspect()+respect).When(p.off.Not(), cameOff).When(t, none))
		}
	}
	if !any {
		s.On(p, "pins"+respect).When(quantity.Is(false), none)
	}
}

// mostWays bounds how many rows that are left out are told one by one.
const mostWays = 500

// mostLeft bounds the same of all plugs of a ledger together. Of each plug
// after these one is told, so that none is left out.
const mostLeft = 5000

// ways lists the pins that the table, or the list of those unused, has, and
// those that both leave out: by number where the names are numbers from 1 to
// the number of ways, and else by how many they are.
func (p *plug) ways() (in, left []string) {
	ways := min(p.Ways.Value(), mostWays)
	for name := range p.Pins {
		in = append(in, name)
	}
	for name := range p.unused.said {
		if _, there := p.Pins[name]; !there {
			in = append(in, name)
		}
	}
	slices.SortFunc(in, inOrder)
	if p.unused.others.Known() {
		return in, nil
	}
	numbered := true
	for _, name := range in {
		numbered = numbered && isNumber(name, ways)
	}
	for n := 1; float64(n) <= ways; n++ {
		name := strconv.Itoa(n)
		_, row := p.Pins[name]
		_, said := p.unused.said[name]
		if numbered && !row && !said {
			left = append(left, name)
		} else if !numbered && n > len(in) {
			left = append(left, "row "+name)
		}
	}
	return in, left
}

// inOrder compares names of pins as people count: 2 before 10, A2 before A10.
func inOrder(a, b string) int {
	return cmp.Or(cmp.Compare(letters(a), letters(b)), cmp.Compare(len(a), len(b)), strings.Compare(a, b))
}

func letters(s string) string { return strings.TrimRight(s, "0123456789") }

// tells holds where it is known what became of a pin.
func (p *plug) tells(name string) bool {
	return p.opened.Fails() || p.byName[name] != nil || p.unused.others.Known()
}

// find is the cavity that a reference names; one of which nothing is known
// where its plug is not there.
func (l *loom) find(b *ledger.Build, r ledger.Ref) (*plug, *cavity) {
	to, pin := r.Pin()
	p := l.byPath[to.String()]
	if p == nil {
		p = &plug{Plug: b.Plug(to), off: quantity.Is(false)}
	}
	return p, p.cavity(pin)
}

// noteEnds notes who says of a pin that its wire ends there.
func (l *loom) noteEnds(b *ledger.Build) {
	for _, p := range l.plugs {
		for _, c := range p.cavities {
			if c.row.To.Kind() == "plug" && c.carries().Holds() {
				l.ends.note(c.row.To.String(), c.ref())
			}
			if c.row.To.Kind() == "splice" {
				l.ends.note(c.ref(), c.row.To.String())
			}
		}
	}
	for _, s := range b.Splices() {
		for _, to := range s.Joins {
			if to.Kind() == "plug" {
				l.ends.note(to.String(), s.Path())
			}
		}
	}
}

// settle finds for each wire that was pulled out, and of which nothing else is
// said, a pin that a wire of its color was moved to, each once: first one of
// its own plug, then of the others.
func (l *loom) settle() {
	everywhere := map[string]*moved{}
	inPlug := map[*plug]map[string]*moved{}
	for _, p := range l.plugs {
		inPlug[p] = map[string]*moved{}
		for _, c := range p.cavities {
			if c.now.Is("moved").And(c.row.Color.Required()).Holds() {
				color := strings.ToLower(c.row.Color.String())
				for _, of := range []map[string]*moved{inPlug[p], everywhere} {
					if of[color] == nil {
						of[color] = &moved{}
					}
					of[color].to = append(of[color].to, c)
				}
			}
		}
	}
	taken := map[*cavity]bool{}
	for _, p := range l.plugs {
		for _, c := range p.cavities {
			if !c.displaced().Holds() || c.row.OtherEnd.Known() {
				continue
			}
			color := strings.ToLower(c.row.ColorWas.String())
			l.settled[c] = inPlug[p][color].take(c, taken) || everywhere[color].take(c, taken)
		}
	}
}

// moved are the pins that wires of one color were moved to; those before next
// are taken.
type moved struct {
	to   []*cavity
	next int
}

// take takes the first that is free and is not the pin that the wire came from.
func (m *moved) take(from *cavity, taken map[*cavity]bool) bool {
	if m == nil {
		return false
	}
	for m.next < len(m.to) && taken[m.to[m.next]] {
		m.next++
	}
	for _, c := range m.to[m.next:] {
		if c != from && !taken[c] {
			taken[c] = true
			return true
		}
	}
	return false
}

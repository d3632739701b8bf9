package circuits

import (
	"fmt"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Run is a circuit, what feeds it and what it feeds.
type Run struct {
	*ledger.Circuit
	fed   *joint          // what it hangs on; nil where it begins at its source
	lost  []quantity.Need // where the way to the source is not written
	feeds []*joint        // what hangs on its end

	Own      quantity.Quantity // its own load
	HasOwn   bool              // it has one: it states it, or feeds nothing else
	Cranking bool

	carries    [2]once // its current, by load
	along      [2]once // the drop from the source to its end, by load
	protection once
	allowed    once
}

// Load tells the two loads apart that a supply carries: all that is on, and
// all but what cranks. Nobody minds that a lamp dims while the starter turns.
type Load int

const (
	Everything Load = iota
	ButCranking
)

// Network is a build's circuits, linked.
type Network struct {
	b        *ledger.Build
	Runs     []*Run // those of the build, by id
	known    []*Run // and those that only a mix of two ledgers leads to
	byPath   map[string]*Run
	joints   map[string]*joint // by what the runs join at: a circuit or a relay
	switched map[string]*set   // by relay: what it feeds or switches
	hidden   []quantity.Need   // of the first circuit that may hang on any other: a fault hides it, or what feeds it
}

type networkKey struct{}

// Of links the circuits of a build, once.
func Of(b *ledger.Build) *Network {
	return ledger.Memo(b, networkKey{}, func() *Network { return link(b) })
}

func link(b *ledger.Build) *Network {
	n := &Network{b: b, hidden: b.Lost("circuit"), byPath: map[string]*Run{}, joints: map[string]*joint{}, switched: map[string]*set{}}
	for _, c := range b.Circuits() {
		n.Runs = append(n.Runs, n.add(c))
	}
	for i := 0; i < len(n.known); i++ {
		n.trace(n.known[i])
	}
	n.join()
	n.tooDeep()
	for _, r := range n.known {
		n.load(r)
	}
	return n
}

// mostDeep is how many circuits may hang one behind another. What each carries and
// loses is a sum over all of them, and no vehicle comes near it; that it suffices
// is practice, without a source.
const mostDeep = 100

// tooDeep makes all sums wait where circuits hang deeper than that.
func (n *Network) tooDeep() {
	for _, r := range n.known {
		if n.hidden == nil && r.depth() > mostDeep {
			n.hidden = []quantity.Need{{Key: fmt.Sprintf("no more than %d circuits one behind another", mostDeep), Place: r.Place()}}
		}
	}
}

// add takes in a circuit and notes what it leads to.
func (n *Network) add(c *ledger.Circuit) *Run {
	r := &Run{Circuit: c, Cranking: c.Duty.Is("cranking").Holds()}
	n.byPath[c.Path()] = r
	n.known = append(n.known, r)
	for _, to := range c.To {
		n.joint(to).into.add(r)
	}
	for _, relay := range []ledger.Ref{c.From, c.Relay} {
		if relay.Kind() == "relay" {
			if n.switched[relay.String()] == nil {
				n.switched[relay.String()] = &set{}
			}
			n.switched[relay.String()].add(r)
		}
	}
	return r
}

// trace finds what feeds a run. It is what `from` names; where that is left
// out, what names the run in its `to`, or the relay that switches it.
func (n *Network) trace(r *Run) {
	switch {
	case r.From.Kind() == "circuit":
		r.fed = n.end(n.at(r.From))
	case r.From.Kind() == "relay":
		r.fed = n.joints[r.From.String()]
		if r.fed == nil {
			r.lost = []quantity.Need{{Key: "a circuit that leads to " + r.From.String(), Place: r.From.Source().Place}}
		}
	case !r.From.Known():
		if r.fed = n.joints[r.Path()]; r.fed == nil && r.Relay.Known() {
			r.fed = n.joints[r.Relay.String()]
		}
		if r.fed == nil {
			r.lost = r.From.Needs()
			if r.Damaged() && n.hidden == nil {
				n.hidden = r.lost
			}
		}
	}
	if r.fed != nil {
		r.fed.out.add(r)
	}
}

// at is the run that a reference names. One that is not among the build's own
// is looked up: a mix of two ledgers can lead there.
func (n *Network) at(ref ledger.Ref) *Run {
	if r, ok := n.byPath[ref.String()]; ok {
		return r
	}
	return n.add(n.b.Circuit(ref))
}

// At is the run of the circuit that a reference names; one of which nothing is
// known where it names none.
func (n *Network) At(ref ledger.Ref) *Run {
	c := n.b.Circuit(ref)
	if r, ok := n.byPath[c.Path()]; ok {
		return r
	}
	return &Run{Circuit: c}
}

// load settles a run's own load. One that feeds others and states none has
// none; a signal's is small.
func (n *Network) load(r *Run) {
	r.HasOwn = r.Load.Known() || r.Power.Known() || len(r.feeds) == 0
	switch own := OwnLoad(r.Load, r.Power, n.b.Supply().Voltage); {
	case !r.HasOwn:
		r.Own = quantity.SI(0, quantity.Current)
	case r.Duty.Is("signal").Holds():
		r.Own = quantity.Default(own, signalCurrent)
	default:
		r.Own = own
	}
	if r.HasOwn && r.Like.Known() { // the value stands in another circuit
		r.Own = r.Own.As("own load of "+r.Path(), "load, or else P / V")
	}
}

// Current is a run's own load and that of all that it feeds. What a ground
// returns is no load of what it is joined to.
func (n *Network) Current(r *Run, of Load) quantity.Quantity {
	return r.carries[of].get(quantity.Current, r.Path(), r.Place(), func() quantity.Quantity {
		var terms []quantity.Quantity
		if r.HasOwn && (of == Everything || !r.Cranking) {
			terms = append(terms, r.Own)
		}
		for _, j := range r.feeds {
			terms = append(terms, n.currents(j, of)...)
		}
		if len(n.hidden) > 0 && !r.Damaged() {
			terms = append(terms, quantity.WaitsFor(quantity.Current, n.hidden))
		}
		if len(terms) == 1 {
			return terms[0]
		}
		return quantity.Sum(quantity.Current, terms...).As("current of "+r.Path(), "own load + what it feeds")
	})
}

// AtEnd is the voltage lost from the source to a run's end, and by its own
// load on the way back.
func (n *Network) AtEnd(r *Run) quantity.Quantity {
	of := ButCranking
	if r.Cranking {
		of = Everything
	}
	out := n.dropAlong(r, of)
	if !r.HasOwn {
		return out
	}
	back := Drop(r.Own, n.returning(r)).As("drop in the return of "+r.Path(), "I R")
	return out.Add(back).As("drop at the end of "+r.Path(), "out + return")
}

func (n *Network) dropAlong(r *Run, of Load) quantity.Quantity {
	return r.along[of].get(quantity.Voltage, r.Path(), r.Place(), func() quantity.Quantity {
		resistance := Resistance(n.perLength(r), r.Length, n.Temperature(r)).As("resistance of "+r.Path(), "r L (1 + 0.00393 (T - 20 °C))")
		here := Drop(n.Current(r, of), resistance).As("drop in "+r.Path(), "I R")
		before, fed := upstream(r, quantity.Voltage, func(j *joint) *once { return &j.along[of] }, func(f *Run) quantity.Quantity { return n.dropAlong(f, of) })
		if !fed {
			return here
		}
		return here.Add(before).As("drop from the source along "+r.Path(), "drop in it + drop before it")
	})
}

// returning is the resistance of a run's return.
func (n *Network) returning(r *Run) quantity.Quantity {
	length := quantity.Choose(Stated(n.b, r.ReturnLength), r.ReturnLength, r.Length)
	wire := Resistance(n.perLength(r), length, n.Temperature(r))
	chassis := quantity.Default(r.ReturnResistance, chassisReturn)
	return quantity.Choose(r.Return.Is("wire"), wire.As("resistance of the return of "+r.Path(), "r L (1 + 0.00393 (T - 20 °C))"), chassis)
}

// Fuse is a run's own fuse or breaker, else the nearest one upstream; the
// largest of several that are equally near.
func (n *Network) Fuse(r *Run) quantity.Quantity {
	return r.protection.get(quantity.Current, r.Path(), r.Place(), func() quantity.Quantity {
		nearest := []quantity.Quantity{r.Fuse, r.Breaker}
		if before, fed := upstream(r, quantity.Current, func(j *joint) *once { return &j.protection }, n.Fuse); fed {
			nearest = append(nearest, before)
		}
		return quantity.FirstOf(nearest...)
	})
}

// upstream is the most that a value comes to at a run's feeders; there is none
// where the run begins at its source.
func upstream(r *Run, dim quantity.Dim, kept func(*joint) *once, of func(*Run) quantity.Quantity) (quantity.Quantity, bool) {
	switch {
	case len(r.lost) > 0:
		return quantity.WaitsFor(dim, r.lost), true
	case r.fed == nil:
		return quantity.Quantity{}, false
	}
	in := r.fed.into.runs
	if len(in) == 1 {
		return of(in[0]), true
	}
	return kept(r.fed).get(dim, r.fed.name, r.Place(), func() quantity.Quantity {
		var all []quantity.Quantity
		for _, f := range in {
			all = append(all, of(f))
		}
		return quantity.Max(all[0], all[1:]...)
	}), true
}

// once is a value that is worked out once, and that waits for the ledger to be
// mended where it would depend on itself.
type once struct {
	value quantity.Quantity
	state uint8
}

const (
	untouched uint8 = iota
	open
	done
)

func (o *once) get(dim quantity.Dim, path string, place quantity.Place, work func() quantity.Quantity) quantity.Quantity {
	switch o.state {
	case open:
		return quantity.Waits(dim, "a from and to of "+path+" that do not lead back to it", place)
	case untouched:
		o.state = open
		o.value = work()
		o.state = done
	}
	return o.value
}

// SwitchedBy are the runs whose current a relay's contacts carry.
func (n *Network) SwitchedBy(relay *ledger.Relay) []*Run {
	if n.b.IsPhantom() {
		return n.Runs
	}
	if s := n.switched[relay.Path()]; s != nil {
		return s.runs
	}
	return nil
}

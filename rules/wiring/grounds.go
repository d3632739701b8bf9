package wiring

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
)

var grounds = &lint.Rule{
	Name:    "wiring/grounds",
	Title:   "the battery is grounded to the engine, and the engine to the body or frame by a wire that carries what returns through it",
	Due:     ledger.AtFirstStart,
	Sources: cited("bonding", "practice"),
	Backs:   []string{"practice", "bonding"},
	Note: "Asked for where the ledger has a battery and an engine that are fitted. A ground is a circuit of duty ground between the two, either way round; the body or frame is a part of role frame, body-panel or body-harness. What returns is no more than the largest fuse of a circuit that returns by the chassis, as one does that does not say. " +
		"That a ground is there and carries it is common practice, and plain physics: what finds no way back takes brake lines, cables and bearings. A code for park trailers asks that the battery's bond is not smaller than its feed; here the fuse of that feed stands for it. That the grounds to the body have as much copper as the thickest feed behind the largest fuse is a should.",
	Caution: "A ground that is missing or thin heats the throttle cable, the brake hoses' ends and the bearings instead, and starts fires. Disconnect the battery before you touch it; local codes and a licensed electrician have the last word.",
	Check:   checkGrounds,
}

func checkGrounds(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	both := fitted(b, "battery").And(fitted(b, "engine"))
	s.On(b.Supply(), "battery to engine").When(both, noGrounds).
		Holds(ground(b, n, []string{"battery"}, []string{"engine"}).found, "")
	body := ground(b, n, []string{"engine"}, bodies)
	s.On(b.Supply(), "engine to body").When(both, noGrounds).Holds(body.found, "")
	largest, feeds, some := returned(b, n)
	var carries []quantity.Quantity
	for _, r := range body.runs {
		carries = append(carries, n.Allowable(r))
	}
	if len(carries) == 0 {
		carries = []quantity.Quantity{quantity.Waits(quantity.Current, body.want, b.Supply().Place())}
	}
	s.On(b.Supply(), "what returns").When(both.And(quantity.Is(len(body.runs) > 0 || b.IsPhantom())), "there is no ground from the engine to the body to judge").
		When(some, "no circuit returns by the chassis").AtLeast(quantity.Sum(quantity.Current, carries...).As("what the grounds carry", "sum of what each may carry"), largest)
	asThick(b, n, s, both, body.runs, feeds)
}

// asThick checks that the grounds to the body have the copper of the thickest
// feed behind the largest fuse.
func asThick(b *ledger.Build, n *circuits.Network, s *lint.Sheet, both quantity.Truth, grounds, feeds []*circuits.Run) {
	here := quantity.Is(len(grounds) > 0 && len(feeds) > 0)
	if b.IsPhantom() {
		here, grounds, feeds = both, n.Runs, n.Runs
	}
	u := s.On(b.Supply(), "as thick as the feed").Recommended().When(both, noGrounds).When(here, "no ground to the body, or nothing that returns by the chassis")
	if !here.Fails() {
		var areas []quantity.Quantity
		for _, r := range feeds {
			areas = append(areas, n.Area(r))
		}
		u.AtLeast(copper(n, grounds), quantity.Max(areas[0], areas[1:]...).As("copper of the feed", "largest area behind the largest fuse"))
	}
}

const noGrounds = "no battery and engine that are fitted"

// bodies are the roles of what the body's currents return to.
var bodies = []string{"frame", "body-panel", "body-harness"}

// fitted tells whether a fitted part has the role.
func fitted(b *ledger.Build, role string) quantity.Truth {
	out := quantity.Is(false)
	for p := range b.Fitted() {
		out = out.Or(p.Role.Is(role).OrElse(b.IsPhantom()))
	}
	return out
}

// joined are the circuits of duty ground between two things.
type joined struct {
	runs  []*circuits.Run
	found quantity.Truth
	want  string
}

func ground(b *ledger.Build, n *circuits.Network, from, to []string) joined {
	out := joined{want: "a circuit of duty ground between a part of role " + from[0] + " and one of role " + to[0]}
	for _, r := range n.Runs {
		if !r.Duty.Is("ground").Holds() {
			continue
		}
		for _, end := range r.To {
			if grounded(b, r.From, from) && grounded(b, end, to) || grounded(b, r.From, to) && grounded(b, end, from) {
				out.runs = append(out.runs, r)
				break
			}
		}
	}
	out.found = quantity.Is(true)
	if len(out.runs) == 0 {
		out.found = quantity.Unknown([]quantity.Need{{Key: out.want, Place: b.Supply().Place()}})
	}
	return out
}

// grounded is an end of a ground: a part of one of the roles that is fitted.
func grounded(b *ledger.Build, end ledger.Ref, roles []string) bool {
	return is(b, end, roles) && b.Part(end).Fitted.Holds()
}

func is(b *ledger.Build, end ledger.Ref, roles []string) bool {
	return end.Names("part").Holds() && b.Part(end).Role.Is(roles...).Holds()
}

// returned is the largest fuse of a circuit that returns by the chassis, and the
// circuits behind one of that size.
func returned(b *ledger.Build, n *circuits.Network) (largest quantity.Quantity, behind []*circuits.Run, some quantity.Truth) {
	var fuses []quantity.Quantity
	most := 0.0
	for _, r := range n.Runs {
		own := quantity.FirstOf(r.Fuse, r.Breaker)
		if !b.IsPhantom() && (r.Return.Is("chassis").Fails() || !own.Known()) {
			continue
		}
		fuses = append(fuses, own)
		if own.Value() > most {
			most, behind = own.Value(), nil
		}
		if own.Value() == most {
			behind = append(behind, r)
		}
	}
	if len(fuses) == 0 {
		return quantity.SI(0, quantity.Current), nil, quantity.Is(false)
	}
	return quantity.Max(fuses[0], fuses[1:]...).As("most that returns by the chassis", "largest fuse of what returns there"), behind, quantity.Is(true)
}

package hookups

import (
	"fmt"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// port is one kind of hookup at one part.
type port struct{ part, kind string }

// supply is who takes what of whom, reckoned once a build.
type supply struct {
	takers map[port][]Taker   // of a giver, the fitted parts that take of it
	rings  map[port]bool      // a kind that goes round and that nobody makes
	runs   map[string]q.Truth // the part's own needs are fed
	order  []*ledger.Part
	users  map[string][]string // of a giver, the parts that need anything of it
}

// Pulses agree within the first, and had better within the second.
var (
	agreeAtLeast = data.Value("pulses-agree-at-least")
	agreeWithin  = data.Value("pulses-agree-within")
)

type supplyKey struct{}

func supplies(b *ledger.Build) *supply {
	return ledger.Memo(b, supplyKey{}, func() *supply {
		s := &supply{takers: map[port][]Taker{}, rings: map[port]bool{}, runs: map[string]q.Truth{}, users: map[string][]string{}}
		for p := range b.Fitted() {
			s.order = append(s.order, p)
			for kind, need := range p.Needs {
				giver := b.Part(need.From).Path()
				s.takers[port{giver, kind}] = append(s.takers[port{giver, kind}], Taker{p.Count, need.Takes})
				s.users[giver] = append(s.users[giver], p.Path())
			}
		}
		s.findRings(b)
		for _, p := range s.order {
			own := q.Is(true)
			for kind, need := range p.Needs {
				own = own.And(s.there(b, p, kind, need))
			}
			s.runs[p.Path()] = own
		}
		s.spread(q.Truth.Fails, func(t q.Truth) bool { return !t.Fails() })
		s.spread(func(t q.Truth) bool { return !t.Known() }, q.Truth.Holds)
		return s
	})
}

// there: the giver is named and fitted, and gives the kind.
func (s *supply) there(b *ledger.Build, p *ledger.Part, kind string, need ledger.Hookup) q.Truth {
	giver := b.Part(need.From)
	_, gives := giver.Gift(kind)
	return giver.Fitted.And(gives).And(q.Is(!s.rings[port{p.Path(), kind}]))
}

// spread hands what is wrong with a part on to those that it feeds, and to
// those that they feed. It goes to each part once, so rings end.
func (s *supply) spread(wrong, open func(q.Truth) bool) {
	var queue []string
	for _, p := range s.order {
		if wrong(s.runs[p.Path()]) {
			queue = append(queue, p.Path())
		}
	}
	for len(queue) > 0 {
		giver := queue[0]
		queue = queue[1:]
		for _, user := range s.users[giver] {
			if open(s.runs[user]) {
				s.runs[user] = s.runs[user].And(s.runs[giver])
				queue = append(queue, user)
			}
		}
	}
}

// findRings follows each need to its giver, the giver's need of the same kind
// to its own, and so on, until it comes to a source or round to itself.
func (s *supply) findRings(b *ledger.Build) {
	walked := map[port]int{}
	for walk, p := range s.order {
		for kind := range p.Needs {
			at, on := port{p.Path(), kind}, p
			for on.Needs[kind].From.Known() && walked[at] == 0 {
				walked[at] = walk + 1
				on = b.Part(on.Needs[kind].From)
				at = port{on.Path(), kind}
			}
			for walked[at] == walk+1 && !s.rings[at] {
				s.rings[at] = true
				on = b.Part(on.Needs[kind].From)
				at = port{on.Path(), kind}
			}
		}
	}
}

// ready: the giver is there, and is itself fed.
func (s *supply) ready(b *ledger.Build, p *ledger.Part, kind string, need ledger.Hookup) q.Truth {
	fed, known := s.runs[b.Part(need.From).Path()]
	return s.there(b, p, kind, need).And(q.Is(!known).Or(fed))
}

// why says what stands between a part and what it needs; nothing where the
// giver is ready.
func (s *supply) why(b *ledger.Build, p *ledger.Part, kind string, need ledger.Hookup) string {
	giver := b.Part(need.From)
	_, gives := giver.Gift(kind)
	switch {
	case giver.Fitted.Fails():
		return fmt.Sprintf("it is fed by %s, which came off", giver.Path())
	case gives.Fails():
		return fmt.Sprintf("it is fed by %s, which gives no %s", giver.Path(), kind)
	case s.rings[port{p.Path(), kind}]:
		return fmt.Sprintf("its %s goes round in a ring, and nothing makes it", kind)
	case s.runs[giver.Path()].Fails():
		return fmt.Sprintf("it is fed by %s, which is not fed itself", giver.Path())
	}
	return ""
}

package hookups

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// Pack checks what parts must be fed and what they supply.
var Pack = &lint.Pack{
	Name:  "hookups",
	Title: "Hookups: what every part must be fed, who feeds it, and what the old engine quietly did",
	Rules: []*lint.Rule{fed, orphaned, hoses, usualQuestions, unused},
}

const hurt = "Brakes or steering that lose their assist are heavy or gone: try them standing, then in an empty yard. Local codes and a licensed shop have the last word."

var fed = &lint.Rule{
	Name:    "hookups/fed",
	Title:   "what every fitted part needs is fed by a fitted part that has it, and enough of it",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("practice"), data.Source("speedometer")},
	Backs:   []string{"practice", "speedometer"},
	Note:    "What is fed by a part that is off, has no such thing or lacks something itself counts as none. Too little is reported once, at the part that gets it, and not again at those that it feeds. Pulses have to agree within 10 %, as a speedometer under 49 CFR 393.82, and should within 2 %. A steering gear that is said to need less than 500 psi waits for a document (common practice): nobody sets his own limit. What is lost on the way is left out.",
	Caution: hurt,
	Check:   checkFed,
}

var orphaned = &lint.Rule{
	Name:    "hookups/orphaned",
	Title:   "no fitted part is still fed by a part that came off, and the engine and the transmission are parts that are on",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("practice"), data.Source("vacuum-on-a-diesel")},
	Note:    "This is how a source of vacuum that went with the old engine shows up. A need that does not say what feeds it is for hookups/fed to ask about; here it is missing where all that fed the kind came off.",
	Caution: hurt,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, of := range []struct {
			entry ledger.Subject
			part  ledger.Ref
		}{{b.Engine(), b.Engine().Part}, {b.Transmission(), b.Transmission().Part}} {
			s.On(of.entry, "its part").When(of.part.Names("part").OrElse(b.IsPhantom()), "it names no part").
				Holds(vehicle.Aboard(b.Part(of.part)).OrElse(true), "%s, which it names, came off", of.part)
		}
		for p := range b.Fitted() {
			for kind, need := range p.Needs {
				check := s.On(p, kind).At(need.Place())
				if !need.From.Known() && !b.IsPhantom() {
					gone := goneWith(b, kind)
					another := quantity.Need{Key: "something that feeds it " + kind + ": all that did came off (" + gone + ")", Place: need.Place()}
					check.When(quantity.Is(gone != ""), "it does not say yet what feeds it: see hookups/fed").Holds(quantity.Unknown([]quantity.Need{another}), "")
					continue
				}
				giver := b.Part(need.From)
				check.Holds(giver.Fitted.OrElse(true), "it is fed by %s, which came off", giver.Path())
			}
		}
	},
}

var usualQuestions = &lint.Rule{
	Name:    "hookups/usual-questions",
	Title:   "each question that the ledger's own facts raise is settled by an entry or a dated answer",
	Due:     ledger.AtAssembly,
	Sources: []quantity.Citation{questionTable.Cite, data.Source("vacuum-on-a-diesel")},
	Note: "An engine counts as swapped where [engine-was] is written or its part did not come with the vehicle, a transmission where its part did not. What belongs together is one check; a passing one says what settled each question. " +
		"All is common practice; a must where people die of what nobody asked. Settled means answered, not that the answer is good; \"not yet\" is no answer, and of what was tried \"no\" is none; nor is one whose words only approve, put off or name someone: two words that say something settle a must, one where the answer names its entries, and \"see\" or \"ask\" needs those entries. An answer to what was tried is of no earlier date than the last move or change. The questions:" + questionList(),
	Caution: "What nobody tried has killed people. Try throttle, stop, steering and brakes standing, wheels chocked, then in an empty yard; run an engine indoors only with its exhaust led out. Local codes and a licensed shop have the last word.",
	Check:   checkQuestions,
}

var unused = &lint.Rule{
	Name:    "hookups/unused",
	Title:   "everything that a fitted part gives feeds another",
	Should:  true,
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("practice")},
	Note:    "An open port leaks, and a wire that goes nowhere is often one that was forgotten.",
	Caution: "Cap every port and every wire end that is left over: open fuel, oil and vacuum ports leak, and a bare end that is live starts fires. Local codes and a licensed shop have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for p := range b.Fitted() {
			for kind, gift := range p.Gives {
				s.On(p, kind).At(gift.Place()).Holds(taken(b, p, kind), "it feeds nothing")
			}
		}
	},
}

// steeringRoles are those of what fluid helps to steer.
var steeringRoles = []string{"steering-box", "steering-rack", "steering-gear", "hydraulic-steering"}

func checkFed(b *ledger.Build, s *lint.Sheet) {
	all := supplies(b)
	for p := range b.Fitted() {
		for kind, need := range p.Needs {
			gift, _ := b.Part(need.From).Gift(kind)
			rule, ready, why := b.Hookup(kind), all.ready(b, p, kind, need), all.why(b, p, kind, need)
			comes := quantity.Choose(ready, gift.Level, quantity.SI(0, rule.Dim)).As("what comes", "what "+need.From.String()+" feeds, none where it is off or not fed itself")
			if steers := p.Role.Is(steeringRoles...); kind == assist || b.IsPhantom() {
				s.On(p, kind+", as steering asks").At(need.Place()).Work().When(steers, "it does not steer").When(need.Least.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").
					Holds(vehicle.PlausibleAtLeast(b, need.Least, data.Value("steering-asks")), "")
			}
			check := s.On(p, kind).At(need.Place()).Says("%s", why)
			switch rule.Compare {
			case "level":
				check.AtLeast(comes, need.Least)
			case "equal":
				check.Same(comes, need.Exactly, agreeAtLeast)
				s.On(p, kind+", closely").At(need.Place()).Recommended().Says("%s", why).Same(comes, need.Exactly, agreeWithin)
			default:
				check.Holds(ready, "%s", why)
			}
		}
		for kind, gift := range p.Gives {
			if rule := b.Hookup(kind); rule.Compare == "sum" {
				s.On(p, kind+", all that it feeds").At(gift.Place()).AtMost(Taken(rule.Dim, all.takers[port{p.Path(), kind}]...), p.Count.Mul(gift.Level))
			}
		}
	}
}

// goneWith names the parts that gave a kind and came off; "" where one that
// gives it is fitted, or none ever did.
func goneWith(b *ledger.Build, kind string) string {
	var gone []string
	for _, p := range b.Parts() {
		switch _, gives := p.Gives[kind]; {
		case !gives:
		case p.Fitted.Fails():
			gone = append(gone, p.Path())
		default:
			return ""
		}
	}
	return strings.Join(gone, ", ")
}

// taken tells whether a fitted part, the tachometer or the speedometer takes
// what a part gives.
func taken(b *ledger.Build, p *ledger.Part, kind string) quantity.Truth {
	at := port{p.Path(), kind}
	switch kind {
	case "tach-signal":
		return takes(b, at).Or(b.Tachometer().Sender.Is(p.Path()).OrElse(false))
	case "road-speed-signal":
		return takes(b, at).Or(b.Speedometer().Sender.Is(p.Path()).OrElse(false))
	}
	return takes(b, at)
}

func takes(b *ledger.Build, at port) quantity.Truth {
	return quantity.Is(len(supplies(b).takers[at]) > 0)
}

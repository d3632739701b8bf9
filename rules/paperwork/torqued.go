package paperwork

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var joints = data.Table("torqued")

var torqued = &lint.Rule{
	Name:    "paperwork/torqued",
	Title:   "the bolts of every joint that was opened in mounts, adapter, steering, brakes, hubs, springs and driveline were torqued, on a day that is written down",
	Due:     ledger.AtRoadTest,
	Sources: []quantity.Citation{joints.Cite},
	Note: "Opened are the joints of a fitted part that did not come with the vehicle, was altered, or was moved; which parts is the pack's table. One work entry that says torqued, with its date, may name many parts; it is of no earlier date than the part's fitted-on and the last move of what it hangs on. " +
		"Common practice, and a must because a steering, brake or driveline bolt that works loose kills. Which torque is the maker's to say.",
	Caution: "Go by the maker's figure, with a wrench that was checked, dry or oiled as it says; renew bolts that are to be used once. Steering and brakes are for a licensed shop where your local code says so.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		var loose []string
		opened := quantity.Is(b.IsPhantom())
		var needs []quantity.Need
		for p := range b.Fitted() {
			asked := p.Role.Is(joints.Rows()...).And(disturbed(b, p))
			is := asked.OrElse(b.IsPhantom())
			opened = opened.Or(is)
			if is.Fails() {
				continue
			}
			if !asked.Known() {
				needs = append(needs, asked.Needs()...)
				for _, w := range b.Works() {
					needs = append(needs, w.Did.Required().And(w.Date.Required()).Needs()...)
				}
				continue
			}
			at, dated := wrench(b, p)
			switch {
			case dated.Holds():
			case at != nil:
				needs = append(needs, dated.Needs()...)
			default:
				loose = append(loose, p.Path())
			}
		}
		u := s.On(b.Info(), "").When(opened, "no such joint was opened")
		if len(loose) == 0 && len(needs) > 0 {
			u.Holds(quantity.Unknown(needs), "")
			return
		}
		u.Work().Holds(quantity.Is(len(loose) == 0), "no dated work entry says that the bolts of %s were torqued", strings.Join(loose, ", "))
	},
}

// disturbed tells whether a part's joints were opened.
func disturbed(b *ledger.Build, p *ledger.Part) quantity.Truth {
	return p.Change.Given().Or(p.Origin.Is("original").Not()).Or(b.MovedSinceWork(p).Some)
}

// wrench is the work entry that says that the part's bolts were torqued, and
// whether it is dated after all that was done to the part; nil where there is
// none, or only one of an earlier date.
func wrench(b *ledger.Build, p *ledger.Part) (*ledger.Work, quantity.Truth) {
	var unsaid *ledger.Work
	for _, w := range b.Works() {
		if !ledger.Refer(w.Parts, p.Path()) || w.Did.Is("torqued").Fails() {
			continue
		}
		moved, _ := b.MovedAfter(p, w.Date)
		switch {
		case !w.Did.Known() || !w.Date.Known():
			unsaid = w
		case p.FittedOn.After(w.Date).Holds(), moved != "":
		default:
			return w, quantity.Is(true)
		}
	}
	if unsaid != nil {
		return unsaid, unsaid.Did.Required().And(unsaid.Date.Required())
	}
	return nil, quantity.Is(false)
}

var torqueFigure = &lint.Rule{
	Name:    "paperwork/torque-figure",
	Title:   "bolts were torqued to the maker's figure or, where there is none, to what their clamping force takes",
	Should:  true,
	Due:     ledger.AtRoadTest,
	Sources: []quantity.Citation{data.Source("scatter"), data.Source("wentzell"), data.Source("practice")},
	Backs:   []string{"scatter", "practice"},
	Note: "Of work entries that say torqued and give the torque. The maker's figure (torque-asked) wins, within 5 %, which is common practice; else K d F of bolt and clamp, within 30 %, as friction scatters. " +
		"Neither says that the bolt is strong enough for that clamp.",
	Caution: "A bolt that is torqued past its proof load stretches, and the joint comes loose later. Oil, plating and washers change the torque: go by the maker's instructions.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, w := range b.Works() {
			given := w.Did.Is("torqued").And(w.Torque.Given().Or(quantity.Is(b.IsPhantom())))
			byMaker := w.Maker.Given()
			s.On(w, "as the maker asks").When(given.And(byMaker), "it gives no torque, or the maker none").
				Same(w.Torque, w.Maker, data.Value("within-the-makers-figure"))
			s.On(w, "as the clamp takes").When(given.And(byMaker.Not()), "it gives no torque, or the maker gives one").
				Same(w.Torque, TighteningTorque(data.Value("nut-factor"), w.Bolt, w.Clamp), data.Value("within-the-sum"))
		}
	},
}

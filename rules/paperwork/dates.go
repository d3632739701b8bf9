package paperwork

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var dates = &lint.Rule{
	Name:    "paperwork/dates",
	Title:   "no test, reading, weighing or answer is dated after the signature for delivery that stands for it",
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note:    "A date of next year, mostly a slip of the pen, would make an old test count as newer than all that was done since. One that was done after delivery is signed for again. Visits and later work are not looked at.",
	Caution: "A test counts because it is newer than the work that it is about: look at the slip, and not at the ledger, for when it was done.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		last, signed := ledger.Date{}, quantity.Is(b.IsPhantom())
		for _, v := range b.Signatures() {
			if !v.Stage.Is("delivery").Holds() || !v.Date.Known() {
				continue
			}
			if signed = quantity.Is(true); !last.Known() || v.Date.After(last).Holds() {
				last = v.Date
			}
		}
		var late []string
		for _, e := range evidence(b) {
			if e.date.After(last).Holds() {
				late = append(late, e.path+" ("+e.date.String()+")")
			}
		}
		s.On(b.Info(), "").When(signed, "not signed for delivery").
			Holds(quantity.Is(len(late) == 0), "dated after %s, when it was signed: %s", last, strings.Join(late, ", "))
	},
}

// dated is something that counts by its date.
type dated struct {
	path string
	date ledger.Date
}

// evidence are the tests, weighings, answers and readings of a build.
func evidence(b *ledger.Build) []dated {
	var out []dated
	for _, t := range b.Tests() {
		out = append(out, dated{t.Path(), t.Date})
	}
	for _, w := range b.Weighings() {
		out = append(out, dated{w.Path(), w.Date})
	}
	for _, a := range b.Answers() {
		out = append(out, dated{a.Path(), a.Date})
	}
	for _, g := range b.Gaps() {
		out = append(out, dated{g.Path(), g.Read})
	}
	for _, h := range b.Shafts() {
		out = append(out, dated{h.Path(), h.Read})
	}
	for _, l := range b.Lamps() {
		out = append(out, dated{l.Path(), l.Read})
	}
	return append(out, dated{b.Speedometer().Path(), b.Speedometer().Read})
}

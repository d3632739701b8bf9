package hookups

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

var replacedTable = data.Table("replaced")

var replaced = &lint.Rule{
	Name:    "hookups/replaced",
	Title:   "of each part that does what the vehicle had another for, the ledger says what became of the other",
	Should:  true,
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{replacedTable.Cite},
	Note: "A new radiator, battery or shaft stands in the place of an old one, whose mass the axle loads need: a part of the same role with origin original and fitted = false. What came off with the old engine or gearbox is in its mass. " +
		"A dated answer to old-parts settles it for all.",
	Caution: "A mass that was forgotten is on one axle or the other. The scale decides, and the ratings on the label are the limit; your local code may ask for a weigh ticket.",
	Check:   checkReplaced,
}

func checkReplaced(b *ledger.Build, s *lint.Sheet) {
	var open []string
	fresh := q.Is(b.IsPhantom())
	var needs []q.Need
	for _, row := range replacedTable.Rows() {
		names := append([]string{row}, words(replacedTable, row, "or")...)
		isNew := anyFitted(b, func(p *ledger.Part) q.Truth {
			is := p.Role.Is(names...).And(p.Origin.Is("original").Not())
			if b.IsPhantom() {
				needs = append(needs, is.Needs()...)
			}
			return is
		})
		fresh = fresh.Or(isNew)
		if (b.IsPhantom() || !isNew.Fails()) && !hadAnother(b, names, replacedTable.Word(row, "with")) {
			open = append(open, row)
		}
	}
	done := q.Is(len(open) == 0).Or(answeredBy(b, "old-parts"))
	if !done.Holds() {
		done = q.Unknown(append(needs, q.Need{Key: fmt.Sprintf("what became of the old %s: a part.x of that role, origin original and fitted = false, with its mass and place", strings.Join(open, ", ")), Place: b.Main()}))
	}
	s.On(b.Info(), "").When(fresh, "nothing that the vehicle had another for is new").Holds(done, "")
}

// hadAnother tells whether a part that came with the vehicle has one of the
// roles, or is what took it along when it came off.
func hadAnother(b *ledger.Build, names []string, with string) bool {
	return slices.ContainsFunc(b.Parts(), func(p *ledger.Part) bool {
		return p.Origin.Is("original").Holds() && (p.Role.Is(names...).Holds() || p.Role.Is(with).And(p.Fitted.Not()).Holds())
	})
}

// answeredBy tells whether a dated answer says something to a question.
func answeredBy(b *ledger.Build, question string) q.Truth {
	is := q.Is(false)
	for _, a := range answered(b)[question] {
		is = is.Or(a.Date.Given())
	}
	return is
}

package lint

import (
	"time"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

var readRule = &Rule{
	Name: "ledger/read", Title: "nothing was read on a day that is still to come", Due: ledger.AtIntake, Sources: format,
	Note:    "A reading dated ahead would count as taken after every move to come. It is told beside today and the day that is asked for, the later of the two; a day more is let pass, for clocks differ. Where a build was delivered, ledger/delivered asks the same of all its dates.",
	Caution: "A wrong date lets an old reading stand for a new one. If the date is wrong the figure may be too: go and look.",
}

// readBy tells each reading that is dated after a day.
func readBy(day string) func(*ledger.Build, *Sheet) {
	last := day
	if at, err := time.Parse(time.DateOnly, day); err == nil {
		last = at.AddDate(0, 0, 1).Format(time.DateOnly)
	}
	return func(b *ledger.Build, s *Sheet) {
		for _, e := range b.Entries() {
			for _, f := range e.Schema().Fields {
				if f.Moves != schema.MovedDate {
					continue
				}
				if v, ok := b.Value(e.Path(), f.Key); ok && v.Text > last && day != "" {
					s.On(about{e.Path(), v.Place}, f.Key).Holds(quantity.Is(false), "%s = %s is after %s: nothing is read on a day to come; write the day on which it was", f.Key, v.Text, day)
				}
			}
		}
	}
}

package lint

import (
	"time"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

var readRule = &Rule{
	Name: "ledger/read", Title: "nothing was read, tried, answered, done or received on a day that is still to come", Due: ledger.AtIntake, Sources: format,
	Note:    "A reading or a test dated ahead would count as later than every change to come, and work as done. It is told beside today and the day that is asked for, the later of the two; a day more is let pass, for clocks differ. Where a build was delivered, ledger/delivered asks the same of all its dates.",
	Caution: "A wrong date lets an old reading or test stand for a new one. If the date is wrong the figure may be too: go and look.",
}

// readBy tells each thing that has happened and is dated after a day.
func readBy(day string) func(*ledger.Build, *Sheet) {
	last := day
	if at, err := time.Parse(time.DateOnly, day); err == nil {
		last = at.AddDate(0, 0, 1).Format(time.DateOnly)
	}
	return func(b *ledger.Build, s *Sheet) {
		for _, e := range b.Entries() {
			for _, f := range e.Schema().Fields {
				if !f.Past {
					continue
				}
				if v, ok := b.Value(e.Path(), f.Key); ok && v.Text > last && day != "" {
					s.On(about{e.Path(), v.Place}, f.Key).Holds(quantity.Is(false), "%s = %s is after %s, and it has not happened yet: write the day on which it did, or leave it out", f.Key, v.Text, day)
				}
			}
		}
	}
}

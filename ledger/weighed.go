package ledger

import q "fishplate/ledger/quantity"

// Weighed is the weighing that says it was taken when ("as-received",
// "as-built"), the latest of several. Where there is none it is the view of
// one that is not written; where one does not say when it was taken, or of
// several one has no date, of one that waits for that.
func (b *Build) Weighed(when string) *Weighing {
	return memo(b, "weighed "+when, func() *Weighing {
		var last *Weighing
		var needs, dates []q.Need
		several := false
		for _, w := range b.Weighings() {
			is := w.When.Is(when)
			if is.Holds() {
				dates = append(dates, w.Date.Needs()...)
				several = last != nil
				if last == nil || w.Date.String() > last.Date.String() {
					last = w
				}
			}
			if !is.Known() {
				needs = is.Needs()
			}
		}
		switch {
		case several && len(dates) > 0:
			needs = dates
		case last != nil:
			return last
		case b.phantom:
			return b.Weighings()[0]
		}
		return phantomView(kindNamed["weighing"], "weighing."+when, b.main, needs, false).(*Weighing)
	})
}

// Level is how full the tank was at the weighing.
func (w *Weighing) Level(t *Tank) q.Quantity {
	if level, ok := w.Levels[t.Path()]; ok {
		return level
	}
	if len(w.needs) > 0 {
		return q.WaitsFor(q.Ratio, w.needs)
	}
	return q.Missing(q.Ratio, &q.Source{Entry: w.path, Key: "levels." + t.Path(), Place: w.place})
}

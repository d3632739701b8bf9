package paperwork

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// kept is a limit that a driver keeps, and not the vehicle by itself.
type kept struct {
	key, what string
	gauges    []string // roles of parts that show it
	entries   []string // entries that are a gauge
	of        func(*ledger.Build) []limited
}

// limited is an entry that has such a limit.
type limited struct {
	ledger.Subject
	value quantity.Quantity
}

var keeps = func() []kept {
	t := data.Table("driver-keeps")
	split := func(row, column string) []string {
		return strings.FieldsFunc(t.Word(row, column), func(r rune) bool { return r == ',' || r == ' ' })
	}
	var out []kept
	for _, row := range t.Rows() {
		if driverLimit[row] == nil {
			panic("reference data of paperwork: a driver's limit " + row)
		}
		_, key, _ := strings.Cut(row, ".")
		out = append(out, kept{key, t.Word(row, "what"), split(row, "gauges"), split(row, "entries"), driverLimit[row]})
	}
	return out
}()

// driverLimit finds the values of each of the table's limits.
var driverLimit = map[string]func(*ledger.Build) []limited{
	"vehicle.gross-rating":    func(b *ledger.Build) []limited { return []limited{{b.Vehicle(), b.Vehicle().GrossRating}} },
	"vehicle.combined-rating": func(b *ledger.Build) []limited { return []limited{{b.Vehicle(), b.Vehicle().CombinedRating}} },
	"vehicle.roof-rating":     func(b *ledger.Build) []limited { return []limited{{b.Vehicle(), b.Vehicle().RoofRating}} },
	"vehicle.top-speed":       func(b *ledger.Build) []limited { return []limited{{b.Vehicle(), b.Vehicle().TopSpeed}} },
	"engine.cruise-limit":     func(b *ledger.Build) []limited { return []limited{{b.Engine(), b.Engine().CruiseLimit}} },
	"cooling.top-tank-limit":  func(b *ledger.Build) []limited { return []limited{{b.Cooling(), b.Cooling().TopTankLimit}} },
	"radiator.inlet-limit": func(b *ledger.Build) (out []limited) {
		for _, r := range b.Radiators() {
			out = append(out, limited{r, r.InletLimit})
		}
		return out
	},
	"test.readings.grade": func(b *ledger.Build) (out []limited) {
		for _, t := range b.Tests() {
			if t.Kind.Is("parking").OrElse(b.IsPhantom()).Holds() {
				out = append(out, limited{t, t.Readings.Grade})
			}
		}
		return out
	},
}

var driverLimits = &lint.Rule{
	Name:    "paperwork/driver-limits",
	Title:   "each limit that a driver has to keep has a gauge or an instruction",
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note: "A gauge is a fitted part by its role, or the entry of the tachometer or speedometer. An instruction counts that says what to do and names the limit in its about: about = [\"vehicle.gross-rating\"]. " +
		"Which limits are a driver's is the pack's table; the hottest inlet of a transmission cooler is one, and the grade that a parking test was done on.",
	Caution: "An engine that is lugged, overheated or overspeeded, and a vehicle that is overloaded or parked on too steep a grade, hurts people. Show the driver, do not only write it down.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, k := range keeps {
			gauge := k.gauge(b)
			for _, l := range k.of(b) {
				k.check(b, s.On(l, k.key), l, gauge)
			}
		}
	},
}

// gauge tells whether something fitted shows a driver the limit.
func (k kept) gauge(b *ledger.Build) quantity.Truth {
	shown := quantity.Is(false)
	for p := range b.Fitted() {
		shown = shown.Or(p.Role.Is(k.gauges...).OrElse(false))
	}
	for _, path := range k.entries {
		_, there := b.Entry(path)
		shown = shown.Or(quantity.Is(there))
	}
	return shown
}

func (k kept) check(b *ledger.Build, u *lint.Subject, l limited, gauge quantity.Truth) {
	key, shown := l.Path()+"."+k.key, gauge
	for _, i := range b.Instructions() {
		shown = shown.Or(i.Do.Given().And(quantity.Is(ledger.Refer(i.About, key))))
	}
	u.When(l.value.Given().Or(quantity.Is(b.IsPhantom())), "the ledger gives no such limit").Work().
		Holds(shown, "nothing tells a driver %s: no gauge, and no instruction with %s in its about", k.what, key)
}

package drawing

import (
	"fmt"
	"math"
	"strings"

	q "fishplate/ledger/quantity"
)

// standing is what stands on an axle, or on both, and what may.
type standing struct {
	name   string
	loads  AxleLoads
	rating q.Quantity
}

func (s *subject) standings() []standing {
	f, r := s.Front, s.Rear
	both := AxleLoads{f.Received.Add(r.Received), f.Predicted.Add(r.Predicted), f.Built.Add(r.Built), f.Curb.Add(r.Curb), f.Loaded.Add(r.Loaded)}
	return []standing{
		{"Front axle", f, s.Build.Front().Rating},
		{"Rear axle", r, s.Build.Rear().Rating},
		{"Both together", both, s.Build.Vehicle().GrossRating},
	}
}

func axleLoads(s *subject) Drawing {
	d := Drawing{Title: "Axle loads"}
	c := chart{ruled: math.NaN(), names: 0.17, says: 0.29}
	most := 0.0
	unit := s.style.Unit(q.SI(1, q.Mass))
	for _, a := range s.standings() {
		head := line{name: a.name, head: true}
		if known(a.rating) {
			head.name += ": rated " + s.style.Plain(a.rating)
			most = max(most, a.rating.Value())
		}
		c.rows = append(c.rows, head)
		var lacks []string
		for _, state := range []struct {
			name string
			mass q.Quantity
			full bool
		}{{"as received", a.loads.Received, false}, {"predicted", a.loads.Predicted, false}, {"weighed as built", a.loads.Built, false}, {"now at curb", a.loads.Curb, false}, {"loaded", a.loads.Loaded, true}} {
			if !known(state.mass) {
				if state.name != "weighed as built" {
					lacks = append(lacks, state.name)
				}
				continue
			}
			low, high := state.mass.Bounds()
			most = max(most, high)
			l := line{name: state.name, figure: s.style.Format(state.mass)}
			if known(a.rating) && state.full {
				l.says = against(state.mass.Value(), low, high, a.rating.Value())
			}
			if known(a.rating) && state.mass.Value() > a.rating.Value() {
				l.look = "d-red"
			}
			told := a.name + " " + state.name + ": " + s.style.Format(state.mass)
			l.draw = func(p plot) {
				look := Look("d-bar")
				if state.full {
					look = "d-part"
				}
				p.bar(look, state.mass.Value(), told)
				p.whisker("", low, high)
				if known(a.rating) {
					p.tick("d-heavy", a.rating.Value(), 8.5)
				}
			}
			c.rows = append(c.rows, l)
			d.Text += told + ". "
		}
		if len(lacks) > 0 {
			d.Beside = append(d.Beside, a.name+": "+strings.Join(lacks, ", ")+" not known")
		}
	}
	if d.Text == "" {
		return d
	}
	c.axis = axis{to: most * 1.04, step: stepFor(most/unit.Factor, 6) * unit.Factor, text: func(v float64) string { return unit.Number(v, 6) }}
	c.over = ""
	d.Panels = c.panels("In " + spelt(unit) + ", every tank full; loaded is with all loads. A whisker is how far off a figure may be, a heavy line the rating.")
	return d
}

// against says what is left of a rating, or how far past it a load is.
func against(v, low, high, rating float64) string {
	share := math.Abs(rating-v) / rating * 100
	switch {
	case v > rating:
		return fmt.Sprintf("%.1f %% over", share)
	case high > rating && low <= rating:
		return fmt.Sprintf("%.1f %% to spare, left open", share)
	}
	return fmt.Sprintf("%.1f %% to spare", share)
}

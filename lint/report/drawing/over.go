package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint/compare"
	"fishplate/lint/report/shown"
)

// Over draws two states of a build over each other: the views with what moved, what
// stands on the axles, and how near the checks that changed are to their limits.
func Over(c *compare.Comparison, before, after Figures) []Drawing {
	a, b := &subject{c.Before, before, c.After.Build.Style()}, &subject{c.After, after, c.After.Build.Style()}
	o := overlay{a, b, overItems(a, b)}
	var out []Drawing
	for _, k := range []struct {
		name string
		d    Drawing
	}{
		{"over-side", o.view(sideView)}, {"over-plan", o.view(planView)},
		{"over-axle-loads", o.axleLoads()}, {"over-closeness", o.closeness(c.Changes)},
	} {
		if k.d.Kind, k.d.ID = k.name, "drawing-"+k.name; !k.d.Empty() {
			out = append(out, k.d)
		}
	}
	return out
}

// overlay is two states of a build.
type overlay struct {
	before, after *subject
	items         []item
}

// overItems are the things of both states, with what became of each; those of
// which something became are numbered from the front to the rear.
func overItems(before, after *subject) []item {
	old, _ := before.items()
	now, _ := after.items()
	was := map[string]item{}
	for _, i := range old {
		was[i.path] = i
	}
	var out []item
	for _, i := range now {
		i.was, i.state = nil, added
		if o, ok := was[i.path]; ok {
			delete(was, i.path)
			i.state = same
			moved := i.at.Minus(o.at)
			if far(moved) || i.mass.Known() != o.mass.Known() || i.mass.Known() && math.Abs(i.mass.Value()-o.mass.Value()) > 1e-6 {
				i.state, i.was, i.moved, i.massWas = changed, &o.at, moved, o.mass
			}
		}
		out = append(out, i)
	}
	for _, i := range old {
		if _, ok := was[i.path]; ok {
			i.was, i.state = nil, gone
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b item) int { return cmp.Compare(a.at.X.Value(), b.at.X.Value()) })
	n := 0
	for i := range out {
		out[i].number = ""
		if out[i].state != same {
			n++
			out[i].number = strconv.Itoa(n)
		}
	}
	return out
}

// far tells that a move is more than rounding leaves.
func far(by ledger.Point) bool {
	for _, v := range []q.Quantity{by.X, by.Y, by.Z} {
		if v.Known() && math.Abs(v.Value()) > 1e-6 {
			return true
		}
	}
	return false
}

// view is a view of both states: gray is what stayed.
func (o overlay) view(v view) Drawing {
	c := o.after.sceneOf(v, o.items)
	c.over = true
	d := Drawing{Title: v.title + ", before and after"}
	key := Table{Key: true}
	for _, i := range o.items {
		if i.number != "" {
			key.Rows = append(key.Rows, []string{i.number, i.name + ": " + c.became(i), ""})
		}
	}
	if math.IsInf(c.area.left, 0) || len(key.Rows) == 0 {
		return d
	}
	if v.balanced {
		c.gravity = nil
		for _, g := range o.before.gravities(v) {
			if g.now {
				g.now, g.words = false, "center of gravity at curb, before"
				c.gravity = append(c.gravity, g)
			}
		}
		for _, g := range o.after.gravities(v) {
			if g.now {
				g.words = "after; the box is how far off it may be"
				c.gravity = append(c.gravity, g)
			}
		}
		for _, g := range c.gravity {
			c.area.take(g.left, g.low)
			c.area.take(g.right, g.high)
		}
	}
	d.Panels = []Panel{both("", c.lay)}
	d.Tables = []Table{key}
	d.Text = "The vehicle seen from " + c.from + ", before and after over each other."
	for _, r := range key.Rows {
		d.Text += " " + r[1] + "."
	}
	return d
}

// became says what became of a thing.
func (c *scene) became(i item) string {
	mass := func(v q.Quantity) string {
		if !v.Known() {
			return "of a mass that is not known"
		}
		return c.short(v)
	}
	switch i.state {
	case added:
		return "added, " + mass(i.mass)
	case gone:
		return "gone, " + mass(i.mass)
	}
	text := ""
	if far(i.moved) {
		text = "moved " + c.way(i.moved)
	}
	if i.mass.Known() != i.massWas.Known() || i.mass.Known() && math.Abs(i.mass.Value()-i.massWas.Value()) > 1e-6 {
		if text != "" {
			text += "; "
		}
		text += mass(i.massWas) + " before, " + mass(i.mass) + " now"
	}
	return text
}

// axleLoads draws the loads of both states under each other.
func (o overlay) axleLoads() Drawing {
	d := Drawing{Title: "Axle loads, before and after"}
	c := chart{ruled: math.NaN(), names: 0.17, says: 0.29}
	style := o.after.style
	unit := style.Unit(q.SI(1, q.Mass))
	most := 0.0
	was := o.before.standings()
	for k, a := range o.after.standings() {
		head := line{name: a.name, head: true}
		if known(a.rating) {
			head.name += ": rated " + style.Plain(a.rating)
			most = max(most, a.rating.Value())
		}
		c.rows = append(c.rows, head)
		for _, pair := range []struct {
			name     string
			old, now q.Quantity
		}{{"at curb", was[k].loads.Curb, a.loads.Curb}, {"loaded", was[k].loads.Loaded, a.loads.Loaded}} {
			for i, mass := range []q.Quantity{pair.old, pair.now} {
				if !known(mass) {
					continue
				}
				low, high := mass.Bounds()
				most = max(most, high)
				l := line{name: pair.name + ", " + [...]string{"before", "after"}[i], figure: style.Format(mass)}
				if i == 1 && known(pair.old) {
					if by := mass.Value() - pair.old.Value(); math.Abs(by) > 1e-6 {
						l.says = signed(unit, by)
					}
				}
				if known(a.rating) && mass.Value() > a.rating.Value() {
					l.look = "d-red"
				}
				d.Text += a.name + " " + l.name + ": " + l.figure + ". "
				l.draw = func(p plot) {
					p.bar([...]Look{"d-bar", "d-changed"}[i], mass.Value(), l.figure)
					p.whisker("", low, high)
					if known(a.rating) {
						p.tick("d-heavy", a.rating.Value(), 8.5)
					}
				}
				c.rows = append(c.rows, l)
			}
		}
	}
	if d.Text == "" {
		return d
	}
	c.axis = axis{to: most * 1.04, step: stepFor(most/unit.Factor, 6) * unit.Factor, text: func(v float64) string { return unit.Number(v, 6) }}
	d.Panels = c.panels("In " + spelt(unit) + ". White is before, blue after; a heavy line is the rating.")
	return d
}

func signed(u *q.Unit, v float64) string {
	if v > 0 {
		return "+" + u.Join(u.Number(v, 3))
	}
	return u.Join(u.Number(v, 3))
}

// closeness draws the checks that changed by how near they are to their limits,
// before and after.
func (o overlay) closeness(changes []*compare.Change) Drawing {
	d := Drawing{Title: "How close what changed is, before and after"}
	c := chart{axis: axis{to: 1, step: 0.25, text: percent}, ruled: 0, over: "the limit", names: 0.27, says: 0.44}
	for _, x := range changes {
		var a, b near
		var hadA, hadB bool
		if x.Before != nil {
			a, hadA = nearness(x.Before)
		}
		if x.After != nil {
			b, hadB = nearness(x.After)
		}
		if !hadA && !hadB {
			continue
		}
		l := o.changed(x, a, b, hadA, hadB)
		for _, n := range []near{a, b} {
			if n.Result != nil {
				c.from = min(c.from, n.low)
			}
		}
		d.Text += string(x.Kind) + ", " + l.name + ": " + l.figure + ". "
		c.rows = append(c.rows, l)
	}
	if len(c.rows) == 0 {
		return d
	}
	c.from = min(-0.05, max(-0.5, math.Floor(c.from*10-0.01)/10))
	d.Panels = c.panels("What is to spare, as a share of the limit: a ring before, a dot after, with how far off it may be. Left of the limit, it does not hold.")
	return d
}

func (o overlay) changed(x *compare.Change, a, b near, hadA, hadB bool) line {
	r := x.After
	if !hadB {
		r = x.Before
	}
	l := line{name: x.Rule.Name + "  " + shown.Clean(r.Subject())}
	if x.Kind != compare.Drifted {
		l.says = string(x.Kind)
	}
	text := func(n near) string { return shown.NumbersOf(n.Result, o.after.style).Value }
	switch limit := shown.NumbersOf(r, o.after.style).Limit; {
	case hadA && hadB:
		l.figure = text(a) + " → " + text(b) + ", " + limit
		if was := shown.NumbersOf(a.Result, o.after.style).Limit; was != limit {
			l.figure = text(b) + ", " + was + " → " + limit
			if text(a) != text(b) {
				l.figure = text(a) + " → " + l.figure
			}
		}
	case hadB:
		l.figure = text(b) + ", " + limit
	default:
		l.figure = text(a) + " before, " + limit
	}
	if x.Kind == compare.Worse && x.Counts {
		l.look = "d-red"
	}
	l.draw = func(p plot) {
		if hadA && hadB {
			from, to := at(p.x(a.share), p.y), at(p.x(b.share), p.y)
			if math.Abs(from.X-to.X) > 7 {
				p.arrow("d-now", "d-nowfill", from, at(to.X-math.Copysign(4, to.X-from.X), to.Y))
			}
		}
		if hadA {
			p.dot("d-open", a.share, 3, "before: "+text(a))
		}
		if hadB {
			look := Look("d-ink")
			if x.After.Counts {
				look = "d-badfill"
			}
			p.whisker("", b.low, b.high)
			p.dot(look, b.share, 3, "after: "+text(b))
		}
	}
	return l
}

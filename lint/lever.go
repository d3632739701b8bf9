package lint

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Lever is a value that a shop can change, and to what: where a check does not pass,
// the nearest value at which it does; where it passes, the last one at which it
// still does. From and To are SI; Text is what to write in the ledger for To, with
// the tolerance that the value has. A conductor's size goes by Steps: it has no
// Leaf, and Was is the size now.
type Lever struct {
	Source   *quantity.Source
	Leaf     quantity.Quantity
	From, To float64
	Text     string
	Was      string
	Steps    int
}

// mostTried is how many levers are worked out: those with the least effort by the
// margin's slope.
const mostTried = 12

// Levers lists the values that bear on a check's margin and that a shop can change,
// each with the value at which the low end of the margin is zero. The one that takes
// the least effort comes first.
func Levers(r *Result) []Lever {
	margin := r.Analysis(r.Margin)
	if !margin.Of().Known() {
		return nil
	}
	low, _ := margin.Bounds()
	var try []quantity.Doubt
	for _, d := range margin.Doubts() {
		if d.Source.Lever != nil && d.Slope != 0 && !math.IsInf(d.Slope, 0) {
			try = append(try, d)
		}
	}
	slices.SortStableFunc(try, func(a, b quantity.Doubt) int {
		return cmp.Compare(effort(a.Leaf, low/a.Slope), effort(b.Leaf, low/b.Slope))
	})
	var out []Lever
	for _, d := range try[:min(len(try), mostTried)] {
		if l, ok := reach(margin, d, low); ok {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b Lever) int {
		return cmp.Compare(effort(a.Leaf, a.To-a.From), effort(b.Leaf, b.To-b.From))
	})
	return out
}

// effort makes changes of different dimensions comparable: it is the change as a
// share of the value, or of a usual change of that dimension (the yard) where
// the value is small or a position.
func effort(leaf quantity.Quantity, way float64) float64 {
	yard := 1.0
	switch leaf.Dim() {
	case quantity.Length:
		yard = 0.25
	case quantity.Mass:
		yard = 10
	case quantity.Angle:
		yard = 0.1
	case quantity.Volume:
		yard = 0.02
	}
	if !leaf.Source().Lever.Position {
		yard = max(yard, math.Abs(leaf.Value()))
	}
	return math.Abs(way) / yard
}

// plausible tells whether a shop could change the value to that: within the shares
// that its tag gives, and a position by 2 m at the most.
func plausible(leaf quantity.Quantity, to float64) bool {
	from, lever := leaf.Value(), leaf.Source().Lever
	switch {
	case lever.Position:
		return leaf.Dim() != quantity.Length || math.Abs(to-from) <= 2
	case from == 0:
		return to >= 0 && (leaf.Dim() != quantity.Length || to <= mostFromNothing)
	}
	return to >= lever.Least*from && to <= lever.Most*from
}

// mostFromNothing is how long, in meters, a length may become that was zero.
const mostFromNothing = 0.1

// reach finds the value of one leaf at which the low end of the margin is zero, by
// bisection.
func reach(margin *quantity.Analysis, d quantity.Doubt, low float64) (Lever, bool) {
	l := Lever{Source: d.Source, Leaf: d.Leaf, From: d.Leaf.Value()}
	passes := low >= 0
	at := func(v float64) float64 {
		_, low, _ := margin.With(d.Source, v)
		return low
	}
	good, bad, ok := bracket(at, l.From, -low/d.Slope, passes)
	if !ok {
		return l, false
	}
	for range 60 {
		mid := good/2 + bad/2
		if mid == good || mid == bad {
			break
		}
		if at(mid) >= 0 {
			good = mid
		} else {
			bad = mid
		}
	}
	l.To, ok = settle(at, d.Leaf, good, passes)
	if !ok || !plausible(d.Leaf, l.To) {
		return l, false
	}
	l.Text = written(d.Leaf, l.To)
	if l.From == 0 && !passes { // a new value has the tolerance of its last digit: go further by that
		r, err := quantity.Parse(l.Text, d.Leaf.Dim(), quantity.Options{})
		if err != nil {
			return l, false
		}
		l.To += (r.High - r.Low) / 2 * (1 + 1e-9)
		l.To = math.Ceil(l.To/r.Unit.Factor*100) / 100 * r.Unit.Factor
		l.Text = written(d.Leaf, l.To)
	}
	return l, l.Text != ""
}

// bracket finds two values between which the margin's low end changes sign: good,
// where it is at least zero, and bad. It starts with the change that the slope
// promises, and makes it longer each time.
func bracket(at func(float64) float64, from, way float64, passes bool) (good, bad float64, ok bool) {
	if way == 0 {
		return 0, 0, false
	}
	good, bad = from, from
	for range 40 {
		v := from + way
		holds := at(v) >= 0
		switch {
		case passes && holds:
			good = v
		case passes:
			return good, v, true
		case holds:
			return v, bad, true
		default:
			bad = v
		}
		way *= 1.25
	}
	return 0, 0, false
}

// settle rounds a value to few digits, as a person would write it, to the side on
// which the check passes.
func settle(at func(float64) float64, leaf quantity.Quantity, to float64, passes bool) (float64, bool) {
	r, _ := leaf.Reading()
	u, from := r.Unit, leaf.Value()
	way := (to - from) / u.Factor
	if way == 0 {
		return 0, false
	}
	up := way > 0 != passes // a check that fails needs a longer change; one that passes allows no longer one
	decimals := min(6, max(0, 1-int(math.Floor(math.Log10(math.Abs(way))))))
	for ; decimals <= 9; decimals++ {
		step := math.Pow10(-decimals)
		x := math.Floor((to - u.Offset) / u.Factor / step)
		if up {
			x = math.Ceil((to - u.Offset) / u.Factor / step)
		}
		x, _ = strconv.ParseFloat(strconv.FormatFloat(x*step, 'f', decimals, 64), 64)
		if v := x*u.Factor + u.Offset; v != from && at(v) >= 0 {
			return v, true
		}
	}
	return 0, false
}

// written is the value as text for the ledger, with the tolerance that the leaf has.
func written(leaf quantity.Quantity, v float64) string {
	r, ok := leaf.Reading()
	if !ok {
		return ""
	}
	u := r.Unit
	number := func(x float64) string { return strconv.FormatFloat(quantity.Rounded(x, 9), 'f', -1, 64) }
	text := number((v - u.Offset) / u.Factor)
	low, high := leaf.Bounds()
	if half := (high - low) / 2 / u.Factor; half > 0 {
		if u.Symbol == "%" {
			text += " %"
		}
		text += " ± " + number(half)
		if r.Grade == quantity.Estimate {
			text = "~" + text
		}
	}
	return strings.TrimSpace(text + " " + u.Symbol)
}

// Proposal is a lever and what the checks of the whole ledger come to with it.
type Proposal struct {
	Lever
	After         *Result   // the check itself
	Breaks, Mends []*Result // other checks, as they would be
}

// Propose lists single changes that make a check pass, at most so many; where it
// passes already, how far each value may go. Each change is judged by all rules
// before it is listed.
func Propose(b *ledger.Build, packs []*Pack, before *Report, r *Result, most int) []Proposal {
	var out []Proposal
	stage := before.Stage
	for _, l := range append(heavier(b, r, stage), Levers(r)...) {
		if len(out) == most {
			break
		}
		if cameOff(b, l.Source.Entry) {
			continue
		}
		changed, faults := b.WithValue(l.Source.Entry, l.Source.Key, l.Text)
		if len(faults) > 0 {
			continue
		}
		after := Check(changed, packs, Options{Stage: &stage, AsOf: before.AsOf})
		if p, ok := weigh(l, r, before, after); ok {
			out = append(out, p)
		}
	}
	return out
}

// heavier is the next larger conductor size that makes the check pass, where the
// check's entry has a size.
func heavier(b *ledger.Build, r *Result, stage ledger.Stage) []Lever {
	size, sizes, ok := b.Size(r.Entry)
	if !ok || r.Verdict == Pass {
		return nil
	}
	src := *size.Source()
	src.Entry = r.Entry // its own, also where it takes it from another
	for i, next := range sizes {
		changed, faults := b.WithValue(r.Entry, src.Key, next)
		if len(faults) > 0 {
			return nil
		}
		results, _ := r.Rule.Judge(changed, stage)
		for _, c := range results {
			if c.Key() == r.Key() && c.Verdict == Pass {
				return []Lever{{Source: &src, Text: next, Was: size.String(), Steps: i + 1}}
			}
		}
	}
	return nil
}

// cameOff tells that an entry is a part that the vehicle no longer carries; its
// values cannot be changed any more.
func cameOff(b *ledger.Build, entry string) bool {
	return slices.ContainsFunc(b.Parts(), func(p *ledger.Part) bool { return p.Path() == entry && p.Fitted.Fails() })
}

// weigh compares all checks before and after a change: false where the check that
// it is for does not pass.
func weigh(l Lever, r *Result, before, after *Report) (Proposal, bool) {
	p := Proposal{Lever: l}
	was := map[string]*Result{}
	for _, c := range before.Results {
		was[c.Key()] = c
	}
	for _, c := range after.Results {
		old := was[c.Key()]
		switch {
		case c.Key() == r.Key():
			p.After = c
		case old == nil || old.Verdict == c.Verdict:
		case old.Verdict == Pass && c.Verdict >= Unproven:
			p.Breaks = append(p.Breaks, c)
		case c.Verdict == Pass && old.Verdict >= Unproven:
			p.Mends = append(p.Mends, c)
		}
	}
	return p, p.After != nil && p.After.Verdict == Pass
}

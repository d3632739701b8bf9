package compare

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Cause is the part that one edit has in a change.
type Cause struct {
	Entry string // or a key of a single entry, a shop's limit, or a file with many entries
	Place quantity.Place
	// Share is what it adds to the change's Delta, in SI: the mean of what it
	// does alone to the old ledger and what undoing it alone does to the new.
	// NaN where it has none.
	Share float64
	// Wider is what it adds to the width of the margin where it adds nothing to the
	// change itself, as other digits of the same figure do: less than 0 where it is
	// better known.
	Wider float64
	// Alone tells that with nothing else changed it makes what got worse fail, as
	// it does at the end, or mends what got better. A check is whole where it is
	// as good as at the better of the two ends.
	Alone bool
	// Opens tells that with nothing else changed it leaves what got worse unproven
	// or lacking something.
	Opens bool
	// Left is the verdict that it leaves then.
	Left lint.Verdict
	// Undone tells that with only this undone what got worse is whole, and what
	// got better is not.
	Undone bool
}

// mostEdits is how many edits are tried one by one; past it they go by files.
const mostEdits = 500

// trial is a set of edits that are tried together.
type trial struct {
	name    string
	place   quantity.Place
	edits   []ledger.Difference
	waivers []*ledger.Waiver // those among them, as they were and are
}

// outcome is what a check comes to on some ledger, waivers aside.
type outcome struct {
	known   bool // the rule ran
	there   bool // and the check applies
	verdict lint.Verdict
	margin  float64
	width   float64 // of the margin
}

func outcomeOf(r *lint.Result) outcome {
	o := outcome{known: true, there: applies(r), margin: math.NaN()}
	if o.there {
		if o.verdict = r.Verdict; o.verdict == lint.Waived {
			o.verdict = r.Underlying
		}
		if r.Margin.Known() {
			o.margin = r.Margin.Value()
			low, high := r.Margin.Forward()
			o.width = high - low
		}
	}
	return o
}

// blame finds the causes of all changes by substitution: each edit is made to
// the old ledger alone, and undone in the new one alone, and the rules with
// changed results are run on what that gives.
func (c *Comparison) blame(opt lint.Options) {
	old, now := c.Before.Build, c.After.Build
	changes := map[*lint.Rule][]*Change{}
	for _, x := range c.Changes {
		if x.Rule.Check != nil && !x.ruled {
			changes[x.Rule] = append(changes[x.Rule], x)
		}
	}
	trials := trialsOf(old, now)
	with, without := make([]map[*Change]outcome, len(trials)), make([]map[*Change]outcome, len(trials))
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(trials)) {
		wg.Go(func() {
			was := old.Carrying(nil) // what a build keeps in mind is its goroutine's own
			for i := range next {
				with[i] = try(carried(was, was.Mix(now, trials[i].edits), true), old, changes, opt)
				without[i] = try(carried(was, now.Mix(was, trials[i].edits), true), old, changes, opt)
			}
		})
	}
	for i := range trials {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, xs := range changes {
		for _, x := range xs {
			for i, t := range trials {
				x.weigh(t, with[i][x], without[i][x])
			}
			x.settleCauses()
		}
	}
}

// try runs the rules of the changes on a ledger that is between the old one and the
// new one.
func try(b, old *ledger.Build, changes map[*lint.Rule][]*Change, opt lint.Options) map[*Change]outcome {
	stage := b.Stage()
	if opt.Stage != nil {
		stage = *opt.Stage
	}
	out := map[*Change]outcome{}
	for _, xs := range changes {
		results, ok := xs[0].ruleOn(b, old).Judge(b, stage)
		if !ok {
			continue
		}
		by := map[string]*lint.Result{}
		for _, r := range results {
			by[r.Key()] = r
		}
		for _, x := range xs {
			out[x] = outcomeOf(by[x.key()])
		}
	}
	return out
}

// ruleOn is the rule of a change as a ledger between the two has it: one of the shop's
// own may have been altered too.
func (x *Change) ruleOn(b, old *ledger.Build) *lint.Rule {
	if x.Before == nil || x.Before.Rule == x.Rule {
		return x.Rule
	}
	entry := ledger.OwnRuleEntry(x.Rule.Name)
	is, _ := b.Entry(entry)
	if was, _ := old.Entry(entry); is == was {
		return x.Before.Rule
	}
	return x.Rule
}

func (x *Change) key() string {
	return (&lint.Result{Rule: x.Rule, Entry: x.Entry, Aspect: x.Aspect}).Key()
}

// trialsOf lists the edits to try: unit by unit; where there are too many, file
// by file; and where those are too many, kind by kind. Each trial judges the
// whole ledger, so their number must not grow with it.
func trialsOf(old, now *ledger.Build) []*trial {
	diffs := ledger.Differences(old, now)
	var places []quantity.Place
	files := map[string]bool{}
	for _, u := range diffs {
		p := placeOf(u, old, now)
		places = append(places, p)
		files[p.File] = true
	}
	var out []*trial
	at := map[string]*trial{}
	for i, u := range diffs {
		t := &trial{name: u.Path(), place: places[i]}
		switch kind, _, _ := strings.Cut(u.Entry, "."); {
		case len(diffs) <= mostEdits:
		case len(files) <= mostEdits:
			t.name = t.place.File
			t.place.Line, t.place.Column = 1, 1
		default:
			t.name = "every edit of kind " + kind
		}
		if known := at[t.name]; known != nil {
			t = known
		} else {
			at[t.name] = t
			out = append(out, t)
		}
		t.edits = append(t.edits, u)
		if strings.HasPrefix(u.Entry, "waiver.") {
			for _, b := range []*ledger.Build{old, now} {
				if w := waiverOf(b, u.Entry); w != nil {
					t.waivers = append(t.waivers, w)
				}
			}
		}
	}
	return out
}

// placeOf is where a person looks for an edit: at what was altered, in the
// newer ledger if it is there.
func placeOf(u ledger.Difference, old, now *ledger.Build) quantity.Place {
	if u.Entry == ledger.LimitsEntry {
		if l, ok := now.Limits[u.Key]; ok {
			return l.Place
		}
		return old.Limits[u.Key].Place
	}
	e, had := old.Entry(u.Entry)
	f, has := now.Entry(u.Entry)
	switch {
	case had && !has:
		return placeIn(e, u.Key)
	case has && !had:
		return placeIn(f, u.Key)
	}
	key := u.Key
	if key == "" {
		for _, v := range valueEdits(e, f) {
			top, _, _ := strings.Cut(v.Key, ".")
			if key != "" && key != top {
				return f.Place
			}
			key = top
		}
	}
	if p := placeIn(f, key); p != f.Place {
		return p
	}
	return placeIn(e, key)
}

// placeIn is where an entry says something under a top-level key; its own place
// where it does not.
func placeIn(e *ledger.Entry, key string) quantity.Place {
	at := e.Place
	for _, v := range e.Values() {
		top, _, _ := strings.Cut(v.Key, ".")
		if top == key && (at == e.Place || earlier(v.Place, at)) {
			at = v.Place
		}
	}
	return at
}

// weigh adds a trial to the causes of a change if it has a part in it.
func (x *Change) weigh(t *trial, with, without outcome) {
	if !with.known || !without.known {
		return
	}
	a, b := outcomeOf(x.Before), outcomeOf(x.After)
	c := &Cause{Entry: t.name, Place: t.place, Share: math.NaN()}
	if !math.IsNaN(x.Delta) {
		c.Share = ((with.margin - a.margin) + (b.margin - without.margin)) / 2
	}
	switch {
	case !a.there:
		c.Alone = with.there && with.verdict >= b.verdict
		c.Undone = !without.there || without.verdict < b.verdict
	case !b.there:
		c.Alone = !with.there
		c.Undone = without.there && without.verdict <= a.verdict
	case a.verdict == b.verdict:
		mine := x.Before.Verdict != x.After.Verdict && t.waives(x)
		c.Alone, c.Undone = mine, mine
	default:
		good := func(o outcome) bool { return o.there && o.verdict <= min(a.verdict, b.verdict) }
		c.Alone, c.Undone = good(with) != good(a), good(without) != good(b)
		if x.Kind == Worse && c.Alone {
			c.Opens, c.Left = with.there && with.verdict < lint.Fail, with.verdict
			c.Alone = b.verdict == lint.Fail && !c.Opens
		}
	}
	if math.Abs(c.Share) <= noise*x.size() {
		c.Share, c.Wider = 0, ((with.width-a.width)+(b.width-without.width))/2
	}
	small := c.Share == 0 || math.IsNaN(c.Share) && math.IsNaN(x.Delta)
	if !small || c.tells() {
		x.Causes = append(x.Causes, c)
	}
}

// size is that of the numbers that the change's margins are differences of.
func (x *Change) size() float64 {
	size := 0.0
	for _, r := range []*lint.Result{x.Before, x.After} {
		if r != nil {
			size = max(size, scale(r))
		}
	}
	return size
}

// tells tells that there is more to say of a cause than its share.
func (c *Cause) tells() bool { return c.Alone || c.Opens || c.Undone }

// waives tells that the trial edits a waiver of the check.
func (t *trial) waives(x *Change) bool {
	return slices.ContainsFunc(t.waivers, func(w *ledger.Waiver) bool {
		return w.Rule.String() == x.Rule.Name && w.Entry.String() == x.Entry && w.Aspect.String() == x.Aspect
	})
}

// settleCauses sorts the causes and works out what they leave over.
func (x *Change) settleCauses() {
	slices.SortFunc(x.Causes, func(c, d *Cause) int {
		return cmp.Or(cmp.Compare(part(d, x.Delta), part(c, x.Delta)), lint.CompareBools(d.tells(), c.tells()), strings.Compare(c.Entry, d.Entry))
	})
	if math.IsNaN(x.Delta) {
		return
	}
	x.Together = x.Delta
	for _, c := range x.Causes {
		if !math.IsNaN(c.Share) {
			x.Together -= c.Share
		}
	}
	if math.Abs(x.Together) <= noise*x.size() {
		x.Together = 0
	}
}

// part is a cause's share in the direction of the change; none comes last.
func part(c *Cause, delta float64) float64 {
	switch {
	case math.IsNaN(c.Share):
		return math.Inf(-1)
	case delta < 0:
		return -c.Share
	}
	return c.Share
}

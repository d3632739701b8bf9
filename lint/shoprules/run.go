package shoprules

import (
	"errors"
	"fmt"
	"math"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	"cel.dev/cel-go/common/types/traits"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// What the rules of a shop may take. A rule that a shop needs comes nowhere near
// it: the largest list of an entry in the examples has some sixty. Practice,
// without a source.
const (
	mostSteps    = 100_000   // of one expression on one entry
	mostSums     = 20_000    // operations on quantities, of the same
	mostStepsAll = 5_000_000 // of all rules of a shop on one build
	mostSumsAll  = 400_000
)

// spent is what the rules of a shop have taken on one build.
type spent struct{ steps, sums int }

func spentOn(b *ledger.Build) *spent {
	type taken struct{}
	return ledger.Memo(b, taken{}, func() *spent { return &spent{} })
}

// wait is why a truth is open: for want of values, or because the doubt of the
// margin leaves it so.
type wait struct {
	needs  []quantity.Need
	margin quantity.Quantity
}

// run is one rule on one entry.
type run struct {
	b     *ledger.Build
	rule  *rule
	it    entry
	waits []wait
	sums  int
	spent *spent
}

// lacks is the open truth, or text, that waits for needs.
func (r *run) lacks(needs []quantity.Need) ref.Val { return r.waiting(wait{needs: needs}) }

// undecided is the truth that the doubt of a margin leaves open.
func (r *run) undecided(margin quantity.Quantity) ref.Val { return r.waiting(wait{margin: margin}) }

func (r *run) waiting(w wait) ref.Val {
	r.waits = append(r.waits, w)
	return types.NewUnknown(int64(len(r.waits)), types.NewAttributeTrail("ledger"))
}

// truth is a truth of the ledger in the language.
func (r *run) truth(t quantity.Truth) ref.Val {
	if !t.Known() {
		return r.lacks(t.Needs())
	}
	return types.Bool(t.Holds())
}

// word is a word of the ledger in the language.
func (r *run) word(w quantity.Word) ref.Val {
	if !w.Known() {
		return r.lacks(w.Needs())
	}
	return types.String(w.String())
}

// sum takes an operation on quantities, and what it costs.
func (r *run) sum(work func() quantity.Quantity) (out ref.Val) {
	defer func() {
		switch p := recover().(type) {
		case nil:
		case quantity.DimensionError: // of a key that is of any dimension
			out = types.NewErr("%v", p)
		default:
			panic(p)
		}
	}()
	r.sums++
	if r.spent.sums++; r.sums > mostSums || r.spent.sums > mostSumsAll {
		return types.WrapErr(errLimit)
	}
	return amount{run: r, q: work()}
}

var errLimit = errors.New("limit")

// ResolveName gives the value of a name that an expression uses.
func (r *run) ResolveName(name string) (any, bool) {
	switch name {
	case "it":
		return r.it, true
	case "@run":
		return hidden{run: r}, true
	}
	if k, ok := lists()[name]; ok {
		return r.entries(k), true
	}
	if k, ok := singles()[name]; ok {
		return r.entries(k).(traits.Lister).Get(types.Int(0)), true
	}
	return nil, false
}

// Parent is nothing: all names are here.
func (r *run) Parent() cel.Activation { return nil }

// entries are all of a kind, laid out once a build.
func (r *run) entries(k *fields) ref.Val {
	type listed struct{ k *fields }
	views := ledger.Memo(r.b, listed{k}, func() []any { return r.b.Views(k.kind) })
	out := make([]ref.Val, len(views))
	for i, v := range views {
		out[i] = r.entry(k, v)
	}
	return types.NewRefValList(adapter{}, out)
}

// entry is a view in the run.
func (r *run) entry(k *fields, view any) entry {
	return entry{run: r, of: k, path: view.(ledger.Subject).Path(), view: deref(view)}
}

// limitError is a rule that takes more than it may.
type limitError struct{ message string }

func (e limitError) Error() string { return e.message }

// eval works an expression out. An error is a limitError; what goes wrong in the
// language otherwise leaves the result open, as a value that is missing does.
func (r *run) eval(p *program) (ref.Val, error) {
	if r.spent.steps > mostStepsAll || r.spent.sums > mostSumsAll {
		return nil, limitError{"the shop's rules took more steps on this build, all together, than they may, and ran out at this one"}
	}
	r.sums = 0
	out, details, err := p.program.Eval(r)
	if cost := details.ActualCost(); cost != nil {
		r.spent.steps += int(min(*cost, math.MaxInt32))
	}
	switch {
	case err == nil:
		return out, nil
	case errors.Is(err, errLimit), details.ActualCost() != nil && *details.ActualCost() > mostSteps:
		return nil, limitError{fmt.Sprintf("this expression takes more than %d steps, or %d sums, on %s; narrow down what it goes through", mostSteps, mostSums, r.it.path)}
	}
	return r.lacks([]quantity.Need{{Key: fmt.Sprintf("a result of %s of rule.%s (%v)", p.Key, r.rule.own.ID(), err), Place: p.At(0)}}), nil
}

// why gathers why a result is open.
func (r *run) why(v ref.Val) (w wait) {
	u, ok := v.(*types.Unknown)
	if !ok {
		return w
	}
	for _, id := range u.IDs() {
		if id < 1 || int(id) > len(r.waits) {
			continue
		}
		each := r.waits[id-1]
		w.needs = append(w.needs, each.needs...)
		if each.needs == nil && !w.margin.Known() {
			w.margin = each.margin
		}
	}
	w.needs = quantity.SortNeeds(w.needs)
	return w
}

// decides is a truth that says whether something is judged at all: where doubt
// leaves it open, it waits for a closer reading.
func (r *run) decides(p *program) (quantity.Truth, error) {
	v, err := r.eval(p)
	if err != nil {
		return quantity.Truth{}, err
	}
	if b, ok := v.(types.Bool); ok {
		return quantity.Is(bool(b)), nil
	}
	return quantity.Unknown(r.open(v, p)), nil
}

// open is what an open result waits for.
func (r *run) open(v ref.Val, p *program) []quantity.Need {
	w := r.why(v)
	if len(w.needs) == 0 {
		of := "a value"
		if d := w.margin.Doubts(); len(d) > 0 {
			of = d[0].Source.Path()
		}
		w.needs = []quantity.Need{{Key: fmt.Sprintf("%s so well that %q is decided", of, p.Text), Place: p.At(0)}}
	}
	return w.needs
}

// amount works an expression out to a quantity.
func (r *run) amount(p *program) (quantity.Quantity, error) {
	v, err := r.eval(p)
	if err != nil {
		return quantity.Quantity{}, err
	}
	dim := p.shape.q.Dim()
	qs, _, ok := amounts(v, amount{run: r})
	if !ok {
		return quantity.WaitsFor(dim, r.open(v, p)), nil
	}
	q := qs[0]
	if q.Dim() == quantity.Any && q.Known() { // a sum of nothing
		q = q.Add(quantity.SI(0, dim))
	}
	if q.Name() == "" {
		q = q.As(p.Key, oneLine(p.Text))
	}
	return q, nil
}

// judge makes the check of a rule on one entry.
func (r *run) judge(s *lint.Sheet, on ledger.Subject) error {
	u := s.On(on, "")
	c := r.rule
	if c.where != nil {
		is, err := r.decides(c.where)
		if err != nil {
			return err
		}
		if u.When(is, fmt.Sprintf("where is not so: %s", oneLine(c.where.Text))); is.Fails() {
			return nil
		}
	}
	if c.holds != nil {
		return r.holds(u)
	}
	var of [3]quantity.Quantity
	for i, p := range []*program{c.value, c.limit, c.upper} {
		if p == nil {
			continue
		}
		var err error
		if of[i], err = r.amount(p); err != nil {
			return err
		}
	}
	switch c.sense {
	case lint.AtMost:
		u.AtMost(of[0], of[1])
	case lint.AtLeast:
		u.AtLeast(of[0], of[1])
	case lint.Between:
		u.Between(of[0], of[1], of[2])
	default:
		u.Same(of[0], of[1], of[2])
	}
	return nil
}

// holds judges a truth, which doubt may leave open.
func (r *run) holds(u *lint.Subject) error {
	p := r.rule.holds
	v, err := r.eval(p)
	if err != nil {
		return err
	}
	says := "not so: " + oneLine(r.rule.own.Title.String())
	if b, ok := v.(types.Bool); ok {
		u.Holds(quantity.Is(bool(b)), "%s", says)
		return nil
	}
	if w := r.why(v); len(w.needs) == 0 && w.margin.Known() {
		u.Open(w.margin, "its own doubt leaves open whether "+oneLine(p.Text))
		return nil
	}
	u.Holds(quantity.Unknown(r.open(v, p)), "%s", says)
	return nil
}

package shoprules

import (
	"math"
	"strings"
	"sync"

	"cel.dev/cel-go/common/operators"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	"cel.dev/cel-go/common/types/traits"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/rules/refdata/conductor"
)

// Function is one that an expression may call.
type Function struct {
	Name, Call, Says string
	Takes, Gives     string // of what type: "a length", "quantities of one dimension"
	least, most      int    // how many values it takes
	sum              func([]quantity.Quantity) quantity.Quantity
	list             bool // or one list of them
}

// Functions are all of them but those of a kind of entry, which Kinds lists. What
// they reckon package quantity does, for an expression and for its phantoms alike.
var Functions = []*Function{
	{Name: "q", Call: "q('20 gal')", Says: "a quantity as a ledger writes one; exact, unless it says its ±", Takes: "a text, written out", Gives: "a quantity", least: 1, most: 1},
	{Name: "sum", Call: "sum(parts().map(p, p.mass))", Says: "the sum of a list of quantities, zero of none", Takes: "a list of quantities of one dimension", Gives: "the same dimension", least: 1, most: 1, list: true},
	{Name: "min", Call: "min(a, b)", Says: "the least of several, or of a list", Takes: "one to six quantities of one dimension, or a list", Gives: "the same dimension", least: 1, most: mostValues, list: true,
		sum: func(q []quantity.Quantity) quantity.Quantity { return quantity.Min(q[0], q[1:]...) }},
	{Name: "max", Call: "max(a, b)", Says: "the greatest of several, or of a list", Takes: "one to six quantities of one dimension, or a list", Gives: "the same dimension", least: 1, most: mostValues, list: true,
		sum: func(q []quantity.Quantity) quantity.Quantity { return quantity.Max(q[0], q[1:]...) }},
	{Name: "first", Call: "first(a, b)", Says: "the first of several that is written", Takes: "two to six quantities of one dimension", Gives: "the same dimension", least: 2, most: mostValues,
		sum: func(q []quantity.Quantity) quantity.Quantity { return quantity.FirstOf(q...) }},
	{Name: "below", Call: "below(x, limit, a, b)", Says: "a where x is below the limit, else b; where the doubt of x leaves that open, both count", Takes: "two quantities of one dimension, and two of one", Gives: "that of the last two", least: 4, most: 4,
		sum: func(q []quantity.Quantity) quantity.Quantity { return quantity.Below(q[0], q[1], q[2], q[3]) }},
	{Name: "abs", Call: "abs(x)", Says: "the magnitude", Takes: "a quantity", Gives: "the same dimension", least: 1, most: 1, sum: of(quantity.Abs)},
	{Name: "sqrt", Call: "sqrt(x)", Says: "the square root", Takes: "a quantity whose dimension has a root, such as an area", Gives: "the root: of an area, a length", least: 1, most: 1, sum: of(quantity.Sqrt)},
	{Name: "pow", Call: "pow(x, 2)", Says: "a power, which is a number written out", Takes: "a quantity, and a number of at most 12, written out", Gives: "the power: of a length and 2, an area", least: 2, most: 2},
	{Name: "hypot", Call: "hypot(x, y)", Says: "the square root of the sum of two squares", Takes: "two quantities of one dimension", Gives: "the same dimension", least: 2, most: 2,
		sum: func(q []quantity.Quantity) quantity.Quantity { return quantity.Hypot(q[0], q[1]) }},
	{Name: "sin", Call: "sin(x)", Says: "of an angle", Takes: "an angle", Gives: "a pure number", least: 1, most: 1, sum: of(quantity.Sin)},
	{Name: "cos", Call: "cos(x)", Says: "of an angle", Takes: "an angle", Gives: "a pure number", least: 1, most: 1, sum: of(quantity.Cos)},
	{Name: "tan", Call: "tan(x)", Says: "of an angle", Takes: "an angle", Gives: "a pure number", least: 1, most: 1, sum: of(quantity.Tan)},
	{Name: "atan", Call: "atan(x)", Says: "the angle of a pure number", Takes: "a pure number", Gives: "an angle", least: 1, most: 1, sum: of(quantity.Atan)},
	{Name: "asin", Call: "asin(x)", Says: "the angle of a pure number", Takes: "a pure number", Gives: "an angle", least: 1, most: 1, sum: of(quantity.Asin)},
	{Name: "exp", Call: "exp(x)", Says: "of a pure number", Takes: "a pure number", Gives: "a pure number", least: 1, most: 1, sum: of(quantity.Exp)},
	{Name: "log", Call: "log(x)", Says: "the natural logarithm of a pure number", Takes: "a pure number", Gives: "a pure number", least: 1, most: 1, sum: of(quantity.Log)},
	{Name: "radians", Call: "radians(x)", Says: "an angle as a pure number; of a speed of rotation, radians a second", Takes: "an angle, or a speed of rotation", Gives: "a pure number, or one a second", least: 1, most: 1, sum: of(quantity.Radians)},
	{Name: "from_zero", Call: "from_zero(t)", Says: "a temperature from absolute zero, an absolute pressure from vacuum", Takes: "a temperature, or an absolute pressure", Gives: "a temperature difference, or a pressure", least: 1, most: 1, sum: of(quantity.FromZero)},
	{Name: "reads", Call: "reads(it.tires, 4)", Says: "whether a value is written so, whatever its tolerance: for counts", Takes: "a quantity, and a number", Gives: "yes or no", least: 2, most: 2},
	{Name: "conductor_area", Call: "conductor_area(it.gauge)", Says: "the copper that a conductor size stands for, so that '12 AWG' and '3 mm2' can be compared: of AWG by its diameter (ASTM B258), of a metric size what it is called by; SAE cable of an AWG size has less", Takes: "a conductor size: a key of one, or written out", Gives: "an area", least: 1, most: 1},
	{Name: "entry_name", Call: "entry_name(it)", Says: "the name of an entry, such as part.engine", Takes: "an entry", Gives: "text", least: 1, most: 1},
	{Name: "figure", Call: "figure('weight/front-axle', 'vehicle.front')", Says: "the value that a rule reckons on an entry; a third word says in which respect, where there are several", Takes: "a rule, written out; an entry or its name; a respect", Gives: "a quantity", least: 2, most: 3},
	{Name: "has", Call: "has(it.fuse)", Says: "whether a key is written", Takes: "a key of an entry", Gives: "yes or no", least: 1, most: 1},
	{Name: "size", Call: "size(parts())", Says: "how many values a list has, or characters a text", Takes: "a list or a text", Gives: "a whole number", least: 1, most: 1},
}

// mostValues is how many values a function takes that takes several.
const mostValues = 6

func of(f func(quantity.Quantity) quantity.Quantity) func([]quantity.Quantity) quantity.Quantity {
	return func(q []quantity.Quantity) quantity.Quantity { return f(q[0]) }
}

// members are the functions that are called of a value, and macros likewise.
var members = []string{"all", "exists", "exists_one", "filter", "map", "contains", "startsWith", "endsWith", "size"}

var functionNamed = sync.OnceValue(func() map[string]*Function {
	out := map[string]*Function{}
	for _, f := range Functions {
		out[f.Name] = f
	}
	return out
})

// operation is an operator between quantities.
var operations = map[string]func([]quantity.Quantity) quantity.Quantity{
	operators.Add:      func(q []quantity.Quantity) quantity.Quantity { return q[0].Add(q[1]) },
	operators.Subtract: func(q []quantity.Quantity) quantity.Quantity { return q[0].Sub(q[1]) },
	operators.Multiply: func(q []quantity.Quantity) quantity.Quantity { return q[0].Mul(q[1]) },
	operators.Divide:   func(q []quantity.Quantity) quantity.Quantity { return q[0].Div(q[1]) },
	operators.Negate:   func(q []quantity.Quantity) quantity.Quantity { return q[0].Neg() },
}

// comparison is an operator that orders two values: from which to which the margin
// is taken, and whether it may be zero.
type comparison struct{ swap, strict bool }

var comparisons = map[string]comparison{
	operators.Less:          {swap: true, strict: true},
	operators.LessEquals:    {swap: true},
	operators.Greater:       {strict: true},
	operators.GreaterEquals: {},
}

// margin is what a comparison is judged by.
func (c comparison) margin(a, b quantity.Quantity) quantity.Quantity {
	if c.swap {
		a, b = b, a
	}
	return a.Sub(b)
}

// holds judges a comparison: yes, no, or open where the doubt leaves it so.
func (c comparison) holds(a, b ref.Val) ref.Val {
	qs, r, ok := amounts(a, b)
	if !ok {
		return c.plain(a, b)
	}
	out := r.sum(func() quantity.Quantity { return c.margin(qs[0], qs[1]) })
	m, ok := out.(amount)
	if !ok {
		return out
	}
	if !m.q.Known() {
		return r.lacks(m.q.Needs())
	}
	slack := 1e-12 * max(math.Abs(qs[0].Value()), math.Abs(qs[1].Value())) // what rounding may amount to, as for a limit
	if !c.strict {
		slack = -slack
	}
	switch less, atLeast := new(quantity.Kept).Side(m.q, slack); {
	case !less:
		return types.True
	case !atLeast:
		return types.False
	}
	return r.undecided(m.q)
}

// plain orders two numbers or texts.
func (c comparison) plain(a, b ref.Val) ref.Val {
	by, ok := a.(traits.Comparer)
	if !ok {
		return types.NoSuchOverloadErr()
	}
	if c.swap {
		order := by.Compare(b)
		if n, ok := order.(types.Int); ok {
			return types.Bool(n < 0 || n == 0 && !c.strict)
		}
		return order
	}
	order := by.Compare(b)
	if n, ok := order.(types.Int); ok {
		return types.Bool(n > 0 || n == 0 && !c.strict)
	}
	return order
}

// call works out an operator on quantities.
func call(sum func([]quantity.Quantity) quantity.Quantity, args ...ref.Val) ref.Val {
	_, r, _ := amounts(args...)
	return callIn(r, sum, args)
}

// callIn works out a function of quantities in a run.
func callIn(r *run, sum func([]quantity.Quantity) quantity.Quantity, args []ref.Val) ref.Val {
	qs, _, ok := amounts(append([]ref.Val{amount{run: r}}, args...)...)
	if !ok || r == nil {
		return types.NewErr("not between such values")
	}
	qs = qs[1:]
	for _, q := range qs {
		if v := q.Value(); q.Known() && (math.IsInf(v, 0) || math.IsNaN(v)) {
			return types.NewErr("a number that is not finite")
		}
	}
	return r.sum(func() quantity.Quantity { return sum(qs) })
}

// plainOperator is what an operator does between numbers of the language, and
// between lists.
func plainOperator(op string, a, b ref.Val) ref.Val {
	switch op {
	case operators.Add:
		if x, ok := a.(traits.Adder); ok {
			return x.Add(b)
		}
	case operators.Subtract:
		if x, ok := a.(traits.Subtractor); ok {
			return x.Subtract(b)
		}
	case operators.Multiply:
		if x, ok := a.(traits.Multiplier); ok {
			return x.Multiply(b)
		}
	case operators.Divide:
		if x, ok := a.(traits.Divider); ok {
			return x.Divide(b)
		}
	}
	return types.NoSuchOverloadErr()
}

func binary(op string) func(a, b ref.Val) ref.Val {
	return func(a, b ref.Val) ref.Val {
		if _, _, ok := amounts(a, b); ok {
			return call(operations[op], a, b)
		}
		return plainOperator(op, a, b)
	}
}

func negate(v ref.Val) ref.Val {
	if _, ok := v.(amount); ok {
		return call(operations[operators.Negate], v)
	}
	if n, ok := v.(traits.Negater); ok && v.Type() != types.BoolType {
		return n.Negate()
	}
	return types.NoSuchOverloadErr()
}

// several works out a function of several quantities, or of a list of them.
func several(f *Function) func(args ...ref.Val) ref.Val {
	return func(args ...ref.Val) ref.Val {
		r := args[0].(hidden).run
		args = args[1:]
		if l, ok := args[0].(traits.Lister); ok && f.list {
			args = nil
			for it := l.Iterator(); it.HasNext() == types.True; {
				v := it.Next()
				if types.IsUnknownOrError(v) {
					return v
				}
				args = append(args, v)
			}
		}
		r.sums += len(args)
		if f.Name == "sum" {
			return r.sum(func() quantity.Quantity { return total(args) })
		}
		if len(args) == 0 {
			return types.NewErr("%s of an empty list", f.Name)
		}
		return callIn(r, f.sum, args)
	}
}

func total(args []ref.Val) quantity.Quantity {
	dim := quantity.Any
	var terms []quantity.Quantity
	for _, v := range args {
		q, ok := number(v)
		if a, is := v.(amount); is {
			q, ok = a.q, true
		}
		if ok {
			terms = append(terms, q)
			if q.Dim() != quantity.Any {
				dim = q.Dim()
			}
		}
	}
	return quantity.Sum(dim, terms...)
}

// power raises to a number that is written out.
func power(x, k ref.Val) ref.Val {
	n, ok := number(k)
	if !ok {
		return types.NoSuchOverloadErr()
	}
	return call(func(q []quantity.Quantity) quantity.Quantity { return quantity.Pow(q[0], n.Value()) }, x)
}

func reads(x, k ref.Val) ref.Val {
	qs, r, ok := amounts(x, k)
	if !ok {
		return types.NoSuchOverloadErr()
	}
	if !qs[1].Known() {
		return r.lacks(qs[1].Needs())
	}
	return r.truth(qs[0].Equals(qs[1].Value()))
}

// literal is the quantity of a text that is written out in the rule, the same one
// wherever it stands there.
func literal(r, text ref.Val) ref.Val {
	run := r.(hidden).run
	q, ok := run.rule.literals[string(text.(types.String))]
	if !ok {
		return types.NewErr("no quantity: %s", text)
	}
	return amount{run: run, q: q}
}

// exact reads a quantity of an expression: exact, unless it says its tolerance.
func exact(text, cite string) (quantity.Quantity, error) {
	r, err := quantity.Parse(text, quantity.Any, quantity.Options{})
	if err != nil {
		return quantity.Quantity{}, err
	}
	if r.Grade == quantity.Stated {
		r.Low, r.High = r.Value, r.Value
	}
	return quantity.Leaf(r, &quantity.Source{Key: strings.TrimSpace(text), Cite: cite}), nil
}

// named is the entry of a kind that a text names.
func named(f *fields) func(r, name ref.Val) ref.Val {
	return func(r, name ref.Val) ref.Val {
		run, text := r.(hidden).run, string(name.(types.String))
		w := quantity.Written(text, &quantity.Source{Key: "rule." + run.rule.own.ID(), Place: run.rule.own.Place()})
		return run.entry(f, run.b.Named(ledger.Ref{Word: w}, f.kind))
	}
}

// has tells whether a key of an entry is written.
func has(args ...ref.Val) ref.Val {
	key := args[1]
	on, ok := args[0].(entry)
	if !ok {
		return types.NoSuchOverloadErr()
	}
	f := on.of.of[string(key.(types.String))]
	if f == nil {
		return types.NewErr("no key %s", key)
	}
	return on.run.truth(f.given(on))
}

// conductorArea is the copper of a size, as a key has it or as it is written out.
func conductorArea(r, text ref.Val) ref.Val {
	t, ok := text.(types.String)
	if !ok {
		return types.NoSuchOverloadErr()
	}
	size, err := ledger.ConductorSize(string(t))
	if err != nil {
		return types.WrapErr(err)
	}
	area, ok := conductor.Area(size)
	if !ok {
		return types.NewErr("no conductor size: %s", size)
	}
	return amount{run: r.(hidden).run, q: area}
}

func entryName(e ref.Val) ref.Val {
	if on, ok := e.(entry); ok {
		return types.String(on.path)
	}
	return types.NoSuchOverloadErr()
}

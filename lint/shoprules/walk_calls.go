package shoprules

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"cel.dev/cel-go/common/ast"
	"cel.dev/cel-go/common/operators"
	"cel.dev/cel-go/common/types"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
	"fishplate/lint"
)

// call goes through an operator or a function and its values.
func (w *walker) call(e ast.Expr) *shape {
	c := e.AsCall()
	name := c.FunctionName()
	switch name {
	case operators.Equals, operators.NotEquals:
		return w.equal(e)
	case operators.In:
		return w.in(e)
	case operators.Conditional:
		w.truth(c.Args()[0])
		return w.either(e, w.walk(c.Args()[1]), w.walk(c.Args()[2]), "a choice")
	case operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot:
		for _, x := range c.Args() {
			w.truth(x)
		}
		return &shape{sort: aTruth}
	case operators.NotStrictlyFalse:
		return w.walk(c.Args()[0])
	case operators.Index:
		return w.index(e)
	case "@figure":
		return w.figure(e)
	case "@q":
		return w.quantity(e)
	case "@has":
		at, _ := w.info.GetOffsetRange(int64(c.Args()[2].AsLiteral().(types.Int)))
		w.key(e, w.walk(c.Args()[0]), string(c.Args()[1].AsLiteral().(types.String)), int(at.Stop))
		return &shape{sort: aTruth}
	}
	if c.IsMemberFunction() {
		return w.member(e)
	}
	if sum, ok := operations[name]; ok {
		return w.arithmetic(e, sum)
	}
	if by, ok := comparisons[name]; ok {
		return w.comparison(e, by)
	}
	return w.function(e)
}

// truth goes through what has to be a yes or no.
func (w *walker) truth(e ast.Expr) {
	if s := w.walk(e); s.sort != aTruth && s.sort != anything {
		w.fault(e, "takes a yes or no, such as it.mass < q('20 lb'); got %s", s.noun())
	}
}

func (w *walker) index(e ast.Expr) *shape {
	args := e.AsCall().Args()
	list, at := w.walk(args[0]), w.walk(args[1])
	switch {
	case list.sort == anything:
		return list
	case list.sort != aList || at.sort != aNumber:
		return w.fault(e, "a list takes the place of a value in it, from 0; got %s of %s", at.noun(), list.noun())
	case list.elem == nil:
		return &shape{}
	}
	return list.elem
}

// arithmetic goes through an operator on quantities, numbers or what a list gathers.
func (w *walker) arithmetic(e ast.Expr, sum func([]quantity.Quantity) quantity.Quantity) *shape {
	args := e.AsCall().Args()
	shapes := make([]*shape, len(args))
	qs := make([]quantity.Quantity, len(args))
	plain, ok := true, true
	for i, x := range args {
		shapes[i] = w.walk(x)
		plain = plain && shapes[i].sort == aNumber
		var is bool
		if qs[i], is = shapes[i].amount(); !is {
			ok = false
		}
	}
	switch {
	case plain:
		return &shape{sort: aNumber}
	case ok:
		what := fmt.Sprintf("%s of %s", operator(e), Noun(qs[0].Dim()))
		if len(qs) == 2 {
			what = fmt.Sprintf("%s %s %s", Noun(qs[0].Dim()), operator(e), Noun(qs[1].Dim()))
		}
		return w.sum(e, what, func() quantity.Quantity { return sum(qs) })
	case len(args) == 2 && shapes[0].sort == aList && shapes[1].sort == aList:
		return w.either(e, shapes[0], shapes[1], "a list")
	}
	for _, s := range shapes {
		if _, is := s.amount(); !is {
			return w.fault(e, "%s is between quantities; got %s", operator(e), s.noun())
		}
	}
	return &shape{}
}

func (w *walker) comparison(e ast.Expr, by comparison) *shape {
	args := e.AsCall().Args()
	a, b := w.walk(args[0]), w.walk(args[1])
	x, is := a.amount()
	y, are := b.amount()
	switch {
	case is && are:
		w.sum(e, fmt.Sprintf("%s is compared with %s", Noun(x.Dim()), Noun(y.Dim())), func() quantity.Quantity { return by.margin(x, y) })
	case a.sort == aText && b.sort == aText, a.sort == anything, b.sort == anything:
	default:
		w.fault(e, "%s is not compared with %s", a.noun(), b.noun())
	}
	return &shape{sort: aTruth}
}

// member goes through a function that is called of a value.
func (w *walker) member(e ast.Expr) *shape {
	c := e.AsCall()
	name := c.FunctionName()
	on := w.walk(c.Target())
	for _, x := range c.Args() {
		if slices.Contains([]string{"contains", "startsWith", "endsWith"}, name) {
			if s := w.walk(x); s.sort != aText && s.sort != anything || on.sort != aText && on.sort != anything {
				w.fault(x, "%s is asked of a text, and takes one", name)
			}
		}
	}
	switch name {
	case "size":
		return &shape{sort: aNumber}
	case "contains", "startsWith", "endsWith":
		return &shape{sort: aTruth}
	case "all", "exists", "exists_one", "filter", "map":
		return w.faultAt(w.nameAt(e, name), "%s takes a name for each value and what is asked of it, as in parts().%s(p, ...)", name, name)
	}
	hint := spelling.DidYouMean(name, members)
	if hint == "" && functionNamed()[name] != nil {
		hint = "; it is called by itself, as in " + functionNamed()[name].Call
	}
	return w.faultAt(w.nameAt(e, name), "there is no .%s()%s", name, hint)
}

// function goes through a function that is called by itself.
func (w *walker) function(e ast.Expr) *shape {
	c := e.AsCall()
	name := strings.TrimPrefix(c.FunctionName(), "@")
	args := c.Args()
	if name != c.FunctionName() {
		args = args[1:] // behind the run
	}
	if k := singular(name); k != nil {
		return w.one(e, k, args)
	}
	f := functionNamed()[name]
	switch {
	case f == nil:
		return w.noFunction(e, name)
	case len(args) < f.least || len(args) > f.most || f.Name == "q" || f.Name == "figure":
		for _, x := range args {
			w.walk(x)
		}
		return w.faultAt(w.nameAt(e, name), "%s is written %s", name, f.Call)
	}
	shapes := make([]*shape, len(args))
	for i, x := range args {
		shapes[i] = w.walk(x)
	}
	switch name {
	case "size":
		if s := shapes[0]; s.sort != aList && s.sort != aText && s.sort != anything {
			w.fault(args[0], "size is of a list or a text; got %s", s.noun())
		}
		return &shape{sort: aNumber}
	case "entry_name":
		if s := shapes[0]; s.sort != anEntry && s.sort != anything {
			w.fault(args[0], "entry_name is of an entry; got %s", s.noun())
		}
		return &shape{sort: aText}
	case "conductor_area":
		return w.conductor(args[0], shapes[0])
	}
	return w.ofAmounts(e, f, args, shapes)
}

// ofAmounts goes through a function of quantities.
func (w *walker) ofAmounts(e ast.Expr, f *Function, args []ast.Expr, shapes []*shape) *shape {
	if len(shapes) == 1 && f.list && shapes[0].sort == aList {
		if shapes[0].elem == nil {
			return amountOf(quantity.Any)
		}
		shapes = []*shape{shapes[0].elem, shapes[0].elem}
		args = []ast.Expr{args[0], args[0]}
	} else if f.Name == "sum" {
		return w.fault(args[0], "sum is of a list, as in %s; got %s", f.Call, shapes[0].noun())
	}
	var qs []quantity.Quantity
	var nouns []string
	for i, s := range shapes {
		q, ok := s.amount()
		if !ok {
			return w.fault(args[i], "%s takes quantities, as in %s; got %s", f.Name, f.Call, s.noun())
		}
		qs, nouns = append(qs, q), append(nouns, Noun(q.Dim()))
	}
	what := f.Name + " of " + schema.Or(slices.Compact(nouns))
	switch f.Name {
	case "sum":
		return w.sum(e, what, func() quantity.Quantity { return quantity.Sum(qs[0].Dim(), qs[0]) })
	case "reads":
		w.sum(e, what, func() quantity.Quantity { return qs[0].Sub(qs[1]) })
		return &shape{sort: aTruth}
	case "pow":
		k := shapes[1].num
		if k == nil || math.Abs(*k) > steepest {
			return w.fault(args[1], "pow takes a number that is written out, to %d at most, as in %s", steepest, f.Call)
		}
		return w.sum(e, what, func() quantity.Quantity { return quantity.Pow(qs[0], *k) })
	}
	return w.sum(e, what, func() quantity.Quantity { return f.sum(qs) })
}

// conductor goes through what has to be a conductor size.
func (w *walker) conductor(e ast.Expr, s *shape) *shape {
	switch {
	case s.sort == anything:
	case s.text != nil:
		if _, err := ledger.ConductorSize(*s.text); err != nil {
			w.fault(e, "conductor_area: %v", err)
		}
	case s.sort != aText:
		w.fault(e, "conductor_area takes a conductor size, as in %s; got %s", functionNamed()["conductor_area"].Call, s.noun())
	case s.words != nil && !s.words.Size:
		w.fault(e, "conductor_area takes a conductor size, and %s is none", spelled(s.words.Key))
	}
	return amountOf(quantity.Area)
}

func singular(name string) *fields {
	for _, f := range lists() {
		if spelled(f.kind.Name) == name {
			return f
		}
	}
	return nil
}

// one goes through what names one entry of a kind.
func (w *walker) one(e ast.Expr, f *fields, args []ast.Expr) *shape {
	out := &shape{sort: anEntry, of: f}
	for _, x := range args {
		s := w.walk(x)
		if s.sort != aText && s.sort != anything {
			w.fault(x, "%s takes the name of one, as in %s('%s.x'); got %s", spelled(f.kind.Name), spelled(f.kind.Name), f.kind.Name, s.noun())
		} else if s.text != nil && !strings.HasPrefix(*s.text, f.kind.Name+".") {
			w.fault(x, "%s takes the name of one, as in %q; got %q", spelled(f.kind.Name), f.kind.Name+"."+*s.text, *s.text)
		}
	}
	if len(args) != 1 {
		w.faultAt(w.nameAt(e, f.kind.Name), "%s takes the name of one, as in %s('%s.x')", spelled(f.kind.Name), spelled(f.kind.Name), f.kind.Name)
	}
	return out
}

func (w *walker) noFunction(e ast.Expr, name string) *shape {
	for _, x := range e.AsCall().Args() {
		w.walk(x)
	}
	known := slices.Collect(maps.Keys(functionNamed()))
	for list, f := range lists() {
		known = append(known, strings.TrimPrefix(list, "@"), spelled(f.kind.Name))
	}
	slices.Sort(known)
	if sign, is := operators.FindReverse(name); is {
		return w.fault(e, "there is no operator %s in a rule", sign)
	}
	hint := spelling.DidYouMean(name, known)
	switch {
	case hint != "":
	case slices.Contains(members, name):
		hint = fmt.Sprintf("; it is asked of a value, as in parts().%s(...)", name)
	case singles()[name] != nil:
		hint = fmt.Sprintf("; there is one %s, written without parentheses", name)
	case lists()["@"+name] != nil:
		hint = fmt.Sprintf("; it takes nothing: %s()", name)
	}
	return w.faultAt(w.nameAt(e, name), "there is no function %s%s", name, hint)
}

// quantity reads a quantity that is written out.
func (w *walker) quantity(e ast.Expr) *shape {
	arg := e.AsCall().Args()[1]
	s := w.walk(arg)
	if s.text == nil {
		return w.fault(arg, "q takes a quantity that is written out, as in q('20 gal')")
	}
	q, ok := w.c.rule.literals[*s.text]
	if !ok {
		var err error
		if q, err = exact(*s.text, w.c.rule.own.Source.String()); err != nil {
			return w.fault(arg, "q: %v", err)
		}
		if q.Dim().Money != 0 {
			return w.fault(arg, "a rule reckons with no money: no report may show it")
		}
		w.c.rule.literals[*s.text] = q
	}
	return amountOf(q.Dim())
}

// figure finds the rule whose figure is asked for.
func (w *walker) figure(e ast.Expr) *shape {
	args := e.AsCall().Args()[1:]
	name, on, aspect := w.walk(args[0]), w.walk(args[1]), w.walk(args[2])
	switch {
	case name.text == nil:
		return w.fault(args[0], "figure takes the name of a rule that is written out, as in %s", functionNamed()["figure"].Call)
	case on.sort != aText && on.sort != anEntry && on.sort != anything:
		return w.fault(args[1], "figure takes the name of an entry, or one; got %s", on.noun())
	case aspect.sort != aText && aspect.sort != anything:
		return w.fault(args[2], "figure takes the respect as a text; got %s", aspect.noun())
	}
	figures, wrong := w.c.figures(*name.text)
	if wrong != "" {
		return w.fault(args[0], "%s", wrong)
	}
	kind := ""
	switch {
	case on.sort == anEntry:
		kind = on.of.name
	case on.text != nil:
		k := ledger.KindOf(*on.text)
		if k == nil {
			return w.fault(args[1], "%q is no entry%s", *on.text, ledger.DidYouMeanKey(*on.text, ledger.KindNames()))
		}
		kind = k.Name
	}
	var kinds []string
	var fit []lint.FigureOf
	for _, f := range figures {
		kinds = append(kinds, f.Entry)
		if f.Entry == kind || kind == "" {
			fit = append(fit, f)
		}
	}
	if len(fit) == 0 {
		return w.fault(args[1], "%s reckons on %s; got %s", *name.text, schema.Or(kinds), kind)
	}
	if aspect.text != nil {
		return w.inRespect(args, *aspect.text, fit)
	}
	return amountOf(dimOf(fit))
}

// inRespect is the figure in a respect, "" where none is asked for. One that is not
// known may be of a ledger's own words, unless it is nearly a known one.
func (w *walker) inRespect(args []ast.Expr, aspect string, fit []lint.FigureOf) *shape {
	var known []string
	var exact []lint.FigureOf
	for _, f := range fit {
		if f.Aspect == aspect {
			exact = append(exact, f)
		} else if !slices.Contains(known, f.Aspect) {
			known = append(known, f.Aspect)
		}
	}
	fixed := slices.DeleteFunc(slices.Clone(known), func(s string) bool { return strings.ContainsAny(s, "*0123456789") })
	switch hint := spelling.DidYouMean(aspect, fixed); {
	case len(exact) > 0:
		return amountOf(dimOf(exact))
	case aspect == "":
		return w.fault(args[1], "it reckons several, each in some respect: a third word says in which, such as %s", quoted(known))
	case hint != "":
		return w.fault(args[2], "it reckons nothing in respect of %q%s", aspect, hint)
	}
	return amountOf(dimOf(fit))
}

func quoted(words []string) string {
	out := make([]string, len(words))
	for i, s := range words {
		out[i] = strconv.Quote(s)
	}
	return schema.Or(out)
}

// dimOf is the dimension of several figures, any where they differ.
func dimOf(figures []lint.FigureOf) quantity.Dim {
	for _, f := range figures {
		if f.Dim != figures[0].Dim {
			return quantity.Any
		}
	}
	return figures[0].Dim
}

package shoprules

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"cel.dev/cel-go/common/ast"
	"cel.dev/cel-go/common/operators"
	"cel.dev/cel-go/common/types"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// walker goes through an expression on phantoms before anything runs: every
// branch of it, whatever a ledger says. It tells names and keys that there are
// not, words that are on no list, and dimensions that do not fit, each at its
// place. What is left to the language's own check is how many values a function
// takes and of what type.
type walker struct {
	c      *compiler
	p      *program
	info   *ast.SourceInfo
	scopes []map[string]*shape
	faults int
}

func (w *walker) fault(e ast.Expr, format string, args ...any) *shape {
	return w.faultAt(int(w.start(e)), format, args...)
}

func (w *walker) faultAt(character int, format string, args ...any) *shape {
	w.faults++
	w.c.fault(w.p.At(character), format, args...)
	return &shape{}
}

// start is where a part of the expression stands: of a call, its name.
func (w *walker) start(e ast.Expr) int32 {
	r, ok := w.info.GetOffsetRange(e.ID())
	if !ok {
		return 0
	}
	if e.Kind() == ast.SelectKind { // the key is behind the dot
		return r.Stop
	}
	return r.Start
}

// nameAt is where the name of a function stands that is called here.
func (w *walker) nameAt(e ast.Expr, name string) int { return int(w.start(e)) - len([]rune(name)) }

func (w *walker) walk(e ast.Expr) *shape {
	switch e.Kind() {
	case ast.LiteralKind:
		return w.literal(e)
	case ast.IdentKind:
		return w.name(e)
	case ast.SelectKind:
		return w.key(e, w.walk(e.AsSelect().Operand()), e.AsSelect().FieldName(), int(w.start(e)))
	case ast.CallKind:
		return w.call(e)
	case ast.ListKind:
		out := &shape{sort: aList}
		for _, x := range e.AsList().Elements() {
			if s := w.walk(x); out.elem == nil {
				out.elem = s
			} else {
				out.elem = w.either(x, out.elem, s, "a list")
			}
		}
		return out
	case ast.ComprehensionKind:
		return w.loop(e.AsComprehension())
	}
	return w.fault(e, "a table written out is no part of a rule")
}

func (w *walker) literal(e ast.Expr) *shape {
	switch v := e.AsLiteral().(type) {
	case types.Bool:
		return &shape{sort: aTruth}
	case types.String:
		s := string(v)
		return &shape{sort: aText, text: &s}
	case types.Int, types.Double:
		q, _ := number(v)
		n := q.Value()
		return &shape{sort: aNumber, num: &n}
	}
	return w.fault(e, "a value of this kind is no part of a rule: there are numbers, 'texts', q('quantities'), true and false")
}

func (w *walker) name(e ast.Expr) *shape {
	name := e.AsIdent()
	for _, scope := range slices.Backward(w.scopes) {
		if s, ok := scope[name]; ok {
			return s
		}
	}
	switch f := lists()[name]; {
	case name == "it" && w.c.it == nil:
		return &shape{}
	case name == "it":
		return &shape{sort: anEntry, of: w.c.it}
	case name == "@run":
		return &shape{}
	case f != nil:
		return &shape{sort: aList, elem: &shape{sort: anEntry, of: f}}
	case singles()[name] != nil:
		return &shape{sort: anEntry, of: singles()[name]}
	}
	known := append(slices.Collect(maps.Keys(singles())), "it")
	for _, scope := range w.scopes {
		known = append(known, slices.Collect(maps.Keys(scope))...)
	}
	hint := ledger.DidYouMeanKey(name, known)
	switch {
	case hint != "":
	case functionNamed()[name] != nil:
		hint = "; it is called, as in " + functionNamed()[name].Call
	case lists()["@"+name] != nil:
		hint = fmt.Sprintf("; write %s() for all of them", name)
	case w.c.it != nil && w.c.it.of[name] != nil:
		hint = fmt.Sprintf("; did you mean it.%s?", name)
	}
	return w.fault(e, "there is no %s here%s", name, hint)
}

// key reads a key of a value.
func (w *walker) key(e ast.Expr, on *shape, key string, at int) *shape {
	switch {
	case on.sort == anything:
		return on
	case on.sort != anEntry:
		return w.faultAt(at, "%s has no keys; got .%s", on.noun(), key)
	}
	if f := on.of.of[key]; f != nil {
		return f.shape
	}
	if why := on.of.kept[key]; why != "" {
		return w.faultAt(at, "a rule may not read %s of %s: %s", key, on.of.name, why)
	}
	hint := ledger.DidYouMeanKey(key, on.of.names)
	for _, name := range on.of.names {
		if hint == "" && strings.HasPrefix(name, key+"_") {
			hint = fmt.Sprintf("; did you mean %q? An expression writes the hyphen of a key as _", name)
		}
	}
	return w.faultAt(at, "%s has no key %q%s", on.of.name, key, hint)
}

// loop goes once through what is done with each value of a list.
func (w *walker) loop(c ast.ComprehensionExpr) *shape {
	over := w.walk(c.IterRange())
	elem := &shape{}
	switch {
	case over.sort == aList && over.elem != nil:
		elem = over.elem
	case over.sort != aList && over.sort != anything:
		return w.fault(c.IterRange(), "only a list is gone through; got %s", over.noun())
	}
	gathered := w.walk(c.AccuInit())
	scope := map[string]*shape{c.IterVar(): elem, c.AccuVar(): gathered}
	w.scopes = append(w.scopes, scope)
	w.walk(c.LoopCondition())
	step := w.walk(c.LoopStep())
	scope[c.AccuVar()] = w.either(c.IterRange(), gathered, step, "a list")
	out := w.walk(c.Result())
	w.scopes = w.scopes[:len(w.scopes)-1]
	return out
}

// either is the shape of one value or another, in the same place.
func (w *walker) either(at ast.Expr, a, b *shape, what string) *shape {
	switch {
	case a.sort == anything:
		return b
	case b.sort == anything:
		return a
	case a.sort == anAmount && b.sort == anAmount:
		return w.sum(at, what+" of "+dims(a.q, b.q), func() quantity.Quantity {
			return quantity.Choose(quantity.Unknown(nil), a.q, b.q)
		})
	case a.sort == aList && b.sort == aList:
		if a.elem == nil || b.elem == nil {
			return &shape{sort: aList, elem: orShape(a.elem, b.elem)}
		}
		return &shape{sort: aList, elem: w.either(at, a.elem, b.elem, what)}
	case a.sort == anEntry && b.sort == anEntry && a.of != b.of || a.sort != b.sort:
		return w.fault(at, "%s of %s and %s", what, a.noun(), b.noun())
	case a.sort == anEntry:
		return a
	}
	return &shape{sort: a.sort}
}

func orShape(a, b *shape) *shape {
	if a != nil {
		return a
	}
	return b
}

// dims tells two dimensions for a message.
func dims(a, b quantity.Quantity) string { return Noun(a.Dim()) + " and " + Noun(b.Dim()) }

// Noun is what a dimension is called: a length, a pure number.
func Noun(d quantity.Dim) string {
	if d == quantity.Ratio {
		return "a pure number"
	}
	kind, _, _ := strings.Cut(d.Takes(), ", such as ")
	return kind
}

// steepest is how high the exponents of a dimension may go: beyond it nobody
// measures.
const steepest = 12

// sum does arithmetic on phantoms, and tells where dimensions do not fit.
func (w *walker) sum(at ast.Expr, what string, work func() quantity.Quantity) (out *shape) {
	defer func() {
		switch p := recover().(type) {
		case nil:
		case quantity.DimensionError:
			out = w.fault(at, "wrong dimension: %s", what)
		default:
			panic(p)
		}
	}()
	q := work()
	d := q.Dim()
	for _, e := range []int8{d.Length, d.Mass, d.Time, d.Current, d.Temperature, d.Angle, d.Money} {
		if e > steepest || e < -steepest {
			return w.fault(at, "a dimension that nobody measures: %s", d)
		}
	}
	return &shape{sort: anAmount, q: phantom(d)}
}

// known are the words that a key may hold; nil where it may hold any.
func (w *walker) known(f *schema.Field) []string {
	switch {
	case f == nil:
		return nil
	case len(f.OneOf) > 0:
		return f.OneOf
	case f.Words != "":
		return w.c.b.KnownWords(f.Words)
	}
	return nil
}

// word tells a text that a key is compared with and can never hold.
func (w *walker) word(at ast.Expr, key, text *shape) {
	words := w.known(key.words)
	if text.text == nil || words == nil || slices.Contains(words, *text.text) {
		return
	}
	w.fault(at, "%s is never %q%s", key.words.Key, *text.text, ledger.DidYouMeanKey(*text.text, words))
}

// equal tells what is compared that should not be, or never is the same.
func (w *walker) equal(e ast.Expr) *shape {
	args := e.AsCall().Args()
	a, b := w.walk(args[0]), w.walk(args[1])
	for i, s := range []*shape{a, b} {
		switch s.sort {
		case anAmount:
			w.fault(e, "two quantities are not compared with %s, for each has its tolerance: write a limit, same-as and within, or for a count reads(x, 4)", operator(e))
			return &shape{sort: aTruth}
		case anEntry:
			w.fault(e, "two entries are not compared with %s; their names are: entry_name(a) == entry_name(b)", operator(e))
			return &shape{sort: aTruth}
		case aList:
			w.fault(e, "two lists are not compared with %s; ask with all or exists", operator(e))
			return &shape{sort: aTruth}
		case aText:
			w.word(args[1-i], s, []*shape{b, a}[i])
		}
	}
	return &shape{sort: aTruth}
}

func (w *walker) in(e ast.Expr) *shape {
	args := e.AsCall().Args()
	a, list := w.walk(args[0]), w.walk(args[1])
	if a.sort != aText && a.sort != aNumber && a.sort != anything {
		w.fault(e, "%s is not looked for with in; ask with exists", a.noun())
	}
	if a.sort == aText && args[1].Kind() == ast.ListKind {
		for _, x := range args[1].AsList().Elements() {
			if x.Kind() == ast.LiteralKind {
				w.word(x, a, w.literal(x))
			}
		}
	}
	if a.sort == aText && a.text != nil && list.elem != nil {
		w.word(args[0], list.elem, a)
	}
	return &shape{sort: aTruth}
}

// operator is the sign of an operator, for messages.
func operator(e ast.Expr) string {
	sign, _ := operators.FindReverse(e.AsCall().FunctionName())
	return sign
}

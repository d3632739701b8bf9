// Package shoprules makes rules of what a shop writes in its own files, in the
// Common Expression Language (https://github.com/google/cel-spec, at the version
// of go.mod), on traced quantities. A rule becomes a lint.Rule like any other, so
// that tolerance, shares, levers, causes, waivers and reports need no code here.
//
// A shop's file comes in a pull request too, and is not trusted: an expression is
// limited in length, depth and what it may take, calls nothing but Functions, and
// tells no more than a check does. It can add a check, and neither take one away
// nor bear the name of a pack's: its pack is "shop".
//
// Before anything runs an expression is gone through on phantoms (walk.go), where
// dimensions are the ones that quantity itself reckons, products too; what is left
// to the language's own check is the rest of its types.
package shoprules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types/ref"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/spelling"
	"fishplate/lint"
)

// Pack is a shop's own rules, which may use the figures of the packs.
func Pack(packs []*lint.Pack) *lint.Pack {
	p := &lint.Pack{Name: ledger.OwnRules, Title: "the shop's own rules"}
	byName := map[string]*lint.Rule{}
	for _, pack := range packs {
		for _, r := range pack.Rules {
			byName[r.Name] = r
		}
	}
	p.Of = func(b *ledger.Build) ([]*lint.Rule, []ledger.Fault) {
		if len(b.OwnRules()) == 0 {
			return nil, nil
		}
		all := ledger.OnceAShop(b, p, func() *compiler { return compile(b, byName) })
		var out []*lint.Rule
		for _, r := range all.made {
			if b.Judges(r.own) {
				out = append(out, r.lint)
			}
		}
		return out, all.faults
	}
	return p
}

// rule is one that is compiled.
type rule struct {
	own      *ledger.OwnRule
	it       *fields
	where    *program
	holds    *program
	value    *program
	limit    *program // or the lower one, or what it agrees with
	upper    *program // or the share within which it agrees
	sense    lint.Sense
	literals map[string]quantity.Quantity
	figures  map[string]*lint.Rule // of other rules, by name
	lint     *lint.Rule
	sound    bool
}

// program is one expression of it.
type program struct {
	ledger.Expression
	program cel.Program
	shape   *shape
}

// compiler makes the rules of one shop, and tells all that is wrong with them.
type compiler struct {
	b      *ledger.Build // for what its shop says
	packs  map[string]*lint.Rule
	reckon map[string][]lint.FigureOf // the figures of those that were asked for
	read   map[wording]*read
	own    map[string]*ledger.OwnRule // by the name of the rule
	done   map[string]*rule
	under  []string // the rules that are being compiled, each for the one before
	made   []*rule
	faults []ledger.Fault

	rule *rule   // that is being compiled
	it   *fields // what it judges
}

func compile(b *ledger.Build, packs map[string]*lint.Rule) *compiler {
	c := &compiler{b: b, packs: packs, reckon: map[string][]lint.FigureOf{}, read: map[wording]*read{}, own: map[string]*ledger.OwnRule{}, done: map[string]*rule{}}
	for _, v := range b.OwnRules() {
		c.own[ruleName(v)] = v
	}
	for _, v := range b.OwnRules() {
		if r := c.compiled(ruleName(v)); r.sound {
			c.made = append(c.made, r)
		}
	}
	c.faults = ledger.SortFaults(c.faults)
	return c
}

func ruleName(v *ledger.OwnRule) string { return ledger.OwnRules + "/" + v.ID() }

func (c *compiler) fault(at quantity.Place, format string, args ...any) {
	c.faults = append(c.faults, ledger.Fault{Place: at, Message: fmt.Sprintf(format, args...)})
}

// compiled is a rule of the shop, and before it those whose figures it asks for.
func (c *compiler) compiled(name string) *rule {
	if r := c.done[name]; r != nil {
		return r
	}
	outer, it := c.rule, c.it
	c.under = append(c.under, name)
	defer func() {
		c.rule, c.it = outer, it
		c.under = c.under[:len(c.under)-1]
	}()
	v := c.own[name]
	r := &rule{own: v, literals: map[string]quantity.Quantity{}, figures: map[string]*lint.Rule{}}
	if k := ledger.KindNamed(v.Each.String()); k != nil {
		r.it = fieldsOf(k) // nil of one that no rule may judge: that is told already
	}
	c.rule, c.it = r, r.it
	r.lint = r.asRule()
	before := len(c.faults)
	c.expressions(r)
	r.sound = r.it != nil && len(c.faults) == before && (r.holds != nil || r.value != nil && r.limit != nil)
	c.done[name] = r
	return r
}

// expressions compiles those of a rule.
func (c *compiler) expressions(r *rule) {
	c.rule = r
	r.where, r.holds = c.truth("where"), c.truth("holds")
	r.value = c.amount("value", 0)
	for _, s := range senses {
		if len(r.own.Expressions(s.key)) > 0 {
			r.sense, r.limit = s.sense, c.amount(s.key, 0)
			switch s.sense {
			case lint.Between:
				r.upper = c.amount(s.key, 1)
				c.alike(r.value, r.upper)
			case lint.Same:
				if r.upper = c.amount("within", 0); r.upper != nil {
					c.alike(&program{shape: amountOf(quantity.Ratio), Expression: ledger.Expression{Key: "a share"}}, r.upper)
				}
			}
			c.alike(r.value, r.limit)
		}
	}
}

var senses = []struct {
	key   string
	sense lint.Sense
}{{"at-most", lint.AtMost}, {"at-least", lint.AtLeast}, {"between", lint.Between}, {"same-as", lint.Same}}

// alike tells two expressions whose dimensions do not fit.
func (c *compiler) alike(value, limit *program) {
	if value == nil || limit == nil {
		return
	}
	a, _ := value.shape.amount()
	b, _ := limit.shape.amount()
	if x, y := a.Dim(), b.Dim(); x != y && x != quantity.Any && y != quantity.Any {
		c.fault(limit.At(0), "wrong dimension: %s is %s, and %s is %s", value.Key, Noun(x), limit.Key, Noun(y))
	}
}

func (c *compiler) truth(key string) *program {
	p := c.program(key, 0)
	if p != nil && p.shape.sort != aTruth {
		c.fault(p.At(0), "%s takes a yes or no, such as it.mass < q('20 lb'); got %s", key, p.shape.noun())
		return nil
	}
	return p
}

func (c *compiler) amount(key string, i int) *program {
	p := c.program(key, i)
	if p == nil {
		return nil
	}
	q, ok := p.shape.amount()
	if !ok {
		c.fault(p.At(0), "%s takes a quantity; got %s", key, p.shape.noun())
		return nil
	}
	p.shape = amountOf(q.Dim())
	return p
}

// program compiles one expression; nil where there is none, or it is wrong.
func (c *compiler) program(key string, i int) *program {
	all := c.rule.own.Expressions(key)
	if i >= len(all) {
		return nil
	}
	p := &program{Expression: all[i]}
	x := c.parse(p)
	if x == nil {
		return nil
	}
	w := &walker{c: c, p: p, info: x.parsed.NativeRep().SourceInfo()}
	if p.shape = w.walk(x.parsed.NativeRep().Expr()); w.faults > 0 || c.it == nil {
		return nil
	}
	if p.program = c.make(p, x); p.program == nil {
		return nil
	}
	return p
}

// wording is an expression on some kind of entry, and read what is made of it: one
// that many rules share is made once. What a rule gives of its own, as its
// literals, is looked up when it runs.
type wording struct {
	it   *fields
	text string
}

type read struct {
	env     *cel.Env
	parsed  *cel.Ast
	program cel.Program // nil until it is gone through without a fault
}

// parse reads the text of an expression; nil where it cannot be.
func (c *compiler) parse(p *program) *read {
	key := wording{c.it, p.Text}
	if x := c.read[key]; x != nil {
		return x
	}
	x := &read{env: plain()}
	if c.it != nil {
		x.env = environment(c.it)
	}
	var issues *cel.Issues
	if x.parsed, issues = x.env.Parse(p.Text); issues.Err() != nil {
		c.issues(p, issues)
		return nil
	}
	c.read[key] = x
	return x
}

// make checks what was parsed by the language's own types, and makes it a program.
func (c *compiler) make(p *program, x *read) cel.Program {
	if x.program != nil {
		return x.program
	}
	checked, issues := x.env.Check(x.parsed)
	if issues.Err() != nil {
		c.issues(p, issues)
		return nil
	}
	made, err := x.env.Program(checked, programOptions()...)
	if err != nil {
		c.fault(p.At(0), "%v", err)
		return nil
	}
	x.program = made
	return made
}

// figures are those of a rule by its name, or what is wrong with that.
func (c *compiler) figures(name string) (out []lint.FigureOf, wrong string) {
	if i := slices.Index(c.under, name); i >= 0 {
		if i == len(c.under)-1 {
			return nil, name + " asks for its own figure"
		}
		return nil, fmt.Sprintf("the figures of these rules wait for one another: %s, and back", strings.Join(c.under[i:], ", "))
	}
	if c.own[name] != nil {
		r := c.compiled(name)
		switch {
		case r.holds != nil:
			return nil, name + " reckons no figure: it is of a yes or no"
		case !r.sound: // told where it stands
			return []lint.FigureOf{{Entry: cmp.Or(r.own.Each.String(), "vehicle"), Dim: quantity.Any}}, ""
		}
		c.rule.figures[name] = r.lint
		q, _ := r.value.shape.amount()
		return []lint.FigureOf{{Entry: r.it.name, Dim: q.Dim()}}, ""
	}
	r := c.packs[name]
	if r == nil {
		var names []string
		for n := range c.packs {
			names = append(names, n)
		}
		for n := range c.own {
			names = append(names, n)
		}
		slices.Sort(names)
		return nil, fmt.Sprintf("there is no rule %q%s", name, spelling.DidYouMean(name, names))
	}
	out, known := c.reckon[name]
	if !known {
		out = r.Figures()
		c.reckon[name] = out
	}
	if len(out) == 0 {
		return nil, name + " reckons no figure: it is of a yes or no"
	}
	c.rule.figures[name] = r
	return out, ""
}

// figure is the value that another rule reckons.
func figure(args ...ref.Val) ref.Val {
	r := args[0].(hidden).run
	name, aspect := fmt.Sprint(args[1].Value()), fmt.Sprint(args[3].Value())
	on := ""
	switch e := args[2].(type) {
	case entry:
		on = e.path
	default:
		on = fmt.Sprint(e.Value())
	}
	return r.sum(func() quantity.Quantity { return lint.Figure(r.b, r.rule.figures[name], on, aspect) })
}

// asRule is what the engine knows of the rule.
func (r *rule) asRule() *lint.Rule {
	v := r.own
	stage, err := ledger.StageNamed(v.Due.String())
	if err != nil {
		stage = ledger.AtDelivery
	}
	return &lint.Rule{
		Name: ruleName(v), Title: v.Title.String(), Should: !v.Level.Is("must").Holds(), Due: stage,
		Sources: []quantity.Citation{cited(v)}, Note: v.Because.String(), Caution: v.Caution.String(),
		Check: r.check,
	}
}

// cited is the source of a rule; one from memory keeps that mark.
func cited(v *ledger.OwnRule) quantity.Citation {
	text := strings.TrimSpace(v.Source.String())
	plain, memory := strings.CutSuffix(text, "(from memory)")
	return quantity.Citation{Key: v.Path(), Text: strings.TrimSpace(plain), Memory: memory}
}

// check judges a build by the rule.
func (r *rule) check(b *ledger.Build, s *lint.Sheet) {
	of := spentOn(b)
	for _, view := range b.Views(r.it.kind) {
		run := &run{b: b, rule: r, spent: of}
		run.it = run.entry(r.it, view)
		if err := run.judge(s, view.(ledger.Subject)); err != nil {
			s.Fault(r.at(), fmt.Sprintf("%s: %v", r.lint.Name, err))
			return
		}
	}
}

// at is where the rule stands, or what of it says the most.
func (r *rule) at() quantity.Place {
	for _, p := range []*program{r.holds, r.value} {
		if p != nil {
			return p.At(0)
		}
	}
	return r.own.Place()
}

// oneLine is an expression as a report shows it.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

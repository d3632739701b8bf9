package ledger

import (
	"fmt"
	"path"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// How many rules a shop may have, and how many bytes of expressions in all of
// them. No shop comes near it; that it suffices is practice, without a source.
const (
	MaxRules     = 1000
	MaxRuleFiles = 200
	MaxRuleText  = 256 << 10
)

// OwnRules is the pack that a shop's own rules stand in, of whatever packs apply.
const OwnRules = "shop"

// OwnRule is [rule.ID] in a shop: a rule of its own. What stands in its
// expressions is not the ledger's to know.
type OwnRule struct {
	Head
	Title   q.Word           `key:"title" free:"" about:"what must hold, in one line"`
	Each    q.Word           `key:"each" default:"vehicle" about:"the kind of entry that it judges, one check an entry: part, tank, vehicle.front"`
	Where   q.Word           `key:"where" free:"" format:"" about:"an expression: which of these it judges"`
	Value   q.Word           `key:"value" free:"" format:"" about:"an expression: what is held against a limit"`
	AtMost  q.Word           `key:"at-most" free:"" format:"" about:"an expression: the value is no more"`
	AtLeast q.Word           `key:"at-least" free:"" format:"" about:"an expression: the value is no less"`
	Between []q.Word         `key:"between" free:"" format:"" about:"two expressions: the value is neither below the first nor above the second"`
	SameAs  q.Word           `key:"same-as" free:"" format:"" about:"an expression: the value agrees with it, within a share of it"`
	Within  q.Word           `key:"within" free:"" format:"" about:"an expression: that share, such as q('2 %')"`
	Holds   q.Word           `key:"holds" free:"" format:"" about:"an expression that is true, in place of a value with its limit"`
	Level   q.Word           `key:"level" oneof:"must,should" default:"should" about:"a must makes a run fail once it is due, a should never does"`
	Due     q.Word           `key:"due" oneof:"intake,plan,mock-up,assembly,first-start,road-test,delivery" default:"delivery" about:"the stage by which it holds"`
	Since   Date             `key:"since" about:"the day from which it holds: a build delivered before it is not judged by it"`
	Because q.Word           `key:"because" free:"" about:"what taught it"`
	Source  q.Word           `key:"source" free:"" about:"document and section, table or page; or: common practice, no source"`
	Caution q.Word           `key:"caution" free:"" about:"how someone can get hurt where it does not hold"`
	Trial   map[string]Trial `key:"trial" undigested:"" about:"builds that try it"`
}

// Trial is a build that tries a rule of a shop's own, and what the rule says of it.
type Trial struct {
	Build   q.Word `key:"build" about:"its folder beside shop.toml, such as trials/tank-low"`
	Verdict q.Word `key:"verdict" oneof:"pass,unproven,missing,fail,not applicable" about:"what the rule makes of it: the worst of its checks"`
}

// OwnRuleEntry is the entry that a rule of the shop's own is made of, by the name of
// the rule.
func OwnRuleEntry(rule string) string { return "rule." + strings.TrimPrefix(rule, OwnRules+"/") }

// OwnRules are all [rule.ID] of the shop's files.
func (b *Build) OwnRules() []*OwnRule { return all[OwnRule](b) }

// ID is what a rule is called behind "shop/".
func (v *OwnRule) ID() string { return strings.TrimPrefix(v.Path(), "rule.") }

// Judges tells whether the build is judged by a rule of its shop: it was not
// delivered before the rule was made.
func (b *Build) Judges(v *OwnRule) bool {
	at := b.Info().Delivered
	return !at.Known() || !v.Since.After(at).Holds()
}

// rulesApply are the shop's rules that the build is judged by.
func (b *Build) rulesApply() map[string]bool {
	out := map[string]bool{}
	for _, v := range b.OwnRules() {
		out[v.ID()] = b.Judges(v)
	}
	return out
}

// Expression is the text of one, in which each character has its place in the
// shop's file.
type Expression struct {
	Key, Text string
	node      *syntax.Node
	file      string
}

// At is where a character of the expression stands, counted from 0.
func (x Expression) At(character int) q.Place {
	p := x.node.Inside(character)
	return q.Place{File: x.file, Line: p.Line, Column: p.Column}
}

// Expressions are those of a rule under a key, none where it has none.
func (v *OwnRule) Expressions(key string) (out []Expression) {
	n := v.entry.node.Child(key)
	if n == nil {
		return nil
	}
	all := []*syntax.Node{n}
	if n.Kind == syntax.Array {
		all = n.Children
	}
	for _, c := range all {
		if text, ok := c.Value.(string); ok {
			out = append(out, Expression{key, text, c, v.entry.Place.File})
		}
	}
	return out
}

// KeyAt is where a key of the rule stands, the rule itself where it says no such key.
func (v *OwnRule) KeyAt(key string) q.Place {
	n := v.entry.node.Child(key)
	if n == nil {
		return v.Place()
	}
	return v.entry.place(n, n.KeyAt)
}

// Trials are the names of the builds that try the rule, in order.
func (v *OwnRule) Trials() []string {
	var out []string
	if n := v.entry.node.Child("trial"); n != nil {
		for _, c := range n.Children {
			out = append(out, c.Key)
		}
	}
	return out
}

// TrialAt is where a trial of the rule stands.
func (v *OwnRule) TrialAt(name string) q.Place {
	n := v.entry.node.Child("trial").Child(name)
	return v.entry.place(n, n.KeyAt)
}

// ruleFiles reads the files of rules beside a shop's file.
func (r *reader) ruleFiles(files []revision.ShopFile) {
	shop, size := r.file, 0
	defer func() { r.file = shop }()
	for i, f := range files {
		if i == MaxRuleFiles {
			r.cannotRead(f.Name, fmt.Sprintf("a shop may have %d files of rules; this one and %d more are too many", MaxRuleFiles, len(files)-i-1))
			return
		}
		if f.Fault != "" {
			r.cannotRead(f.Name, f.Fault)
			continue
		}
		if size += len(f.Content); size > MaxLedger {
			r.cannotRead(f.Name, fmt.Sprintf("a shop may have %d KiB of rules in all its files; with this one it has more", MaxLedger>>10))
			return
		}
		r.file = f.Name
		doc := syntax.Read(f.Content)
		r.syntaxFaults(doc)
		if doc.Root == nil {
			continue
		}
		for _, n := range doc.Root.Children {
			if s := kindNamed["rule"]; n.Key != s.Name {
				r.fault(n.KeyAt, "[%s] stands in shop.toml; the files in rules beside it hold [rule.ID] alone%s", n.Key, didYouMean(n.Key, []string{s.Name}))
			} else if n.Kind != syntax.Table {
				r.fault(n.ValueAt, "rule is a table: write [rule.ID]")
			} else {
				r.many(s, n)
			}
		}
	}
}

// ownRules tells what is wrong with the rules that a shop makes, but for what
// stands in their expressions.
func (r *reader) ownRules() {
	var rules []*OwnRule
	for _, e := range r.entries {
		if e.Kind == "rule" {
			rules = append(rules, e.view.(*OwnRule))
		}
	}
	slices.SortFunc(rules, func(a, b *OwnRule) int { return comparePlaces(a.Place(), b.Place()) })
	text := 0
	for i, v := range rules {
		if text += v.lengths(); i == MaxRules || text > MaxRuleText {
			r.faults = append(r.faults, Fault{v.Place(), fmt.Sprintf("a shop may have %d rules, and %d KiB of expressions in all of them; this rule and %d more are too many", MaxRules, MaxRuleText>>10, len(rules)-i-1)})
			r.unread = true
			for _, w := range rules[i:] {
				delete(r.entries, w.Path())
			}
			return
		}
		r.ownRule(v)
	}
}

// limitKeys are those that say what a value is held against.
var limitKeys = []string{"at-most", "at-least", "between", "same-as"}

func (v *OwnRule) lengths() (bytes int) {
	for _, key := range append(slices.Clone(limitKeys), "where", "value", "within", "holds") {
		for _, x := range v.Expressions(key) {
			bytes += len(x.Text)
		}
	}
	return bytes
}

func (r *reader) ownRule(v *OwnRule) {
	tell := func(at q.Place, format string, args ...any) {
		r.faults = append(r.faults, Fault{at, fmt.Sprintf(format, args...)})
	}
	says := func(key string) bool { return v.entry.node.Child(key) != nil }
	for _, key := range []string{"title", "source"} {
		if !says(key) {
			tell(v.Place(), "%s says no %s: %s", v.Path(), key, v.entry.schema.Field(key).About)
		}
	}
	var limits []string
	for _, key := range limitKeys {
		if says(key) {
			limits = append(limits, key)
		}
	}
	switch {
	case says("holds"):
		for _, key := range append(limits, "value", "within") {
			if says(key) {
				tell(v.KeyAt(key), "%s has holds, and %s as well: it is either holds alone, or a value with its limit", v.Path(), key)
			}
		}
	case !says("value"):
		tell(v.Place(), "%s says neither holds nor value: write holds = an expression that is true, or value and %s", v.Path(), schema.Or(limitKeys))
	case len(limits) == 0:
		tell(v.KeyAt("value"), "%s has a value and no limit: write %s", v.Path(), schema.Or(limitKeys))
	case len(limits) > 1:
		tell(v.KeyAt(limits[1]), "%s has %s, and %s as well: a value has one limit", v.Path(), limits[0], limits[1])
	case says("same-as") && !says("within"):
		tell(v.KeyAt("same-as"), "%s says same-as and no within: within what share of it, such as within = \"q('2 %%')\"", v.Path())
	case says("within") && !says("same-as"):
		tell(v.KeyAt("within"), "%s says within and no same-as: within belongs to that", v.Path())
	case says("between") && len(v.Between) != 2:
		tell(v.KeyAt("between"), "between takes two expressions, the lower limit and the upper one; got %d", len(v.Between))
	}
	r.ownEach(v, tell)
	for name, trial := range v.Trial {
		r.ownTrial(v, name, trial, tell)
	}
}

// Judged are the kinds of entry that a shop's own rule may judge and read, but for
// those of which all is private.
func Judged() []*schema.Kind {
	return slices.DeleteFunc(Kinds(), func(k *schema.Kind) bool { return k.ShopOnly || k.Private })
}

func (r *reader) ownEach(v *OwnRule, tell func(q.Place, string, ...any)) {
	var names []string
	for _, k := range Judged() {
		names = append(names, k.Name)
	}
	if each := v.Each; each.Known() && !slices.Contains(names, each.String()) {
		tell(v.KeyAt("each"), "each takes a kind of entry, such as part or vehicle.front; got %q%s", each, didYouMean(each.String(), names))
	}
}

func (r *reader) ownTrial(v *OwnRule, name string, t Trial, tell func(q.Place, string, ...any)) {
	at := v.TrialAt(name)
	switch {
	case !t.Build.Known():
		tell(at, "%s.trial.%s says no build: its folder beside shop.toml, such as trials/tank-low", v.Path(), name)
	case path.Clean(t.Build.String()) != t.Build.String() || !strings.HasPrefix(t.Build.String(), "trials/"):
		tell(t.Build.Source().Place, "a trial's build is a folder below trials, beside shop.toml, such as trials/tank-low; got %q", t.Build)
	}
	if !t.Verdict.Known() {
		tell(at, "%s.trial.%s says no verdict: what the rule makes of the build, such as fail", v.Path(), name)
	}
}

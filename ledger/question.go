package ledger

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// Question is [question.ID] in a shop: what it asks of every build of its own,
// because one taught it to.
type Question struct {
	Head
	Ask         q.Word   `key:"ask" about:"the question"`
	AppliesWhen []q.Word `key:"applies-when" about:"facts that all hold where it is asked: role R, kept R, removed R or fuel F; everywhere where there are none"`
	SettledBy   []q.Word `key:"settled-by" about:"what settles it beside an answer: role R, or entry K"`
	Stage       q.Word   `key:"stage" oneof:"intake,plan,mock-up,assembly,first-start,road-test,delivery" default:"delivery" about:"the stage by which it is settled"`
	Since       Date     `key:"since" about:"the day from which it is asked: a build delivered before it is not"`
	From        q.Word   `key:"from" about:"where it was learned, such as builds/x visit.y"`
}

// Questions are all [question.ID] of the shop's file.
func (b *Build) Questions() []*Question { return all[Question](b) }

// facts are the words that a question's applies-when and settled-by may begin
// with, and what they hold of a build.
var facts = map[string]func(b *Build, word string) q.Truth{
	"role": func(b *Build, role string) q.Truth {
		return b.somePart(func(p *Part) q.Truth { return p.Role.Is(role).And(p.Fitted) })
	},
	"kept": func(b *Build, role string) q.Truth {
		return b.somePart(func(p *Part) q.Truth { return p.Role.Is(role).And(p.Fitted).And(p.Origin.Is("original")) })
	},
	"removed": func(b *Build, role string) q.Truth {
		return b.somePart(func(p *Part) q.Truth { return p.Role.Is(role).And(p.Fitted.Not()).And(p.Origin.Is("original")) })
	},
	"fuel": func(b *Build, fuel string) q.Truth { return b.Engine().Fuel.Is(fuel) },
	"entry": func(b *Build, name string) q.Truth {
		return q.Is(slices.ContainsFunc(b.Entries(), func(e *Entry) bool { return e.Path() == name || e.Kind == name }))
	},
}

// Where a fact may stand.
var (
	appliesFacts = []string{"role", "kept", "removed", "fuel"}
	settlesFacts = []string{"role", "entry"}
)

// somePart tells whether some part surely is so; what is not said is not.
func (b *Build) somePart(is func(*Part) q.Truth) q.Truth {
	for _, p := range b.Parts() {
		if is(p).Holds() {
			return q.Is(true)
		}
	}
	return q.Is(false)
}

// Asks tells whether a question of the shop is asked of the build: its facts
// hold, and the build was not delivered before it was first asked.
func (b *Build) Asks(v *Question) q.Truth {
	is := q.Is(true)
	if at := b.Info().Delivered; at.Known() {
		is = v.Since.After(at).Not()
	}
	for _, w := range v.AppliesWhen {
		is = is.And(b.fact(w))
	}
	return is
}

// SettledBy is what settles a question in a build beside an answer, in the
// question's own words; "" where nothing does.
func (b *Build) SettledBy(v *Question) string {
	for _, w := range v.SettledBy {
		if b.fact(w).Holds() {
			return w.String()
		}
	}
	return ""
}

func (b *Build) fact(w q.Word) q.Truth {
	if !w.Known() {
		return q.Unknown(w.Needs())
	}
	kind, word, _ := strings.Cut(w.String(), " ")
	is := facts[kind]
	if is == nil {
		return q.Is(false)
	}
	return is(b, strings.TrimSpace(word))
}

// ownQuestions tells what is wrong with the questions that a shop asks.
func (r *reader) ownQuestions() {
	for _, e := range r.entries {
		if e.Kind != "question" {
			continue
		}
		v := e.view.(*Question)
		for _, key := range []string{"ask", "since"} {
			if e.node.Child(key) == nil {
				r.fault(e.node.KeyAt, "%s says no %s: %s", e.Path(), key, e.schema.Field(key).About)
			}
		}
		for _, w := range v.AppliesWhen {
			r.ownFact(w, "applies-when", appliesFacts)
		}
		for _, w := range v.SettledBy {
			r.ownFact(w, "settled-by", settlesFacts)
		}
	}
}

func (r *reader) ownFact(w q.Word, key string, may []string) {
	if !w.Known() {
		return
	}
	kind, word, _ := strings.Cut(w.String(), " ")
	known := r.factWords(kind, strings.TrimSpace(word))
	wrong := ""
	switch {
	case !slices.Contains(may, kind):
		wrong = key + " takes a fact that begins with " + schema.Or(may) + ", such as \"role turbocharger\"" + didYouMean(kind, may)
	case known == nil:
		return
	case !slices.Contains(known, word):
		noun := map[string]string{"fuel": "fuel", "entry": "kind of entry"}[kind]
		wrong = fmt.Sprintf("no %s is called %q%s", cmp.Or(noun, "role"), word, didYouMean(word, known))
	}
	if wrong != "" {
		r.faults = append(r.faults, Fault{w.Source().Place, wrong})
	}
}

// factWords are the words that may follow the first of a fact; nil for any.
func (r *reader) factWords(kind, word string) []string {
	switch kind {
	case "fuel":
		return KindNamed("engine").Field("fuel").OneOf
	case "entry":
		if k, _, ok := strings.Cut(word, "."); ok && isKind(k) {
			return nil
		}
		return KindNames()
	}
	var out []string
	for _, as := range r.words["role"] {
		out = append(out, as)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// ID is what an answer calls the question.
func (v *Question) ID() string { return strings.TrimPrefix(v.Path(), "question.") }

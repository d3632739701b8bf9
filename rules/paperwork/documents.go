package paperwork

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var dueDocuments = &lint.Rule{
	Name:    "paperwork/due-documents",
	Title:   "the documents that a stage asks for are there",
	Due:     ledger.AtPlan,
	Sources: practice,
	Note:    "Which, and by when, is the pack's table. That the file is there and unaltered is for ledger/document to tell. A document counts that proves the entry: attach it with --proves.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, d := range wanted {
			d.check(b, s)
		}
	},
}

// document is a row of the table of documents.
type document struct {
	name, kind, what string
	due              ledger.Stage
	should           bool
	of               func(*ledger.Build, string) []owner
}

// owner is an entry that a document is asked of, and whether it has one.
type owner struct {
	entry  ledger.Subject
	has    quantity.Truth
	called string // what the document has to prove
}

var wanted = func() []document {
	t := data.Table("documents")
	var out []document
	for _, row := range t.Rows() {
		of := owners[t.Word(row, "of")]
		if of == nil {
			panic("reference data of paperwork: a document of " + t.Word(row, "of"))
		}
		out = append(out, document{row, t.Word(row, "kind"), t.Word(row, "what"), stage("documents", row), t.Word(row, "level") == "should", of})
	}
	return out
}()

// owners find the entries that each word of the table's column "of" means.
var owners = map[string]func(*ledger.Build, string) []owner{
	"vehicle": func(b *ledger.Build, kind string) []owner {
		return []owner{{b.Vehicle(), proved(b, kind, b.Vehicle()), "vehicle"}}
	},
	"engine": func(b *ledger.Build, kind string) []owner {
		e := b.Engine()
		return []owner{{e, proved(b, kind, e).Or(proved(b, kind, b.Part(e.Part))), "engine or the part that it is"}}
	},
	"donor": func(b *ledger.Build, kind string) []owner {
		var out []owner
		for _, d := range b.Donors() {
			out = append(out, owner{d, proved(b, kind, d), d.Path()})
		}
		return out
	},
	"weighing as-received": weighing("as-received"),
	"weighing as-built":    weighing("as-built"),
}

// weighing finds whether there is such a weighing that has its ticket. The
// build is asked, as there may be no such weighing.
func weighing(when string) func(*ledger.Build, string) []owner {
	return func(b *ledger.Build, kind string) []owner {
		has := quantity.Is(false)
		for _, w := range b.Weighings() {
			has = has.Or(w.When.Is(when).And(proved(b, kind, w).Or(b.Document(w.Document).Kind.Is(kind))))
		}
		return []owner{{b.Info(), has, "a weighing " + when}}
	}
}

func (d document) check(b *ledger.Build, s *lint.Sheet) {
	for _, o := range d.of(b, d.kind) {
		u := s.On(o.entry, d.name).Due(d.due).Work()
		if d.should {
			u.Recommended()
		}
		other := ""
		if o.has.Fails() {
			other = otherwise(b, o.entry)
		}
		u.Holds(o.has, "no %s proves %s%s: attach %s", d.kind, o.called, other, d.what)
	}
}

// otherwise names a document that proves an entry and is of a kind that no rule looks
// for; "" where there is none.
func otherwise(b *ledger.Build, e ledger.Subject) string {
	known := Kinds()
	for _, d := range b.Documents() {
		if kind := d.Kind.String(); kind != "" && !slices.Contains(known, kind) && ledger.Refer(d.Proves, e.Path()) {
			return fmt.Sprintf(" (%s does, but its kind is %q)", d.Path(), kind)
		}
	}
	return ""
}

// proved tells whether a document of the kind proves the entry or a value of
// it.
func proved(b *ledger.Build, kind string, e ledger.Subject) quantity.Truth {
	has := quantity.Is(false)
	for _, d := range b.Documents() {
		has = has.Or(quantity.Is(ledger.Refer(d.Proves, e.Path())).And(d.Kind.Is(kind)))
	}
	return has
}

// worked tells whether a work entry that is done says that the part was looked
// at or renewed.
func worked(b *ledger.Build, p *ledger.Part) quantity.Truth {
	has := quantity.Is(false)
	for _, w := range b.Works() {
		has = has.Or(quantity.Is(ledger.Refer(w.Parts, p.Path())).And(w.Did.Is(looked...)).And(w.Date.Given()))
	}
	return has
}

// either lists words as alternatives.
func either(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// Kinds are the kinds of document that the pack asks for, in its tables' order.
func Kinds() []string {
	var out []string
	seen := map[string]bool{}
	add := func(kind string) {
		if !seen[kind] {
			seen[kind] = true
			out = append(out, kind)
		}
	}
	for _, d := range wanted {
		add(d.kind)
	}
	for _, kind := range drawings {
		add(kind)
	}
	return out
}

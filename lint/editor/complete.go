package editor

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/schema"
	"fishplate/lint"
)

// offer is a word for the place where the cursor stands.
type offer struct {
	word  string // as the file would have it, without quotes
	kind  int
	says  string // in a line
	more  page   // whatever else
	first bool   // before those that are not
}

func (s *server) complete(p *placeParams) (any, error) {
	x, err := s.spotAt(p)
	if err != nil {
		return nil, err
	}
	var offers []offer
	switch {
	case x.part == inHeader, x.isID():
		offers = x.headerOffers()
	case x.part == inKey && len(x.path) == 1: // before the first header
		return completionList{Items: []completionItem{}}, nil
	case x.part == inKey && x.path[0] == "limits":
		offers = s.ruleOffers()
	case x.part == inKey && x.kind != nil:
		offers = s.keyOffers(x)
	case x.part == inValue && x.field != nil:
		offers = s.valueOffers(x)
	}
	out := completionList{Items: []completionItem{}}
	for i, o := range offers {
		out.Items = append(out.Items, s.item(x, o, i))
	}
	return out, nil
}

// isID tells of a key that it stands where the id of an entry does, as under [part].
func (x *spot) isID() bool {
	return x.part == inKey && len(x.path) == 2 && x.kind != nil && !ledger.KindNamed(x.path[0]).Single
}

// item is an offer as the editor takes it: it stands in the place of the whole token.
func (s *server) item(x *spot, o offer, i int) completionItem {
	from, to, text := x.from, x.to, o.word
	switch {
	case x.part == inHeader:
		if k := ledger.KindNamed(o.word); k != nil && !k.Single {
			text += "."
		}
	case x.part == inKey:
		if text = spelledKey(o.word); x.quote != "" {
			from, to = x.whole()
		}
		if rest := strings.TrimLeft(x.src[to:lineEnd(x.src, to)], " \t"); !strings.HasPrefix(rest, "=") && !strings.HasPrefix(rest, ".") {
			text += " = "
		}
	case x.quote == "" && !bare(x.field):
		text = quoted(text)
	case x.quote != "" && !x.closed:
		text += x.quote
	}
	item := completionItem{
		Label: plain(o.word), Kind: o.kind, Detail: plain(o.says), FilterText: o.word,
		SortText: fmt.Sprintf("%d%05d", map[bool]int{true: 0, false: 1}[o.first], i),
		TextEdit: &TextEdit{x.doc.text.span(from, to, s.encoding), text},
	}
	if len(o.more.paragraphs) > 0 {
		m := o.more.markup(s.markdown())
		item.Documentation = &m
	}
	return item
}

// bare tells that a key's value stands without quotes.
func bare(f *schema.Field) bool { return f.Type == schema.Truth || f.Type == schema.Date }

// headerOffers are the kinds of entry, the tables in one, and the names of entries
// that others name and that are not there yet.
func (x *spot) headerOffers() []offer {
	var out []offer
	shop := filepath.Base(x.doc.path) == shopFile
	switch outer := ledger.KindNamed(x.path[0]); {
	case len(x.path) == 1:
		for _, k := range ledger.Kinds() {
			if !strings.Contains(k.Name, ".") && (k.Shared || k.ShopOnly == shop) {
				out = append(out, offer{word: k.Name, kind: offersStructure, says: k.About})
			}
		}
	case outer == nil:
	case len(x.path) == 2 && outer.Single:
		for _, key := range slices.Sorted(maps.Keys(outer.Inside)) {
			out = append(out, offer{word: key, kind: offersStructure, says: outer.Inside[key].About})
		}
	case len(x.path) == 2 && x.build != nil:
		for _, f := range x.build.b.Faults {
			if id, ok := strings.CutPrefix(x.build.b.Lacks(f), outer.Name+"."); ok && !slices.ContainsFunc(out, func(o offer) bool { return o.word == id }) {
				out = append(out, offer{word: id, kind: offersEntry, says: "named, and not there yet"})
			}
		}
	}
	return out
}

// keyOffers are the keys that are not written yet, first those that checks wait for.
func (s *server) keyOffers(x *spot) []offer {
	box := x.path[:len(x.path)-1]
	_, _, in := entryOf(append(slices.Clone(box), ""))
	in = in[:len(in)-1]
	written := map[string]bool{}
	for _, t := range tokens(x.src) {
		if t.part == inKey && t.from != x.from && len(t.path) == len(x.path) && slices.Equal(t.path[:len(box)], box) {
			written[ledger.American(t.path[len(box)])] = true
		}
	}
	waits := s.waits(x)
	var out []offer
	add := func(key, says string, f *schema.Field) {
		if written[key] || slices.ContainsFunc(out, func(o offer) bool { return o.word == key }) {
			return
		}
		o := offer{word: key, kind: offersProperty, says: says}
		if f != nil {
			o.more.say(sentence(f.Describe()))
		}
		if w := waits[strings.Join(append(slices.Clone(in), key), ".")]; w != nil {
			o.first, o.says = true, checksWait(w.Checks)
			o.more.show(namesOf(w.Checks)...)
		}
		out = append(out, o)
	}
	for _, key := range waitingBelow(waits, in) {
		add(key, "", x.kind.At(strings.Join(append(slices.Clone(in), key), ".")))
	}
	if len(in) == 0 {
		for _, f := range slices.Concat(x.kind.Fields, []*schema.Field{schema.Note, schema.System}) {
			add(f.Key, f.Takes(), f)
		}
		return out
	}
	switch f := x.kind.At(american(in)); {
	case f == nil:
	case f.Many == schema.Named && f.Keys != "":
		for _, o := range x.entryOffers([]string{f.Keys}) {
			add(o.word, o.says, nil)
		}
	case f.Many == schema.Named && f.Type == schema.Hookup:
		for _, d := range ledger.HookupDocs() {
			add(d.Kind, d.Quantity, nil)
		}
		for _, o := range x.entryOffers([]string{"hookup"}) {
			add(strings.TrimPrefix(o.word, "hookup."), o.says, nil)
		}
	case f.Many == schema.One && f.Nested != nil:
		for _, f := range f.Nested.Fields {
			add(f.Key, f.Takes(), f)
		}
	}
	return out
}

// waits are the keys of the entry that checks wait for, by their name in it.
func (s *server) waits(x *spot) map[string]*lint.Blank {
	out := map[string]*lint.Blank{}
	if x.build == nil || x.entry == "" {
		return out
	}
	for _, w := range s.judged(x.build).waits() {
		if w.Path == x.entry {
			out[w.Key] = w
		}
	}
	return out
}

// waits are the values that are not written and that checks wait for.
func (j *judgment) waits() []*lint.Blank {
	if j.blanks == nil {
		var missing []*lint.Result
		for _, r := range j.rep.Results {
			if r.Verdict == lint.Missing && !r.Undone() {
				missing = append(missing, r)
			}
		}
		j.blanks, _ = lint.Blanks(j.of, missing)
	}
	return j.blanks
}

// waitingBelow are the keys in a table of the entry that checks wait for, sorted.
func waitingBelow(waits map[string]*lint.Blank, in []string) []string {
	prefix := strings.Join(append(slices.Clone(in), ""), ".")
	var out []string
	for key := range waits {
		if rest, ok := strings.CutPrefix(key, prefix); ok {
			key, _, _ = strings.Cut(rest, ".")
			out = append(out, key)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func checksWait(rs []*lint.Result) string {
	if len(rs) == 1 {
		return "1 check waits for it"
	}
	return fmt.Sprintf("%d checks wait for it", len(rs))
}

// namesOf are the checks by name, few of them.
func namesOf(rs []*lint.Result) []string {
	var out []string
	for _, r := range rs[:min(len(rs), mostChecks)] {
		out = append(out, r.Rule.Name+" on "+r.Subject())
	}
	if n := len(rs) - len(out); n > 0 {
		out = append(out, fmt.Sprintf("and %d more", n))
	}
	return out
}

// spelledKey is a key as a file has it: in quotes where it needs them.
func spelledKey(key string) string {
	if strings.ContainsFunc(key, func(r rune) bool { return !strings.ContainsRune(bareLetters, r) }) {
		return quoted(key)
	}
	return key
}

const bareLetters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_"

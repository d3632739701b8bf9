package compare

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"github.com/sergi/go-diff/diffmatchpatch"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// EditKind says what became of an entry.
type EditKind string

// What can become of an entry.
const (
	Added    EditKind = "added"
	Removed  EditKind = "removed"
	Altered  EditKind = "altered"
	Renamed  EditKind = "renamed"
	Replaced EditKind = "moved" // to another file
)

var editOrder = []EditKind{Altered, Added, Removed, Renamed, Replaced}

// Edit is an entry that is not what it was.
type Edit struct {
	Entry  string
	Kind   EditKind
	Was    string // its name before, where it was renamed
	From   string // the file that it stood in, where that is another; relative to the build
	Name   string // what people call it
	Shop   bool   // it is one of the shop's: added is then named now, and removed no longer named
	Place  quantity.Place
	Values []*ValueEdit
}

// ValueEdit is a value that is not what it was. What is absent is "".
type ValueEdit struct {
	Key           string
	Before, After string
	Private       bool
	Words         []Span // of free text that both have
}

// Span is a run of words: kept, taken out ('-') or put in ('+').
type Span struct {
	Op   byte // '=', '-' or '+'
	Text string
}

// edits compares two ledgers entry by entry. The older one goes by the newer
// one's names already.
func edits(before, after *ledger.Build, names map[string]string) []*Edit {
	was := map[string]string{}
	for o, n := range names {
		was[n] = o
	}
	var out []*Edit
	add := func(a, b *ledger.Entry) {
		some := b
		if some == nil {
			some = a
		}
		e := &Edit{Entry: some.Path(), Place: some.Place, Was: was[some.Path()], Name: nameOf(some), Shop: some.Shop}
		from, to := fileOf(before, a), fileOf(after, b)
		if a != nil && b != nil && from != to {
			e.From = from
		}
		e.Values = valueEdits(a, b)
		switch {
		case a == nil:
			e.Kind = Added
		case b == nil:
			e.Kind = Removed
		case len(e.Values) > 0:
			e.Kind = Altered
			e.Place = e.first(b)
		case e.Was != "":
			e.Kind = Renamed
		case e.From != "":
			e.Kind = Replaced
		default:
			return
		}
		out = append(out, e)
	}
	for _, a := range before.Entries() {
		b, _ := after.Entry(a.Path())
		add(a, b)
	}
	for _, b := range after.Entries() {
		if _, both := before.Entry(b.Path()); !both {
			add(nil, b)
		}
	}
	slices.SortStableFunc(out, func(x, y *Edit) int {
		if x.Kind != y.Kind {
			return slices.Index(editOrder, x.Kind) - slices.Index(editOrder, y.Kind)
		}
		return strings.Compare(x.Entry, y.Entry)
	})
	return out
}

// first is the place of the first value of b that was altered.
func (e *Edit) first(b *ledger.Entry) quantity.Place {
	at := b.Place
	is := valuesOf(b)
	for _, w := range e.Values {
		if v, ok := is[w.Key]; ok && (at == b.Place || earlier(v.Place, at)) {
			at = v.Place
		}
	}
	return at
}

func earlier(p, q quantity.Place) bool {
	return cmp.Or(p.Line-q.Line, p.Column-q.Column) < 0
}

func nameOf(e *ledger.Entry) string {
	for _, v := range e.Values() {
		if v.Field != nil && v.Field.Called {
			return v.Text
		}
	}
	return ""
}

// fileOf is the file of an entry as the build sees it: a shop's file stands
// above the build.
func fileOf(b *ledger.Build, e *ledger.Entry) string {
	if e == nil {
		return ""
	}
	if e.Shop {
		return "shop.toml"
	}
	return strings.TrimPrefix(e.Place.File, strings.TrimSuffix(b.Main().File, ledger.MainFile))
}

func valueEdits(a, b *ledger.Entry) []*ValueEdit {
	was, is := valuesOf(a), valuesOf(b)
	var keys []string
	for k := range was {
		keys = append(keys, k)
	}
	for k := range is {
		if _, both := was[k]; !both {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	var out []*ValueEdit
	for _, k := range keys {
		v, had := was[k]
		w, has := is[k]
		if had && has && v.Type == w.Type && v.Text == w.Text {
			continue
		}
		e := &ValueEdit{Key: k, Before: shown(v), After: shown(w), Private: v.Private || w.Private}
		if had && has && w.Free() {
			e.Words = wordByWord(v.Text, w.Text)
		}
		out = append(out, e)
	}
	return out
}

func valuesOf(e *ledger.Entry) map[string]ledger.Value {
	out := map[string]ledger.Value{}
	if e != nil {
		for _, v := range e.Values() {
			out[v.Key] = v
		}
	}
	return out
}

func shown(v ledger.Value) string {
	if v.Type == "nothing" {
		return "none"
	}
	return v.Text
}

// mostWords bounds the texts that are compared word by word: with no limit to
// its time, the comparison takes as long as the product of the two.
const mostWords = 4000

// wordByWord tells two texts apart by words, in the same way at any time of
// any day.
func wordByWord(a, b string) []Span {
	x, y := split(a), split(b)
	if len(x)+len(y) > mostWords {
		return []Span{{'-', a}, {'+', b}}
	}
	var words []string
	index := map[string]rune{}
	runes := func(tokens []string) []rune {
		out := make([]rune, len(tokens))
		for i, t := range tokens {
			if _, ok := index[t]; !ok {
				words = append(words, t)
				index[t] = rune(len(words)) // from 1, and far below the surrogates
			}
			out[i] = index[t]
		}
		return out
	}
	d := diffmatchpatch.New()
	d.DiffTimeout = 0
	var out []Span
	for _, part := range d.DiffMainRunes(runes(x), runes(y), false) {
		s := Span{Op: '='}
		switch part.Type {
		case diffmatchpatch.DiffDelete:
			s.Op = '-'
		case diffmatchpatch.DiffInsert:
			s.Op = '+'
		}
		for _, r := range part.Text {
			s.Text += words[r-1]
		}
		out = append(out, s)
	}
	return out
}

// split cuts text into words, each with the blanks behind it.
func split(s string) []string {
	var out []string
	start, blank := 0, false
	for i, r := range s {
		space := unicode.IsSpace(r)
		if blank && !space {
			out = append(out, s[start:i])
			start = i
		}
		blank = space
	}
	if start < len(s) {
		out = append(out, s[start:])
	}
	return out
}

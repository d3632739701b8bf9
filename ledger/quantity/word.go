package quantity

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger/spelling"
)

// Word is a word that decides something, traced like a value: absent, it is
// missing and not "".
type Word struct {
	text  string
	known bool
	src   *Source
	open  *open // of a missing word that waits for more than src; nil where it does not
}

// open is what there is to a few missing words only.
type open struct {
	needs []Need // what it waits for; none where that is its source
	// unheard: it stands there, but no list has it. No default takes its place.
	unheard bool
	// supposed answers every question about a word that is not there.
	supposed *bool
}

// opened is what there is to it.
func (w Word) opened() open {
	if w.open == nil {
		return open{}
	}
	return *w.open
}

// Written is a word that stands in a ledger.
func Written(text string, src *Source) Word { return Word{text: text, known: true, src: src} }

// MissingWord is a word that the ledger lacks.
func MissingWord(src *Source) Word {
	return Word{src: src}
}

// Unheard is a word that stands in a ledger and means nothing: it is missing
// until another stands there, and no default takes its place.
func Unheard(src *Source, need Need) Word {
	return Word{src: src, open: &open{needs: []Need{need}, unheard: true}}
}

// Known tells that the word is there.
func (w Word) Known() bool { return w.known }

// Given tells whether anything is written, as a Truth that is always known.
func (w Word) Given() Truth { return Is(w.written()) }

// written tells that something stands there, known or not.
func (w Word) written() bool { return w.known || w.open != nil && w.open.unheard }

// Needs lists what a missing word waits for.
func (w Word) Needs() []Need {
	switch {
	case w.known:
		return nil
	case w.open != nil && len(w.open.needs) > 0:
		return w.open.needs
	case w.src != nil:
		return []Need{w.src.need()}
	}
	return nothing.needs
}

// Lacks is the key that a missing word waits for; nil where it is there, or waits
// for something else.
func (w Word) Lacks() *Source {
	if w.known || w.open != nil && len(w.open.needs) > 0 {
		return nil
	}
	return w.src
}

// Source is where the word stands.
func (w Word) Source() *Source { return w.src }

// String is the word for display; "" where it is missing.
func (w Word) String() string { return w.text }

// Or is the word, or the meaning that its absence has by the format.
func (w Word) Or(meaning string) Word {
	if w.written() {
		return w
	}
	return Word{text: meaning, known: true, src: w.src}
}

// Is tells whether the word is one of those given, letter case aside.
func (w Word) Is(words ...string) Truth {
	if !w.known {
		return w.asked()
	}
	return Is(slices.ContainsFunc(words, func(s string) bool { return strings.EqualFold(s, w.text) }))
}

// Look finds the word's row in a table. A missing word gives a missing value,
// and so does a word that has no row; what says what the row would be, and the
// nearest of the rows' names, where given, is suggested.
func Look(w Word, dim Dim, what string, row func(string) (Quantity, bool), names ...string) Quantity {
	if !w.known {
		src := w.src
		if src == nil {
			src = nothing.src
		}
		return Quantity{&node{dim: dim, src: src, needs: w.Needs()}}
	}
	if q, ok := row(w.text); ok {
		agree(what, dim, q.Dim())
		return q
	}
	var p Place
	if w.src != nil {
		p = w.src.Place
	}
	return Waits(dim, noRow(what, w.text, names), p)
}

// noRow says what a word without a row waits for.
func noRow(what, word string, names []string) string {
	key := what + " for " + word
	if near := nearRow(word, names); near != "" {
		key += fmt.Sprintf("; did you mean %q?", near)
	}
	return key
}

// nearRow is the name that a word was meant for: it begins one, one begins it,
// or it is misspelt; "" where there is none.
func nearRow(word string, names []string) string {
	low := strings.ToLower(word)
	for _, n := range names {
		name := strings.ToLower(n)
		if min(len(low), len(name)) > 2 && (strings.HasPrefix(name, low) || strings.HasPrefix(low, name)) {
			return n
		}
	}
	return spelling.Nearest(word, names)
}

// Truth is a yes or no that decides something: yes, no, or missing. The zero
// Truth is missing and waits for nothing in particular.
type Truth struct {
	known   bool
	val     bool
	unheard bool    // it hangs on a word that no list has: no default takes its place
	src     *Source // what a missing truth waits for, where that is one key
	other   *Source // or two
	needs   []Need  // and else
}

// asked is the truth that waits for the word.
func (w Word) asked() Truth {
	o := w.opened()
	if o.supposed != nil {
		return Is(*o.supposed)
	}
	if len(o.needs) == 0 && w.src != nil {
		return Truth{src: w.src, unheard: o.unheard}
	}
	return Truth{needs: w.Needs(), unheard: o.unheard}
}

// Supposing is a word that is not there, every question about which is answered
// alike: for trying the ways that hang on it.
func (w Word) Supposing(yes bool) Word {
	o := w.opened()
	o.supposed = &yes
	w.open = &o
	return w
}

// Is is a truth that is known.
func Is(v bool) Truth { return Truth{known: true, val: v} }

// MissingTruth waits for a key.
func MissingTruth(src *Source) Truth {
	return Truth{src: src}
}

// Unknown waits for what the needs name.
func Unknown(needs []Need) Truth { return Truth{needs: waiting(needs)} }

// Known tells that the truth is not missing.
func (t Truth) Known() bool { return t.known }

// Holds tells that it is known and yes.
func (t Truth) Holds() bool { return t.Known() && t.val }

// Fails tells that it is known and no.
func (t Truth) Fails() bool { return t.Known() && !t.val }

// Needs lists what a missing truth waits for.
func (t Truth) Needs() []Need {
	switch {
	case t.known || len(t.needs) > 0:
		return t.needs
	case t.other != nil:
		return SortNeeds([]Need{t.src.need(), t.other.need()})
	case t.src != nil:
		return []Need{t.src.need()}
	}
	return nothing.needs
}

// Not turns yes into no; what is missing stays missing.
func (t Truth) Not() Truth {
	if t.Known() {
		t.val = !t.val
	}
	return t
}

// And is no where either is, missing where either is and neither is no.
func (t Truth) And(u Truth) Truth {
	switch {
	case t.Fails():
		return t
	case u.Fails(), t.Holds():
		return u
	case u.Holds():
		return t
	}
	return t.waitsWith(u)
}

// Or is yes where either is, missing where either is and neither is yes.
func (t Truth) Or(u Truth) Truth {
	switch {
	case t.Holds():
		return t
	case u.Holds(), t.Fails():
		return u
	case u.Fails():
		return t
	}
	return t.waitsWith(u)
}

// waitsWith is missing, and waits for all that either of two missing truths does.
func (t Truth) waitsWith(u Truth) Truth {
	if t.src != nil && u.src != nil && t.other == nil && u.other == nil { // no list is needed
		t.unheard = t.unheard || u.unheard
		if t.src != u.src {
			t.other = u.src
		}
		return t
	}
	return Truth{needs: SortNeeds(slices.Concat(t.Needs(), u.Needs())), unheard: t.unheard || u.unheard}
}

// OrElse is the truth, or the meaning that its absence has by the format.
func (t Truth) OrElse(meaning bool) Truth {
	if t.Known() || t.unheard {
		return t
	}
	return Is(meaning)
}

// Given tells whether it is in the ledger, as a Truth that is always known.
func (t Truth) Given() Truth { return Is(t.Known()) }

// LookWord finds the word's row in a table of words. A missing word gives a
// missing one, and so does a word that has no row; what says what the row
// would be.
func LookWord(w Word, what string, row func(string) (string, bool), names ...string) Word {
	if !w.known {
		return w
	}
	if text, ok := row(w.text); ok {
		return Word{text: text, known: true, src: w.src}
	}
	need := Need{Key: noRow(what, w.text, names)}
	if w.src != nil {
		need.Place = w.src.Place
	}
	return Word{src: w.src, open: &open{needs: []Need{need}}}
}

// JoinWords is the words with sep between them, missing where any of them is.
func JoinWords(sep string, words ...Word) Word {
	out := Word{known: true}
	var needs []Need
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = w.text
		needs = append(needs, w.Needs()...)
		if out.src == nil {
			out.src = w.src
		}
	}
	if len(needs) > 0 {
		return Word{src: out.src, open: &open{needs: SortNeeds(needs)}}
	}
	out.text = strings.Join(texts, sep)
	return out
}

// Contains tells whether the word has the letters in it, letter case aside.
func (w Word) Contains(letters string) Truth {
	if !w.known {
		return w.asked()
	}
	return Is(strings.Contains(strings.ToLower(w.text), strings.ToLower(letters)))
}

// FirstTruth is the first that is known. Where none is, it waits for any of
// them.
func FirstTruth(ts ...Truth) Truth {
	choices := make([][]Need, len(ts))
	for i, t := range ts {
		if t.Known() {
			return t
		}
		choices[i] = t.Needs()
	}
	return Unknown(anyOf(choices))
}

// Required holds where the word is known and is missing where it is not.
func (w Word) Required() Truth {
	if !w.known {
		return w.asked()
	}
	return Is(true)
}

// Same tells whether two words are one, letter case aside; it is missing where
// either is.
func (w Word) Same(o Word) Truth {
	for _, x := range []Word{w, o} {
		if !x.known && x.opened().supposed != nil {
			return x.asked()
		}
	}
	if !w.known || !o.known {
		return Truth{needs: slices.Concat(w.Needs(), o.Needs()), unheard: w.opened().unheard || o.opened().unheard}
	}
	return w.Is(o.text)
}

// FirstWord is the first that is known. Where none is, it waits for any of
// them.
func FirstWord(ws ...Word) Word {
	said := make([]Truth, len(ws))
	for i, w := range ws {
		if w.written() {
			return w
		}
		said[i] = w.Required()
	}
	return Word{open: &open{needs: FirstTruth(said...).Needs()}}
}

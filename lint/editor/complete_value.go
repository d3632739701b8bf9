package editor

import (
	"slices"
	"strings"
	"unicode"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/schema"
)

// valueOffers are the words, units or names that a key takes.
func (s *server) valueOffers(x *spot) []offer {
	f := x.field
	switch {
	case isRuleKey(x):
		return s.ruleOffers()
	case x.kind.Name == "waiver" && f.Key == "entry":
		return x.entryOffers([]string{"any"})
	case x.kind.Name == "build" && f.Key == "packs", x.kind.Name == "shop" && f.Key == "packs":
		var out []offer
		for _, p := range s.opt.Packs {
			out = append(out, offer{word: p.Name, kind: offersWord, says: p.Title})
		}
		return out
	}
	switch f.Type {
	case schema.Quantity, schema.Hookup:
		return x.unitOffers()
	case schema.Ref:
		return x.entryOffers(f.Refs)
	case schema.Place:
		return x.entryOffers([]string{"part"})
	case schema.Truth:
		return []offer{{word: "true", kind: offersValue}, {word: "false", kind: offersValue}}
	case schema.Date:
		if day := s.today(x); day != "" {
			return []offer{{word: day, kind: offersValue, says: "today"}}
		}
	case schema.Word:
		if f.Size {
			return words(ledger.HeavierSizes("40 AWG"), "")
		}
		out := words(wordsOf(f), f.About)
		if f.Words != "" {
			for _, o := range x.entryOffers([]string{"word"}) {
				out = append(out, offer{word: strings.TrimPrefix(o.word, "word."), kind: offersWord, says: "a word of the shop's own"})
			}
		}
		return out
	}
	return nil
}

func words(list []string, says string) []offer {
	var out []offer
	for _, w := range list {
		out = append(out, offer{word: w, kind: offersWord, says: says})
	}
	return out
}

// today is the day that builds are judged on.
func (s *server) today(x *spot) string {
	opt := s.opt.Judge()
	if x.build != nil && x.build.b != nil {
		return opt.Day(x.build.b)
	}
	return opt.Today
}

// unitOffers are the units that a key takes, behind the number that is written.
func (x *spot) unitOffers() []offer {
	number := strings.TrimRightFunc(x.text(x.src), func(r rune) bool { return !unicode.IsNumber(r) })
	if number == "" {
		return nil
	}
	var out []offer
	for _, u := range x.field.UnitsWritten() {
		out = append(out, offer{word: number + " " + u, kind: offersUnit, says: x.field.TakesNumber()})
	}
	return out
}

// entryOffers are the names of entries of some kinds, those of plugs with their pins.
func (x *spot) entryOffers(kinds []string) []offer {
	if x.build == nil {
		return nil
	}
	b := x.build.b
	var out []offer
	for _, e := range b.Entries() {
		path := e.Path()
		if path == x.entry || !slices.Contains(kinds, e.Kind) && !slices.Contains(kinds, "any") {
			continue
		}
		says := strings.TrimPrefix(b.Called(e)+", "+b.System(e), ", ")
		if x.field == nil || !x.field.Pin || e.Kind != "plug" {
			out = append(out, offer{word: path, kind: offersEntry, says: strings.TrimSuffix(says, ", ")})
			continue
		}
		for _, v := range e.Values() {
			if pin, ok := strings.CutPrefix(v.Key, "pins."); ok {
				pin, _, _ = strings.Cut(pin, ".")
				if word := path + ":" + pin; !slices.ContainsFunc(out, func(o offer) bool { return o.word == word }) {
					out = append(out, offer{word: word, kind: offersEntry, says: v.Text})
				}
			}
		}
	}
	return out
}

// ruleOffers are the names of the rules.
func (s *server) ruleOffers() []offer {
	var out []offer
	for _, p := range s.opt.Packs {
		for _, r := range p.Rules {
			out = append(out, offer{word: r.Name, kind: offersWord, says: r.Title})
		}
	}
	return out
}

// quoted is text as TOML has it.
func quoted(text string) string { return edit.Quoted(text) }

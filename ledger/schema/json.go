package schema

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
)

// Dialect is the JSON Schema that the schemas are written in.
const Dialect = "https://json-schema.org/draft/2020-12/schema"

// Format is what beside its kinds a ledger's format holds, for a JSON Schema.
type Format struct {
	Words    map[string][]string        // known words by list
	Hookups  map[string]JSONHook        // kinds of hookup that every build knows
	IDs      string                     // the pattern of an id
	LongID   int                        // how long an id may be
	British  func(word string) []string // the British parts that stand for an American part of a word
	Size     string                     // the pattern of a conductor size
	Required map[string][]string        // by kind, the keys without which a shop's entry is none
}

// JSONHook is how a kind of hookup is compared, and what is measured of it.
type JSONHook struct {
	Compare string
	Dim     q.Dim
}

// object is a JSON object as it is written.
type object = map[string]any

// writer gathers what the schema's parts share.
type writer struct {
	Format
	kinds []*Kind
	defs  object
}

// JSON is the JSON Schema of a file of a build, or of shop.toml. As an entry may
// stand in any of a build's files, no file needs to have any.
func JSON(kinds []*Kind, shop bool, format Format) object {
	w := &writer{Format: format, kinds: kinds, defs: object{}}
	top := object{}
	for _, k := range kinds {
		if strings.Contains(k.Name, ".") || k.ShopOnly && !shop || shop && !k.ShopOnly && !k.Shared {
			continue
		}
		top[k.Name] = w.kind(k)
	}
	title := "A file of a build"
	if shop {
		title = "shop.toml"
		top[LimitsTable] = object{"type": "object", "description": "the shop's own limits, by the name of a rule, in force where they are tighter than the rule's",
			"additionalProperties": w.quantity(&Field{Exact: true, Limits: Limits{Signed: true}}, q.Any)}
	}
	return object{"$schema": Dialect, "title": title, "type": "object", "properties": top, "additionalProperties": false, "$defs": w.defs}
}

// def is a reference to a part of the schema that is written once.
func (w *writer) def(name string, what func() object) object {
	if _, ok := w.defs[name]; !ok {
		w.defs[name] = object{} // it may name itself
		w.defs[name] = what()
	}
	return object{"$ref": "#/$defs/" + name}
}

// kind is the table of a kind: the entry itself, or entries by their ids.
func (w *writer) kind(k *Kind) object {
	if k.Single {
		return described(w.entry(k), k.About)
	}
	return object{"type": "object", "description": k.About,
		"propertyNames":        w.def("id", func() object { return object{"pattern": w.IDs, "maxLength": w.LongID} }),
		"additionalProperties": w.entry(k)}
}

// entry is one entry of a kind. Two kinds of one view have the same keys.
func (w *writer) entry(k *Kind) object {
	return w.def(k.View.Name(), func() object { return w.table(k, true) })
}

// table is a table with the keys of a kind; an entry has those that any may have.
func (w *writer) table(k *Kind, entry bool) object {
	keys, british := object{}, object{}
	add := func(f *Field) {
		keys[f.Key] = described(w.field(f), f.Describe())
		if p := w.respelled(f.Key); p != "" {
			british[p] = keys[f.Key]
		}
	}
	for _, f := range k.Fields {
		add(f)
	}
	for key, inner := range k.Inside {
		keys[key] = described(w.entry(inner), inner.About)
	}
	for _, f := range commons {
		if entry && !k.Has(f.Key) {
			add(f)
		}
	}
	out := object{"type": "object", "properties": keys, "additionalProperties": false}
	if len(british) > 0 {
		out["patternProperties"] = british
	}
	if must := w.Required[k.Name]; len(must) > 0 {
		out["required"] = must
	}
	return out
}

// respelled is the pattern of the ways to write a word or a key with British
// parts; "" where it has none.
func (w *writer) respelled(word string) string {
	var out strings.Builder
	found := false
	for i, part := range strings.Split(word, "-") {
		if i > 0 {
			out.WriteString("-")
		}
		if other := w.British(part); len(other) > 0 {
			found = true
			fmt.Fprintf(&out, "(?:%s", part)
			for _, o := range other {
				out.WriteString("|")
				for _, c := range o {
					fmt.Fprintf(&out, "[%c%c]", c, c-'a'+'A')
				}
			}
			out.WriteString(")")
			continue
		}
		out.WriteString(part)
	}
	if !found {
		return ""
	}
	return "^" + out.String() + "$"
}

// Describe is the key's line of the reference.
func (f *Field) Describe() string {
	out := f.About
	switch plainWord := f.Type == Word && f.Many == One && !f.Size; {
	case out == "":
		out = f.Takes()
	case !plainWord && f.Type != Truth: // what these take, their schema says as shortly
		out += ": " + f.Takes()
	}
	if f.Default != "" {
		out += "; " + f.Default + " where it is left out"
	}
	if f.Private {
		out += " (private)"
	}
	if f.Recorded {
		out += " (recorded only)"
	}
	return out
}

func described(s object, text string) object {
	out := object{"description": text}
	for k, v := range s {
		out[k] = v
	}
	return out
}

// field is what a key takes.
func (w *writer) field(f *Field) object {
	switch f.Many {
	case List:
		list := object{"type": "array", "items": w.one(f.elem)}
		if f.Few {
			list["maxItems"] = MostFew
		}
		if f.Alone != "" {
			return object{"anyOf": []any{object{"const": f.Alone}, list}}
		}
		return list
	case Named:
		if f.Type == Hookup {
			return w.hookups(f)
		}
		out := object{"type": "object", "additionalProperties": w.one(f.elem)}
		if f.Keys != "" {
			out["propertyNames"] = w.names([]string{f.Keys})
		}
		return out
	}
	return w.one(f)
}

// one is one value of a key.
func (w *writer) one(f *Field) object {
	switch f.Type {
	case Quantity:
		return w.quantity(f, f.Dim)
	case Word:
		return w.word(f)
	case Truth:
		return object{"type": "boolean"}
	case Date:
		return w.def("date", func() object {
			return object{"type": "string", "format": "date", "pattern": "^[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$"}
		})
	case Ref:
		return w.ref(f)
	case Place:
		return w.def("place", func() object {
			return object{"anyOf": []any{w.names([]string{"part"}), w.table(f.Nested, false)}, "type": []any{"string", "object"}}
		})
	}
	return w.table(f.Nested, false)
}

// spoken is text with something to read in it.
func (w *writer) spoken() object {
	return w.def("words", func() object { return object{"type": "string", "pattern": q.Spoken} })
}

// word is a word: of a list that is closed, of one that may have others, or any.
func (w *writer) word(f *Field) object {
	switch {
	case len(f.OneOf) > 0:
		return w.oneOf(f)
	case f.Size:
		return w.def("size", func() object { // no pattern is tried on long text
			return object{"type": "string", "if": object{"maxLength": q.MaxText}, "then": object{"pattern": w.Size}}
		})
	case f.Words != "":
		return w.def("word."+strings.ReplaceAll(f.Words, " ", "-"), func() object {
			return object{"anyOf": []any{object{"enum": listed(w.Words[f.Words])}, w.spoken()}}
		})
	case f.Whole:
		return object{"anyOf": []any{object{"type": "integer"}, w.spoken()}}
	}
	return w.spoken()
}

func listed(words []string) []any {
	out := make([]any, len(words))
	for i, s := range words {
		out[i] = s
	}
	return out
}

func (w *writer) oneOf(f *Field) object {
	words := listed(f.OneOf)
	var other []any
	for _, s := range f.OneOf {
		if p := w.respelled(s); p != "" {
			other = append(other, object{"type": "string", "pattern": p})
		}
		if n, err := strconv.Atoi(s); f.Whole && err == nil {
			words = append(words, n)
		}
	}
	if len(other) == 0 {
		return object{"enum": words}
	}
	return object{"anyOf": append([]any{object{"enum": words}}, other...)}
}

// quantity is a quantity of a dimension: text, or a plain number where there is no
// unit. Its form and its units are told of apart, so that each is written once; no
// pattern is tried on text that is too long for a quantity.
func (w *writer) quantity(f *Field, dim q.Dim) object {
	sign, name := signOf(f, dim), strings.ReplaceAll(dim.String(), " ", "-")
	opt := q.Options{Exact: f.Exact, Position: !f.Exact && (f.Position || dim.Point)} // of a temperature too an estimate says its ±
	kind := ""
	if opt.Exact {
		kind += ".exact"
	}
	if opt.Position {
		kind += ".position"
	}
	kind += map[q.Sign]string{q.AboveZero: ".above-zero", q.NotNegative: ".not-negative"}[sign]
	text := w.def("quantity."+name+kind, func() object {
		form := w.def("form"+kind, func() object { return object{"pattern": q.FormPattern(opt, sign)} })
		units := w.def("units."+name, func() object {
			made := w.def("compound", compound)
			if single := q.UnitPattern(dim); single != "" {
				return object{"anyOf": []any{object{"pattern": single}, made}}
			}
			return made
		})
		return object{"type": "string", "if": object{"maxLength": q.MaxText}, "then": object{"allOf": []any{form, units}}, "else": false}
	})
	if dim != q.Ratio && dim != q.Any {
		return text
	}
	return object{"anyOf": []any{f.number(sign), text}}
}

// compound is a unit that is made of others.
func compound() object {
	joined, words, none := q.CompoundPatterns()
	return object{"allOf": []any{object{"pattern": joined}, object{"pattern": words}, object{"not": object{"pattern": none}}}}
}

// signOf is which numbers a key takes, as far as its text says it.
func signOf(f *Field, dim q.Dim) q.Sign {
	switch {
	case len(f.Choices) > 0, f.High > 0 && f.Low >= 0:
		return q.NotNegative
	case f.Signed, f.High > 0, dim == q.Temperature, dim == q.Angle, dim == q.Any:
		return q.Signed
	case f.AboveZero:
		return q.AboveZero
	}
	return q.NotNegative
}

// number is what a plain number may be.
func (f *Field) number(sign q.Sign) object {
	switch {
	case len(f.Choices) > 0:
		return object{"enum": f.Choices}
	case f.High > 0:
		return object{"type": "number", "minimum": f.Low, "maximum": f.High}
	case sign == q.AboveZero:
		return object{"type": "number", "exclusiveMinimum": 0}
	case sign == q.NotNegative:
		return object{"type": "number", "minimum": 0}
	}
	return object{"type": "number"}
}

// names is the name of an entry of some kinds; "any" is of any, or of a value of
// one.
func (w *writer) names(kinds []string) object {
	return w.def("name."+strings.Join(kinds, "."), func() object { return object{"type": "string", "pattern": w.namePattern(kinds, "")} })
}

func (w *writer) namePattern(kinds []string, pin string) string {
	id := strings.Trim(w.IDs, "^$")
	var single, many, more []string
	for _, k := range w.kinds {
		if slices.Contains(kinds, "any") || slices.ContainsFunc(kinds, func(s string) bool { return k.Name == s || strings.HasPrefix(k.Name, s+".") }) {
			name := strings.ReplaceAll(k.Name, ".", "\\.")
			switch {
			case k.Single:
				single = append(single, name)
			case k.Name == "plug" && pin != "":
				more = append(more, name+"\\."+id+pin)
			default:
				many = append(many, name)
			}
		}
	}
	value := ""
	if slices.Contains(kinds, "any") {
		value = "(?:\\..+)?"
	}
	if len(single) > 0 {
		more = append(more, "(?:"+strings.Join(single, "|")+")"+value)
	}
	if len(many) > 0 {
		more = append(more, "(?:"+strings.Join(many, "|")+")\\."+id+value)
	}
	return "^(?:" + strings.Join(more, "|") + ")$"
}

// ref is a reference, which may be free words instead, or name a pin.
func (w *writer) ref(f *Field) object {
	switch {
	case f.OrWords:
		return w.def("name-or-words."+strings.Join(f.Refs, "."), func() object {
			var all []string
			for _, k := range w.kinds {
				if !strings.Contains(k.Name, ".") {
					all = append(all, k.Name)
				}
			}
			kinds := w.def("names-something", func() object { return object{"pattern": "^(?:" + strings.Join(all, "|") + ")\\."} })
			return object{"type": "string", "anyOf": []any{w.names(f.Refs), object{"not": kinds}}}
		})
	case f.Pin:
		return w.def("pin."+strings.Join(f.Refs, "."), func() object {
			return object{"type": "string", "pattern": w.namePattern(f.Refs, ":.*"+q.Spoken+".*")}
		})
	}
	return w.names(f.Refs)
}

// hookups is a table of what a part needs or gives, by kind of hookup. A shop
// adds kinds of its own, which are of any dimension here.
func (w *writer) hookups(f *Field) object {
	name := "needs"
	if f.Level {
		name = "gives"
	}
	return w.def(name, func() object {
		known := object{}
		for kind, h := range w.Hookups {
			known[kind] = w.hookup(f, h.Dim, h.Compare, kind)
		}
		return object{"type": "object", "properties": known, "additionalProperties": w.hookup(f, q.Any, "", "of a shop's own kind")}
	})
}

// hookup is one of them: true, what is given, or how much is needed and from what.
// Without a way to compare, it may state its need in any.
func (w *writer) hookup(f *Field, dim q.Dim, compare, about string) object {
	if f.Level {
		return object{"anyOf": []any{object{"const": true}, w.quantity(f, dim)}, "description": about}
	}
	keys := object{}
	for _, m := range f.Nested.Fields {
		switch {
		case m.Type == Ref:
			keys[m.Key] = described(w.ref(m), m.About)
		case compare == "" || m.Measures == compare:
			keys[m.Key] = described(w.quantity(m, dim), m.About)
		}
	}
	return object{"anyOf": []any{object{"const": true}, object{"type": "object", "properties": keys, "additionalProperties": false}}, "description": about}
}

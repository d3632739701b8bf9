// Package schema is what a ledger may hold: kinds of entry, and the keys of
// each. The views of package ledger are reflected into it once, from the tags
// of their fields; whatever has to know a key asks here and not by its name.
package schema

import (
	"reflect"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
)

// Type is what the value of a key is.
type Type uint8

// The types of values.
const (
	Quantity Type = iota
	Word
	Truth
	Date
	Ref    // the name of another entry
	Place  // a table of distances, or the name of a part
	Hookup // what a part needs or gives of one kind of hookup
	Table  // a table with keys of its own, Field.Nested
)

// Many says how many values a key holds.
type Many uint8

// A key holds one value, a list, or a table of values by name.
const (
	One Many = iota
	List
	Named
)

// Use is how a build uses what a shop adds.
type Use uint8

// A build uses the id of a shop's entry as a hookup or as a word; a question is
// used where it is asked, and a rule where the build is judged by it.
const (
	NoUse Use = iota
	AsHookup
	AsWord
	AsQuestion
	AsRule
)

// Kind is a kind of entry: what is known of it beside its keys is given where it
// is listed, its keys are reflected from its view.
type Kind struct {
	Name   string // "part"; "vehicle.front" of one that stands inside another's table
	Called string // what people call one: "part", "seat belt"
	Plural string // "parts", "seat belts"
	About  string // what it is for, in a line
	View   reflect.Type
	// System is the system of the vehicle that its entries belong to where none says
	// another; "" where they go by what they say or name.
	System string

	Single    bool // there is one, and it has no id
	ShopOnly  bool // it stands in a shop's file and nowhere else
	Shared    bool // it may stand in a shop's file too, for builds to name
	Private   bool // all of it is left out of what is public
	OfVehicle bool // all of it is about this very vehicle; a copy of the build must not inherit it
	Undigest  bool // no part of what is signed
	IfUsed    Use  // of a shop's: part of what is signed only where a build uses its id so
	Bare      bool // says nothing by being there

	Within string // of a table in an entry: its key
	Fields []*Field
	Inside map[string]*Kind // kinds that stand in its table, by key: front and rear of vehicle
	Like   *Field           // names another of the kind, from which it takes what it does not say

	keys  []string
	byKey map[string]*Field
}

// MostFew is how many values a list may have that is held against other lists,
// such as the fuels that each wetted part must stand. No vehicle comes near it;
// that it suffices is practice, without a source.
const MostFew = 16

// LimitsTable is the table of a shop's own limits. It is no kind of entry: its keys
// are the names of rules.
const LimitsTable = "limits"

// Field is what is known of one key.
type Field struct {
	Key     string
	Path    string // with the key of the table that it is in: "made.material"
	About   string // what it is, in words
	Type    Type
	Many    Many
	Index   int // of the field in the view
	Nested  *Kind
	Default string // what absence means, where it means something
	Was     string // what the key was called before

	// A quantity.
	Dim   q.Dim
	Exact bool // a rating, a limit or a count, which has no tolerance
	Limits
	Position bool     // a distance from a line, to either side
	Lever    *q.Lever // a shop can change it to make a check pass, and how far

	// A word.
	OneOf  []string
	Words  string // the list of known words that it is from
	Size   bool   // a conductor size
	Color  bool
	Whole  bool   // it may be written as a whole number
	Alone  string // of a list: the one word that may stand in its place
	Free   bool   // sentences for people: a name in it is no reference
	Called bool   // what people call the entry
	Sum    bool   // a digest, which nobody looks for by sight

	// A reference.
	Refs    []string // the kinds that it may name; "any" for all
	OrWords bool     // it may be free words instead
	Pin     bool     // it names a pin of a plug
	Keys    string   // of a table: the kind whose entries its keys name
	Between bool     // one of the two things that the entry goes between

	// What it is to others.
	Private    bool // left out of what is public
	Public     Publicity
	Customer   bool // commercial, and still the customer's to see
	Commercial bool // what was paid and to whom: no part of what is signed
	Recorded   bool // no check reads it
	OfVehicle  bool // of this very vehicle: a copy of the build must not inherit it
	Undigest   bool // no part of what is signed for another reason
	Few        bool // a list that is held against other lists: MostFew at most
	Ends       bool // the last day on which something holds
	Past       bool // the day of what has happened, and none to come
	Level      bool // of hookups: what is given, and not what is needed
	Unless     string
	Else       string // of a place: the key that it is the same as where it is left out
	Measures   string // of a need: how the hookups are compared whose need it states
	Moves      Moved
	Format     bool // read where files are read, before there is an entry

	elem *Field // of a list or a table of values: one of them
}

// Publicity is whether what a key says may be made public.
type Publicity uint8

// A key is public where its tag says so: never, where its entry was chosen by
// public = true, or in any case.
const (
	PublicNever Publicity = iota
	PublicChosen
	PublicAlways
)

// Moved is the part that a key has in what was read between two things, one of
// which may move.
type Moved string

// The parts that a key may have in a reading between two things.
const (
	MovedNot    Moved = ""
	MovedEnd    Moved = "end"     // one of the two things
	MovedRead   Moved = "reading" // what was read
	MovedBefore Moved = "before"  // it was read before the move, and is reckoned along
	MovedDate   Moved = "date"    // when it was read
	MovedAlong  Moved = "along"   // which way it runs from one to the other
)

// Field finds a key of the kind, or one that any entry may have; nil where there
// is none of that name.
func (k *Kind) Field(key string) *Field {
	if f := k.byKey[key]; f != nil {
		return f
	}
	return Common(key)
}

// OfType is the first of the kind's own keys of a type; nil where there is none.
func (k *Kind) OfType(t Type) *Field {
	for _, f := range k.Fields {
		if f.Type == t {
			return f
		}
	}
	return nil
}

// Has tells whether a key is one of the kind's own.
func (k *Kind) Has(key string) bool { return k.byKey[key] != nil }

// Keys are the kind's own keys, in their order.
func (k *Kind) Keys() []string { return slices.Clone(k.keys) }

// Renamed is the key that an older one is called now, or "".
func (k *Kind) Renamed(key string) string {
	for _, f := range k.Fields {
		if f.Was == key {
			return f.Key
		}
	}
	return ""
}

// Home is the file that entries of the kind stand in: "shop.toml", "a build",
// or "a build or shop.toml".
func (k *Kind) Home() string {
	switch {
	case k.ShopOnly:
		return "shop.toml"
	case k.Shared:
		return "a build or shop.toml"
	}
	return "a build"
}

// Header is how the kind's table is headed: "vehicle", "part.ID".
func (k *Kind) Header() string {
	if k.Single {
		return k.Name
	}
	return k.Name + ".ID"
}

// The keys that any entry may have.
var (
	Note   = &Field{Key: "note", Type: Word, Free: true, Public: PublicChosen, About: "in free words, which no rule reads"}
	System = &Field{Key: "system", Type: Word, Words: "system", About: "the system of the vehicle that it belongs to, such as cooling; a default follows from what it is"}
	Public = &Field{Key: "public", Type: Truth, Default: "false", Undigest: true, About: "what is chosen of it may be made public"}
)

// commons are the keys that any entry may have.
var commons = []*Field{Note, System, Public}

// Common is the key of a name that any entry may have; nil for another.
func Common(key string) *Field {
	for _, f := range commons {
		if f.Key == key {
			return f
		}
	}
	return nil
}

// Below is the field of a value one level down: of a list's or a table's value
// by its place or name, of a table's key by its key. A nil field has none.
func (f *Field) Below(key string) *Field {
	switch {
	case f == nil:
		return nil
	case f.elem != nil:
		return f.elem
	case f.Nested != nil:
		return f.Nested.byKey[key]
	}
	return f
}

// At finds the field of a value by its key, such as "mass", "at.behind" or
// "pins.4.color"; nil where there is none.
func (k *Kind) At(key string) *Field {
	top, rest, below := strings.Cut(key, ".")
	f := k.Field(top)
	for below && f != nil {
		if f.elem != nil && f.elem.Nested == nil { // names may have dots of their own
			return f.elem
		}
		top, rest, below = strings.Cut(rest, ".")
		f = f.Below(top)
	}
	return f
}

// Inner finds a key, or one of a table in it, by its name in the schema: "mass",
// "made.by"; nil where there is none.
func (k *Kind) Inner(name string) *Field {
	top, rest, below := strings.Cut(name, ".")
	f := k.byKey[top]
	for ; f != nil && below; f = f.Nested.byKey[top] {
		if f.Nested == nil {
			return nil
		}
		top, rest, below = strings.Cut(rest, ".")
	}
	return f
}

// TakesQuantity tells whether the key's values are quantities.
func (f *Field) TakesQuantity() bool { return f.Type == Quantity || f.Type == Hookup }

// Picked tells that the word is one of a list, or a color, which are compared.
func (f *Field) Picked() bool { return len(f.OneOf) > 0 || f.Words != "" || f.Color }

// Publicity is whether what the key says may be made public; what no field is known
// of may not.
func (f *Field) Publicity() Publicity {
	if f == nil || f.Private {
		return PublicNever
	}
	return f.Public
}

// Digested tells whether the key is part of what is signed.
func (f *Field) Digested() bool { return !f.Commercial && !f.Undigest }

package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strings"

	q "fishplate/ledger/quantity"
)

// field is what the schema knows of one key.
type field struct {
	key        string
	path       string // "made.material"
	index      int
	typ        reflect.Type
	dim        q.Dim
	refs       []string
	oneof      []string
	deflt      string
	about      string
	exact      bool
	lever      bool
	words      bool
	size       bool
	pin        bool
	was        string
	known      string // the list of known words that the word is from
	color      bool
	ends       bool // the last day on which something holds
	commercial bool
	nested     *schema // of a struct, or of a map's or slice's struct

	private bool
	limits
}

func (f *field) takesQuantity() bool {
	t := f.typ
	for t.Kind() == reflect.Map || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	return t == typeQuantity
}

// schema is what a kind of entry may hold.
type schema struct {
	name   string
	single bool
	shop   bool // it may only stand in a shop's file
	typ    reflect.Type
	fields []*field
	byKey  map[string]*field
	keys   []string
}

var kinds, kindOf = reflectKinds()

// kindNames are all kinds, sorted.
var kindNames = func() []string {
	var out []string
	for name := range kinds {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}()

func isKind(word string) bool { return kinds[word] != nil }

// shared are the kinds that a shop's file may hold for builds to take: those
// that keys of a build name.
var shared = func() map[string]bool {
	out := map[string]bool{"part": true, "assembly": true, "tank": true} // named by places, hookups and levels
	var note func(s *schema)
	note = func(s *schema) {
		for _, f := range s.fields {
			for _, kind := range f.refs {
				out[kind] = true
			}
			if f.nested != nil {
				note(f.nested)
			}
		}
	}
	for _, s := range kinds {
		note(s)
	}
	return out
}()

func reflectKinds() (map[string]*schema, map[reflect.Type]*schema) {
	byName, byType := map[string]*schema{}, map[reflect.Type]*schema{}
	add := func(name string, single bool, view any) {
		t := reflect.TypeOf(view)
		s := reflectSchema(name, t, "")
		s.single = single
		s.shop = name == "shop" || name == "hookup" || name == "word"
		byName[name] = s
		if byType[t] == nil {
			byType[t] = s
		}
	}
	for name, view := range map[string]any{
		"build": BuildInfo{}, "owner": Owner{}, "vehicle": Vehicle{}, "engine": Engine{}, "supply": Supply{}, "fuel": Fuel{},
		"transmission": Transmission{}, "transfer": Transfer{}, "tachometer": Tachometer{}, "speedometer": Speedometer{},
		"cooling": Cooling{}, "intake": Intake{}, "exhaust": Exhaust{}, "brakes": Brakes{}, "trailer": Trailer{}, "shop": ShopInfo{},
	} {
		add(name, true, view)
	}
	add("engine-was", true, Engine{})
	byType[reflect.TypeFor[Engine]()] = byName["engine"]
	add("vehicle.front", true, Axle{})
	add("vehicle.rear", true, Axle{})
	for name, view := range map[string]any{
		"weighing": Weighing{}, "donor": Donor{}, "part": Part{}, "assembly": Assembly{}, "load": Load{}, "tank": Tank{}, "tire": Tire{}, "wheel": Wheel{},
		"gap": Gap{}, "zone": Zone{}, "circuit": Circuit{}, "relay": Relay{}, "hose": Hose{}, "wetted": Wetted{}, "answer": Answer{}, "work": Work{},
		"document": Document{}, "waiver": Waiver{}, "signature": Signature{}, "shaft": Shaft{}, "radiator": Radiator{}, "loop": Loop{}, "test": Test{},
		"lamp": Lamp{}, "seat-belt": SeatBelt{}, "mirror": Mirror{}, "emission": Emission{}, "plug": Plug{}, "splice": Splice{}, "hookup": HookupKind{}, "word": OwnWord{},
		"decision": Decision{}, "faq": Faq{}, "instruction": Instruction{}, "visit": Visit{},
	} {
		add(name, false, view)
	}
	return byName, byType
}

func reflectSchema(name string, t reflect.Type, prefix string) *schema {
	s := &schema{name: name, typ: t, byKey: map[string]*field{}}
	for i := range t.NumField() {
		sf := t.Field(i)
		key := sf.Tag.Get("key")
		if key == "" {
			continue
		}
		f := &field{key: key, path: prefix + key, index: i, typ: sf.Type, about: sf.Tag.Get("about"), deflt: sf.Tag.Get("default"), limits: readLimits(sf.Tag)}
		f.dim = q.Ratio
		if d := sf.Tag.Get("dim"); d != "" {
			var ok bool
			if f.dim, ok = q.DimNamed(d); !ok {
				panic(fmt.Sprintf("%s.%s: no dimension %q", name, key, d))
			}
		}
		has := func(tag string) bool { _, ok := sf.Tag.Lookup(tag); return ok }
		f.exact, f.lever, f.words, f.size, f.private = has("exact"), has("lever"), has("words"), has("size"), has("private")
		f.pin, f.was, f.known, f.color = has("pin"), sf.Tag.Get("was"), sf.Tag.Get("known"), has("color")
		f.ends, f.commercial = has("ends"), has("commercial")
		if v := sf.Tag.Get("oneof"); v != "" {
			f.oneof = strings.Split(v, ",")
		}
		if v := sf.Tag.Get("ref"); v != "" {
			f.refs = strings.Split(v, ",")
		}
		elem := sf.Type
		for elem.Kind() == reflect.Map || elem.Kind() == reflect.Slice {
			elem = elem.Elem()
		}
		if elem.Kind() == reflect.Struct && !slices.Contains([]reflect.Type{typeQuantity, typeWord, typeTruth, typeDate, typeRef, typeSpot, typeHookup}, elem) {
			f.nested = reflectSchema(name+"."+key, elem, "")
		}
		s.fields = append(s.fields, f)
		s.byKey[key] = f
		s.keys = append(s.keys, key)
	}
	return s
}

// field finds the field that holds key below prefix ("made." or "pins.1.").
func (s *schema) field(prefix, key string) *field {
	if prefix == "" {
		return s.byKey[key]
	}
	parts := strings.Split(strings.TrimSuffix(prefix, "."), ".")
	f := s.byKey[parts[0]]
	if f == nil {
		return nil
	}
	switch {
	case f.nested != nil && f.typ.Kind() == reflect.Struct:
		return f.nested.byKey[key]
	case f.nested != nil && len(parts) > 1:
		return f.nested.byKey[key]
	case f.typ == typeSpot:
		if slices.Contains(spotKeys, key) && key != "from" {
			return &field{key: key, typ: typeQuantity, dim: q.Length}
		}
		return nil
	case f.typ.Kind() == reflect.Map && f.typ.Elem() == typeHookup:
		if key == "from" {
			return nil
		}
		return &field{key: key, typ: typeQuantity, dim: q.Any}
	}
	return f
}

// KeyDoc describes one key, for help and for the commented entries of a new
// build.
type KeyDoc struct {
	Key, Takes, About string
	Default           string // what absence means, where it means something
	Private           bool
}

// Keys describes the keys of a kind of entry, in their order.
func Keys(kind string) []KeyDoc {
	s := kinds[kind]
	if s == nil {
		return nil
	}
	var out []KeyDoc
	for _, f := range s.fields {
		out = append(out, KeyDoc{Key: f.key, Takes: f.takes(), About: f.about, Default: f.deflt, Private: f.private})
	}
	return out
}

// Measured is the dimension of a value that a person measures, by its path
// ("gap.x.measured"); false of words, counts, and what is read off a label.
func Measured(path string) (q.Dim, bool) {
	kind, key, _ := strings.Cut(path, ".")
	if axle, rest, ok := strings.Cut(key, "."); ok && kind == "vehicle" && isAxle(axle) {
		kind, key = kind+"."+axle, rest
	} else if s := kinds[kind]; s != nil && !s.single {
		_, key, _ = strings.Cut(key, ".")
	}
	s := kinds[kind]
	if s == nil {
		return q.Dim{}, false
	}
	prefix := ""
	if dot := strings.LastIndexByte(key, '.'); dot >= 0 {
		prefix, key = key[:dot+1], key[dot+1:]
	}
	f := s.field(prefix, key)
	if f == nil || f.exact || !f.takesQuantity() || f.dim == q.Ratio || f.dim == q.Any || f.dim.Money != 0 {
		return q.Dim{}, false
	}
	return f.dim, true
}

// KindNames lists the kinds of entry, sorted.
func KindNames() []string { return slices.Clone(kindNames) }

// Single tells whether the kind has one entry and no ids.
func Single(kind string) bool { return kinds[kind] != nil && kinds[kind].single }

func (f *field) takes() string {
	t := f.typ
	many := ""
	for t.Kind() == reflect.Map || t.Kind() == reflect.Slice {
		if t.Kind() == reflect.Slice {
			many = "a list: "
		} else {
			many = "a table: "
		}
		t = t.Elem()
	}
	switch t {
	case typeQuantity:
		return many + f.takesNumber()
	case typeWord:
		if len(f.oneof) > 0 {
			return many + "one of " + list(f.oneof)
		}
		if f.size {
			return many + "a conductor size, such as 12 AWG or 3 mm2"
		}
		return many + "words"
	case typeTruth:
		return "true or false"
	case typeDate:
		return "a date, such as 2026-03-01"
	case typeRef:
		return many + refExample(f.refs)
	case typeSpot:
		return `a place: { behind = "4 1/2 in", right = "0 in", above = "34 in" }, or the part it is at`
	case typeHookup:
		return "a table of hookups"
	}
	return many + "a table with " + list(f.nested.keys)
}

func refExample(refs []string) string {
	if len(refs) == 1 && refs[0] == "any" {
		return "the name of an entry, such as part.engine"
	}
	names := make([]string, len(refs))
	for i, r := range refs {
		names[i] = r + ".x"
	}
	return "the name of an entry: " + list(names)
}

// list joins words as a sentence does.
func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// slips are words that people write for a key that has another.
var slips = map[string]string{
	"weight": "mass", "location": "at", "position": "at", "place": "at", "qty": "count", "quantity": "count",
	"size": "gauge", "wire": "gauge", "awg": "gauge", "amps": "load", "current": "load", "watts": "power", "volts": "voltage",
	"gvwr": "gross-rating", "gawr": "rating", "gcwr": "combined-rating", "mileage": "odometer", "miles": "odometer",
	"source": "from", "destination": "to", "distance": "measured", "clearance": "measured", "description": "name",
	"back": "behind", "x": "behind", "y": "right", "up": "above", "z": "above",
}

func didYouMean(word string, known []string) string {
	if meant := slips[strings.ToLower(word)]; slices.Contains(known, meant) {
		return fmt.Sprintf("; did you mean %q?", meant)
	}
	if near := q.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}

// renamed is the key that an older one is called now, or "".
func (s *schema) renamed(key string) string {
	for _, f := range s.fields {
		if f.was == key {
			return f.key
		}
	}
	return ""
}

func isAxle(key string) bool { return key == "front" || key == "rear" }

// noteField is the note that any entry may have, in free words.
var noteField = &field{key: "note", typ: typeWord, about: "in free words, which no rule reads"}

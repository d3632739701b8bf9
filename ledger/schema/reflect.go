package schema

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
)

// Typed is what the types of package ledger say of themselves.
type Typed interface{ SchemaType() Type }

var types = map[reflect.Type]Type{
	reflect.TypeFor[q.Quantity](): Quantity,
	reflect.TypeFor[q.Word]():     Word,
	reflect.TypeFor[q.Truth]():    Truth,
}

func (k *Kind) add(f *Field) {
	k.Fields = append(k.Fields, f)
	k.byKey[f.Key] = f
	k.keys = append(k.keys, f.Key)
}

// New is the schema of some kinds, each with the keys of its view.
func New(list []Kind) []*Kind {
	var out []*Kind
	byName := map[string]*Kind{}
	for _, k := range list {
		k.reflect(k.View)
		for _, f := range k.Fields {
			f.Private = f.Private || k.Private
			f.OfVehicle = f.OfVehicle || k.OfVehicle
		}
		out = append(out, &k)
		byName[k.Name] = &k
	}
	slices.SortFunc(out, func(a, b *Kind) int { return strings.Compare(a.Name, b.Name) })
	for _, k := range out {
		if outer, key, ok := strings.Cut(k.Name, "."); ok {
			if byName[outer].Inside == nil {
				byName[outer].Inside = map[string]*Kind{}
			}
			byName[outer].Inside[key] = k
		}
		k.names(byName)
	}
	return out
}

// names notes that the kinds which the keys of a kind name may stand in a
// shop's file, for builds to name them.
func (k *Kind) names(byName map[string]*Kind) {
	for _, f := range k.Fields {
		for _, kind := range append(slices.Clone(f.Refs), f.Keys) {
			if to := byName[kind]; to != nil && !to.ShopOnly {
				to.Shared = true
			}
		}
		if f.Nested != nil {
			f.Nested.names(byName)
		}
	}
}

// reflect reads the tags of a view.
func (k *Kind) reflect(t reflect.Type) {
	k.byKey, k.View = map[string]*Field{}, t
	for i := range t.NumField() {
		sf := t.Field(i)
		tags := tagsOf(sf)
		if tags["key"] == "" {
			continue
		}
		f := fieldOf(k.Name, sf, tags)
		f.Index = i
		k.add(f)
		if _, ok := tags["like"]; ok {
			k.Like = f
		}
	}
}

// tagsOf reads the tags of a field once, for forty are asked for at every start.
// They are written as reflect.StructTag says, to which go vet holds them.
func tagsOf(sf reflect.StructField) map[string]string {
	tags := map[string]string{}
	for rest := strings.TrimSpace(string(sf.Tag)); rest != ""; rest = strings.TrimSpace(rest) {
		name, after, _ := strings.Cut(rest, ":")
		quoted, err := strconv.QuotedPrefix(after)
		if err != nil {
			panic(fmt.Sprintf("%s: the tag %s: %v", sf.Name, name, err))
		}
		tags[name], _ = strconv.Unquote(quoted)
		rest = after[len(quoted):]
	}
	return tags
}

// fieldOf reads one field of a view.
func fieldOf(kind string, sf reflect.StructField, tags map[string]string) *Field {
	get := func(tag string) string { return tags[tag] }
	has := func(tag string) bool { _, ok := tags[tag]; return ok }
	list := func(tag string) []string {
		if v := get(tag); v != "" {
			return strings.Split(v, ",")
		}
		return nil
	}
	f := &Field{
		Key: get("key"), Path: get("key"), About: get("about"), Default: get("default"), Was: get("was"),
		Dim: q.Ratio, Exact: has("exact"), Limits: readLimits(tags),
		OneOf: list("oneof"), Words: get("known"), Size: has("size"), Color: has("color"), Whole: has("whole"), Alone: get("alone"), Free: has("free"), Called: has("called"), Sum: has("sum"), Few: has("few"),
		Refs: list("ref"), OrWords: has("words"), Pin: has("pin"), Keys: get("names"), Between: has("between"),
		Private: has("private"), Customer: has("customer"), Commercial: has("commercial"), OfVehicle: has("of-this-vehicle"), Undigest: has("undigested"),
		Ends: has("ends"), Past: has("past"), Level: has("level"), Unless: get("unless"), Else: get("else"), Measures: get("measures"), Moves: Moved(get("moves")), Format: has("format"),
	}
	switch public, ok := tags["public"]; {
	case ok && public == "chosen":
		f.Public = PublicChosen
	case ok:
		f.Public = PublicAlways
	}
	t := sf.Type
	f.Many, t = elementOf(t)
	f.settle(kind, t)
	if d := get("dim"); d != "" {
		var ok bool
		if f.Dim, ok = q.DimNamed(d); !ok {
			panic(fmt.Sprintf("%s.%s: no dimension %q", kind, f.Key, d))
		}
	}
	if lever, ok := tags["lever"]; ok {
		f.Lever = f.readLever(lever)
	}
	if f.Type == Place {
		f.Nested.distances(f.Lever)
	}
	if f.Many != One {
		elem := *f
		elem.Many = One
		f.elem = &elem
	}
	return f
}

// distances makes positions of the quantities of a place, which a shop may be
// able to change.
func (k *Kind) distances(lever *q.Lever) {
	for _, f := range k.Fields {
		if f.Type == Quantity {
			f.Position, f.Lever = true, lever
		}
	}
}

// elementOf is how many values of which type there are.
func elementOf(t reflect.Type) (Many, reflect.Type) {
	switch t.Kind() {
	case reflect.Slice:
		return List, t.Elem()
	case reflect.Map:
		return Named, t.Elem()
	}
	return One, t
}

// settle finds the type of the field, and what follows from it.
func (f *Field) settle(kind string, t reflect.Type) {
	known, ok := types[t]
	if typed, is := reflect.Zero(t).Interface().(Typed); is {
		known, ok = typed.SchemaType(), true
	}
	if !ok {
		known = Table
		f.nest(kind+"."+f.Key, t)
	}
	f.Type = known
	switch known {
	case Place:
		f.Dim = q.Length
		f.nest("place", t)
	case Hookup:
		f.Dim = q.Any
		f.nest("need", t)
	case Date: // what happened to one vehicle did not happen to its copy
		f.OfVehicle = f.OfVehicle || !f.Ends
	}
}

// nest reads the keys of the table that the field is.
func (f *Field) nest(name string, t reflect.Type) {
	f.Nested = &Kind{Name: name, Within: f.Key}
	f.Nested.reflect(t)
	for _, below := range f.Nested.Fields {
		below.Path = f.Key + "." + below.Key
	}
}

// readLever reads how far a lever may go: as shares of its value ("0.5 to 3"),
// or anywhere, as a position may.
func (f *Field) readLever(text string) *q.Lever {
	l := &q.Lever{Least: 0, Most: 3, Position: f.Type == Place || text == "position"}
	if low, high, ok := strings.Cut(text, " to "); ok {
		l.Least, l.Most = number(low), number(high)
	}
	return l
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("schema: " + err.Error())
	}
	return v
}

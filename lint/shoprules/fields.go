package shoprules

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// fields are the keys that an expression may read of an entry, or of a table in one.
type fields struct {
	name  string // as messages call it
	typ   *cel.Type
	kind  *schema.Kind // of an entry
	names []string
	of    map[string]*field
	kept  map[string]string // keys that no expression may read, and why
}

// field is one key of them.
type field struct {
	typ   *cel.Type
	shape *shape
	get   func(entry) ref.Val
	given func(entry) quantity.Truth // whether it is written
}

// spelled is a key, or a kind, as an expression writes it: the language takes a
// hyphen for a minus.
func spelled(key string) string { return strings.ReplaceAll(key, "-", "_") }

// tables are the fields of every kind of entry and table, by the name of the type.
// They are laid out when the first rule is met.
var tables = sync.OnceValue(func() map[string]*fields {
	l := layout{}
	for _, k := range ledger.Judged() {
		l[typeName(k.Name)] = newFields(k.Name, k)
	}
	for _, k := range ledger.Judged() {
		f := l[typeName(k.Name)]
		l.keys(f, k)
		for _, key := range slices.Sorted(maps.Keys(k.Inside)) {
			inner := k.Inside[key]
			to := l[typeName(inner.Name)]
			f.add(spelled(key), &field{to.typ, &shape{sort: anEntry, of: to},
				func(e entry) ref.Val { return e.run.entry(to, e.run.b.Views(inner)[0]) },
				func(e entry) quantity.Truth { return written(e.run.b.Views(inner)[0]) }})
		}
	}
	return l
})

func typeName(kind string) string { return "@" + kind }

// fieldsOf are those of a kind of entry.
func fieldsOf(k *schema.Kind) *fields { return tables()[typeName(k.Name)] }

type layout map[string]*fields

func newFields(name string, k *schema.Kind) *fields {
	return &fields{name: name, kind: k, typ: cel.ObjectType(typeName(name)), of: map[string]*field{}, kept: map[string]string{}}
}

func (f *fields) add(name string, to *field) {
	f.of[name] = to
	f.names = append(f.names, name)
}

// keys lays out the keys of a kind.
func (l layout) keys(f *fields, k *schema.Kind) {
	for _, s := range k.Fields {
		switch {
		case s.Private || s.Commercial:
			f.kept[spelled(s.Key)] = "it is private, or was paid, and no report may show it"
		default:
			f.add(spelled(s.Key), l.field(k, s))
		}
	}
}

// field lays out one key.
func (l layout) field(k *schema.Kind, s *schema.Field) *field {
	at := func(e entry) reflect.Value { return e.view.Field(s.Index) }
	typ, sh, one := l.one(k, s)
	if s.Many == schema.One {
		if s.Type == schema.Place {
			one = located(l.place(), s.Else)
		}
		return &field{typ, sh, func(e entry) ref.Val { return one(e, at(e)) }, func(e entry) quantity.Truth { return given(at(e), e) }}
	}
	if s.Many == schema.Named {
		typ, sh, one = l.named(k, s, typ, sh, one)
	}
	return &field{cel.ListType(typ), &shape{sort: aList, elem: sh},
		func(e entry) ref.Val {
			v := at(e)
			if v.IsNil() {
				return e.run.lacks(lacking(e, s.Key))
			}
			return e.run.list(e, v, one)
		},
		func(e entry) quantity.Truth {
			if v := at(e); !v.IsNil() {
				return quantity.Is(true)
			}
			return damagedOr(e, false)
		}}
}

type reading func(e entry, v reflect.Value) ref.Val

// one lays out one value of a key.
func (l layout) one(k *schema.Kind, s *schema.Field) (*cel.Type, *shape, reading) {
	switch s.Type {
	case schema.Quantity:
		return amountType, amountOf(s.Dim), func(e entry, v reflect.Value) ref.Val {
			return amount{run: e.run, q: v.Interface().(quantity.Quantity)}
		}
	case schema.Word:
		return cel.StringType, &shape{sort: aText, words: s}, func(e entry, v reflect.Value) ref.Val { return e.run.word(v.Interface().(quantity.Word)) }
	case schema.Date:
		return cel.StringType, &shape{sort: aText}, func(e entry, v reflect.Value) ref.Val { return e.run.word(v.Interface().(ledger.Date).Word) }
	case schema.Truth:
		return cel.BoolType, &shape{sort: aTruth}, func(e entry, v reflect.Value) ref.Val { return e.run.truth(v.Interface().(quantity.Truth)) }
	case schema.Ref:
		if to := l[typeName(s.Refs[0])]; to != nil && len(s.Refs) == 1 && !s.OrWords && !s.Pin {
			return to.typ, &shape{sort: anEntry, of: to}, func(e entry, v reflect.Value) ref.Val {
				return e.run.entry(to, e.run.b.Named(v.Interface().(ledger.Ref), to.kind))
			}
		}
		return cel.StringType, &shape{sort: aText}, func(e entry, v reflect.Value) ref.Val { return e.run.word(v.Interface().(ledger.Ref).Word) }
	case schema.Place:
		to := l.place()
		return to.typ, &shape{sort: anEntry, of: to}, located(to, "")
	case schema.Hookup:
		to := l.hookup()
		return to.typ, &shape{sort: anEntry, of: to}, inside(to)
	}
	to := l.table(k.Name+"."+s.Key, s.Nested)
	return to.typ, &shape{sort: anEntry, of: to}, inside(to)
}

// inside reads a table in an entry.
func inside(to *fields) reading {
	return func(e entry, v reflect.Value) ref.Val {
		return entry{run: e.run, of: to, path: e.path, key: e.key, view: v}
	}
}

func (l layout) table(name string, k *schema.Kind) *fields {
	f := l[typeName(name)]
	if f == nil {
		f = newFields(name, k)
		l[typeName(name)] = f
		l.keys(f, k)
	}
	return f
}

// named lays out a table of values by name as a list of them, in the order of the
// names: each has its name as key, and one that is no table its value.
func (l layout) named(k *schema.Kind, s *schema.Field, typ *cel.Type, sh *shape, one reading) (*cel.Type, *shape, reading) {
	key := &field{cel.StringType, &shape{sort: aText}, func(e entry) ref.Val { return types.String(e.key) }, func(entry) quantity.Truth { return quantity.Is(true) }}
	if sh.sort == anEntry {
		if sh.of.of["key"] == nil {
			sh.of.add("key", key)
		}
		return typ, sh, one
	}
	f := newFields(k.Name+"."+s.Key, nil)
	l[typeName(f.name)] = f
	f.add("key", key)
	f.add("value", &field{typ, sh, func(e entry) ref.Val { return one(e, e.view) }, func(e entry) quantity.Truth { return given(e.view, e) }})
	return f.typ, &shape{sort: anEntry, of: f}, inside(f)
}

// list reads a list, or a table of values by name in the order of the names.
func (r *run) list(e entry, v reflect.Value, one reading) ref.Val {
	var out []ref.Val
	if v.Kind() == reflect.Map {
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, k := range keys {
			in := e
			in.key = k.String()
			out = append(out, one(in, v.MapIndex(k)))
		}
		return types.NewRefValList(adapter{}, out)
	}
	for i := range v.Len() {
		out = append(out, one(e, v.Index(i)))
	}
	return types.NewRefValList(adapter{}, out)
}

// place is a place as expressions read it: in the vehicle, whatever it is written from.
func (l layout) place() *fields {
	return l.measured("place", quantity.Length, map[string]func(entry) quantity.Quantity{
		"behind": func(e entry) quantity.Quantity { return e.view.Interface().(ledger.Point).X },
		"right":  func(e entry) quantity.Quantity { return e.view.Interface().(ledger.Point).Y },
		"above":  func(e entry) quantity.Quantity { return e.view.Interface().(ledger.Point).Z },
	})
}

// measured lays out, once, a table of quantities that is no kind of its own.
func (l layout) measured(name string, dim quantity.Dim, of map[string]func(entry) quantity.Quantity) *fields {
	if f := l[typeName(name)]; f != nil {
		return f
	}
	f := newFields(name, nil)
	l[typeName(name)] = f
	for _, key := range slices.Sorted(maps.Keys(of)) {
		at := of[key]
		f.add(key, &field{amountType, amountOf(dim), func(e entry) ref.Val { return amount{run: e.run, q: at(e)} }, func(e entry) quantity.Truth { return at(e).Given() }})
	}
	return f
}

// located reads a place now; one that is left out is where the other key says.
func located(to *fields, otherwise string) reading {
	return func(e entry, v reflect.Value) ref.Val {
		spot := v.Interface().(ledger.Spot)
		if otherwise != "" && !spot.Known() {
			for i := range e.view.NumField() {
				if e.view.Type().Field(i).Tag.Get("key") == otherwise {
					spot = e.view.Field(i).Interface().(ledger.Spot)
				}
			}
		}
		return entry{run: e.run, of: to, path: e.path, view: reflect.ValueOf(e.run.b.Now(spot))}
	}
}

// hookup is what a part needs or gives of one kind.
func (l layout) hookup() *fields {
	of := func(e entry) ledger.Hookup { return e.view.Interface().(ledger.Hookup) }
	f := l.measured("hookup", quantity.Any, map[string]func(entry) quantity.Quantity{
		"least":   func(e entry) quantity.Quantity { return of(e).Least },
		"exactly": func(e entry) quantity.Quantity { return of(e).Exactly },
		"takes":   func(e entry) quantity.Quantity { return of(e).Takes },
		"level":   func(e entry) quantity.Quantity { return of(e).Level },
	})
	if f.of["from"] == nil {
		f.add("from", &field{cel.StringType, &shape{sort: aText}, func(e entry) ref.Val { return e.run.word(of(e).From.Word) }, func(e entry) quantity.Truth { return of(e).From.Given() }})
	}
	return f
}

// given tells whether a key is written: of a faulty entry what is not may only be
// hidden, and then that is open.
func given(v reflect.Value, e entry) quantity.Truth {
	is := true
	switch x := v.Interface().(type) {
	case quantity.Quantity:
		is = x.Known()
	case quantity.Word:
		is = x.Given().Holds()
	case quantity.Truth:
		is = x.Known()
	case ledger.Date:
		is = x.Given().Holds()
	case ledger.Ref:
		is = x.Given().Holds()
	case ledger.Spot:
		is = x.Known()
	}
	return damagedOr(e, is)
}

func damagedOr(e entry, is bool) quantity.Truth {
	if h, ok := e.view.Interface().(interface{ Damaged() bool }); ok && !is && h.Damaged() {
		return quantity.Unknown(lacking(e, ""))
	}
	return quantity.Is(is)
}

// written tells whether an entry is in the ledger.
func written(view any) quantity.Truth {
	return view.(interface{ Written() quantity.Truth }).Written()
}

// lacking is what a list waits for that an entry does not say.
func lacking(e entry, key string) []quantity.Need {
	if h, ok := e.view.Interface().(interface {
		Words([]quantity.Word, string) []quantity.Word
	}); ok {
		return h.Words(nil, key)[0].Needs()
	}
	return []quantity.Need{{Key: fmt.Sprintf("%s.%s", e.path, key)}}
}

func deref(view any) reflect.Value { return reflect.ValueOf(view).Elem() }

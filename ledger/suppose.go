package ledger

import (
	"reflect"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// PhantomsWhere is the ledger of phantoms in which every question that a word or
// a yes-or-no would answer is answered alike, so that rules go the ways that they
// choose by words. No value is known there either.
func PhantomsWhere(yes bool) *Build {
	b := Phantoms()
	b.supposed = &yes
	return b
}

// phantomOf is the view of a phantom, with what the ledger supposes of it.
func (b *Build) phantomOf(s *schema.Kind, path string) any {
	v := phantomView(s, path, b.main, nil, b.phantom)
	if b.supposed != nil {
		suppose(reflect.ValueOf(v).Elem(), *b.supposed)
	}
	return v
}

// suppose answers every question that a view leaves open.
func suppose(v reflect.Value, yes bool) {
	if !v.CanSet() {
		return
	}
	switch x := v.Addr().Interface().(type) {
	case *q.Word:
		*x = x.Supposing(yes)
		return
	case *q.Truth:
		*x = q.Is(yes)
		return
	case *q.Quantity:
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			suppose(v.Field(i), yes)
		}
	case reflect.Slice:
		for i := range v.Len() {
			suppose(v.Index(i), yes)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			e := reflect.New(v.Type().Elem()).Elem()
			e.Set(v.MapIndex(k))
			suppose(e, yes)
			v.SetMapIndex(k, e)
		}
	}
}

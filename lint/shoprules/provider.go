package shoprules

import (
	"errors"

	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"

	"fishplate/ledger/quantity"
)

// adapter takes values as they are: all that come out of a ledger are of the
// language already.
type adapter struct{}

func (adapter) NativeToValue(v any) ref.Val {
	if is, ok := v.(ref.Val); ok {
		return is
	}
	return types.DefaultTypeAdapter.NativeToValue(v)
}

// provider tells the language which types of entry there are, and their keys.
type provider struct{}

func (provider) EnumValue(name string) ref.Val { return types.NewErr("no such name: %s", name) }

func (provider) FindIdent(string) (ref.Val, bool) { return nil, false }

func (provider) FindStructType(name string) (*types.Type, bool) {
	f := tables()[name]
	if f == nil {
		return nil, false
	}
	return types.NewTypeTypeWithParam(f.typ), true
}

func (provider) FindStructFieldNames(name string) ([]string, bool) {
	f := tables()[name]
	if f == nil {
		return nil, false
	}
	return f.names, true
}

func (provider) FindStructFieldType(name, key string) (*types.FieldType, bool) {
	f := tables()[name]
	if f == nil || f.of[key] == nil {
		return nil, false
	}
	to := f.of[key]
	return &types.FieldType{
		Type:  to.typ,
		IsSet: func(v any) bool { return is(to, v).Holds() },
		GetFrom: func(v any) (any, error) {
			e, ok := v.(entry)
			if !ok {
				return nil, errors.New("no entry")
			}
			return to.get(e), nil
		},
	}, true
}

func is(to *field, v any) quantity.Truth {
	e, ok := v.(entry)
	if !ok {
		return quantity.Is(false)
	}
	return to.given(e)
}

func (provider) NewValue(name string, _ map[string]ref.Val) ref.Val {
	return types.NewErr("a rule makes no %s", name)
}

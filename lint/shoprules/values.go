package shoprules

import (
	"fmt"
	"reflect"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"

	"fishplate/ledger/quantity"
)

// The types of what is not the language's own. Those of entries are in fields.go.
var (
	amountType = cel.OpaqueType("quantity")
	runType    = cel.OpaqueType("@run")
)

// opaque is what every value here answers to the language about itself: nothing
// turns it into another, and nothing is equal to it.
type opaque struct{}

func (opaque) ConvertToNative(t reflect.Type) (any, error) {
	return nil, fmt.Errorf("no value of a rule becomes %v", t)
}

func (opaque) ConvertToType(t ref.Type) ref.Val {
	return types.NewErr("no value of a rule becomes %s", t.TypeName())
}

func (opaque) Equal(ref.Val) ref.Val { return types.NewErr("this is not compared with ==") }

// amount is a quantity in the run of a rule.
type amount struct {
	opaque
	run *run
	q   quantity.Quantity
}

func (a amount) Type() ref.Type { return amountType }
func (a amount) Value() any     { return a }

// entry is an entry of the ledger, or a table in one, in the run of a rule.
type entry struct {
	opaque
	run  *run
	of   *fields
	path string
	key  string        // of a table in a table of them: its name there
	view reflect.Value // a struct of package ledger
}

func (e entry) Type() ref.Type { return e.of.typ }
func (e entry) Value() any     { return e }

// hidden is the run itself, which the functions that need it are handed.
type hidden struct {
	opaque
	*run
}

func (h hidden) Type() ref.Type { return runType }
func (h hidden) Value() any     { return h }

// number is a number of the language as a quantity; false for another value.
func number(v ref.Val) (quantity.Quantity, bool) {
	switch n := v.(type) {
	case types.Int:
		return quantity.Number(float64(n)), true
	case types.Double:
		return quantity.Number(float64(n)), true
	}
	return quantity.Quantity{}, false
}

// amounts are values as quantities, with the run that one of them is of; false
// where one is none, or none of them is of a run.
func amounts(values ...ref.Val) (qs []quantity.Quantity, r *run, ok bool) {
	qs = make([]quantity.Quantity, len(values))
	for i, v := range values {
		if a, is := v.(amount); is {
			qs[i], r = a.q, a.run
		} else if qs[i], is = number(v); !is {
			return nil, nil, false
		}
	}
	return qs, r, r != nil
}

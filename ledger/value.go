package ledger

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// Value is one value of an entry as authored, its spelling made canonical.
type Value struct {
	Key     string        // "mass", "at.behind", "to.0"
	Field   *schema.Field // what the schema knows of it; nil where it knows nothing
	Type    string        // "quantity", "word", "number", "truth", "date"; "nothing" of an empty list or table
	Text    string
	Place   q.Place
	Private bool
	Public  schema.Publicity // as the keys on the way down to it say
}

// Values lists the entry's values in the order of their keys.
func (e *Entry) Values() []Value { return e.values(nil) }

// values are the same, in the memory of a list that is no longer needed.
func (e *Entry) values(old []Value) []Value {
	if e.node == nil {
		return nil
	}
	return e.spelled(slices.Grow(old[:0], 2*len(e.node.Children)), anyField)
}

func anyField(*schema.Field) bool { return true }

// dates are the values of the keys of the entry itself that take a date.
func (e *Entry) dates() []Value {
	return e.spelled(nil, func(f *schema.Field) bool { return f != nil && f.Type == schema.Date && f.Many == schema.One })
}

// spelled adds the values of the keys that are wanted, in the order of their keys.
func (e *Entry) spelled(out []Value, wanted func(*schema.Field) bool) []Value {
	e.written(wanted, func(v Value, n *syntax.Node) {
		v.Place = e.place(n, n.KeyAt)
		v.Type, v.Text = Canonical(v.Field, n)
		out = append(out, v)
	})
	slices.SortFunc(out, func(a, b Value) int { return strings.Compare(a.Key, b.Key) })
	return out
}

// written goes through the values of the keys that are wanted, in the order of the
// file. They lack place, type and text, which follow from their nodes.
func (e *Entry) written(wanted func(*schema.Field) bool, each func(Value, *syntax.Node)) {
	if e.node == nil {
		return
	}
	for _, c := range e.node.Children {
		if e.schema.Inside[c.Key] != nil { // it is an entry of its own
			continue
		}
		if f := e.schema.Field(c.Key); wanted(f) {
			flatten(f, c, Value{Key: c.Key, Public: f.Publicity()}, each)
		}
	}
}

// flatten goes through the values of a node; v has its key, and what holds of it by the
// keys above it. The field is nil where the schema has none.
func flatten(f *schema.Field, n *syntax.Node, v Value, each func(Value, *syntax.Node)) {
	v.Private = v.Private || f != nil && f.Private
	if (n.Kind == syntax.Table || n.Kind == syntax.Array) && len(n.Children) > 0 {
		for i, c := range n.Children {
			key := c.Key
			if n.Kind == syntax.Array {
				key = strconv.Itoa(i)
			}
			below, inner := v, f.Below(key)
			below.Key += "." + key
			if f != nil && f.Type == schema.Table { // only these have keys with tags of their own
				below.Public = min(v.Public, inner.Publicity())
			}
			flatten(inner, c, below, each)
		}
		return
	}
	v.Field = f
	each(v, n)
}

// Canonical tells what a value is, and spells it: a quantity by its reading,
// anything else as it is.
func Canonical(f *schema.Field, n *syntax.Node) (kind, text string) {
	switch n.Kind {
	case syntax.Table, syntax.Array:
		return "nothing", ""
	case syntax.String:
		return canonicalString(f, n.Value.(string))
	case syntax.Bool:
		return "truth", fmt.Sprint(n.Value)
	case syntax.Date:
		return "date", dateText(n)
	}
	return "number", plainNumber(n.Value)
}

func canonicalString(f *schema.Field, text string) (kind, spelled string) {
	switch {
	case f == nil:
	case f.TakesQuantity():
		if r, err := q.Parse(text, f.Dim, q.Options{Exact: f.Exact}); err == nil {
			return "quantity", r.Spelling
		}
	case f.Size:
		if size, err := ConductorSize(text); err == nil {
			return "word", size
		}
	case f.Type == schema.Date:
		return "date", text
	}
	return "word", strings.ReplaceAll(text, "\r\n", "\n")
}

// plainNumber spells a TOML number by its value: 4 and 4.0 are one number.
func plainNumber(v any) string {
	f, ok := v.(float64)
	switch {
	case !ok:
		return fmt.Sprint(v)
	case f == 0:
		return "0"
	case math.Abs(f) < 1e18:
		return strconv.FormatFloat(f, 'f', -1, 64)
	}
	return strconv.FormatFloat(f, 'g', -1, 64)
}

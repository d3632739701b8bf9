package edit

import (
	"fmt"
	"strings"

	"fishplate/ledger/syntax"
)

// Value is a TOML value, spelled.
type Value struct{ spelled string }

// Text is words, or a quantity such as "3 1/2 in".
func Text(s string) Value { return Value{quoted(s)} }

// Literal is a value as TOML spells it: a number, true, a date, or any other.
func Literal(toml string) Value { return Value{toml} }

// List is an array.
func List(values ...Value) Value {
	var parts []string
	for _, v := range values {
		parts = append(parts, v.spelled)
	}
	return Value{"[" + strings.Join(parts, ", ") + "]"}
}

// Texts is an array of words.
func Texts(words []string) Value {
	var values []Value
	for _, w := range words {
		values = append(values, Text(w))
	}
	return List(values...)
}

// Table is an inline table.
func Table(pairs ...Pair) Value {
	if len(pairs) == 0 {
		return Value{"{}"}
	}
	var parts []string
	for _, p := range pairs {
		parts = append(parts, spellKey(p.Key)+" = "+p.Value.spelled)
	}
	return Value{"{ " + strings.Join(parts, ", ") + " }"}
}

// Pair is a key and its value.
type Pair struct {
	Key   string
	Value Value
}

// String is the value as it is written.
func (v Value) String() string { return v.spelled }

// tree is what the value says, or what is wrong with how it is spelled.
func (v Value) tree() (any, error) {
	d := syntax.Read([]byte("v = " + v.spelled + "\n"))
	if len(d.Faults) > 0 {
		return nil, fmt.Errorf("%s", d.Faults[0].Message)
	}
	if d.Root == nil || len(d.Root.Children) != 1 {
		return nil, fmt.Errorf("%s is no single value", v.spelled)
	}
	return treeOf(d.Root.Children[0]), nil
}

// quoted is text as a TOML basic string.
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// Quoted is text as a TOML string.
func Quoted(text string) string { return quoted(text) }

// spellKey quotes a key unless it may stand bare.
func spellKey(key string) string {
	for i := 0; i < len(key); i++ {
		if !isBare(key[i]) {
			return quoted(key)
		}
	}
	if key == "" {
		return `""`
	}
	return key
}

func isBare(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '-' || c == '_'
}

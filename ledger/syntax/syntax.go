// Package syntax reads one TOML 1.1 file into an ordered tree of nodes with
// places, and reports every fault it can.
//
// Two libraries share the work. BurntSushi/toml decodes the values and has the
// last word on syntax; pelletier/go-toml's unstable parser tells where things
// stand. The tree is laid out from the second and filled from the first, and
// the two must agree path by path: a disagreement is an internal error, never
// a node without a place.
//
// Sources beside the checks: "spec" is https://toml.io/en/v1.1.0, "corpus" is
// github.com/toml-lang/toml-test, list files-toml-1.1.0.
package syntax

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// MaxSize is the largest file in bytes that is read. A larger one gives a
// single fault at 1:1.
const MaxSize = 1 << 20

const (
	maxDepth  = 32   // levels of tables and arrays, dotted key parts included
	maxFaults = 100  // faults told of one file
	maxAlone  = 4096 // values decoded one by one in a file that is refused
	fewKeys   = 8    // up to here a table is searched without a map
)

// Position is a place in a file: a line and a column, both counted from 1.
// Columns count characters (runes); a byte order mark is not counted.
type Position struct {
	Line, Column int
}

// String gives the place as line:column.
func (p Position) String() string { return fmt.Sprintf("%d:%d", p.Line, p.Column) }

func (p Position) compare(q Position) int {
	return cmp.Or(cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}

// Kind says what a node is.
type Kind uint8

// The kinds of nodes. Date stands for every TOML date and time.
const (
	Table Kind = iota
	Array
	String
	Integer
	Float
	Bool
	Date
)

var kindNames = [...]string{"table", "array", "string", "integer", "float", "boolean", "date"}

// String gives the kind's name as messages use it.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return fmt.Sprintf("Kind(%d)", k)
}

// Node is a table, an array or a value, with its place in the file.
type Node struct {
	// Key is the last part of the key; "" for the root and array elements.
	Key string
	// Kind says which of the other fields count.
	Kind Kind
	// Value is a string, int64, float64, bool or time.Time, as BurntSushi/toml
	// decodes it; nil for tables and arrays. A multi-line string keeps the line
	// endings of the file.
	Value any
	// Text is the value as the file spells it; "" for what headers and dotted
	// keys make.
	Text string
	// KeyAt is where the key stands (in a header or dotted key, the part that
	// names this node); for an array element it equals ValueAt, for the root
	// it is 1:1. A table named by several headers stands at its own one.
	KeyAt Position
	// ValueAt is where the value starts; for what headers and dotted keys make
	// it equals KeyAt.
	ValueAt Position
	// Children are a table's entries in order of first appearance in the file,
	// or an array's elements in order.
	Children []*Node
	// Inline tells an array or table written as a value, [..] or {..}, from
	// one made by headers or dotted keys.
	Inline bool
	// Comment is the text of the comments directly above and behind, one a
	// line, without the number signs; "" if there is none.
	Comment string

	state state
	index map[string]*Node // children by key, once there are more than fewKeys
}

// Child returns the entry of a table with the given key, nil if there is none.
func (n *Node) Child(key string) *Node {
	if n.index != nil {
		return n.index[key]
	}
	for _, c := range n.Children {
		if c.Key == key && n.Kind == Table {
			return c
		}
	}
	return nil
}

// withArticle gives the kind's name as a sentence needs it.
func (k Kind) withArticle() string {
	if k == Array || k == Integer {
		return "an " + k.String()
	}
	return "a " + k.String()
}

func (n *Node) add(c *Node) {
	n.Children = append(n.Children, c)
	switch {
	case n.Kind != Table:
	case n.index != nil:
		n.index[c.Key] = c
	case len(n.Children) > fewKeys:
		n.index = make(map[string]*Node, 4*fewKeys)
		for _, c := range n.Children {
			n.index[c.Key] = c
		}
	}
}

// Fault is something wrong with a file, and where.
type Fault struct {
	At      Position
	Message string
}

// Parse reads a TOML file. The root is nil if and only if the file is not
// usable: too large, nested too deeply, or not valid TOML 1.1. Keys that differ
// only in case, control characters written as escapes, and floats that are not
// finite are faults too, but leave the root. Faults are sorted by place; past
// a hundred the list ends with a note that there are more.
func Parse(data []byte) (root *Node, faults []Fault) {
	if len(data) > MaxSize {
		return nil, []Fault{{Position{1, 1}, fmt.Sprintf("the file has %d bytes, more than the %d that are read", len(data), MaxSize)}}
	}
	r := newReader(strings.TrimPrefix(string(data), "\ufeff"))
	if r.checkBytes() && r.checkDepth() {
		r.walk()
		r.fill()
		r.checkTable(r.root)
	}
	slices.SortStableFunc(r.faults, func(a, b Fault) int { return a.At.compare(b.At) })
	if r.omitted {
		last := r.faults[len(r.faults)-1].At
		r.faults = append(r.faults, Fault{last, fmt.Sprintf("there are more faults: only %d are shown", maxFaults)})
	}
	if r.refused {
		return nil, r.faults
	}
	return r.root, r.faults
}

// refuse records a fault that makes the file unusable.
func (r *reader) refuse(at Position, format string, args ...any) {
	r.refused = true
	r.fault(at, format, args...)
}

// fault records a fault that leaves the file usable.
func (r *reader) fault(at Position, format string, args ...any) {
	if len(r.faults) >= maxFaults {
		r.omitted = true
		return
	}
	r.faults = append(r.faults, Fault{at, fmt.Sprintf(format, args...)})
}

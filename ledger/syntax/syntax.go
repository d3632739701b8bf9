// Package syntax reads one TOML 1.1 file into an ordered tree of nodes with
// places, and reports every fault it can.
//
// Two libraries share the work. pelletier/go-toml's unstable parser walks the
// file once and gives places and values. BurntSushi/toml judges what the walk
// refuses, and every value that it does not surely read alike: dates, and
// numbers outside the plain forms. Where both read a file they
// must agree path by path: a disagreement is an internal error, never a node
// without a place. The fuzz test holds every other file against BurntSushi too.
//
// The tree survives faults: a broken line costs the table that it stands in,
// which is marked as damaged, and reading goes on at the next header.
//
// Sources beside the checks: "spec" is https://toml.io/en/v1.1.0, "corpus" is
// github.com/toml-lang/toml-test, list files-toml-1.1.0.
package syntax

import (
	"cmp"
	"fmt"
)

// MaxSize is the largest file in bytes that is read. A larger one gives a
// single fault at 1:1.
const MaxSize = 1 << 20

const (
	maxDepth  = 32   // levels of tables and arrays, dotted key parts included
	maxFaults = 100  // faults told of one file
	maxAlone  = 4096 // values decoded one by one in a file that is refused
	maxDigits = 40   // digits of a number
	maxNumber = 1e30 // as far as a number may be from zero
	fewUnsure = 32   // up to here values are decoded one by one in any file
	fewKeys   = 32   // up to here a table is searched without a map
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
	// Inline tells an array or table written as a value, [..] or {..}, from
	// one made by headers or dotted keys.
	Inline bool
	// Damaged tells a table in which something could not be read: what it does
	// not say may have stood there.
	Damaged bool

	state state

	// Value is a string, int64, float64, bool or time.Time, as BurntSushi/toml
	// decodes it; nil for tables, arrays, and values that cannot be read. A
	// multi-line string keeps the line endings of the file.
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
	// Comment is the text of the comments directly above and behind, one a
	// line, without the number signs; "" if there is none.
	Comment string
	// In is the document that the node was read from; nil for one made by hand.
	In *Document
	// The ranges of bytes in In.Text. The key's is that of the part which names
	// this node.
	KeyRange, ValueRange Range
	// Whole is the statement: of a key and its value with all parts of a dotted
	// key and the comment behind; of a table with a header the header's line.
	// It is empty for what has no statement of its own.
	Whole Range
	// Lead is where the comments directly above begin; Whole.From if there are
	// none.
	Lead int32
	// Until is where the last statement below a header ends, with the comment
	// behind it.
	Until int32

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
	if n.Children == nil {
		n.Children = make([]*Node, 0, 4)
	}
	n.Children = append(n.Children, c)
	switch {
	case n.Kind != Table:
	case n.index != nil:
		n.index[c.Key] = c
	case len(n.Children) > fewKeys:
		n.index = make(map[string]*Node, 2*fewKeys)
		for _, c := range n.Children {
			n.index[c.Key] = c
		}
	}
}

// Range is a range of bytes, From included and To not.
type Range struct{ From, To int32 }

// Empty tells a range that holds nothing.
func (r Range) Empty() bool { return r.To <= r.From }

// Fault is something wrong with a file, and where.
type Fault struct {
	At      Position
	Message string
}

// refuse records a fault that makes the file no TOML.
func (r *reader) refuse(at Position, format string, args ...any) {
	r.refused = true
	r.fault(at, format, args...)
}

// fault records a fault, and that the table it stands in is damaged.
func (r *reader) fault(at Position, format string, args ...any) {
	if n := len(r.hurt); n == 0 || r.hurt[n-1] != at.Line {
		r.hurt = append(r.hurt, at.Line)
	}
	if r.scrubbed {
		return // what is put in place of bad bytes may be a mistake itself
	}
	if len(r.faults) >= maxFaults {
		r.omitted = true
		return
	}
	r.faults = append(r.faults, Fault{at, fmt.Sprintf(format, args...)})
}

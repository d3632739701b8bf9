package syntax

import (
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// state says how a table came about, which settles who may still add to it
// (spec, "Table", "Inline Table", "Array of Tables" and the paragraphs on
// dotted keys). BurntSushi/toml lets several of these by: corpus
// array/extend-defined-aot, inline-table/duplicate-key-03 and overwrite-02 and
// -08, table/append-with-dotted-keys-*, table/duplicate-key-04 and -05,
// table/redefine-02 and -03.
type state uint8

const (
	implied  state = iota // only named on the way to another table
	byHeader              // has its own header, or is an element of an array of tables
	byDots                // made by a dotted key
	broken                // was defined twice: what follows from that is not told again
)

// keyText gives a key part's text, sharing the file's memory where it can.
func (r *reader) keyText(k *unstable.Node) string {
	start, end := r.span(k)
	if c := r.src[start]; c == '"' || c == '\'' {
		return string(k.Data)
	}
	return r.src[start:end]
}

// header reads [a.b] or [[a.b]], makes its table the current one, and returns
// the range of its keys.
func (r *reader) header(e *unstable.Node) (start, end int) {
	start = -1
	table := r.root
	var path []string
	for it := e.Key(); it.Next(); {
		k := it.Node()
		from, to := r.span(k)
		if start < 0 {
			start = from
		}
		end = to
		key, at := r.keyText(k), r.at(from)
		path = append(path, key)
		switch {
		case table == nil: // broken further up
		case !it.IsLast():
			table = r.through(table, key, at, path)
		case e.Kind == unstable.ArrayTable:
			table = r.element(table, key, at, path)
		default:
			table = r.ownHeader(table, key, at, path)
		}
		if table != nil && table.KeyAt == at {
			table.KeyRange = Range{int32(from), int32(to)}
		}
	}
	if table == nil {
		// Read the entries all the same, for what is wrong in them alone.
		table = r.node("", Table, r.at(start))
	}
	r.table = table
	r.sections = append(r.sections, section{r.lineOf(start), table})
	return start, end
}

// through steps from table to the table that a header names on its way.
func (r *reader) through(table *Node, key string, at Position, path []string) *Node {
	n := table.Child(key)
	switch {
	case n == nil:
		n = r.node(key, Table, at)
		table.add(n)
		return n
	case n.state == broken:
		return nil
	case n.Kind == Table && !n.Inline:
		return n
	case n.Kind == Array && !n.Inline:
		return n.Children[len(n.Children)-1]
	case n.Inline:
		r.refuse(at, "cannot add to %s: the %s at %s is complete as it is written", keyPath(path), inlineName(n), n.ValueAt)
	default:
		r.refuse(at, "%s is not a table: it is %s at %s", keyPath(path), n.Kind.withArticle(), n.KeyAt)
	}
	return nil
}

func (r *reader) ownHeader(table *Node, key string, at Position, path []string) *Node {
	n := table.Child(key)
	switch {
	case n == nil:
		n = r.node(key, Table, at)
		n.state = byHeader
		table.add(n)
		return n
	case n.state == broken:
		return nil
	case n.Kind == Table && n.state == implied && !n.Inline:
		n.state, n.KeyAt, n.ValueAt = byHeader, at, at
		return n
	case n.Kind == Array && !n.Inline:
		r.refuse(at, "%s is an array of tables since %s: its header needs two brackets, [[%s]]", keyPath(path), n.KeyAt, keyPath(path))
	case n.Kind == Table:
		r.refuse(at, "the table %s is already defined at %s", keyPath(path), n.KeyAt)
	default:
		r.refuse(at, "the key %s is already defined at %s", keyPath(path), n.KeyAt)
	}
	n.state, n.Damaged = broken, true
	return nil
}

func (r *reader) element(table *Node, key string, at Position, path []string) *Node {
	n := table.Child(key)
	switch {
	case n == nil:
		n = r.node(key, Array, at)
		table.add(n)
	case n.state == broken:
		return nil
	case n.Kind == Table && !n.Inline:
		r.refuse(at, "%s is a single table since %s and cannot become an array of tables", keyPath(path), n.KeyAt)
		n.state = broken
		return nil
	case n.Kind != Array:
		r.refuse(at, "the key %s is already defined at %s", keyPath(path), n.KeyAt)
		n.state = broken
		return nil
	case n.Inline:
		r.refuse(at, "cannot add to %s: the array at %s is complete as it is written", keyPath(path), n.ValueAt)
		n.state = broken
		return nil
	}
	t := r.node("", Table, at)
	t.state = byHeader
	n.add(t)
	return t
}

// dotted adds the node that a key names below table, with the tables of its
// dotted parts, and returns it with the offset behind the key; nil if the key
// cannot stand there.
func (r *reader) dotted(table *Node, it unstable.Iterator) (n *Node, end int) {
	for it.Next() {
		k := it.Node()
		start, stop := r.span(k)
		end = stop
		key, at := r.keyText(k), r.at(start)
		old := table.Child(key)
		switch {
		case it.IsLast() && old == nil:
			n = r.node(key, Table, at)
			n.KeyRange = Range{int32(start), int32(stop)}
			table.add(n)
		case it.IsLast():
			r.refuse(at, "the key %s is already defined at %s", quoteKey(key), old.KeyAt)
		case old == nil:
			t := r.node(key, Table, at)
			t.state = byDots
			t.KeyRange = Range{int32(start), int32(stop)}
			table.add(t)
			table = t
		default:
			if table = r.reenter(old, key, at); table == nil {
				return nil, end
			}
		}
	}
	return n, end
}

// reenter lets a dotted key add to a table that is there already.
func (r *reader) reenter(n *Node, key string, at Position) *Node {
	switch {
	case n.state == broken:
	case n.Inline:
		r.refuse(at, "cannot add to %s: the %s at %s is complete as it is written", quoteKey(key), inlineName(n), n.ValueAt)
	case n.Kind == Array:
		r.refuse(at, "a dotted key cannot add to the array of tables %s at %s", quoteKey(key), n.KeyAt)
	case n.Kind != Table:
		r.refuse(at, "%s is not a table: it is %s at %s", quoteKey(key), n.Kind.withArticle(), n.KeyAt)
	case n.state == byHeader:
		r.refuse(at, "a dotted key cannot add to the table %s, which has its own header at %s", quoteKey(key), n.KeyAt)
	default:
		n.state = byDots
		return n
	}
	return nil
}

func inlineName(n *Node) string {
	if n.Kind == Table {
		return "inline table"
	}
	return "array"
}

// keyPath spells a dotted key as a header would.
func keyPath(parts []string) string {
	quoted := make([]string, len(parts))
	for i, p := range parts {
		quoted[i] = quoteKey(p)
	}
	return strings.Join(quoted, ".")
}

// quoteKey quotes a key unless it is a bare one.
func quoteKey(key string) string {
	for i := 0; i < len(key); i++ {
		if !isBare(key[i]) {
			return strconv.Quote(key)
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

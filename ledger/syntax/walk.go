package syntax

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// reader holds the state of one Parse.
type reader struct {
	places
	parser unstable.Parser
	base   int // offset of the parser's data in src: it restarts after a fault
	done   int // offset behind the last expression read

	root    *Node
	table   *Node // of the last header
	slab    []Node
	above   string // the comment lines just read
	aboveTo int    // the line of the last of them

	open     int // offset of what is open where the file ends, -1 if nothing
	openKind string

	faults  []Fault
	omitted bool
	refused bool
}

func newReader(src string) *reader {
	r := &reader{places: places{src: src, column: 1}}
	r.lines = append(make([]int, 0, 16+len(src)/24), 0)
	r.root = r.node("", Table, Position{1, 1})
	r.table = r.root
	return r
}

func (r *reader) node(key string, kind Kind, at Position) *Node {
	if len(r.slab) == 0 {
		r.slab = make([]Node, 32)
	}
	n := &r.slab[0]
	r.slab = r.slab[1:]
	n.Key, n.Kind, n.KeyAt, n.ValueAt = key, kind, at, at
	return n
}

// walk lays out the tree. After a syntax error it goes on where that is safe.
func (r *reader) walk() {
	r.parser.KeepComments = true
	data := []byte(r.src)
	for again := true; again; {
		r.parser.Reset(data[r.base:])
		more, err := r.next()
		for ; more; more, err = r.next() {
			r.expression(r.parser.Expression())
		}
		again = err != nil && r.syntaxError(err)
	}
}

// next parses one expression. A panic of the parser comes back as an error.
func (r *reader) next() (more bool, err error) {
	defer func() {
		if bug := recover(); bug != nil {
			more, err = false, fmt.Errorf("internal error: the TOML parser failed: %v", bug)
		}
	}()
	more = r.parser.NextExpression()
	return more, r.parser.Error()
}

func (r *reader) expression(e *unstable.Node) {
	if e.Kind == unstable.Comment {
		start, end := r.span(e)
		r.comment(start, end)
		r.done = end
		return
	}
	var n *Node
	var start, end int
	if e.Kind == unstable.KeyValue {
		start, end = r.span(e)
		n = r.keyValue(r.table, e)
	} else {
		start, end = r.header(e)
		n = r.table
	}
	if behind := e.Next(); behind != nil && behind.Kind == unstable.Comment {
		from, to := r.span(behind)
		if n != nil {
			n.Comment = joinComments(n.Comment, commentText(r.src[from:to]))
		}
		end = to
	}
	if n != nil && r.above != "" && r.aboveTo+1 == r.lineOf(start) {
		n.Comment = joinComments(r.above, n.Comment)
	}
	r.above = ""
	r.done = lineEnd(r.src, end)
}

// span gives a node's byte range in src.
func (r *reader) span(n *unstable.Node) (start, end int) {
	start = r.base + int(n.Raw.Offset)
	return start, start + int(n.Raw.Length)
}

func (r *reader) lineOf(offset int) int {
	return r.lookUp(offset) + 1
}

func (r *reader) comment(start, end int) {
	line := r.lineOf(start)
	text := commentText(r.src[start:end])
	if r.above != "" && r.aboveTo+1 == line {
		text = joinComments(r.above, text)
	}
	r.above, r.aboveTo = text, line
}

func commentText(s string) string {
	return strings.TrimSpace(strings.TrimLeft(s, "#"))
}

func joinComments(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "\n" + b
}

// keyValue adds what one key = value line or inline entry gives; nil if the
// key cannot stand there.
func (r *reader) keyValue(table *Node, e *unstable.Node) *Node {
	n, end := r.dotted(table, e.Key())
	if n == nil {
		return nil
	}
	start := skipBlanks(r.src, end)
	start = skipBlanks(r.src, start+1) // over the equals sign
	r.value(n, e.Value(), start)
	return n
}

// value fills in n from a value that starts at start and returns its end.
func (r *reader) value(n *Node, v *unstable.Node, start int) int {
	n.ValueAt = r.at(start)
	var end int
	switch v.Kind {
	case unstable.Array:
		n.Kind, n.Inline = Array, true
		end = r.elements(n, v, start)
	case unstable.InlineTable:
		n.Kind, n.Inline = Table, true
		end = r.elements(n, v, start)
	default:
		n.Kind = scalarKind(v.Kind)
		_, end = r.span(v)
	}
	n.Text = r.src[start:end]
	return end
}

// elements adds the elements of an array or the entries of an inline table.
func (r *reader) elements(n *Node, v *unstable.Node, start int) int {
	offset := start + 1
	var last *Node
	var above string
	for it := v.Children(); it.Next(); {
		c := it.Node()
		if c.Kind == unstable.Comment {
			above = r.innerComments(last, c, offset)
			continue
		}
		offset = skipFiller(r.src, offset)
		if n.Kind == Table {
			last = r.keyValue(n, c)
			_, offset = r.span(c)
		} else {
			at := r.at(offset)
			last = r.node("", Array, at)
			offset = r.value(last, c, offset)
			n.add(last)
		}
		if last != nil {
			last.Comment = joinComments(above, last.Comment)
		}
		above = ""
	}
	return skipFiller(r.src, offset) + 1
}

// innerComments gives a comment that stands on the line of the element before
// it to that element, and returns the rest of the run for the next one.
func (r *reader) innerComments(last *Node, c *unstable.Node, offset int) (above string) {
	start, end := r.span(c)
	text := commentText(r.src[start:end])
	if last != nil && !strings.Contains(r.src[offset:start], "\n") {
		last.Comment = joinComments(last.Comment, text)
	} else {
		above = text
	}
	for it := c.Children(); it.Next(); {
		start, end := r.span(it.Node())
		above = joinComments(above, commentText(r.src[start:end]))
	}
	return above
}

func scalarKind(k unstable.Kind) Kind {
	switch k {
	case unstable.String:
		return String
	case unstable.Integer:
		return Integer
	case unstable.Float:
		return Float
	case unstable.Bool:
		return Bool
	default:
		return Date
	}
}

func skipBlanks(s string, i int) int {
	for i < len(s) && (s[i] == ' ' || s[i] == '\t') {
		i++
	}
	return i
}

// skipFiller skips all that may stand between the elements of an array.
func skipFiller(s string, i int) int {
	for i < len(s) {
		switch s[i] {
		case ' ', '\t', '\r', '\n', ',':
			i++
		case '#':
			i = lineEnd(s, i)
		default:
			return i
		}
	}
	return i
}

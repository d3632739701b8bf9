package syntax

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2/unstable"
)

// reader holds the state of one Read.
type reader struct {
	places
	parser *unstable.Parser
	base   int // offset of the parser's data in src: it restarts after a fault
	done   int // offset behind the last expression read

	root     *Node
	table    *Node // of the last header
	slab     []Node
	document *Document
	sections []section

	aboveFrom, aboveTo int // the run of comment lines just read, by offset
	aboveLine          int // the line of the last of them; 0 if there is none

	open     int // offset of what is open where the file ends, -1 if nothing
	openKind string

	badBytes  []badByte
	faults    []Fault
	hurt      []int // the lines of all faults, those not told included
	omitted   bool
	refused   bool
	scrubbed  bool  // bytes that no file may hold were replaced
	unsure    int   // how many values are for BurntSushi/toml to read
	otherSide []int // the headers on the side of a merge that is not read
	lost      bool  // something that could not be read may be an entry of any name
}

// section is what stands below one header, to the next.
type section struct {
	line  int // of the header
	table *Node
}

func newReader(src string) *reader {
	r := &reader{places: places{src: src, column: 1}}
	r.lines = append(make([]int, 0, 16+len(src)/24), 0)
	r.document = &Document{Text: src}
	r.root = r.node("", Table, Position{1, 1})
	r.table = r.root
	r.sections = []section{{0, r.root}}
	return r
}

func (r *reader) node(key string, kind Kind, at Position) *Node {
	if len(r.slab) == 0 {
		r.slab = make([]Node, 23) // 4 KB
	}
	n := &r.slab[0]
	r.slab = r.slab[1:]
	n.Key, n.Kind, n.KeyAt, n.ValueAt, n.In = key, kind, at, at, r.document
	return n
}

// parsers are kept from file to file for the memory that they have grown.
var parsers = sync.Pool{New: func() any { return &unstable.Parser{KeepComments: true} }}

// walk lays out the tree from the bytes of src. After a syntax error it goes on
// where that is safe.
func (r *reader) walk(data []byte) {
	r.parser = parsers.Get().(*unstable.Parser)
	defer func() {
		r.parser.Reset(nil)
		parsers.Put(r.parser)
	}()
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
	if n != nil {
		r.whole(n, e, start, end)
	}
	r.aboveLine = 0
	r.done = lineEnd(r.src, end)
}

// whole notes where a statement begins and ends, the comments above it
// included.
func (r *reader) whole(n *Node, e *unstable.Node, start, end int) {
	if e.Kind != unstable.KeyValue { // the brackets are not in the keys' range
		start = lastByte(r.src, '[', start)
		if e.Kind == unstable.ArrayTable {
			start = lastByte(r.src, '[', start)
		}
		if end == lineEnd(r.src, end) || r.src[end-1] != ']' {
			end = max(end, closing(r.src, end))
		}
	}
	n.Whole = Range{int32(start), int32(end)}
	n.Lead = n.Whole.From
	if r.aboveLine > 0 && r.aboveLine+1 == r.lineOf(start) {
		n.Comment = joinComments(commentRun(r.src[r.aboveFrom:r.aboveTo]), n.Comment)
		n.Lead = int32(r.aboveFrom)
	}
	r.table.Until = int32(end)
}

// lastByte is the last place of a byte before an offset.
func lastByte(s string, c byte, before int) int {
	return max(0, strings.LastIndexByte(s[:before], c))
}

// closing is the offset behind the brackets that close a header whose keys end
// at an offset.
func closing(s string, end int) int {
	for end < len(s) && (s[end] == ' ' || s[end] == '\t' || s[end] == ']') {
		end++
	}
	for s[end-1] == ' ' || s[end-1] == '\t' {
		end--
	}
	return end
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
	if r.aboveLine == 0 || r.aboveLine+1 != line {
		r.aboveFrom = start
	}
	r.aboveTo, r.aboveLine = end, line
}

// commentRun gives the text of comment lines, one below the other.
func commentRun(s string) string {
	if !strings.Contains(s, "\n") {
		return commentText(s)
	}
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = commentText(strings.TrimLeft(l, " \t"))
	}
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n")
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
	end = r.value(n, e.Value(), start)
	first, _ := r.span(e)
	n.Whole = Range{int32(first), int32(end)}
	n.Lead = n.Whole.From
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
		r.scalar(n, r.src[start:end], v.Data)
	}
	n.Text = r.src[start:end]
	n.ValueRange = Range{int32(start), int32(end)}
	return end
}

// elements adds the elements of an array or the entries of an inline table.
func (r *reader) elements(n *Node, v *unstable.Node, start int) int {
	offset := start + 1
	many := 0
	for it := v.Children(); it.Next(); {
		many++
	}
	n.Children = make([]*Node, 0, many)
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
	lines := []string{above}
	for it := c.Children(); it.Next(); {
		start, end := r.span(it.Node())
		lines = append(lines, commentText(r.src[start:end]))
	}
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n")
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

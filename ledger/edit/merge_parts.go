package edit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger/syntax"
)

// parts are a file cut into pieces, every byte of it in one.
type parts struct {
	text string
	list []*table
	by   map[string]*table
	home map[string]string // of each piece: its table
	head string            // what stands above the first statement: it is said of the file
	tail string            // what stands behind the last statement
	all  map[string]int    // how often it has each comment
}

// table is a header with the keys below it; what stands above the first header
// has none.
type table struct {
	id     string
	pieces []*stretch // the header first, where there is one
	by     map[string]*stretch
}

// stretch is a header, or a key with its value, with the lines above it.
type stretch struct {
	id     string
	path   []string
	header bool
	loose  string // blank lines, and comments that a blank line sets apart
	lead   string // the comments directly above
	line   string // the statement, with the comment behind it
	value  any
}

// partsOf cuts a file into pieces, with its lines ended alike.
func partsOf(data []byte) (*parts, error) {
	text := strings.ReplaceAll(strings.TrimPrefix(string(data), byteOrderMark), "\r\n", "\n")
	if text != "" && !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	d := syntax.Read([]byte(text))
	if len(d.Faults) > 0 {
		f := d.Faults[0]
		return nil, fmt.Errorf("%d:%d: %s", f.At.Line, f.At.Column, f.Message)
	}
	p := &parts{text: text, home: map[string]string{}, by: map[string]*table{}, all: map[string]int{}}
	for _, c := range remarks(text) {
		p.all[c]++
	}
	at := 0
	in := p.begin("")
	for _, s := range statements(d) {
		if s.inline {
			continue
		}
		if s.header {
			in = p.begin("[" + named(s.path))
		}
		from, lead, to := lineStart(text, s.from), lineStart(text, s.lead), nextLine(text, s.to)
		if lead == 0 {
			lead = from // what a file begins with is said of the file
		}
		first := at == 0
		if first { // and stays at its top, wherever its first entry goes
			p.head, at = text[:lead], lead
		}
		x := &stretch{id: named(s.path), path: s.path, header: s.header, loose: text[at:lead], lead: text[lead:from], line: text[from:to]}
		if head := strings.TrimSuffix(p.head, "\n"); first && s.header && (head == "" || strings.HasSuffix(head, "\n")) {
			p.head, x.loose = head, "\n" // the blank line is the entry's, as below others
		}
		if s.header {
			x.id, x.value = "["+x.id, strings.HasPrefix(text[s.from:], "[[")
		} else {
			x.value = treeOf(s.node)
		}
		in.pieces = append(in.pieces, x)
		in.by[x.id] = x
		p.home[x.id] = in.id
		at = to
	}
	p.tail = text[at:]
	p.list = slices.DeleteFunc(p.list, func(t *table) bool { return len(t.pieces) == 0 })
	return p, nil
}

// begin is the table of a name, which a file has once.
func (p *parts) begin(id string) *table {
	t := &table{id: id, by: map[string]*stretch{}}
	p.list = append(p.list, t)
	p.by[id] = t
	return t
}

// named is a path as one word; no key has a zero byte.
func named(path []string) string { return strings.Join(path, "\x00") }

func (p *parts) table(id string) *table {
	if t := p.by[id]; t != nil && len(t.pieces) > 0 {
		return t
	}
	return nil
}

// tables are the names of all tables, in the order of the file.
func (p *parts) tables() []string {
	var out []string
	for _, t := range p.list {
		out = append(out, t.id)
	}
	return out
}

// values are all values, and the headers, by their names.
func (p *parts) values() map[string]any {
	out := map[string]any{}
	for _, t := range p.list {
		for _, x := range t.pieces {
			out[x.id] = x.value
		}
	}
	return out
}

func (t *table) piece(id string) *stretch { return t.by[id] }

func (t *table) keys() []string {
	var out []string
	for _, x := range t.pieces {
		out = append(out, x.id)
	}
	return out
}

// same tells that two tables say the same, with the same comments.
func (t *table) same(o *table) bool {
	return slices.EqualFunc(t.pieces, o.pieces, func(x, y *stretch) bool { return x.id == y.id && x.same(y) })
}

// text is the table from its header on.
func (t *table) text() string {
	var out strings.Builder
	for i, x := range t.pieces {
		if i > 0 {
			out.WriteString(x.loose)
		}
		out.WriteString(x.lead + x.line)
	}
	return out.String()
}

func (t *table) name() string { return t.pieces[0].name() }

// same tells that a piece is what it was, save for blank lines.
func (p *stretch) same(o *stretch) bool {
	return p.lead == o.lead && p.line == o.line
}

func (p *stretch) full() string { return p.loose + p.lead + p.line }

// name is the piece's path as people write it.
func (p *stretch) name() string {
	path := slices.Clone(p.path)
	for i, k := range path {
		if _, err := strconv.Atoi(k); err != nil {
			path[i] = spellKey(k)
		}
	}
	return strings.Join(path, ".")
}

// lines are those of a text, each with its end.
func lines(text string) []string { return slices.Collect(strings.Lines(text)) }

// mergedLines are the lines above a statement in the three versions, as one: what one side
// changed, or, where both did, ours and what theirs added.
func mergedLines(base, ours, theirs string) string {
	switch {
	case ours == theirs, theirs == base:
		return ours
	case ours == base:
		return theirs
	}
	was, have := setOf(lines(base)), setOf(lines(ours))
	var out strings.Builder
	out.WriteString(ours)
	for _, line := range lines(theirs) {
		if strings.TrimSpace(line) != "" && !was[line] && !have[line] {
			out.WriteString(line)
		}
	}
	return out.String()
}

// remarks are the comments of a text that is TOML, in their order.
func remarks(text string) []string {
	var out []string
	for at := 0; at < len(text); {
		switch c := text[at]; c {
		case '#':
			end := lineEnd(text, at)
			out = append(out, strings.TrimSpace(text[at:end]))
			at = end
		case '"', '\'':
			at = stringEnd(text, at)
		default:
			at++
		}
	}
	return out
}

// stringEnd is where a string ends that begins at a place.
func stringEnd(text string, at int) int {
	quote := text[at : at+1]
	if triple := strings.Repeat(quote, 3); strings.HasPrefix(text[at:], triple) {
		quote = triple
	}
	at += len(quote)
	for at < len(text) && !strings.HasPrefix(text[at:], quote) {
		if text[at] == '\\' && quote[0] == '"' {
			at++
		}
		at++
	}
	at = min(at+len(quote), len(text))
	for len(quote) == 3 && at < len(text) && text[at] == quote[0] { // up to two more belong to it
		at++
	}
	return at
}

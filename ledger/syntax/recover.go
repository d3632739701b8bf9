package syntax

import (
	"slices"
	"strings"
)

// resume looks for the next header below a mistake that may run over several
// lines, and sets base to where reading goes on. What stands between is lost to
// the table that the mistake stands in; where the mistake is a header, to the
// table that it seems to name.
func (r *reader) resume(start int) (again bool) {
	end := lineEnd(r.src, start)
	if line := r.src[start:end]; !strings.Contains(line, "=") && strings.ContainsAny(line, "[]") {
		r.lost = true // its name may be another than it seems
		if t := r.nameHeader(start, line); t != nil {
			r.table = t
			r.sections = append(r.sections, section{r.lineOf(start), t})
		}
	}
	for at := end; at < len(r.src); {
		from := at + 1
		at = lineEnd(r.src, from)
		if isHeader(r.src[from:at]) {
			r.base, r.done = from, from
			r.aboveLine = 0
			return true
		}
	}
	return false
}

// nameHeader marks the table that a header names as damaged, and makes it if
// need be.
func (r *reader) nameHeader(start int, line string) *Node {
	line, _, _ = strings.Cut(line, "#")
	if i := strings.IndexByte(line, '['); i > 0 { // what stands before it is no part of the name
		line = line[i:]
	}
	keys := strings.Split(strings.Trim(line, " \t\r[]"), ".")
	if slices.ContainsFunc(keys, func(k string) bool { return k == "" || quoteKey(k) != k }) {
		return nil
	}
	at := r.at(start)
	table := r.root
	for _, key := range keys {
		n := table.Child(key)
		if n == nil {
			n = r.node(key, Table, at)
			table.add(n)
		}
		if n.Kind != Table || n.Inline {
			return nil
		}
		table = n
	}
	table.Damaged = true
	return table
}

// isHeader tells a line that is surely a table's header: a name of letters,
// digits, hyphens and dots in brackets.
func isHeader(line string) bool {
	line = strings.TrimLeft(line, " \t")
	name := strings.TrimLeft(line, "[")
	depth := len(line) - len(name)
	if depth < 1 || depth > 2 {
		return false
	}
	i := 0
	for i < len(name) && (isBare(name[i]) || name[i] == '.') {
		i++
	}
	rest, ok := strings.CutPrefix(name[i:], strings.Repeat("]", depth))
	rest = strings.TrimLeft(rest, " \t\r")
	return ok && i > 0 && (name[0]|0x20 >= 'a' && name[0]|0x20 <= 'z') && (rest == "" || rest[0] == '#')
}

// The marks that git leaves in a file where two sides of a merge differ.
const (
	mergeOurs   = "<<<<<<<"
	mergeBase   = "|||||||"
	mergeMiddle = "======="
	mergeEnd    = ">>>>>>>"
)

// merges tells merges left in progress. One side of each is read, so that the
// entries around it can be; all tables that it touches are damaged.
func (r *reader) merges() {
	if !strings.Contains(r.src, mergeOurs) {
		return
	}
	text := []byte(r.src)
	for i := 0; i < len(r.lines); i++ {
		if !r.marked(i, mergeOurs) {
			continue
		}
		last := i
		for last+1 < len(r.lines) && !r.marked(last, mergeEnd) {
			last++
		}
		if !r.marked(last, mergeEnd) {
			return // no merge: the walk tells what it is
		}
		r.merge(text, i, last)
		i = last
	}
	r.src = string(text)
}

// marked tells whether a line is a mark of a merge.
func (r *reader) marked(line int, mark string) bool {
	rest, ok := strings.CutPrefix(r.src[r.lines[line]:], mark)
	return ok && (rest == "" || rest[0] == ' ' || rest[0] == '\n' || rest[0] == '\r')
}

// merge tells one, and blanks its marks and all but the first side.
func (r *reader) merge(text []byte, first, last int) {
	at := Position{first + 1, 1}
	r.refuse(at, "a merge left in progress at lines %d to %d: keep what is right of both sides, and take the marks away", first+1, last+1)
	keep := false
	for i := first; i <= last; i++ {
		r.hurt = append(r.hurt, i+1)
		from, to := r.lines[i], lineEnd(r.src, r.lines[i])
		switch {
		case i == first:
			keep = true
			blank(text[from:to])
		case r.marked(i, mergeBase) || r.marked(i, mergeMiddle):
			keep = false
			blank(text[from:to])
		case !keep:
			if isHeader(r.src[from:to]) {
				r.otherSide = append(r.otherSide, from)
			}
			blank(text[from:to])
		}
	}
}

func blank(line []byte) {
	for i := range line {
		if line[i] != '\r' {
			line[i] = ' '
		}
	}
}

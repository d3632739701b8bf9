package syntax

import (
	"slices"
	"unicode/utf8"
)

// places turns byte offsets into positions. It remembers the last one: the tree
// is made in the order of the file, so that all positions together cost one
// pass, even where the file is a single line.
type places struct {
	src    string
	lines  []int // offset of each line's first byte
	line   int   // index into lines of the last position
	offset int
	column int
}

// at gives the place of a byte offset.
func (p *places) at(offset int) Position {
	offset = max(0, min(offset, len(p.src)))
	if line := p.lookUp(offset); line != p.line || offset < p.offset {
		p.line, p.offset, p.column = line, p.lines[line], 1
	}
	p.column += utf8.RuneCountInString(p.src[p.offset:offset])
	p.offset = offset
	return Position{p.line + 1, p.column}
}

// lookUp returns the index of the line that holds offset: mostly that of the
// last position or one of the next few.
func (p *places) lookUp(offset int) int {
	first := p.line
	if offset < p.lines[first] {
		first = 0
	}
	rest := p.lines[first+1:]
	near := min(4, len(rest))
	for i, start := range rest[:near] {
		if start > offset {
			return first + i
		}
	}
	i, _ := slices.BinarySearch(rest[near:], offset+1)
	return first + near + i
}

// runeStart moves an offset that a parser gave, which may point into a
// character, to the start of it. The text must be valid UTF-8.
func (p *places) runeStart(offset int) int {
	offset = max(0, min(offset, len(p.src)))
	for offset < len(p.src) && !utf8.RuneStart(p.src[offset]) {
		offset--
	}
	return offset
}

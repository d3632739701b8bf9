package ledger

import (
	q "fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
)

// loss is a place where an entry may stand that could not be read.
type loss struct {
	kind string // "" where it may be of any
	need q.Need
}

// lose notes that an entry may have been lost at a position of the file.
func (r *reader) lose(kind string, at syntax.Position) {
	place := q.Place{File: r.file, Line: at.Line, Column: at.Column}
	r.lost = append(r.lost, loss{kind, q.Need{Key: r.file + " without its faults", Place: place}})
}

// lossOf is that of a file that could not be read, and of whatever stands in it.
func lossOf(file string) loss {
	return loss{"", q.Need{Key: file + " without its faults", Place: q.Place{File: file, Line: 1, Column: 1}}}
}

// Lost is what a sum over all entries of a kind waits for, where one of them may
// have been lost to a fault: no entry, and so none that could wait by itself. It
// is the first such fault, and nothing where all could be read.
func (b *Build) Lost(kind string) []q.Need {
	for _, l := range b.lost {
		if l.kind == "" || l.kind == kind {
			return []q.Need{l.need}
		}
	}
	return nil
}

package ledger

import (
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// Entry is one entry of a ledger: a single one such as vehicle, or one of a
// kind with an id such as part.radiator. It is never changed once read.
type Entry struct {
	Kind, ID string
	Place    q.Place
	Shop     bool // it stands in the shop's file

	damaged bool     // something in it has a fault: what it does not say may have stood there
	also    []source // where keys come from that stand in another file
	path    string
	node    *syntax.Node
	schema  *schema.Kind
	view    any
	refs    []reference
	strange []Unheard
	system  q.Word // what it says; see Build.System
	public  bool   // it says public = true
}

// source is a document by the name of the file that it was read from.
type source struct {
	doc  *syntax.Document
	file string
}

// Schema is the kind of the entry.
func (e *Entry) Schema() *schema.Kind { return e.schema }

// Public tells that the entry says public = true: what its keys let be chosen may
// be made public.
func (e *Entry) Public() bool { return e.public }

// Path is the entry's name: "vehicle", "part.radiator".
func (e *Entry) Path() string { return e.path }

func join(kind, id string) string {
	if id == "" {
		return kind
	}
	return kind + "." + id
}

// place is a position in the file that a node of the entry stands in.
func (e *Entry) place(n *syntax.Node, p syntax.Position) q.Place {
	file := e.Place.File
	for _, s := range e.also {
		if s.doc == n.In {
			file = s.file
		}
	}
	return q.Place{File: file, Line: p.Line, Column: p.Column}
}

// sources are the files that the entry's keys stand in.
func (e *Entry) sources() []source {
	return append([]source{{e.node.In, e.Place.File}}, e.also...)
}

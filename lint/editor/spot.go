package editor

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/schema"
)

// spot is what stands at a place of a document, as the schema knows it.
type spot struct {
	token
	doc   *document
	src   string       // the document's text
	build *build       // nil of a file that no build reads
	kind  *schema.Kind // of the entry that it stands in; nil where there is none
	entry string       // its path, "" where there is none yet
	key   []string     // in the entry, "" last where one would be written
	field *schema.Field
}

// spotAt is what stands at a position that an editor asks about.
func (s *server) spotAt(p *placeParams) (*spot, error) {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	return s.spotOf(d, tokenAt(d.text.s, d.text.offset(p.Position, s.encoding))), nil
}

func (s *server) spotOf(d *document, t token) *spot {
	x := &spot{token: t, doc: d, src: d.text.s, build: s.buildOf(d)}
	x.kind, x.entry, x.key = entryOf(t.path)
	if x.kind != nil && len(x.key) > 0 {
		x.field = x.kind.At(american(x.key))
	}
	return x
}

// american is a key as the schema spells it.
func american(key []string) string { return ledger.American(strings.Join(key, ".")) }

// entryOf parts a path in a file into the entry and the key in it.
func entryOf(path []string) (kind *schema.Kind, entry string, key []string) {
	if len(path) == 0 {
		return nil, "", nil
	}
	k := ledger.KindNamed(path[0])
	switch {
	case k == nil:
		return nil, "", nil
	case len(path) > 1 && k.Inside[path[1]] != nil:
		return k.Inside[path[1]], path[0] + "." + path[1], path[2:]
	case k.Single:
		return k, path[0], path[1:]
	case len(path) == 1:
		return k, "", nil
	}
	return k, path[0] + "." + path[1], path[2:]
}

// named is the entry that the token names: as a value, as a key of a table that goes
// by names, or where it stands itself.
func (x *spot) named() string {
	switch x.part {
	case inHeader:
		if x.entry != "" && len(x.key) == 0 {
			return x.entry
		}
	case inKey, inValue:
		name, _, _ := strings.Cut(x.text(x.src), ":") // of a pin the plug
		if x.build == nil || x.build.b == nil {
			return ""
		}
		for {
			if _, ok := x.build.b.Entry(name); ok && strings.Contains(name, ".") {
				return name
			}
			dot := strings.LastIndexByte(name, '.')
			if dot < 0 {
				return ""
			}
			name = name[:dot]
		}
	}
	return ""
}

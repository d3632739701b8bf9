package editor

import (
	"slices"
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
	x := &spot{token: t, doc: d, src: d.text.s}
	x.kind, x.entry, x.key = entryOf(t.path)
	if x.kind != nil && len(x.key) > 0 {
		x.field = x.kind.At(american(x.key))
	}
	builds := s.buildsOf(d)
	for _, x.build = range builds { // of a shop's file the first that uses what is asked about
		if _, ok := x.build.b.Entry(x.named()); ok {
			return x
		}
	}
	if len(builds) > 0 {
		x.build = builds[0]
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
		for name := range ledger.Outward(x.text(x.src)) {
			if strings.Contains(name, ".") && x.has(name) {
				return name
			}
		}
	}
	return ""
}

// has tells that there is an entry: in the build or, whether that uses it or not, in
// the shop's file that is asked about.
func (x *spot) has(name string) bool {
	if x.build == nil {
		return false
	}
	_, ok := x.build.b.Entry(name)
	return ok || x.doc.path == x.build.shop && declares(x.src, name)
}

// inShop tells that an entry stands in the shop's file.
func (x *spot) inShop(name string) bool {
	if e, ok := x.build.b.Entry(name); ok {
		return e.Shop
	}
	return x.has(name)
}

// declares tells that an entry stands in a file.
func declares(src, name string) bool { return len(declarations(src, name)) > 0 }

// declarations are the tokens that an entry stands under: its id in each header, or
// in a key.
func declarations(src, name string) []token {
	path := strings.Split(name, ".")
	var out []token
	for _, t := range tokens(src) {
		if t.part != inValue && slices.Equal(t.path, path) {
			out = append(out, t)
		}
	}
	return out
}

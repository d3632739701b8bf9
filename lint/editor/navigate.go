package editor

import (
	"cmp"
	"slices"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// definition is where the entry stands that the cursor is on the name of.
func (s *server) definition(p *placeParams) (any, error) {
	x, err := s.spotAt(p)
	if err != nil || x.build == nil {
		return nil, err
	}
	name := x.named()
	if name == "" && x.part == inValue && x.field != nil && x.field.Words != "" {
		name = "word." + x.text(x.src) // one of the shop's own
	}
	e, ok := x.build.b.Entry(name)
	if !ok {
		return nil, nil
	}
	return s.location(x.build, e.Place), nil
}

func (s *server) location(b *build, p quantity.Place) Location {
	m := b.markOf(p)
	return Location{s.uri(m.file), b.rangeOf(m, s.encoding)}
}

// references are the places that name an entry.
func (s *server) references(p *referenceParams) (any, error) {
	x, err := s.spotAt(&p.placeParams)
	if err != nil || x.build == nil {
		return nil, err
	}
	name := x.named()
	if name == "" {
		return nil, nil
	}
	out := []Location{}
	in := func(f *file, list []token) {
		for _, t := range list {
			out = append(out, Location{s.uri(f.path), f.text.span(t.from, t.to, s.encoding)})
		}
	}
	if e, ok := x.build.b.Entry(name); ok && p.Context.Declaration {
		out = append(out, s.location(x.build, e.Place))
	}
	for _, b := range s.namedIn(x, name) {
		for _, at := range b.b.Mentions(name) {
			out = append(out, s.location(b, at))
		}
	}
	if f := x.build.files[x.build.shop]; f != nil {
		in(f, mentionsIn(f.text.s, name))
		if p.Context.Declaration && x.inShop(name) {
			in(f, declarations(f.text.s, name)[:1])
		}
	}
	slices.SortFunc(out, compareLocations)
	return slices.Compact(out), nil
}

func compareLocations(a, b Location) int {
	x, y := a.Range.Start, b.Range.Start
	return cmp.Or(strings.Compare(a.URI, b.URI), cmp.Compare(x.Line, y.Line), cmp.Compare(x.Character, y.Character))
}

// namedIn are the builds that may name an entry: its own, or of one of the shop's
// all that go by that shop's file.
func (s *server) namedIn(x *spot, name string) []*build {
	if !x.inShop(name) {
		return []*build{x.build}
	}
	var out []*build
	for _, b := range s.builds {
		if mine, ok := b.b.Entry(name); b.shop == x.build.shop && (!ok || mine.Shop) {
			out = append(out, b)
		}
	}
	slices.SortFunc(out, func(a, b *build) int { return strings.Compare(a.dir, b.dir) })
	return out
}

// mentionsIn are the tokens of a file that name an entry, or something of it.
func mentionsIn(src, name string) []token {
	var out []token
	for _, t := range tokens(src) {
		kind, _, key := entryOf(t.path)
		if kind == nil || len(key) == 0 || t.part == inHeader {
			continue
		}
		text := t.text(src)
		rest, ok := strings.CutPrefix(text, name)
		if !ok || rest != "" && rest[0] != '.' && rest[0] != ':' {
			continue
		}
		f := kind.At(american(key))
		if t.part == inKey {
			f = kind.At(american(key[:len(key)-1]))
		}
		switch {
		case f == nil:
		case t.part == inKey && f.Many == schema.Named && f.Keys != "", t.part == inValue && !f.Free && (f.Type == schema.Ref || f.Type == schema.Place || f.Type == schema.Word):
			out = append(out, t)
		}
	}
	return out
}

// entrySymbol is an entry in a list of symbols.
type entrySymbol struct {
	system string
	documentSymbol
}

// documentSymbols are the entries of a file, under their systems.
func (s *server) documentSymbols(p *placeParams) (any, error) {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []documentSymbol{}
	b := s.buildOf(d)
	if b == nil {
		return out, nil
	}
	at := map[string]int{}
	for _, e := range s.entriesOf(b, d.path) {
		i, known := at[e.system]
		if !known {
			i, at[e.system] = len(out), len(out)
			out = append(out, documentSymbol{Name: plain(cmp.Or(e.system, "no system")), Kind: symbolOfSystem, Range: e.Range, SelectionRange: e.SelectionRange})
		}
		group := &out[i]
		group.Range.End = e.Range.End
		group.Children = append(group.Children, e.documentSymbol)
	}
	return out, nil
}

// entriesOf are the entries of a file, in their order.
func (s *server) entriesOf(b *build, path string) []entrySymbol {
	var out []entrySymbol
	for _, e := range b.b.Entries() {
		f := b.fileAt(e.Place)
		if f == nil || f.path != path {
			continue
		}
		name := s.location(b, e.Place).Range
		all := name
		if n, depth := follow(f.doc.Root, strings.Split(e.Path(), ".")); depth > 0 {
			all = f.text.span(f.text.shift()+int(min(n.Whole.From, n.KeyRange.From)), f.text.shift()+int(max(n.Whole.To, n.Until, n.KeyRange.To)), s.encoding)
		}
		out = append(out, entrySymbol{b.b.System(e), documentSymbol{Name: e.Path(), Detail: plain(b.b.Called(e)), Kind: symbolOfEntry, Range: all, SelectionRange: name}})
	}
	slices.SortStableFunc(out, func(x, y entrySymbol) int {
		a, b := x.Range.Start, y.Range.Start
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Character, b.Character))
	})
	return out
}

// workspaceSymbols are the entries of all open builds whose name or path has the
// words that are asked for, by system.
func (s *server) workspaceSymbols(p *struct{ Query string }) (any, error) {
	out := []workspaceSymbol{}
	words := strings.Fields(strings.ToLower(p.Query))
	var open []*build
	for _, b := range s.builds {
		open = append(open, b)
	}
	slices.SortFunc(open, func(a, b *build) int { return strings.Compare(a.dir, b.dir) })
	for _, b := range open {
		list := slices.Clone(b.b.Entries())
		b.b.BySystem(list)
		for _, e := range list {
			text := strings.ToLower(e.Path() + " " + b.b.Called(e))
			if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
				out = append(out, workspaceSymbol{e.Path(), symbolOfEntry, s.location(b, e.Place), plain(b.b.System(e))})
			}
		}
	}
	return out, nil
}

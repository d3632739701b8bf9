package edit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
)

// Rename gives an entry another id, everywhere that it stands and everywhere
// that the build's files name it. What only speaks of it, in a note or a
// comment, stays.
func (d *Draft) Rename(entry, id string) error {
	f, at, err := d.find(entry)
	if err != nil {
		return err
	}
	if len(at) != 2 || at[0] == "vehicle" {
		return fmt.Errorf("%s has no id to be renamed", entry)
	}
	for _, name := range d.names() { // a name might stand in what cannot be read
		if err := d.files[name].sound(); err != nil {
			return err
		}
	}
	to := at[0] + "." + id
	b := d.After()
	if old, ok := b.Entry(to); ok {
		return fmt.Errorf("%s: %s is there already, at %s:%d", d.src.Folder(), to, old.Place.File, old.Place.Line)
	}
	r := renaming{entry, to, map[*file]*renamedFile{}}
	for _, p := range b.Mentions(entry) {
		if err := r.mention(d, p); err != nil {
			return err
		}
	}
	r.headers(f, at, id)
	for f, x := range r.files {
		if err := f.apply(x.want, x.changes); err != nil {
			return err
		}
	}
	return nil
}

// renaming gathers what a new name changes, file by file.
type renaming struct {
	from, to string
	files    map[*file]*renamedFile
}

type renamedFile struct {
	want    any
	changes []change
}

func (r *renaming) of(f *file) *renamedFile {
	if r.files[f] == nil {
		r.files[f] = &renamedFile{want: f.tree}
	}
	return r.files[f]
}

// headers renames the entry where it stands.
func (r *renaming) headers(f *file, at []string, id string) {
	x := r.of(f)
	for _, s := range statements(f.doc) {
		if part := slices.Index(s.parts, len(at)-1); part >= 0 && below(s.path, at) {
			x.changes = append(x.changes, change{s.keys[part].from, s.keys[part].to, spellKey(id)})
		}
	}
	n, _ := deepest(f.doc.Root, at)
	moved := treeOf(n)
	if table, ok := x.want.(map[string]any)[at[0]].(map[string]any); ok {
		moved = table[at[1]] // with the names in it that have changed
	}
	x.want = dropTree(x.want, at)
	x.want, _ = putTree(x.want, []string{at[0], id}, moved)
}

// mention renames the entry where another names it.
func (r *renaming) mention(d *Draft, p q.Place) error {
	for _, f := range d.files {
		if f.shown != p.File || f.doc.Root == nil {
			continue
		}
		n, path := standsAt(f.doc.Root, nil, syntax.Position{Line: p.Line, Column: p.Column})
		if n == nil {
			break
		}
		x := r.of(f)
		if n.KeyAt == (syntax.Position{Line: p.Line, Column: p.Column}) && n.ValueAt != n.KeyAt {
			x.changes = append(x.changes, r.spell(f, span{int(n.KeyRange.From), int(n.KeyRange.To)}, n.Key))
			said := treeOf(n)
			x.want = dropTree(x.want, path)
			to := append(slices.Clone(path[:len(path)-1]), r.name(n.Key))
			var err error
			x.want, err = putTree(x.want, to, said)
			return err
		}
		text, ok := n.Value.(string)
		if !ok {
			break
		}
		x.changes = append(x.changes, r.spell(f, span{int(n.ValueRange.From), int(n.ValueRange.To)}, text))
		var err error
		x.want, err = putTree(x.want, path, leaf{syntax.String, r.name(text)})
		return err
	}
	return fmt.Errorf("%s:%d:%d: %s is named here in a way that cannot be changed by itself", p.File, p.Line, p.Column, r.from)
}

// name is a name of the entry, or of something of it, as it is from now on.
func (r *renaming) name(old string) string { return r.to + strings.TrimPrefix(old, r.from) }

// spell changes a name in the quotes that it stands in.
func (r *renaming) spell(f *file, at span, text string) change {
	raw := f.doc.Text[at.from:at.to]
	inner := strings.TrimLeft(raw, `"'`)
	if strings.HasPrefix(inner, r.from) {
		from := at.from + len(raw) - len(inner)
		return change{from, from + len(r.from), r.to}
	}
	return change{at.from, at.to, quoted(r.name(text))}
}

// standsAt finds the node of which the key or the value begins at a place.
func standsAt(n *syntax.Node, path []string, at syntax.Position) (*syntax.Node, []string) {
	for i, c := range n.Children {
		name := c.Key
		if n.Kind == syntax.Array {
			name = strconv.Itoa(i)
		}
		here := append(slices.Clone(path), name)
		if c.Kind == syntax.String && c.ValueAt == at || c.KeyAt == at && !c.KeyRange.Empty() && c.Kind != syntax.Table {
			return c, here
		}
		if found, p := standsAt(c, here, at); found != nil {
			return found, p
		}
	}
	return nil, nil
}

package edit

import (
	"cmp"
	"fmt"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/syntax"
)

// Home is the file that a new entry of a kind goes to: the one that has most
// of its kind, and where there is none the build's main file.
func (d *Draft) Home(kind string) string {
	home, most := ledger.MainFile, 0
	for _, name := range d.names() {
		f := d.files[name]
		if f.doc.Root == nil {
			continue
		}
		if n := f.doc.Root.Child(kind); n != nil && len(n.Children) > most {
			home, most = name, len(n.Children)
		}
	}
	return home
}

// NewEntry is an entry that is to be added, with its keys in their order.
type NewEntry struct {
	Path  string
	Pairs []Pair
}

// Add writes a new entry at the end of a file, which need not be there yet;
// without a name, of the file where its kind is at home.
func (d *Draft) Add(entry string, pairs []Pair, name string) error {
	return d.AddAll([]NewEntry{{entry, pairs}}, name)
}

// AddAll adds entries one behind the other: all of them, unless it is an error.
func (d *Draft) AddAll(list []NewEntry, name string) error {
	homes := map[string]string{}
	var order []string
	by := map[string][]NewEntry{}
	for _, e := range list {
		if f, _, err := d.find(e.Path); f != nil && e.Path != "vehicle" {
			if err != nil {
				return err
			}
			return fmt.Errorf("%s: %s is there already", f.shown, e.Path)
		}
		kind, _, _ := strings.Cut(e.Path, ".")
		if homes[kind] == "" {
			homes[kind] = cmp.Or(name, d.Home(kind))
		}
		home := homes[kind]
		if by[home] == nil {
			order = append(order, home)
		}
		by[home] = append(by[home], e)
	}
	for _, home := range order {
		if err := d.addTo(home, by[home]); err != nil {
			return err
		}
	}
	return nil
}

// addTo adds entries to a file.
func (d *Draft) addTo(name string, list []NewEntry) error {
	f := d.files[name]
	if f == nil {
		if err := localTOML(name); err != nil {
			return err
		}
		f = d.newFile(name, nil, false)
		d.files[name] = f
	}
	if err := f.sound(); err != nil {
		return err
	}
	text := ""
	want := f.tree
	for _, e := range list {
		path := strings.Split(e.Path, ".")
		said, body, err := e.spelled()
		if err == nil && f.inlines(path) {
			if err = f.addInline(path, e, said); err == nil {
				want, err = putTree(want, path, said)
			}
		} else if err == nil {
			want, err = putEntry(want, path, said)
			text += "\n" + body
		}
		if err != nil {
			return fmt.Errorf("%s: what would be added has a fault: %w", f.shown, err)
		}
	}
	end := len(f.doc.Text)
	switch {
	case text == "":
		return nil
	case end == 0:
		text = text[1:]
	case !strings.HasSuffix(f.doc.Text, "\n"):
		text = "\n" + text
	}
	return f.apply(want, []change{{end, end, text}})
}

// inlines tells that the entries of a kind stand in an inline table.
func (f *file) inlines(path []string) bool {
	n := f.doc.Root.Child(path[0])
	return n != nil && n.Inline && n.Kind == syntax.Table && len(path) > 1
}

func (f *file) addInline(path []string, e NewEntry, said any) error {
	want, err := putTree(f.tree, path, said)
	if err != nil {
		return err
	}
	item := dotted(path[1:]) + " = " + Table(e.Pairs...).spelled
	return f.apply(want, f.addItem(f.doc.Root.Child(path[0]), item))
}

// putEntry is the tree with what an entry says, beside what stands in its table
// already: an axle in the vehicle's.
func putEntry(t any, path []string, said map[string]any) (any, error) {
	if top, ok := t.(map[string]any); !ok || top[path[0]] == nil || len(path) > 1 {
		return putTree(t, path, said)
	}
	var err error
	for key, v := range said {
		if t, err = putTree(t, append(path[:1:1], key), v); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// spelled is what the entry says, and its lines.
func (e NewEntry) spelled() (said map[string]any, body string, err error) {
	said = map[string]any{}
	body = "[" + dotted(strings.Split(e.Path, ".")) + "]\n"
	for _, p := range e.Pairs {
		v, err := p.Value.tree()
		if err != nil {
			return nil, "", err
		}
		said[p.Key] = v
		body += spellKey(p.Key) + " = " + p.Value.spelled + "\n"
	}
	return said, body, nil
}

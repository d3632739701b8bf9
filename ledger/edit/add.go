package edit

import (
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

// Add writes a new entry at the end of a file, which need not be there yet;
// without a name, of the file where its kind is at home.
func (d *Draft) Add(entry string, pairs []Pair, name string) error {
	path := strings.Split(entry, ".")
	if f, _, err := d.find(entry); f != nil && entry != "vehicle" {
		if err != nil {
			return err
		}
		return fmt.Errorf("%s: %s is there already", f.shown, entry)
	}
	if name == "" {
		name = d.Home(path[0])
	}
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
	want := f.tree
	body := "[" + dotted(path) + "]\n"
	for _, p := range pairs {
		said, err := p.Value.tree()
		if err == nil {
			want, err = putTree(want, append(strings.Split(entry, "."), p.Key), said)
		}
		if err != nil {
			return fmt.Errorf("%s: what would be added has a fault: %w", f.shown, err)
		}
		body += spellKey(p.Key) + " = " + p.Value.spelled + "\n"
	}
	if n := f.doc.Root.Child(path[0]); n != nil && n.Inline && n.Kind == syntax.Table && len(path) > 1 {
		return f.apply(want, f.addItem(n, dotted(path[1:])+" = "+Table(pairs...).spelled))
	}
	end := len(f.doc.Text)
	switch {
	case end == 0:
	case strings.HasSuffix(f.doc.Text, "\n"):
		body = "\n" + body
	default:
		body = "\n\n" + body
	}
	return f.apply(want, []change{{end, end, body}})
}

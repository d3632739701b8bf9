package editor

import (
	"fmt"
	"path/filepath"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/revision"
)

// renameInShop renames an entry of the shop's file, there and in every build that
// goes by it, open or not.
func (s *server) renameInShop(b *build, kind, id, to string) (any, error) {
	from, name := kind+"."+id, kind+"."+to
	shop := b.files[b.shop]
	if shop == nil || len(shop.doc.Faults) > 0 {
		return nil, fmt.Errorf("%s is not changed until its faults are put right", shopFile)
	}
	if declares(shop.text.s, name) {
		return nil, fmt.Errorf("%s is there already", name)
	}
	if spelledKey(to) != to { // it would end the header, and begin another
		return nil, fmt.Errorf("bad id %q: an id is lower-case words or digits joined by hyphens", to)
	}
	all, err := s.underShop(b.shop)
	if err != nil {
		return nil, err
	}
	var c changes
	for _, t := range declarations(shop.text.s, from) {
		c.add(shop, t.from, t.to, to)
	}
	for _, t := range mentionsIn(shop.text.s, from) {
		c.add(shop, t.from, t.from+len(from), name)
	}
	var users []*build
	for _, u := range all {
		if own, ok := u.b.Entry(from); ok && !own.Shop {
			continue // it has one of its own of that name
		}
		if err := u.nameIn(&c, from, name); err != nil {
			return nil, err
		}
		users = append(users, u)
	}
	for _, u := range users {
		if err := u.holds(c, shop, from, name); err != nil {
			return nil, err
		}
	}
	return s.workspaceEdit(c)
}

// underShop are all builds that go by a shop's file. It is an error if one of them
// has a fault: a name might stand in what cannot be read.
func (s *server) underShop(shop string) ([]*build, error) {
	place, err := revision.Open(filepath.Dir(shop))
	if err != nil {
		return nil, err
	}
	found, err := place.Builds()
	if err != nil {
		return nil, err
	}
	var out []*build
	for _, disk := range found {
		dir, ok := disk.Dir()
		if !ok || shopAbove(disk, dir) != shop {
			continue
		}
		u := s.builds[dir]
		if u == nil {
			u = &build{dir: dir, disk: disk, from: ledger.NewLoader()}
			s.read(u)
		}
		if len(u.b.Faults) > 0 {
			return nil, fmt.Errorf("%s; nothing is renamed until that is put right", u.b.Faults[0])
		}
		out = append(out, u)
	}
	return out, nil
}

// nameIn adds the changes of a build's own files.
func (b *build) nameIn(c *changes, from, name string) error {
	if _, there := b.b.Entry(name); there {
		return fmt.Errorf("%s: %s is there already", b.src.Folder(), name)
	}
	n := 0
	for path, f := range b.files {
		if path == b.shop {
			continue
		}
		for _, t := range mentionsIn(f.text.s, from) {
			c.add(f, t.from, t.from+len(from), name)
			n++
		}
	}
	if want := len(b.b.Mentions(from)); n != want {
		return fmt.Errorf("%s: %s is named %d times there, and %d of these can be changed", b.src.Folder(), from, want, n)
	}
	return nil
}

// holds tells what is wrong with a build after the changes; nil where it is as
// before, save for the name.
func (b *build) holds(c changes, shop *file, from, name string) error {
	contents := map[string][]byte{}
	for _, f := range c.files {
		if file, in := b.nameOf(f.path); in {
			contents[file] = []byte(c.changed(f))
		}
	}
	after := ledger.NewLoader().Read(b.src.With(contents).WithShop([]byte(c.changed(shop))))
	if len(after.Faults) > 0 {
		return theReason(&edit.Refused{Faults: after.Faults})
	}
	if len(after.Mentions(name)) != len(b.b.Mentions(from)) || len(after.Mentions(from)) > 0 {
		return fmt.Errorf("%s: internal error: %s would not be renamed everywhere", b.src.Folder(), from)
	}
	return nil
}

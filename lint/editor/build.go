package editor

import (
	"os"
	"path"
	"path/filepath"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
)

// mostBelow is how many builds are opened for a shop's file: those that it has a say
// in without one of their own files being open.
const mostBelow = 20

// build is a build of which a file is open.
type build struct {
	dir  string          // without links
	disk *revision.Build // as it is on the disk
	from *ledger.Loader  // keeps what it read
	src  *revision.Build // with what is open, as last read
	shop string          // the shop's file that has a say, "" where there is none

	b     *ledger.Build    // as last read
	files map[string]*file // by path, the shop's among them
	named map[string]*file // by the names that places have

	dirty       bool // something changed since it was read
	judgeSoon   bool // it is to be judged, when it is read
	diskChanged bool // so may files have that are no part of the ledger
	last        *judgment
	calm        func()                  // stops the wait for a pause
	found       map[string][]Diagnostic // what is to be told of it, by path
}

// file is one of a build, as last read.
type file struct {
	path string
	doc  *syntax.Document
	text *text
	at   map[syntax.Position]mark // made when it is first asked for
}

func isFile(name string) bool {
	info, err := os.Stat(name)
	return err == nil && !info.IsDir()
}

// openBuild opens the build in a folder, of which a shop's file may stand as far up
// as the top; nothing, where it cannot be.
func (s *server) openBuild(top, dir string) {
	old := s.builds[dir]
	if old != nil && old.shop != "" {
		return
	}
	disk, err := revision.OpenBelow(top, dir)
	if err != nil {
		return
	}
	if old != nil {
		if shop := shopAbove(disk, dir); shop != "" { // it was out of reach before
			old.disk, old.shop, old.dirty = disk, shop, true
		}
		return
	}
	s.builds[dir] = &build{dir: dir, disk: disk, from: ledger.NewKeeper(), dirty: true, diskChanged: true, shop: shopAbove(disk, dir)}
}

// openBelow opens the builds below a shop's file.
func (s *server) openBelow(dir string) {
	place, err := revision.Open(dir)
	if err != nil {
		return
	}
	defer place.Close()
	found, _ := place.Builds() // those that can be read will do
	for _, b := range found[:min(len(found), mostBelow)] {
		if at, ok := b.Dir(); ok {
			s.openBuild(s.top(at, dir), at)
		}
	}
}

// top is the folder of the editor's that a build is in, the outermost, or the one
// that is given where it has none.
func (s *server) top(dir, otherwise string) string {
	top := otherwise
	for _, root := range s.roots {
		if rel, err := filepath.Rel(root, dir); err == nil && filepath.IsLocal(rel) && len(root) < len(top) {
			top = root
		}
	}
	return top
}

// leave closes a build.
func (s *server) leave(b *build) {
	delete(s.builds, b.dir)
	b.close()
}

func (b *build) close() {
	if b.calm != nil {
		b.calm()
	}
}

// shopAbove is the path of the shop's file that a build goes by.
func shopAbove(src *revision.Build, dir string) string {
	if sh, err := src.Shop(); sh == nil && err == nil {
		return ""
	}
	for ; ; dir = filepath.Dir(dir) {
		if name := filepath.Join(dir, shopFile); isFile(name) {
			return name
		}
		if dir == filepath.Dir(dir) {
			return ""
		}
	}
}

// nameOf is the name that a file has in the build, slash-separated; false where it
// is none that the build reads.
func (b *build) nameOf(path string) (string, bool) {
	rel, err := filepath.Rel(b.dir, path)
	if err != nil || !filepath.IsLocal(rel) || rel == shopFile || !strings.EqualFold(filepath.Ext(rel), ".toml") {
		return "", false
	}
	name := filepath.ToSlash(rel)
	return name, !strings.HasPrefix(name, ".") && !strings.Contains(name, "/.")
}

// read reads the build anew, with what is open in the place of what is on disk.
func (s *server) read(b *build) {
	b.dirty = false
	contents := map[string][]byte{}
	for path, d := range s.docs {
		if name, in := b.nameOf(path); in {
			contents[name] = []byte(d.text.s)
		}
	}
	listed, _ := b.disk.TOML() // what cannot be read is told when the ledger is
	var names, beyond []string
	for _, f := range listed {
		if f.Fault != "" && f.Size <= revision.MaxTOML { // a link that leads out of the folder is none for being open
			delete(contents, f.Path)
			beyond = append(beyond, f.Path)
			continue
		}
		if _, open := contents[f.Path]; !open && f.Fault == "" {
			names = append(names, f.Path)
		}
	}
	data, faults := b.disk.ReadAll(names)
	for i, name := range names {
		if faults[i] == nil {
			contents[name] = data[i]
		}
	}
	b.src = b.disk.With(contents)
	old := b.files
	b.files, b.named = map[string]*file{}, map[string]*file{}
	for name, content := range contents {
		s.keep(b, old, filepath.Join(b.dir, filepath.FromSlash(name)), b.src.Name(name), content)
	}
	for _, name := range beyond { // what is wrong with them is told at them
		s.keep(b, old, filepath.Join(b.dir, filepath.FromSlash(name)), b.src.Name(name), nil)
	}
	s.readShop(b, old)
	b.b = b.from.Read(b.src)
	b.from.Turn()
}

func (s *server) readShop(b *build, old map[string]*file) {
	b.shop = shopAbove(b.disk, b.dir)
	if d := s.docs[b.shop]; d != nil {
		b.src = b.src.WithShop([]byte(d.text.s))
	}
	sh, err := b.src.Shop()
	if sh == nil || err != nil {
		return
	}
	s.keep(b, old, b.shop, sh.Name, sh.Content)
	for _, f := range sh.Rules {
		s.keep(b, old, filepath.Join(filepath.Dir(b.shop), "rules", path.Base(f.Name)), f.Name, f.Content)
	}
}

// keep notes a file that was read. One that is as it was stays what it is.
func (s *server) keep(b *build, old map[string]*file, path, shown string, content []byte) {
	doc := b.from.File(shown, content).Document
	f := old[path]
	if f == nil || f.doc != doc {
		t := textOf(string(content))
		if d := s.docs[path]; d != nil {
			t = d.text
		}
		f = &file{path: path, doc: doc, text: t}
	}
	b.files[path], b.named[shown] = f, f
}

// fileAt is the file that a place is in; the build's main one where it is none that
// was read.
func (b *build) fileAt(p quantity.Place) *file {
	if f := b.named[p.File]; f != nil {
		return f
	}
	return b.files[filepath.Join(b.dir, ledger.MainFile)]
}

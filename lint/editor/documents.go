package editor

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"fishplate/ledger"
)

// shopFile is the name of a shop's file.
const shopFile = "shop.toml"

// document is a file that the editor holds open. What it holds there counts, and
// not what is on the disk.
type document struct {
	uri     string // as the editor names it
	path    string
	version *int
	text    *text
}

// file is the document that a message is about.
func (s *server) file(uri string) (*document, error) {
	path, err := pathOf(uri)
	if err != nil {
		return nil, err
	}
	d := s.docs[settled(path)]
	if d == nil {
		return nil, fmt.Errorf("%s is not open", plain(uri))
	}
	return d, nil
}

func (s *server) didOpen(p *didOpenParams) error {
	path, err := pathOf(p.TextDocument.URI)
	if err != nil {
		return err
	}
	path = settled(path)
	d := &document{uri: p.TextDocument.URI, path: path, version: p.TextDocument.Version, text: textOf(p.TextDocument.Text)}
	s.docs[path] = d
	s.loose = true
	s.enter(d)
	for _, b := range s.buildsOf(d) {
		b.judgeSoon, b.diskChanged = true, true
	}
	return nil
}

// enter finds the builds that a document belongs to, and opens them.
func (s *server) enter(d *document) {
	if !strings.EqualFold(filepath.Ext(d.path), ".toml") {
		return
	}
	if filepath.Base(d.path) == shopFile {
		s.openBelow(filepath.Dir(d.path))
	}
	if dir, ok := buildAbove(d.path); ok {
		s.openBuild(s.top(dir, dir), dir)
	}
	s.touched(d)
}

// touched marks the builds of a document as changed.
func (s *server) touched(d *document) {
	for _, b := range s.buildsOf(d) {
		b.dirty = true
	}
}

// buildsOf are the open builds that a document belongs to: one, or of a shop's file
// all that it has a say in.
func (s *server) buildsOf(d *document) []*build {
	var out []*build
	for _, b := range s.builds {
		if _, in := b.nameOf(d.path); in || b.shop == d.path {
			out = append(out, b)
		}
	}
	slices.SortFunc(out, func(a, b *build) int { return strings.Compare(a.dir, b.dir) })
	return out
}

// buildOf is the build that a document is asked about in.
func (s *server) buildOf(d *document) *build {
	if all := s.buildsOf(d); len(all) > 0 {
		return all[0]
	}
	return nil
}

func (s *server) didChange(p *didChangeParams) error {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return err
	}
	for _, c := range p.Changes {
		d.text = d.text.changed(c, s.encoding)
	}
	d.version = p.TextDocument.Version
	s.loose = true
	s.touched(d)
	for _, b := range s.buildsOf(d) {
		s.judgeAfterPause(b)
	}
	return nil
}

func (s *server) didSave(p *placeParams) error {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return err
	}
	s.enter(d) // it may be what makes its folder a build
	for _, b := range s.buildsOf(d) {
		b.judgeSoon, b.diskChanged = true, true
	}
	return nil
}

func (s *server) didClose(p *placeParams) error {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return err
	}
	s.touched(d)
	delete(s.docs, d.path)
	s.loose = true
	for _, b := range slices.Collect(maps.Values(s.builds)) {
		if !s.wanted(b) {
			s.leave(b)
		} else if b.dirty {
			b.judgeSoon, b.diskChanged = true, true
		}
	}
	s.publish(d.uri, nil, nil)
	delete(s.told, d.path) // what is left to tell goes to the name that the file has by itself
	return nil
}

// filesChanged takes note of files that are another on disk than before.
func (s *server) filesChanged(*struct{}) error {
	for _, d := range s.docs {
		s.enter(d)
	}
	for _, b := range s.builds {
		b.dirty = true
		b.judgeSoon, b.diskChanged = true, true
	}
	return nil
}

// wanted tells that a build has a file open, or its shop's file is.
func (s *server) wanted(b *build) bool {
	for path := range s.docs {
		if _, in := b.nameOf(path); in || b.shop == path {
			return true
		}
	}
	return false
}

// buildAbove is the folder of the build that a file is in.
func buildAbove(path string) (dir string, ok bool) {
	for dir = filepath.Dir(path); ; dir = filepath.Dir(dir) {
		if isFile(filepath.Join(dir, ledger.MainFile)) {
			return dir, true
		}
		if dir == filepath.Dir(dir) {
			return "", false
		}
	}
}

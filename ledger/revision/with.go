package revision

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// With is the build as it would be with other contents of some of its files,
// which need not be there yet. Nothing is written.
func (b *Build) With(contents map[string][]byte) *Build {
	return &Build{&changed{tree: b.tree, build: b.at, contents: contents}, b.at}
}

// WithShop is the build as it would be with another content of the shop's file
// that has a say.
func (b *Build) WithShop(content []byte) *Build {
	return &Build{&changed{tree: b.tree, build: b.at, shop: &content}, b.at}
}

// changed is a tree in which some files of one build are other than they are.
type changed struct {
	tree
	build    string
	contents map[string][]byte
	shop     *[]byte // nil: as it is
}

// typedShop is what a shop's file holds that is other than it is.
func typedShop(from tree) ([]byte, bool) {
	for {
		c, ok := from.(*changed)
		if !ok {
			return nil, false
		}
		if c.shop != nil {
			return *c.shop, true
		}
		from = c.tree
	}
}

func (c *changed) list(at string) ([]File, error) {
	files, err := c.tree.list(at)
	if at != c.build {
		return files, err
	}
	there := map[string]bool{}
	for i, f := range files {
		if text, ok := c.contents[f.Path]; ok {
			files[i] = File{Path: f.Path, Size: int64(len(text))}
			there[f.Path] = true
		}
	}
	for name, text := range c.contents {
		if !there[name] {
			files = append(files, File{Path: name, Size: int64(len(text))})
		}
	}
	return files, err
}

func (c *changed) copy(w io.Writer, at, name string, limit int64) (int64, error) {
	text, ok := c.contents[name]
	if !ok || at != c.build {
		return c.tree.copy(w, at, name, limit)
	}
	if size := int64(len(text)); limit >= 0 && size > limit {
		return 0, &oversize{size, limit}
	}
	return io.Copy(w, bytes.NewReader(text))
}

func (c *changed) read(at string, names []string) ([][]byte, []error) {
	contents, faults := make([][]byte, len(names)), make([]error, len(names))
	var asIs []string
	var where []int
	for i, name := range names {
		text, ok := c.contents[name]
		switch {
		case !ok || at != c.build:
			asIs, where = append(asIs, name), append(where, i)
		case len(text) > MaxTOML:
			faults[i] = &oversize{int64(len(text)), MaxTOML}
		default:
			contents[i] = text
		}
	}
	if len(asIs) > 0 {
		found, bad := c.tree.read(at, asIs)
		for i, n := range where {
			contents[n], faults[n] = found[i], bad[i]
		}
	}
	return contents, faults
}

// Journal is the file in a build folder that tells of a change of several
// files while it is being made. It is hidden, and no part of the ledger.
const Journal = ".fishplate-change"

// Changing tells whether a change of several of the build's files is being
// made, or was cut short, and since when: what is read then may be half of it. In
// a revision it was cut short, and committed.
func (b *Build) Changing() (since time.Time, is bool) {
	switch t := b.tree.(type) {
	case *folder:
		info, err := os.Lstat(filepath.Join(b.at, Journal))
		if err == nil {
			since = info.ModTime()
		}
		return since, !errors.Is(err, fs.ErrNotExist)
	case *commit:
		is, _ = t.has(b.at, Journal)
	}
	return since, is
}

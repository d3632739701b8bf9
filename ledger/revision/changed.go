package revision

import (
	"bytes"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Pair is a build at two places; nil where it is not there.
type Pair struct {
	Before, After *Build
	Moved         bool // to another folder
}

// IsBuild tells whether the place itself is a build folder.
func (p *Place) IsBuild() bool {
	there, err := p.tree.has(p.at, buildFile)
	return there && err == nil
}

// Past is the same folder at a revision, at a glance; nil where the folder is
// not there. A place of a revision is looked for from the top, as its own is.
func (p *Place) Past(rev string) (*Place, error) {
	var c *commit
	var err error
	at, named := p.at, rev+":"+p.Name()
	switch t := p.tree.(type) {
	case *commit:
		c = newCommit(t.git, rev)
		named = rev + ":" + at
		c.prefix, c.inside, c.fromTop = t.prefix, t.inside, t.fromTop
		c.id, _, err = c.git.commit(rev)
	case *folder:
		c = newCommit(git{p.at}, rev)
		c.id, at, err = c.git.commit(rev)
		at = strings.TrimSuffix(at, "/")
		c.inside = at
		if rel, bad := filepath.Rel(p.at, t.here); bad == nil {
			c.prefix = path.Join(at, filepath.ToSlash(rel))
		}
	}
	var found bool
	if err == nil {
		err = c.head()
	}
	if err == nil {
		_, found, err = c.treeAt(at)
	}
	if err != nil || !found {
		c.batch.close()
		if err != nil {
			err = &Error{named, err.Error()}
		}
		return nil, err
	}
	return &Place{tree: c, at: at}, nil
}

// Changed gives the builds at or below two places whose files or whose shop's
// file differ, and those that only one has, sorted by folder. A build that was
// moved to another folder is paired with itself. No before is nothing at all.
// Where both are of revisions git's ids tell, and nothing of the others is
// read; otherwise all files are.
func Changed(before, after *Place) ([]*Pair, error) {
	x, old := treeOf(before).(*commit)
	y, now := treeOf(after).(*commit)
	var d *differences
	var err error
	if (old || before == nil) && now {
		d, err = walk(x, y, before, after)
	} else {
		d, err = hashed(before, after)
	}
	if err != nil {
		return nil, &Error{after.Name(), err.Error()}
	}
	pairs := append(d.pairs, moved(d.gone, d.come)...)
	below := func(p *Pair) string {
		if p.After != nil {
			return after.below(p.After)
		}
		return before.below(p.Before)
	}
	slices.SortFunc(pairs, func(p, q *Pair) int { return strings.Compare(below(p), below(q)) })
	return pairs, nil
}

// below is the name of a build's folder below the place.
func (p *Place) below(b *Build) string {
	return strings.TrimPrefix(strings.TrimPrefix(filepath.ToSlash(b.at), filepath.ToSlash(p.at)), "/")
}

func treeOf(p *Place) tree {
	if p == nil {
		return nil
	}
	return p.tree
}

// differences are the builds that are not the same, and those of one side.
type differences struct {
	pairs      []*Pair
	gone, come []*print
}

// print is what tells a build from others: its files by their paths, each with
// an id of its content.
type print struct {
	build *Build
	files map[string]string
}

// hashed compares the builds of two places file by file, each by the id that it
// has or would have in git. A file that git writes out with other line ends
// counts as another.
func hashed(before, after *Place) (*differences, error) {
	d := &differences{}
	wide := sha256.Size
	for _, p := range []*Place{before, after} {
		if c, ok := treeOf(p).(*commit); ok {
			wide = len(c.id) / 2
		}
	}
	old, err := printsOf(before, wide)
	if err != nil {
		return nil, err
	}
	now, err := printsOf(after, wide)
	if err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(old)) {
		a, b := old[name], now[name]
		if b == nil {
			d.gone = append(d.gone, a)
			continue
		}
		same, err := sameShop(a.build, b.build)
		if err != nil || !same || !maps.Equal(a.files, b.files) {
			d.pairs = append(d.pairs, &Pair{Before: a.build, After: b.build})
		}
	}
	for _, name := range slices.Sorted(maps.Keys(now)) {
		if old[name] == nil {
			d.come = append(d.come, now[name])
		}
	}
	return d, nil
}

// printsOf are those of the builds of a place, by the name of a build's folder
// below it, with ids so many bytes wide.
func printsOf(p *Place, wide int) (map[string]*print, error) {
	out := map[string]*print{}
	if p == nil {
		return out, nil
	}
	builds, err := p.Builds()
	if err != nil {
		if found, _, faults := p.tree.find(p.at); len(found)+len(faults) > 0 {
			return nil, err
		}
		return out, nil // there is no build at all
	}
	for _, b := range builds {
		files, err := b.List()
		if err != nil {
			return nil, err
		}
		pr := &print{b, map[string]string{}}
		for _, f := range files {
			if pr.files[f.Path] = f.Fault; f.Fault != "" {
				continue
			}
			if pr.files[f.Path], err = b.tree.gitID(b.at, f, wide); err != nil {
				pr.files[f.Path] = err.Error()
			}
		}
		out[p.below(b)] = pr
	}
	return out, nil
}

// gitID is git's own.
func (c *commit) gitID(at string, f File, _ int) (string, error) {
	e, err := c.resolve(at, f.Path)
	return e.id, err
}

// gitID is the id that a file would have in git: the hash of the word blob, its
// size, a zero byte and its content (Git Internals, "Object Storage").
func (f *folder) gitID(at string, file File, wide int) (string, error) {
	var h hash.Hash = sha256.New()
	if wide == sha1.Size {
		h = sha1.New()
	}
	fmt.Fprintf(h, "blob %d\x00", file.Size)
	_, err := f.copy(h, at, file.Path, MaxDocument)
	return hex.EncodeToString(h.Sum(nil)), err
}

// sameShop tells whether the same shop's file, with the same rules beside it, has
// a say over two builds.
func sameShop(a, b *Build) (bool, error) {
	x, err := a.Shop()
	y, bad := b.Shop()
	if x == nil || y == nil {
		return x == y, errors.Join(err, bad)
	}
	return bytes.Equal(x.Content, y.Content) && slices.EqualFunc(x.Rules, y.Rules, func(r, s ShopFile) bool {
		return path.Base(r.Name) == path.Base(s.Name) && r.Fault == s.Fault && bytes.Equal(r.Content, s.Content)
	}), errors.Join(err, bad)
}

// mostTried bounds how many pairs of a build that is gone and one that came are
// held against each other.
const mostTried = 10_000

// moved pairs the builds that are gone with those that came and have half of
// their files at least, those first that have most.
func moved(gone, come []*print) (pairs []*Pair) {
	type match struct {
		a, b *print
		same int // of a hundred files
	}
	var matches []match
	if len(gone)*len(come) <= mostTried {
		for _, a := range gone {
			for _, b := range come {
				if same := alike(a, b); same >= 50 {
					matches = append(matches, match{a, b, same})
				}
			}
		}
	}
	slices.SortStableFunc(matches, func(m, n match) int { return n.same - m.same })
	taken := map[*print]bool{}
	for _, m := range matches {
		if !taken[m.a] && !taken[m.b] {
			taken[m.a], taken[m.b] = true, true
			pairs = append(pairs, &Pair{m.a.build, m.b.build, true})
		}
	}
	for _, a := range gone {
		if !taken[a] {
			pairs = append(pairs, &Pair{Before: a.build})
		}
	}
	for _, b := range come {
		if !taken[b] {
			pairs = append(pairs, &Pair{After: b.build})
		}
	}
	return pairs
}

// alike is how many of a hundred files two builds have in common, by name and
// content.
func alike(a, b *print) int {
	same := 0
	for name, id := range a.files {
		if other, ok := b.files[name]; ok && other == id {
			same++
		}
	}
	return 100 * same / max(1, len(a.files), len(b.files))
}

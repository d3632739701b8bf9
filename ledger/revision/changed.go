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

// spot is a folder of both sides that may hold builds. A side that is not there,
// or is a build, has no tree.
type spot struct {
	at   [2]string // its path on each side
	tree [2]string
	shop [2]string // the shop that has a say, as shopID tells it from others
}

// walk goes down two trees side by side, level by level, and where they are the
// same no further.
func walk(x, y *commit, before, after *Place) (*differences, error) {
	d := &differences{}
	var top spot
	for i, p := range []*Place{before, after} {
		if p == nil {
			continue
		}
		c := []*commit{x, y}[i]
		v, found, err := c.treeAt(p.at)
		if err != nil {
			return nil, err
		}
		if found {
			top.tree[i], top.at[i] = v.tree, p.at
			if top.shop[i], err = c.shopAbove(p.at, v); err != nil {
				return nil, err
			}
		}
	}
	w := &walker{d, [2]*commit{x, y}}
	for todo := []spot{top}; len(todo) > 0; {
		todo = slices.DeleteFunc(todo, func(s spot) bool { return s.tree[0] == s.tree[1] && s.shop[0] == s.shop[1] })
		for i, c := range w.sides {
			if err := fetchSpots(c, todo, i); err != nil {
				return nil, err
			}
		}
		var below []spot
		for _, s := range todo {
			more, err := w.visit(s)
			if err != nil {
				return nil, err
			}
			if below = append(below, more...); len(below) > mostListed {
				return nil, errors.New("too many folders; name one further down")
			}
		}
		todo = below
	}
	return d, nil
}

func fetchSpots(c *commit, spots []spot, side int) error {
	if c == nil {
		return nil
	}
	var ids []string
	for _, s := range spots {
		if s.tree[side] != "" {
			ids = append(ids, s.tree[side])
		}
	}
	return c.explain(c.kept.fetch(ids...))
}

// shopAbove tells the shop that has a say over a folder from above it from others;
// "" where there is none.
func (c *commit) shopAbove(at string, v view) (string, error) {
	for at != "" {
		at = clean(path.Dir(at))
		if e := v.above[path.Join(at, shopFile)]; e != nil && e.mode != modeFolder && e.mode != modeSubmodule {
			return c.shopID(at, *e, v.above[path.Join(at, rulesFolder)])
		}
	}
	return "", nil
}

// shopIn tells the shop whose file stands in a tree from others; false where none
// does.
func (c *commit) shopIn(at, tree string) (string, bool, error) {
	e, ok := c.kept.named(tree, shopFile)
	if !ok || e.mode == modeFolder || e.mode == modeSubmodule {
		return "", false, nil
	}
	var beside *entry
	if rules, ok := c.kept.named(tree, rulesFolder); ok {
		beside = &rules
	}
	id, err := c.shopID(at, e, beside)
	return id, true, err
}

// shopID tells a shop's file and the files of rules beside it from others: by their
// ids, and where one is a link by what that leads to.
func (c *commit) shopID(at string, file entry, rules *entry) (string, error) {
	id := c.idOf(path.Join(at, shopFile), file)
	switch {
	case rules == nil:
		return id, nil
	case rules.mode == modeLink:
		return id + " " + rules.id, nil
	case rules.mode != modeFolder:
		return id, nil
	}
	if err := c.kept.fetch(rules.id); err != nil {
		return "", c.explain(err)
	}
	beside := sha256.New()
	for _, it := range c.kept.tree(rules.id) {
		if isRules(it.name, it.entry) {
			fmt.Fprintf(beside, "%s\x00%s\x00", it.name, c.idOf(path.Join(at, rulesFolder, it.name), it.entry))
		}
	}
	return id + " " + hex.EncodeToString(beside.Sum(nil)), nil
}

// idOf is the id of a file's content, or where a link leads nowhere, words about that.
func (c *commit) idOf(name string, e entry) string {
	if e.mode != modeLink {
		return e.id
	}
	target, err := c.resolve("", name)
	if err != nil {
		return name + ": " + err.Error()
	}
	return target.id
}

// walker notes what it comes by on its way down.
type walker struct {
	*differences
	sides [2]*commit
}

// visit looks into the folders of a spot: a side that is a build is done, the
// other goes on.
func (w *walker) visit(s spot) (below []spot, err error) {
	same := s.tree[0] == s.tree[1]
	var builds [2]*Build
	folders := map[string]*spot{}
	for i, c := range w.sides {
		if s.tree[i] == "" {
			continue
		}
		own, shop, err := c.shopIn(s.at[i], s.tree[i])
		if err != nil {
			return nil, err
		}
		if shop {
			s.shop[i] = own
		}
		if e, ok := c.kept.named(s.tree[i], buildFile); ok && e.mode != modeFolder && e.mode != modeSubmodule {
			if builds[i], err = w.build(i, s.at[i]); err != nil {
				return nil, err
			}
			continue
		}
		for _, it := range c.kept.tree(s.tree[i]) {
			if it.mode != modeFolder || hidden(it.name) || shop && it.name == trialsFolder {
				continue
			}
			if folders[it.name] == nil {
				folders[it.name] = &spot{}
			}
			f := folders[it.name]
			f.at[i], f.tree[i] = path.Join(s.at[i], it.name), it.id
		}
	}
	switch {
	case builds[0] != nil && builds[1] != nil:
		if !same || s.shop[0] != s.shop[1] {
			w.pairs = append(w.pairs, &Pair{Before: builds[0], After: builds[1]})
		}
	case builds[0] != nil:
		w.gone = append(w.gone, printOf(builds[0]))
	case builds[1] != nil:
		w.come = append(w.come, printOf(builds[1]))
	}
	for _, name := range slices.Sorted(maps.Keys(folders)) {
		folders[name].shop = s.shop
		below = append(below, *folders[name])
	}
	return below, nil
}

// build is that of a folder on one side, which alone of the revision is known.
func (w *walker) build(side int, at string) (*Build, error) {
	c := w.sides[side]
	v, _, err := c.treeAt(at)
	if err != nil {
		return nil, err
	}
	t, err := c.look(at, v)
	if err != nil {
		return nil, err
	}
	return &Build{tree: t, at: at}, nil
}

// printOf is that of a build of a revision, by git's own ids.
func printOf(b *Build) *print {
	c := b.tree.(*commit)
	p := &print{b, map[string]string{}}
	for _, name := range c.paths {
		if rel := relative(b.at, name); !hiddenPath(rel) {
			p.files[rel] = c.entries[name].id
		}
	}
	return p
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

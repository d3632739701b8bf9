package revision

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"path"
	"slices"
)

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

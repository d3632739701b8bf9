package revision

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
)

// objects keeps what was read of a repository by its id, so that commits that
// share a tree or a file cost it once. It is safe for concurrent use.
type objects struct {
	batch *batch

	mu    sync.Mutex
	keep  bool // files too, as a build is read at many commits
	trees map[string][]item
	blobs map[string][]byte
	held  int // bytes of blobs
	sums  map[string]digested
}

// mostHeld is how many bytes of files are kept.
const mostHeld = 64 << 20

// item is a line of a git tree.
type item struct {
	name string
	entry
}

// digested is the SHA-256 of a file and its size in bytes.
type digested struct {
	hex  string
	size int64
}

func (o *objects) sum(id string) (digested, bool) {
	o.mu.Lock()
	defer o.mu.Unlock()
	d, ok := o.sums[id]
	return d, ok
}

func (o *objects) note(id string, d digested) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.sums[id] = d
}

func newObjects(b *batch) *objects {
	return &objects{batch: b, trees: map[string][]item{}, blobs: map[string][]byte{}, sums: map[string]digested{}}
}

// fetch reads trees, those at once that are not known yet.
func (o *objects) fetch(ids ...string) error {
	o.mu.Lock()
	defer o.mu.Unlock()
	var wanted []string
	asked := map[string]bool{}
	for _, id := range ids {
		if _, known := o.trees[id]; !known && !asked[id] {
			asked[id] = true
			wanted = append(wanted, id)
		}
	}
	return o.batch.each(wanted, mostNamed, func(i int, content []byte, err error) error {
		if err != nil {
			return err
		}
		items, err := treeItems(content, len(wanted[i])/2)
		o.trees[wanted[i]] = items
		return err
	})
}

// tree is one that was fetched.
func (o *objects) tree(id string) []item {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.trees[id]
}

// named finds an item of a tree that was fetched.
func (o *objects) named(id, name string) (entry, bool) {
	for _, it := range o.tree(id) {
		if it.name == name {
			return it.entry, true
		}
	}
	return entry{}, false
}

// treeItems reads a tree as git keeps it: mode, blank, name, zero byte and the
// id in so many bytes (gitformat-pack(5), "tree object" of Git Internals).
func treeItems(content []byte, wide int) (items []item, err error) {
	for len(content) > 0 {
		head, rest, ok := bytes.Cut(content, []byte{0})
		mode, name, named := bytes.Cut(head, []byte{' '})
		if !ok || !named || len(rest) < wide {
			return nil, errors.New("a tree that is none")
		}
		e := entry{mode: string(mode), id: hex.EncodeToString(rest[:wide]), size: -1}
		if e.mode == "40000" {
			e.mode = modeFolder
		}
		items = append(items, item{string(name), e})
		content = rest[wide:]
	}
	return items, nil
}

// each hands over the content of many objects in turn, each of at most limit
// bytes, until one is refused.
func (b *batch) each(ids []string, limit int64, take func(int, []byte, error) error) (failed error) {
	if len(ids) == 0 {
		return nil
	}
	content := new(bytes.Buffer) // where there is no answer, empty
	b.all(ids, limit, func(int) io.Writer { content = new(bytes.Buffer); return content }, func(i int, _ int64, err error) {
		if failed == nil {
			failed = take(i, content.Bytes(), err)
		}
	})
	return failed
}

// read gives files by their ids, from what is kept or from git.
func (o *objects) read(ids []string) (contents map[string][]byte, faults map[string]error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	contents, faults = map[string][]byte{}, map[string]error{}
	var wanted []string
	for _, id := range ids {
		if content, known := o.blobs[id]; known {
			contents[id] = content
		} else {
			wanted = append(wanted, id)
		}
	}
	_ = o.batch.each(wanted, MaxTOML, func(i int, content []byte, err error) error { // each has its own error
		if err != nil {
			faults[wanted[i]] = err
			return nil
		}
		contents[wanted[i]] = content
		if !o.keep {
			return nil
		}
		if o.held += len(content); o.held > mostHeld {
			clear(o.blobs)
			o.held = len(content)
		}
		o.blobs[wanted[i]] = content
		return nil
	})
	return contents, faults
}

// view is a commit of which one build is known alone: from its tree, and with
// what lies above it on the way to a shop's file.
type view struct {
	tree  string              // the id of the build's tree
	above map[string]*entry   // the folders above and the shop's files in them, by path; nil where there is none
	dirs  map[string][]string // of folders of rules beside a shop's file, the names of those
}

// look makes a tree of a commit that knows one build.
func (c *commit) look(at string, v view) (*commit, error) {
	out := &commit{git: c.git, batch: c.batch, kept: c.kept, rev: c.rev, id: c.id, root: c.root, prefix: c.prefix, inside: c.inside, fromTop: c.fromTop,
		committed: c.committed, authored: c.authored, at: at, entries: map[string]entry{}, aside: maps.Clone(v.above), dirs: maps.Clone(v.dirs), plain: c.plain}
	type folder struct{ path, id string }
	size := 0
	for todo := []folder{{at, v.tree}}; len(todo) > 0; {
		var ids []string
		for _, f := range todo {
			ids = append(ids, f.id)
		}
		if err := c.kept.fetch(ids...); err != nil {
			return nil, c.explain(err)
		}
		var below []folder
		for _, f := range todo {
			for _, it := range c.kept.tree(f.id) {
				full := path.Join(f.path, it.name)
				if size += len(full); size > mostNamed || len(out.paths)+len(below) > mostListed {
					return nil, fmt.Errorf("more than %d files, or the names of that many, lie below it", mostListed)
				}
				if it.mode == modeFolder {
					below = append(below, folder{full, it.id})
					continue
				}
				out.paths = append(out.paths, full)
				out.entries[full] = it.entry
			}
		}
		todo = below
	}
	slices.Sort(out.paths)
	own := path.Join(at, rulesFolder)
	out.dirs[own] = nil
	for _, p := range out.paths {
		if path.Dir(p) == own && isRules(path.Base(p), out.entries[p]) {
			out.dirs[own] = append(out.dirs[own], path.Base(p))
		}
	}
	return out, nil
}

// treeAt finds the tree of a folder, and what lies above it.
func (c *commit) treeAt(at string) (v view, found bool, err error) {
	v = view{c.root, map[string]*entry{}, map[string][]string{}}
	if err := c.kept.fetch(v.tree); err != nil || at == "" {
		return v, err == nil, c.explain(err)
	}
	here := ""
	for part := range strings.SplitSeq(at, "/") {
		if err := v.pass(c.kept, here); err != nil {
			return v, false, c.explain(err)
		}
		e, ok := c.kept.named(v.tree, part)
		if here = path.Join(here, part); !ok || e.mode != modeFolder {
			return v, false, nil
		}
		v.above[here], v.tree = &e, e.id
		if err := c.kept.fetch(v.tree); err != nil {
			return v, false, c.explain(err)
		}
	}
	return v, true, nil
}

// pass notes the shop's file in the folder that the view has come to, and the
// rules beside it.
func (v *view) pass(o *objects, here string) error {
	v.above[path.Join(here, shopFile)] = nil
	e, ok := o.named(v.tree, shopFile)
	if !ok {
		return nil
	}
	v.above[path.Join(here, shopFile)] = &e
	dir := path.Join(here, rulesFolder)
	v.dirs[dir] = nil
	rules, ok := o.named(v.tree, rulesFolder)
	if !ok {
		return nil
	}
	if v.above[dir] = &rules; rules.mode != modeFolder {
		return nil
	}
	if err := o.fetch(rules.id); err != nil {
		return err
	}
	for _, it := range o.tree(rules.id) {
		if isRules(it.name, it.entry) {
			v.dirs[dir] = append(v.dirs[dir], it.name)
			v.above[path.Join(dir, it.name)] = &it.entry
		}
	}
	return nil
}

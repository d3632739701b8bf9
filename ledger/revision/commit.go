package revision

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"time"
)

// commit is the tree of a git revision. Its locations are paths from the top
// of the repository, which itself is "". Only the folder that the user named is
// listed whole: a repository may hold far more beside it.
type commit struct {
	git       git
	batch     *batch
	kept      *objects
	rev       string // as the user named it
	folder    string // as the user named it
	parents   int    // how many commits it goes back to; more than one of a merge
	id        string // of the commit
	root      string // of its tree
	prefix    string // the working directory, from the top
	inside    string // the folder that git runs in, from the top
	fromTop   bool   // the user named the folder from the top
	at        string // the folder that is listed
	paths     []string
	entries   map[string]entry // of what is below at
	committed time.Time
	authored  time.Time
	plain     bool // it is shown without its revision, which changes from commit to commit

	mu     sync.Mutex
	aside  map[string]*entry   // what was asked for outside at; nil where there is nothing
	dirs   map[string][]string // the TOML files of folders that were asked for
	failed error               // of git when it was asked; it is asked no more
}

// entry is what a git tree holds at a path.
type entry struct {
	mode string
	id   string
	size int64 // -1 where git cannot tell without the object
}

const (
	modeLink      = "120000"
	modeFolder    = "040000"
	modeSubmodule = "160000"

	faultSubmodule = "a submodule, whose files are not in this repository"
)

// openRevision opens a folder of a revision, and lists what is below it unless
// a glance will do.
func openRevision(rev, folder string, glance bool) (*Place, error) {
	named := rev + ":" + folder
	if rev == "" {
		return nil, &Error{named, "no revision before the colon, such as HEAD for the last commit"}
	}
	here, err := os.Getwd()
	if err != nil {
		return nil, fmt.Errorf("the working directory: %w", err)
	}
	c := newCommit(git{here}, rev)
	c.folder = folder
	at, err := c.open(folder)
	if err == nil && !glance {
		err = c.load(at)
	}
	if err != nil {
		c.batch.close()
		return nil, &Error{named, err.Error()}
	}
	return &Place{tree: c, at: at}, nil
}

func newCommit(g git, rev string) *commit {
	b := &batch{git: g}
	return &commit{git: g, batch: b, kept: newObjects(b), rev: rev}
}

func (c *commit) open(folder string) (at string, err error) {
	if c.id, c.prefix, err = c.git.commit(c.rev); err != nil {
		return "", err
	}
	c.inside = c.prefix
	if at, err = c.locate(filepath.ToSlash(folder)); err != nil {
		return "", cmp.Or(c.trouble(), err)
	}
	return at, c.head()
}

// head reads what the commit says of itself.
func (c *commit) head() error {
	var content bytes.Buffer
	if _, err := c.batch.copy(&content, c.id, MaxTOML); err != nil {
		return c.explain(err)
	}
	first, _, _ := strings.Cut(content.String(), "\n")
	c.root = strings.TrimPrefix(first, "tree ")
	var err error
	c.committed, err = signedOn(content.String(), "committer")
	c.authored, _ = signedOn(content.String(), "author")
	c.parents = parentsIn(content.String())
	return err
}

// load lists the files below a folder.
func (c *commit) load(at string) error {
	err := c.sized(at)
	return c.explain(err)
}

// sized reads the list of the files below a folder, with their sizes where the
// objects are there, which a partial clone may lack.
func (c *commit) sized(at string) error {
	err := c.listing(at, "-l")
	var refused *failure
	if errors.As(err, &refused) {
		err = c.listing(at)
	}
	slices.Sort(c.paths)
	return err
}

func (c *commit) listing(at string, flags ...string) error {
	args := append([]string{"ls-tree", "-r", "-z", "--full-tree"}, flags...)
	if args = append(args, c.id); at != "" {
		args = append(args, "--", at+"/")
	}
	c.at, c.paths, c.entries = at, nil, map[string]entry{}
	return c.git.records(args, func(line string) error {
		name, e, err := treeLine(line)
		c.entries[name] = e
		c.paths = append(c.paths, name)
		return err
	})
}

// treeLine reads a line of git ls-tree: mode, type, id and perhaps the size,
// and after a tab the path.
func treeLine(line string) (name string, e entry, err error) {
	head, name, ok := strings.Cut(line, "\t")
	fields := strings.Fields(head)
	if !ok || len(fields) < 3 {
		return "", e, fmt.Errorf("git ls-tree answered %q", line)
	}
	e = entry{mode: fields[0], id: fields[2], size: -1}
	if len(fields) > 3 {
		if size, err := strconv.ParseInt(fields[3], 10, 64); err == nil {
			e.size = size
		}
	}
	return name, e, nil
}

// entry is what there is at a path, which may be a folder where it lies
// outside the one that is listed.
func (c *commit) entry(at string) (entry, bool) {
	if e, ok := c.entries[at]; ok || c.listed(at) {
		return e, ok
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	known, asked := c.aside[at]
	if !asked && c.failed == nil {
		c.failed = c.git.records([]string{"ls-tree", "-z", "--full-tree", c.id, "--", at}, func(line string) error {
			name, e, err := treeLine(line)
			if name == at {
				known = &e
			}
			return err
		})
		if c.aside == nil {
			c.aside = map[string]*entry{}
		}
		c.aside[at] = known
	}
	if known == nil {
		return entry{}, false
	}
	return *known, true
}

// trouble is what git failed with when it was asked for what lies aside.
func (c *commit) trouble() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.explain(c.failed)
}

// listed tells whether a path lies below the folder that is listed.
func (c *commit) listed(at string) bool {
	return c.entries != nil && (c.at == "" || strings.HasPrefix(at, c.at+"/"))
}

// names are those of the folders in a folder.
func (c *commit) names(at string) (found []string) {
	if c.trouble() != nil {
		return nil
	}
	args := []string{"ls-tree", "-d", "-z", "--full-tree", c.id}
	if at != "" {
		args = append(args, "--", at+"/")
	}
	// It is for a suggestion: where git fails there is none.
	_ = c.git.records(args, func(line string) error {
		if name, e, err := treeLine(line); err == nil && e.mode == modeFolder && !hidden(path.Base(name)) {
			found = append(found, path.Base(name))
		}
		return nil
	})
	return found
}

// parentsIn counts the parents that the text of a commit names.
func parentsIn(text string) int {
	head, _, _ := strings.Cut(text, "\n\n")
	n := 0
	for line := range strings.SplitSeq(head, "\n") {
		if strings.HasPrefix(line, "parent ") {
			n++
		}
	}
	return n
}

// signedOn reads the committer's or the author's date from the text of a
// commit.
func signedOn(text, role string) (time.Time, error) {
	head, _, _ := strings.Cut(text, "\n\n")
	for line := range strings.SplitSeq(head, "\n") {
		who, ok := strings.CutPrefix(line, role+" ")
		if !ok {
			continue
		}
		fields := strings.Fields(who[strings.LastIndexByte(who, '>')+1:])
		if len(fields) != 2 {
			break
		}
		seconds, err := strconv.ParseInt(fields[0], 10, 64)
		if err != nil {
			break
		}
		zone, err := strconv.Atoi(fields[1])
		if err != nil {
			break
		}
		offset := zone/100*3600 + zone%100*60
		return time.Unix(seconds, 0).In(time.FixedZone("", offset)), nil
	}
	return time.Time{}, fmt.Errorf("the commit has no %s's date that can be read", role)
}

// below gives the paths of all that is below a folder.
func (c *commit) below(at string) []string {
	if at == "" {
		return c.paths
	}
	first := sort.SearchStrings(c.paths, at+"/")
	last := sort.SearchStrings(c.paths, at+"0") // the character after the slash
	return c.paths[first:last]
}

// relative makes the path of what is below a folder relative to it.
func relative(at, full string) string {
	if at == "" {
		return full
	}
	return full[len(at)+1:]
}

func (c *commit) isFolder(at string) bool {
	if at == "" || c.listed(at) || c.entries != nil && at == c.at {
		return at == "" || len(c.below(at)) > 0
	}
	e, ok := c.entry(at)
	return ok && e.mode == modeFolder
}

func (c *commit) show(at, name string) string {
	full, rev := path.Join(at, name), c.rev+":"
	if c.plain {
		rev = ""
	}
	if c.fromTop {
		return rev + full
	}
	rel, err := filepath.Rel(filepath.FromSlash("/"+c.prefix), filepath.FromSlash("/"+full))
	if err != nil {
		rel = full
	}
	return rev + filepath.ToSlash(rel)
}

func (c *commit) find(at string) (found, trials []string, faults []error) {
	holds, tried := map[string]bool{}, map[string]bool{}
	for _, p := range c.below(at) {
		rel := relative(at, p)
		if path.Base(rel) != buildFile || c.entries[p].mode == modeSubmodule || hiddenPath(rel) {
			continue
		}
		if of := c.tries(at, path.Dir(rel)); of != "" {
			tried[of] = true
			continue
		}
		holds[path.Dir(rel)] = true
	}
	for dir := range holds {
		nested := false
		for up := dir; up != "." && !nested; {
			up = path.Dir(up)
			nested = holds[up]
		}
		if !nested {
			found = append(found, clean(path.Join(at, dir)))
		}
	}
	for dir := range tried {
		trials = append(trials, clean(path.Join(at, dir)))
	}
	return found, trials, nil
}

// tries is the folder of the builds that try a shop's rules which a folder below a
// location is in; "" where it is in none.
func (c *commit) tries(at, rel string) string {
	for dir := rel; dir != "."; dir = path.Dir(dir) {
		if _, shop := c.entries[path.Join(at, path.Dir(dir), shopFile)]; shop && path.Base(dir) == trialsFolder {
			return dir
		}
	}
	return ""
}

func (c *commit) shops(at string) (found []string) {
	for _, p := range c.below(at) {
		if rel := relative(at, p); path.Base(rel) == shopFile && !hiddenPath(rel) && c.entries[p].mode != modeSubmodule {
			found = append(found, clean(path.Dir(p)))
		}
	}
	return found
}

func (c *commit) toml(at, folder string) ([]string, error) {
	dir := path.Join(at, folder)
	if e, ok := c.entry(dir); ok && e.mode == modeLink {
		return nil, &Error{c.show(at, folder), faultLinkedFolder}
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	names, asked := c.dirs[dir]
	if asked || c.failed != nil {
		return names, c.explain(c.failed)
	}
	c.failed = c.git.records([]string{"ls-tree", "-z", "--full-tree", c.id, "--", dir + "/"}, func(line string) error {
		name, e, err := treeLine(line)
		if name = path.Base(name); err == nil && isRules(name, e) {
			names = append(names, name)
		}
		return err
	})
	if c.dirs == nil {
		c.dirs = map[string][]string{}
	}
	c.dirs[dir] = names
	return names, c.explain(c.failed)
}

// isRules tells that a thing in a folder of rules is a file of them.
func isRules(name string, e entry) bool {
	return e.mode != modeFolder && e.mode != modeSubmodule && !hidden(name) && isTOML(name)
}

func (c *commit) join(at, below string) string { return path.Join(at, below) }

// clean writes the top as locations do.
func clean(at string) string {
	if at == "." {
		return ""
	}
	return at
}

func hiddenPath(p string) bool { return hidden(p) || strings.Contains(p, "/.") }

func (c *commit) has(at, name string) (bool, error) {
	e, ok := c.entry(path.Join(at, name))
	return ok && e.mode != modeSubmodule && e.mode != modeFolder, c.trouble()
}

func (c *commit) parent(at string) (string, bool) { return clean(path.Dir(at)), at != "" }

func (c *commit) within(at string) (string, bool) { return c.parent(at) }

func (c *commit) base(at string) string { return path.Base(at) }

func (c *commit) list(at string) ([]File, error) {
	var files []File
	for _, p := range c.below(at) {
		rel := relative(at, p)
		if hiddenPath(rel) {
			continue
		}
		file := File{Path: rel, Size: c.entries[p].size}
		switch c.entries[p].mode {
		case modeSubmodule:
			file.Size, file.Fault, file.branch = 0, faultSubmodule, true
		case modeLink:
			file.Size = 0
			target, err := c.resolve(at, rel)
			if err == nil {
				file.Size = target.size
				break
			}
			file.Fault = err.Error()
			file.branch = file.Fault == faultLinkedFolder || file.Fault == faultOutside && path.Ext(rel) == ""
		}
		files = append(files, file)
	}
	return files, nil
}

func (c *commit) copy(w io.Writer, at, name string, limit int64) (int64, error) {
	e, err := c.resolve(at, name)
	if err != nil {
		return 0, err
	}
	if limit >= 0 && e.size > limit {
		return 0, &oversize{e.size, limit}
	}
	size, err := c.batch.copy(w, e.id, limit)
	return size, c.explain(err)
}

// read asks git for all the files at once, and for each content only once.
func (c *commit) read(at string, names []string) (contents [][]byte, faults []error) {
	contents, faults = make([][]byte, len(names)), make([]error, len(names))
	var ids []string
	wanted := map[string][]int{} // by id, the indexes in names
	for i, name := range names {
		e, err := c.resolve(at, name)
		switch {
		case err != nil:
			faults[i] = err
		case e.size > MaxTOML:
			faults[i] = &oversize{e.size, MaxTOML}
		default:
			if wanted[e.id] == nil {
				ids = append(ids, e.id)
			}
			wanted[e.id] = append(wanted[e.id], i)
		}
	}
	read, failed := c.kept.read(ids)
	for id, indexes := range wanted {
		for _, i := range indexes {
			contents[i], faults[i] = bytes.Clone(read[id]), failed[id]
		}
	}
	for i := range faults {
		faults[i] = c.explain(faults[i])
	}
	return contents, faults
}

func (c *commit) date() (time.Time, bool) { return c.committed, true }

func (c *commit) written() time.Time { return c.authored }

func (c *commit) close() error {
	c.batch.close()
	return nil
}

package revision

import (
	"bytes"
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
	"time"
)

// commit is the tree of a git revision. Its locations are paths from the top
// of the repository, which itself is "".
type commit struct {
	git       git
	batch     *batch
	rev       string // as the user named it
	prefix    string // the working directory, from the top
	fromTop   bool   // the user named the folder from the top
	paths     []string
	entries   map[string]entry
	committed time.Time
	authored  time.Time
}

// entry is what a git tree holds at a path.
type entry struct {
	mode string
	id   string
	size int64 // -1 where git cannot tell without the object
}

const (
	modeLink      = "120000"
	modeSubmodule = "160000"

	faultSubmodule = "a submodule, whose files are not in this repository"
)

func openRevision(rev, folder string) (*Place, error) {
	named := rev + ":" + folder
	if rev == "" {
		return nil, &Error{named, "no revision before the colon, such as HEAD for the last commit"}
	}
	here, err := os.Getwd()
	if err != nil {
		return nil, fmt.Errorf("the working directory: %w", err)
	}
	c := &commit{git: git{here}, rev: rev}
	c.batch = &batch{git: c.git}
	at, err := c.open(folder)
	if err != nil {
		c.batch.close()
		return nil, &Error{named, err.Error()}
	}
	return &Place{c, at}, nil
}

func (c *commit) open(folder string) (at string, err error) {
	id, prefix, err := c.git.commit(c.rev)
	if err != nil {
		return "", err
	}
	c.prefix = prefix
	if err := c.load(id); err != nil {
		return "", c.explain(err)
	}
	if at, err = c.locate(filepath.ToSlash(folder)); err != nil {
		return "", err
	}
	var content bytes.Buffer
	if _, err := c.batch.copy(&content, id, MaxTOML); err != nil {
		return "", c.explain(err)
	}
	c.committed, err = signedOn(content.String(), "committer")
	c.authored, _ = signedOn(content.String(), "author")
	return at, err
}

// load reads the list of the revision's files.
func (c *commit) load(id string) error {
	out, err := c.git.run("ls-tree", "-r", "-z", "--full-tree", "-l", id)
	if err != nil { // sizes need the objects, which a partial clone may lack
		if out, err = c.git.run("ls-tree", "-r", "-z", "--full-tree", id); err != nil {
			return err
		}
	}
	c.entries = map[string]entry{}
	for line := range strings.SplitSeq(out, "\x00") {
		if line == "" {
			continue
		}
		head, name, ok := strings.Cut(line, "\t")
		fields := strings.Fields(head)
		if !ok || len(fields) < 3 {
			return fmt.Errorf("git ls-tree answered %q", line)
		}
		e := entry{mode: fields[0], id: fields[2], size: -1}
		if len(fields) > 3 {
			if size, err := strconv.ParseInt(fields[3], 10, 64); err == nil {
				e.size = size
			}
		}
		c.entries[name] = e
		c.paths = append(c.paths, name)
	}
	slices.Sort(c.paths)
	return nil
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

// within makes the path of what is below a folder relative to it.
func within(at, full string) string {
	if at == "" {
		return full
	}
	return full[len(at)+1:]
}

func (c *commit) isFolder(at string) bool { return len(c.below(at)) > 0 }

func (c *commit) show(at, name string) string {
	full := path.Join(at, name)
	if c.fromTop {
		return c.rev + ":" + full
	}
	rel, err := filepath.Rel(filepath.FromSlash("/"+c.prefix), filepath.FromSlash("/"+full))
	if err != nil {
		rel = full
	}
	return c.rev + ":" + filepath.ToSlash(rel)
}

func (c *commit) find(at string) (found []string, faults []error) {
	holds := map[string]bool{}
	for _, p := range c.below(at) {
		rel := within(at, p)
		if path.Base(rel) == buildFile && c.entries[p].mode != modeSubmodule && !hiddenPath(rel) {
			holds[path.Dir(rel)] = true
		}
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
	return found, nil
}

// clean writes the top as locations do.
func clean(at string) string {
	if at == "." {
		return ""
	}
	return at
}

func hiddenPath(p string) bool { return hidden(p) || strings.Contains(p, "/.") }

func (c *commit) has(at, name string) (bool, error) {
	e, ok := c.entries[path.Join(at, name)]
	return ok && e.mode != modeSubmodule, nil
}

func (c *commit) parent(at string) (string, bool) { return clean(path.Dir(at)), at != "" }

func (c *commit) base(at string) string { return path.Base(at) }

func (c *commit) list(at string) ([]File, error) {
	var files []File
	for _, p := range c.below(at) {
		rel := within(at, p)
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
		return 0, errors.New(tooBig(e.size))
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
			faults[i] = errors.New(tooBig(e.size))
		default:
			if wanted[e.id] == nil {
				ids = append(ids, e.id)
			}
			wanted[e.id] = append(wanted[e.id], i)
		}
	}
	var content *bytes.Buffer
	to := func(int) io.Writer { content = new(bytes.Buffer); return content }
	c.batch.all(ids, MaxTOML, to, func(k int, _ int64, err error) {
		for n, i := range wanted[ids[k]] {
			switch {
			case err != nil:
				faults[i] = err // explained below: that asks git, which is busy
			case n == 0:
				contents[i] = content.Bytes()
			default:
				contents[i] = bytes.Clone(content.Bytes())
			}
		}
	})
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

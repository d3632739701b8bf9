package revision

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"
)

const (
	buildFile = "build.toml"
	shopFile  = "shop.toml"

	// Beside a shop's file stand more of its rules, and the builds that try them.
	rulesFolder  = "rules"
	trialsFolder = "trials"
)

// tree is what a place reads from. A location is a folder of the tree, in a
// form that only the tree knows; names are slash-separated and relative to it.
type tree interface {
	// find gives the locations, at or below at, of the folders that hold build.toml.
	// Builds that try a shop's rules are passed by, unless at is among them.
	find(at string) (found, trials []string, faults []error)
	// shops gives the locations, at or below at, of the folders that hold shop.toml.
	shops(at string) []string
	// toml names the TOML files that stand in a folder of a location, without
	// those in folders of that.
	toml(at, folder string) ([]string, error)
	// join is a location below another.
	join(at, folder string) string
	// list gives the files below a location.
	list(at string) ([]File, error)
	// copy writes a file to w, following links only inside the location, and
	// refuses one of more than limit bytes, if limit is not negative. Its error
	// is a message without the path.
	copy(w io.Writer, at, name string, limit int64) (int64, error)
	// read reads files of at most MaxTOML bytes, as copy does.
	read(at string, names []string) ([][]byte, []error)
	// gitID is the id that git has or would have for a file, so many bytes wide.
	gitID(at string, file File, wide int) (string, error)
	// has tells whether a location holds something of that name that is not a folder.
	has(at, name string) (bool, error)
	// parent gives the location above, and false at the top of the tree.
	parent(at string) (string, bool)
	// within is parent, as far up as a shop's file may stand.
	within(at string) (string, bool)
	// base is the last part of the name of a location.
	base(at string) string
	// show names a location, or a file of one, as the user would type it.
	show(at, name string) string
	date() (time.Time, bool)
	written() time.Time // the author's date; zero of a folder
	close() error
}

// Place is a folder that may hold builds: on disk, or in a revision.
type Place struct {
	tree   tree
	at     string
	trials []string // the folders that Builds passed by
}

// Open finds what a user names: a folder if it exists on disk, otherwise
// REV:FOLDER if it holds a colon. FOLDER is relative to the working directory,
// or else to the top of the repository; "." is here, nothing is the top.
func Open(arg string) (*Place, error) { return open(arg, false) }

// Glance is Open, without a look at what is below a folder of a revision: what
// it takes does not grow with that.
func Glance(arg string) (*Place, error) { return open(arg, true) }

func open(arg string, glance bool) (*Place, error) {
	if arg == "" {
		arg = "."
	}
	if _, err := os.Stat(arg); err == nil || filepath.VolumeName(arg) != "" {
		return openFolder(arg)
	}
	if rev, folder, ok := splitRevision(arg); ok {
		return openRevision(rev, folder, glance)
	}
	return openFolder(arg)
}

// OpenBelow opens the build in one folder on disk, below another that counts as the
// one which the user named: as far up as a shop's file may stand.
func OpenBelow(top, dir string) (*Build, error) {
	place, err := openFolder(top)
	if err != nil {
		return nil, err
	}
	if dir, err = filepath.EvalSymlinks(dir); err == nil {
		dir, err = filepath.Abs(dir)
	}
	if err != nil {
		return nil, &Error{filepath.ToSlash(dir), reason(err)}
	}
	b := &Build{tree: place.tree, at: dir}
	rel, err := filepath.Rel(place.at, dir)
	if err != nil || !filepath.IsLocal(rel) {
		return nil, &Error{b.Folder(), faultOutside}
	}
	if found, err := place.tree.has(dir, buildFile); err != nil || !found {
		return nil, &Error{b.Folder(), "no build here: it holds no " + buildFile}
	}
	return b, nil
}

// splitRevision cuts at the first colon outside braces, as HEAD@{12:30} has one inside.
func splitRevision(arg string) (rev, folder string, ok bool) {
	depth := 0
	for i, c := range arg {
		switch {
		case c == '{':
			depth++
		case c == '}':
			depth--
		case c == ':' && depth <= 0:
			return arg[:i], arg[i+1:], true
		}
	}
	return "", "", false
}

// Name is the place as the user would type it.
func (p *Place) Name() string { return p.tree.show(p.at, "") }

// Close ends what the place needs to read. Its builds cannot be read afterwards.
func (p *Place) Close() error { return p.tree.close() }

// Builds gives the builds at or below the place, sorted by folder. Builds do
// not nest, hidden folders are skipped and links to folders not followed. The
// error joins all that went wrong, each an *Error; the builds beside it are
// good. It is an error if there is no build.
func (p *Place) Builds() ([]*Build, error) {
	if c, ok := p.tree.(*commit); ok && c.entries == nil { // glanced at only
		if err := c.load(p.at); err != nil {
			return nil, &Error{p.Name(), err.Error()}
		}
	}
	found, trials, faults := p.tree.find(p.at)
	p.trials = trials
	if len(found) == 0 && len(faults) == 0 {
		return nil, p.empty()
	}
	slices.Sort(found)
	var builds []*Build
	for _, at := range found {
		builds = append(builds, &Build{tree: p.tree, at: at})
	}
	return builds, errors.Join(faults...)
}

// PassedBy names the folders of builds that try a shop's rules, which Builds passed
// by; sorted.
func (p *Place) PassedBy() (names []string) {
	for _, at := range p.trials {
		names = append(names, p.tree.show(at, ""))
	}
	slices.Sort(names)
	return names
}

func (p *Place) empty() error {
	for at, ok := p.tree.parent(p.at); ok; at, ok = p.tree.parent(at) {
		if found, _ := p.tree.has(at, buildFile); found {
			return &Error{p.Name(), "a folder inside the build " + p.tree.show(at, "") + ", no build itself"}
		}
	}
	return &Error{p.Name(), "no build here: no folder at or below it holds " + buildFile}
}

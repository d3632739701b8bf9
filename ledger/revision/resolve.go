package revision

import (
	"bytes"
	"errors"
	"path"
	"strings"

	"fishplate/ledger/spelling"
)

var errNoFolder = errors.New("no such folder in that revision")

// locate finds the folder that a user means: from the working directory or, if
// it is not there and was not said to be with dots, from the top.
func (c *commit) locate(folder string) (string, error) {
	if folder == "" {
		c.fromTop = true
		return "", nil
	}
	first, _, _ := strings.Cut(folder, "/")
	dotted := first == "." || first == ".."
	here := path.Join(c.prefix, strings.TrimLeft(folder, "/"))
	top := strings.TrimPrefix(path.Clean("/"+folder), "/")
	switch {
	case here == ".":
		return "", nil
	case here == ".." || strings.HasPrefix(here, "../"):
		return "", errors.New("leads out of the repository")
	case first != "" && c.isFolder(here):
		return here, nil
	case !dotted && c.isFolder(top):
		c.fromTop = true
		return top, nil
	}
	tries := []string{here}
	if !dotted {
		tries = append(tries, top)
	}
	for i, try := range tries {
		c.fromTop = i == 1
		if e, ok := c.entry(try); ok {
			return "", errors.New(notFolder(e, c.show(path.Dir(try), "")))
		}
		if name := c.nearFolder(try); name != "" {
			return "", errors.New("no such folder in that revision; is " + c.show(name, "") + " meant?")
		}
	}
	return "", errNoFolder
}

func notFolder(e entry, folder string) string {
	switch e.mode {
	case modeLink:
		return "a link in that revision; name the folder that it leads to"
	case modeSubmodule:
		return faultSubmodule
	}
	return "a file, where a folder is needed; its folder is " + folder
}

// nearFolder looks for a neighbor of the first part of a path that does not exist.
func (c *commit) nearFolder(missing string) string {
	parent, rest := path.Dir(missing), ""
	for parent != "." && !c.isFolder(parent) {
		missing, rest, parent = parent, path.Join(path.Base(missing), rest), path.Dir(parent)
	}
	if parent == "." {
		parent = ""
	}
	name := spelling.Nearest(path.Base(missing), c.names(parent))
	if name == "" {
		return ""
	}
	if whole := path.Join(parent, name, rest); c.isFolder(whole) {
		return whole
	}
	return path.Join(parent, name)
}

// resolve finds the file of that name, following links by their text as a file
// system would, never out of the location.
func (c *commit) resolve(at, name string) (entry, error) {
	if path.IsAbs(name) {
		return entry{}, errors.New(faultOutside)
	}
	var done string
	links := 0
	for todo := strings.Split(name, "/"); len(todo) > 0; {
		part := todo[0]
		todo = todo[1:]
		switch part {
		case "", ".":
			continue
		case "..":
			if done == "" {
				return entry{}, errors.New(faultOutside)
			}
			done = clean(path.Dir(done))
			continue
		}
		e, ok := c.entry(path.Join(at, done, part))
		if !ok || e.mode != modeLink {
			done = path.Join(done, part)
			continue
		}
		if links++; links > 40 {
			return entry{}, errors.New("a link that leads round in a circle")
		}
		target, err := c.target(e)
		if err != nil {
			return entry{}, err
		}
		todo = append(strings.Split(target, "/"), todo...)
	}
	e, ok := c.entry(path.Join(at, done))
	ok = ok && e.mode != modeFolder
	switch {
	case ok && e.mode == modeSubmodule:
		return entry{}, errors.New(faultSubmodule)
	case ok:
		return e, nil
	case links > 0 && c.isFolder(path.Join(at, done)):
		return entry{}, errors.New(faultLinkedFolder)
	case c.isFolder(path.Join(at, done)):
		return entry{}, errors.New(faultFolder)
	case links > 0:
		return entry{}, errors.New(faultDangling)
	}
	return entry{}, errors.New(faultNoFile)
}

// target reads where a link leads.
func (c *commit) target(link entry) (string, error) {
	var text bytes.Buffer
	if _, err := c.batch.copy(&text, link.id, 4096); err != nil {
		return "", c.explain(err)
	}
	if path.IsAbs(text.String()) {
		return "", errors.New(faultOutside)
	}
	return text.String(), nil
}

// explain says what to do about an object that is not there.
func (c *commit) explain(err error) error {
	var refused *failure
	if !errors.Is(err, errMissing) && !errors.As(err, &refused) {
		return err
	}
	if c.git.partial() {
		return errors.New("git has not fetched it: this is a partial clone; first run git fetch --refetch --no-filter")
	}
	if errors.Is(err, errMissing) {
		return errors.New("the repository lacks its content; git fsck tells what else is damaged")
	}
	return err
}

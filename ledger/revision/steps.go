package revision

import (
	"bufio"
	"cmp"
	"errors"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Step is a commit in which a build, the shop's file that has a say over it, or the
// rules beside that became other than before.
type Step struct {
	ID     string
	Author string    // as the commit has it: anyone's text
	About  string    // the first line of its message, the same
	Date   time.Time // the committer's
	Tree   string    // the id of the build's tree; "" where the build is not there
	Shop   string    // what tells the shop's file, and the rules beside it, from others; "" where there is none
	From   string    // the folder, from the top, that the build stood in until this commit moved it; "" where it did not
	Gone   []string  // of the first: the builds, from the top, that were there before it and are not, and are not enough alike to be this one

	parent string // the first; "" where there is none
	commit *commit
	at     string
	view   view
}

// Build is the build at that commit. What it shares with others is read once.
func (s *Step) Build() (*Build, error) {
	t, err := s.commit.look(s.at, s.view)
	if err != nil {
		return nil, err
	}
	return &Build{tree: t, at: s.at}, nil
}

// Parent is the id of the commit before, shortened; "" where there is none.
func (s *Step) Parent() string { return s.parent[:min(len(s.parent), shortID)] }

// Top is the folder of the repository that all its work trees share.
func (p *Place) Top() string {
	c, ok := p.tree.(*commit)
	if !ok {
		return ""
	}
	out, err := c.git.run("rev-parse", "--git-common-dir")
	if dir := strings.TrimSuffix(out, "\n"); err == nil && filepath.IsAbs(dir) {
		return dir
	} else if err == nil {
		return filepath.Join(c.git.dir, dir)
	}
	return ""
}

// atOnce is how many commits are read before what is kept of them is let go.
const atOnce = 64

// mostMoves is how many moves of a build's folder are followed back.
const mostMoves = 100

// Steps are the commits that a build of a revision went through, the oldest
// first, going by first parents: what a branch did comes with the commit that
// took it in. A build that a commit moved from another folder is followed there, where
// half of its files at least are the same. Short tells that the repository is a shallow clone, which lacks older ones.
func (p *Place) Steps() (steps []*Step, short bool, err error) {
	c, ok := p.tree.(*commit)
	if !ok {
		return nil, false, errors.New("a folder has no commits; name a revision of it")
	}
	answer, err := c.git.run("rev-parse", "--is-shallow-repository")
	short = err == nil && strings.TrimSpace(answer) == "true"
	c.kept.keep = true
	at, from := p.at, c
	for range mostMoves {
		older, err := from.stepsOf(at)
		if err != nil {
			return nil, false, &Error{p.Name(), c.explain(err).Error()}
		}
		if steps = append(older, steps...); len(older) == 0 || older[0].parent == "" {
			break
		}
		before, gone, err := c.movedFrom(older[0])
		if err != nil && !(short && errors.Is(err, errMissing)) {
			return nil, false, &Error{p.Name(), c.explain(err).Error()}
		}
		if before == nil {
			older[0].Gone = gone
			break
		}
		older[0].From, from, at = before.at, before.tree.(*commit), before.at
	}
	return steps, short, nil
}

// stepsOf are those of a folder, up to the first commit that has a build there.
func (c *commit) stepsOf(at string) (steps []*Step, err error) {
	ids, err := c.touching(at)
	if err != nil {
		return nil, err
	}
	slices.Reverse(ids)
	for part := range slices.Chunk(ids, atOnce) {
		found, err := c.steps(at, part)
		if err != nil {
			return nil, err
		}
		for _, s := range found {
			if n := len(steps); n == 0 && s.Tree != "" || n > 0 && (steps[n-1].Tree != s.Tree || steps[n-1].Shop != s.Shop) {
				steps = append(steps, s)
			}
		}
	}
	return steps, nil
}

// movedFrom is where the build of a commit stood in the commit before, where that
// is another folder; nil where there was none that is alike, and then the builds that
// the commit took away.
func (c *commit) movedFrom(s *Step) (before *Build, gone []string, err error) {
	var parent *Step
	err = c.batch.each([]string{s.parent}, MaxTOML, func(_ int, content []byte, err error) error {
		if err == nil {
			parent, err = c.step("", s.parent, string(content))
		}
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	defer c.kept.forget()
	d, err := walk(parent.commit, s.commit, &Place{tree: parent.commit}, &Place{tree: s.commit})
	if err != nil {
		return nil, nil, err
	}
	for _, pair := range moved(d.gone, d.come) {
		if pair.Moved && pair.After.at == s.at {
			return pair.Before, nil, nil
		}
		if pair.After == nil {
			gone = append(gone, pair.Before.at)
		}
	}
	return nil, gone, nil
}

// touching lists the commits that touch a folder, a shop's file above it or the
// rules beside that, the newest first. Where one of these is a link, it lists all.
func (c *commit) touching(at string) (ids []string, err error) {
	paths := []string{at}
	for up := at; up != ""; {
		up = clean(path.Dir(up))
		paths = append(paths, path.Join(up, shopFile), path.Join(up, rulesFolder))
	}
	linked, err := c.linkedShop(at)
	if err != nil {
		return nil, err
	}
	if linked {
		paths = nil
	}
	args := []string{"rev-list", "--first-parent", "--end-of-options", c.id, "--"}
	for _, p := range paths {
		rel, err := filepath.Rel(filepath.FromSlash("/"+c.inside), filepath.FromSlash("/"+p))
		if err != nil {
			return nil, err
		}
		args = append(args, rel)
	}
	err = c.git.stream(args, func(from io.Reader) error {
		lines := bufio.NewScanner(from)
		for lines.Scan() {
			if ids = append(ids, lines.Text()); len(ids) > mostListed {
				return errors.New("more than 200000 commits")
			}
		}
		return lines.Err()
	})
	return ids, err
}

// linkedShop tells that the shop's file that has a say over a folder, or one of the
// rules beside it, is a link.
func (c *commit) linkedShop(at string) (bool, error) {
	v, _, err := c.treeAt(at)
	if err != nil {
		return false, err
	}
	if err := v.pass(c.kept, at); err != nil {
		return false, err
	}
	for _, e := range v.above {
		if e != nil && e.mode == modeLink {
			return true, nil
		}
	}
	return false, nil
}

// steps reads what the commits say of themselves and which trees they have,
// level by level for all of them at once.
func (c *commit) steps(at string, ids []string) (steps []*Step, err error) {
	err = c.batch.each(ids, MaxTOML, func(i int, content []byte, err error) error {
		if err != nil {
			return err
		}
		s, err := c.step(at, ids[i], string(content))
		steps = append(steps, s)
		return err
	})
	if err != nil {
		return nil, err
	}
	defer c.kept.forget()
	now := make([]string, len(steps)) // the tree that each has come to; "" where its way ends
	for i, s := range steps {
		now[i] = s.commit.root
	}
	for _, part := range append([]string{""}, strings.Split(at, "/")...) {
		for i, id := range now {
			if part == "" || id == "" {
				continue
			}
			e, _ := c.kept.named(id, part)
			if now[i] = ""; e.mode == modeFolder {
				now[i] = e.id
			}
		}
		if err := c.kept.fetch(slices.DeleteFunc(slices.Clone(now), func(id string) bool { return id == "" })...); err != nil {
			return nil, err
		}
	}
	for _, s := range steps {
		v, found, err := s.commit.treeAt(at)
		if err != nil {
			return nil, err
		}
		if !found {
			continue
		}
		if e, ok := c.kept.named(v.tree, buildFile); !ok || e.mode == modeFolder || e.mode == modeSubmodule {
			continue
		}
		s.view, s.Tree = v, v.tree
		own, shop, err := s.commit.shopIn(at, v.tree)
		if s.Shop = own; err == nil && !shop {
			s.Shop, err = s.commit.shopAbove(at, v)
		}
		if err != nil {
			return nil, err
		}
	}
	return steps, nil
}

// step reads the text of a commit.
func (c *commit) step(at, id, text string) (*Step, error) {
	t := &commit{git: c.git, batch: c.batch, kept: c.kept, rev: id[:shortID], id: id, prefix: c.prefix, inside: c.inside, fromTop: c.fromTop, plain: true}
	s := &Step{ID: id, commit: t, at: at}
	head, message, _ := strings.Cut(text, "\n\n")
	for line := range strings.SplitSeq(head, "\n") {
		key, value, _ := strings.Cut(line, " ")
		switch key {
		case "tree":
			t.root = value
		case "parent":
			s.parent = cmp.Or(s.parent, value)
		case "author":
			name, _, _ := strings.Cut(value, "<")
			s.Author = strings.TrimSpace(name)
		}
	}
	s.About, _, _ = strings.Cut(strings.TrimLeft(message, "\n"), "\n")
	var err error
	t.committed, err = signedOn(text, "committer")
	t.authored, _ = signedOn(text, "author")
	s.Date = t.committed
	return s, err
}

// shortID is how much of a commit's id is shown.
const shortID = 10

// Short is the id as it is shown.
func (s *Step) Short() string { return s.ID[:shortID] }

// forget lets go of the trees that were read.
func (o *objects) forget() {
	o.mu.Lock()
	defer o.mu.Unlock()
	clear(o.trees)
}

// Latest is the later of the author's and the committer's day.
func (s *Step) Latest() string {
	return max(s.commit.committed.Format(time.DateOnly), s.commit.authored.Format(time.DateOnly))
}

// Within is the folder of a place of a revision, from the top of the repository.
func (p *Place) Within() string { return p.at }

// OnDisk tells that the place is a folder on disk, and of no revision.
func (p *Place) OnDisk() bool {
	_, ok := p.tree.(*folder)
	return ok
}

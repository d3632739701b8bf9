package revision

import (
	"path"
	"slices"
	"strings"
)

// Shop is a shop's file with what stands beside it.
type Shop struct {
	Name    string // as the user would type it
	Content []byte
	Rules   []ShopFile // the files of its folder rules, by name

	tree tree
	at   string
}

// ShopFile is a file of rules beside a shop's file.
type ShopFile struct {
	Name    string
	Content []byte
	Fault   string // why it cannot be read, or ""
}

// Shop gives the nearest shop.toml, in the build folder or above it, and what
// stands beside it; nil where there is none. The search ends at the top of the
// git work tree; where there is none, at the folder that the user named or the
// working directory above that, so that no stranger's file further up has a
// say. A link that leads out of that is refused. An error is an *Error.
func (b *Build) Shop() (*Shop, error) {
	at, below := b.at, shopFile
	var name string
	for {
		name = b.tree.show(at, shopFile)
		found, err := b.tree.has(at, shopFile)
		if err != nil {
			return nil, &Error{name, err.Error()}
		}
		if found {
			break
		}
		above, up := b.tree.within(at)
		if !up {
			return nil, nil
		}
		at = above
	}
	sh := &Shop{Name: name, tree: b.tree, at: at}
	if content, other := typedShop(b.tree); other {
		if size := int64(len(content)); size > MaxTOML {
			return nil, &Error{name, (&oversize{size, MaxTOML}).Error()}
		}
		sh.Content = content
		return sh, sh.rules()
	}
	// Read from the top, so that a link may lead anywhere below it.
	for above, up := b.tree.within(at); up; above, up = b.tree.within(at) {
		at, below = above, path.Join(b.tree.base(at), below)
	}
	content, err := read(b.tree, at, below)
	if err != nil {
		return nil, &Error{name, err.(*Error).Message}
	}
	sh.Content = content
	return sh, sh.rules()
}

// rules reads the files of rules beside the shop's.
func (s *Shop) rules() error {
	found, err := s.tree.toml(s.at, rulesFolder)
	if err != nil || len(found) == 0 {
		return err
	}
	var names []string
	for _, n := range slices.Sorted(slices.Values(found)) {
		names = append(names, path.Join(rulesFolder, n))
	}
	contents, faults := readAll(s.tree, s.at, names)
	for i, n := range names {
		f := ShopFile{Name: s.tree.show(s.at, n), Content: contents[i]}
		if faults[i] != nil {
			f.Fault = faults[i].Error()
		}
		s.Rules = append(s.Rules, f)
	}
	return nil
}

// Trial is the build in a folder beside the shop's file that tries its rules,
// named relative to it: trials/NAME. False where there is none.
func (s *Shop) Trial(folder string) (*Build, bool) {
	rest, ok := strings.CutPrefix(folder, trialsFolder+"/")
	if !ok || rest != path.Clean(rest) || strings.HasPrefix(rest, "..") || hiddenPath(rest) {
		return nil, false
	}
	at := s.tree.join(s.at, folder)
	found, _, _ := s.tree.find(at)
	return &Build{tree: s.tree, at: at}, slices.Contains(found, at)
}

// Trials are the folders beside the shop's file that hold a build which tries its
// rules, by name.
func (s *Shop) Trials() (folders []string) {
	top := s.tree.join(s.at, trialsFolder)
	found, _, _ := s.tree.find(top)
	for _, at := range found {
		name := ""
		for up := at; up != s.at && up != ""; {
			name = path.Join(s.tree.base(up), name)
			up, _ = s.tree.parent(up)
		}
		folders = append(folders, name)
	}
	slices.Sort(folders)
	return folders
}

// Shops gives the shops whose files stand at or below the place, or else the
// nearest above it. The error joins all that went wrong, each an *Error.
func (p *Place) Shops() ([]*Shop, error) {
	found := p.tree.shops(p.at)
	if len(found) == 0 {
		found = []string{p.at}
	}
	slices.Sort(found)
	var out []*Shop
	for _, at := range found {
		s, err := (&Build{tree: p.tree, at: at}).Shop()
		if err != nil {
			return nil, err
		}
		if s != nil {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return nil, &Error{p.Name(), "no shop here: no folder at, below or above it holds " + shopFile}
	}
	return out, nil
}

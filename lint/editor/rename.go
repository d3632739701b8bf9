package editor

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/edit"
)

// renamed is the entry that the cursor is on the name of, and has an id.
func (x *spot) renamed() (kind, id string, err error) {
	name := x.named()
	kind, id, dotted := strings.Cut(name, ".")
	k := ledger.KindNamed(kind)
	switch {
	case name == "" || x.build == nil:
		return "", "", fmt.Errorf("the cursor is on no name of an entry")
	case !dotted || k == nil || k.Single:
		return "", "", fmt.Errorf("%s has no id to be renamed", name)
	}
	return kind, id, nil
}

// prepareRename is the id under the cursor.
func (s *server) prepareRename(p *placeParams) (any, error) {
	x, err := s.spotAt(p)
	if err != nil {
		return nil, err
	}
	kind, id, err := x.renamed()
	if err != nil {
		return nil, err
	}
	from := x.from
	if x.part != inHeader {
		from += len(kind) + 1
	}
	return renameRange{x.doc.text.span(from, from+len(id), s.encoding), id}, nil
}

// rename gives an entry another id wherever it stands and is named: in all files
// or, where something stands in the way, in none.
func (s *server) rename(p *renameParams) (any, error) {
	x, err := s.spotAt(&p.placeParams)
	if err != nil {
		return nil, err
	}
	kind, id, err := x.renamed()
	if err != nil {
		return nil, err
	}
	to := strings.TrimPrefix(strings.TrimSpace(p.NewName), kind+".")
	name := kind + "." + id
	switch {
	case !x.has(name):
		return nil, fmt.Errorf("there is no %s", name)
	case to == id:
		return workspaceEdit{}, nil
	case x.inShop(name):
		return s.renameInShop(x.build, kind, id, to)
	}
	draft, err := edit.Begin(x.build.src)
	if err != nil {
		return nil, err
	}
	if err := draft.Rename(name, to); err != nil {
		return nil, err
	}
	plan, err := draft.Plan()
	if err != nil {
		return nil, theReason(err)
	}
	return s.editOf(x.build, plan)
}

// theReason is why a name is refused: of several faults that it would make the one
// that says what is wrong with the name.
func theReason(err error) error {
	var refused *edit.Refused
	if !errors.As(err, &refused) {
		return err
	}
	why := refused.Faults[0]
	for _, f := range refused.Faults {
		if strings.HasPrefix(f.Message, "bad id") {
			why = f
		}
	}
	return errors.New(why.Message)
}

// editOf is a plan as the editor carries it out.
func (s *server) editOf(b *build, plan edit.Plan) (*workspaceEdit, error) {
	var c changes
	for _, e := range plan.Edits {
		path := filepath.Join(b.dir, filepath.FromSlash(e.File))
		f := b.files[path]
		if f == nil {
			if _, there := plan.Base[e.File]; there {
				return nil, fmt.Errorf("%s is another than it was read", e.File)
			}
			f = &file{path: path, text: textOf("")}
			c.made = append(c.made, path)
		}
		c.add(f, e.From, e.To, e.New)
	}
	return s.workspaceEdit(c)
}

// changes are texts in the place of others, in several files.
type changes struct {
	made  []string // the files that are not there yet, by path
	files []*file
	edits map[*file][]fileChange
}

type fileChange struct {
	from, to int
	text     string
}

func (c *changes) add(f *file, from, to int, text string) {
	if c.edits == nil {
		c.edits = map[*file][]fileChange{}
	}
	if c.edits[f] == nil {
		c.files = append(c.files, f)
	}
	c.edits[f] = append(c.edits[f], fileChange{from, to, text})
}

// changed is what a file holds after its changes.
func (c *changes) changed(f *file) string {
	list := slices.Clone(c.edits[f])
	slices.SortFunc(list, func(a, b fileChange) int { return b.from - a.from })
	out := f.text.s
	for _, x := range list {
		out = out[:x.from] + x.text + out[x.to:]
	}
	return out
}

// workspaceEdit is changes as the editor takes them: with the versions that they are
// of, where it knows those.
func (s *server) workspaceEdit(c changes) (*workspaceEdit, error) {
	out := &workspaceEdit{}
	versions := s.client.Capabilities.Workspace.Edit.DocumentChanges
	if len(c.made) > 0 && !versions {
		return nil, fmt.Errorf("a new file is needed, and the editor takes none")
	}
	for _, path := range c.made {
		out.DocumentChanges = append(out.DocumentChanges, documentEdit{Kind: "create", URI: uriOf(path)})
	}
	slices.SortFunc(c.files, func(a, b *file) int { return strings.Compare(a.path, b.path) })
	for _, f := range c.files {
		var edits []TextEdit
		for _, x := range c.edits[f] {
			edits = append(edits, TextEdit{f.text.span(x.from, x.to, s.encoding), x.text})
		}
		uri := s.uri(f.path)
		if !versions {
			if out.Changes == nil {
				out.Changes = map[string][]TextEdit{}
			}
			out.Changes[uri] = edits
			continue
		}
		v := &versioned{URI: uri}
		if d := s.docs[f.path]; d != nil {
			v.Version = d.version
		}
		out.DocumentChanges = append(out.DocumentChanges, documentEdit{TextDocument: v, Edits: edits})
	}
	return out, nil
}

package revision

import (
	"errors"
	"fmt"
	"strings"
)

// Parents are the same place in the revisions that a merge brought together,
// those that have it. It is an error of a folder on disk, and of a revision that is no
// merge. The caller closes them.
func (p *Place) Parents() ([]*Place, error) {
	c, ok := p.tree.(*commit)
	switch {
	case !ok:
		return nil, &Error{p.Name(), "a folder on disk, which goes back to nothing; name the merge's revision, as in HEAD:" + p.Name()}
	case c.parents < 2:
		return nil, &Error{p.Name(), "that revision is no merge: it goes back to " + map[bool]string{true: "one other", false: "none"}[c.parents == 1]}
	}
	var out []*Place
	var errs []error
	for i := range c.parents {
		q, err := openRevision(fmt.Sprintf("%s^%d", c.rev, i+1), c.folder, false)
		var refused *Error
		if errors.As(err, &refused) && strings.HasPrefix(refused.Message, errNoFolder.Error()) {
			continue
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		out = append(out, q)
	}
	if err := errors.Join(errs...); err != nil {
		for _, q := range out {
			err = errors.Join(err, q.Close())
		}
		return nil, err
	}
	return out, nil
}

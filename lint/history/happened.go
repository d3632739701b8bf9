package history

import (
	"cmp"
	"fmt"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/ledger/schema"
)

// Happening is a commit with what happened in it beside figures that changed.
type Happening struct {
	*revision.Step
	What []string // a stage, a weighing, a move, in words; none where there is nothing of the sort
}

// Happenings are all commits, the oldest first. A build is compared with the one
// at the last commit before it that can be read.
func (p *Past) Happenings() ([]*Happening, error) {
	out := make([]*Happening, len(p.Steps))
	var failed error
	at := 0
	var before *ledger.Build
	type read struct {
		build *ledger.Build
		err   error
	}
	inOrder(p.Steps, func(s *revision.Step) read {
		if s.Tree == "" {
			return read{}
		}
		src, err := s.Build()
		if err != nil {
			return read{nil, fmt.Errorf("%s: %w", s.Short(), err)}
		}
		b, faults := p.loader.Load(src)
		if len(faults) > 0 {
			return read{}
		}
		return read{b, nil}
	}, func(s *revision.Step, r read) {
		failed = cmp.Or(failed, r.err)
		h := &Happening{Step: s}
		out[at] = h
		at++
		if r.build == nil {
			return
		}
		if before != nil {
			h.What = happened(before, r.build)
		}
		before = r.build
	})
	return out, failed
}

// mostNamed is how many entries are named of those that moved at a commit.
const mostNamed = 3

// happened says which stage a build came to, what was weighed and what has
// another place.
func happened(before, after *ledger.Build) (out []string) {
	if s := after.Stage(); s != before.Stage() {
		out = append(out, "stage "+s.String())
	}
	var moved []string
	for _, e := range after.Entries() {
		was, there := before.Entry(e.Path())
		switch {
		case e.Kind == "weighing" && !there:
			out = append(out, "weighed: "+e.Path())
		case e.Kind == "weighing" && !ledger.SameValues(was, e):
			out = append(out, "weighing written anew: "+e.Path())
		case there && elsewhere(was, e):
			moved = append(moved, e.Path())
		}
	}
	if n := len(moved); n > mostNamed {
		moved = append(moved[:mostNamed:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
	}
	if len(moved) > 0 {
		out = append(out, "another place: "+strings.Join(moved, ", "))
	}
	return out
}

// elsewhere tells that an entry is at another place than before.
func elsewhere(was, is *ledger.Entry) bool {
	return placeOf(was) != placeOf(is) && placeOf(was) != "" && placeOf(is) != ""
}

// placeOf is what an entry says of where it is.
func placeOf(e *ledger.Entry) string {
	say := ""
	for _, v := range e.Values() {
		key, _, _ := strings.Cut(v.Key, ".")
		if f := e.Schema().Field(key); key == "at" && f != nil && f.Type == schema.Place {
			say += v.Key + "=" + v.Text + "\n"
		}
	}
	return say
}

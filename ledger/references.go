package ledger

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger/syntax"
)

// references checks that every reference names an entry of a kind that it may.
func (r *reader) references(b *Build) {
	for _, e := range b.Entries() {
		if e.Shop != r.shop {
			continue
		}
		for _, ref := range e.refs {
			r.reference(b, ref)
		}
	}
}

func (r *reader) reference(b *Build, ref reference) {
	tell := func(format string, args ...any) {
		r.faults = append(r.faults, Fault{ref.place, fmt.Sprintf(format, args...)})
	}
	kind, _, ok := strings.Cut(ref.to, ".")
	takesAny := slices.Contains(ref.kinds, "any")
	switch {
	case takesAny && isKind(ref.to), slices.Contains(ref.kinds, ref.to):
		ok = true
	case !ok:
		near := ""
		for _, k := range ref.kinds {
			if _, there := b.Entry(k + "." + ref.to); there {
				near = fmt.Sprintf("; did you mean %q?", k+"."+ref.to)
			}
		}
		tell("takes %s; got %q%s", refExample(ref.kinds), ref.to, near)
		return
	}
	if !takesAny && !slices.Contains(ref.kinds, kind) {
		tell("takes %s; got %q", refExample(ref.kinds), ref.to)
		return
	}
	if _, there := b.Entry(ref.to); there {
		return
	}
	if takesAny { // a value of an entry will do
		for i := len(ref.to) - 1; i > 0; i-- {
			if ref.to[i] == '.' {
				if _, there := b.Entry(ref.to[:i]); there {
					return
				}
			}
		}
	}
	var known []string
	for _, e := range b.Entries() {
		if e.Kind == kind {
			known = append(known, e.Path())
		}
	}
	tell("there is no %s%s", ref.to, didYouMean(ref.to, known))
}

// used is the part of a shop's entries that a build's own refer to, directly
// or through one another, and its single ones.
func used(own, shop map[string]*Entry) map[string]*Entry {
	out := map[string]*Entry{}
	var take func(e *Entry)
	take = func(e *Entry) {
		for _, r := range e.refs {
			if s, ok := shop[r.to]; ok && own[r.to] == nil && out[r.to] == nil {
				out[r.to] = s
				take(s)
			}
		}
	}
	for _, e := range own {
		take(e)
	}
	for path, e := range shop {
		if e.schema.single || e.schema.shop {
			out[path] = e
		}
	}
	return out
}

// cycles finds places and likenesses that depend on themselves.
func (r *reader) cycles(b *Build) {
	for _, e := range b.Entries() {
		for _, edge := range []struct {
			key  string
			next func(*Entry) (string, syntax.Position)
		}{{"at", placeOf("at")}, {"was-at", placeOf("was-at")}, {"taped-at", placeOf("taped-at")}, {"like", likeOf}} {
			if to, at := edge.next(e); to != "" && leadsTo(b, to, e.Path(), edge.key, 0) {
				r.faults = append(r.faults, Fault{e.place(at), fmt.Sprintf("%s.%s leads back to itself through %s", e.Path(), edge.key, to)})
			}
		}
	}
}

func leadsTo(b *Build, from, goal, key string, depth int) bool {
	if from == goal {
		return true
	}
	e, ok := b.Entry(from)
	if !ok || depth > 1000 {
		return false
	}
	if key == "like" {
		to, _ := likeOf(e)
		return to != "" && leadsTo(b, to, goal, key, depth+1)
	}
	to, _ := placeOf("at")(e)
	return to != "" && leadsTo(b, to, goal, "at", depth+1)
}

// placeOf finds what an entry's place depends on.
func placeOf(key string) func(*Entry) (string, syntax.Position) {
	return func(e *Entry) (string, syntax.Position) {
		if f := e.schema.byKey[key]; f == nil || f.typ != typeSpot {
			return "", syntax.Position{}
		}
		n := e.node.Child(key)
		if n != nil && n.Kind == syntax.Table {
			n = n.Child("from")
		}
		return stringOf(n)
	}
}

func likeOf(e *Entry) (string, syntax.Position) {
	if e.Kind != "circuit" {
		return "", syntax.Position{}
	}
	return stringOf(e.node.Child("like"))
}

func stringOf(n *syntax.Node) (string, syntax.Position) {
	if n == nil || n.Kind != syntax.String {
		return "", syntax.Position{}
	}
	return n.Value.(string), n.ValueAt
}

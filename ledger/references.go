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
				if e, there := b.Entry(ref.to[:i]); there {
					if key := ref.to[i+1:]; !e.says(key) {
						tell("%s does not say %s%s", e.Path(), key, didYouMean(key, e.keys()))
					}
					return
				}
			}
		}
	}
	var known []string
	if len(r.faults) < mostGuesses {
		for _, e := range b.Entries() {
			if e.Kind == kind {
				known = append(known, e.Path())
			}
		}
	}
	tell("there is no %s%s", ref.to, didYouMean(ref.to, known))
	if r.lacks == nil {
		r.lacks = map[Fault]string{}
	}
	r.lacks[r.faults[len(r.faults)-1]] = ref.to
}

// Lacks is the entry that is named and is not there, where that is all that a
// fault of the build tells; "" where it is another.
func (b *Build) Lacks(f Fault) string { return b.lacks[f] }

// says tells whether the key, or a key below it, is written in the entry.
func (e *Entry) says(key string) bool {
	return slices.ContainsFunc(e.Values(), func(v Value) bool { return v.Key == key || strings.HasPrefix(v.Key, key+".") })
}

// keys are those that the entry says.
func (e *Entry) keys() []string {
	var out []string
	for _, v := range e.Values() {
		out = append(out, v.Key)
	}
	return out
}

// mostGuesses is how many faults a ledger may have for the next to guess what
// was meant: to hold each of thousands of names against thousands takes minutes.
const mostGuesses = 100

// used is the part of a shop's entries that a build's own refer to, directly
// or through one another, and its single ones.
func used(own, shop map[string]*Entry) map[string]*Entry {
	out := map[string]*Entry{}
	var take func(e *Entry)
	take = func(e *Entry) {
		for _, r := range e.refs {
			to := r.to
			for shop[to] == nil && strings.Contains(to, ".") { // a value of an entry
				to = to[:strings.LastIndexByte(to, '.')]
			}
			if s, ok := shop[to]; ok && own[to] == nil && out[to] == nil {
				out[to] = s
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

// deepest is how many others a place or a likeness may rest on, one behind
// another.
const deepest = 50

// cycles finds places and likenesses that depend on themselves, or rest on too
// many others.
func (r *reader) cycles(b *Build) {
	for _, key := range []string{"at", "was-at", "measured-at", "like"} {
		c := chain{b: b, key: key, length: map[string]int{}}
		for _, e := range b.Entries() {
			says, to, at := c.next(e)
			if to == "" {
				continue
			}
			n := c.follow(e.Path())
			switch {
			case n == endless && says == key:
				r.faults = append(r.faults, Fault{e.place(e.node, at), fmt.Sprintf("%s.%s leads back to itself through %s", e.Path(), key, to)})
			case n == deepest+1:
				r.faults = append(r.faults, Fault{e.place(e.node, at), fmt.Sprintf("%s.%s rests on more than %d others, one behind another", e.Path(), says, deepest)})
			}
		}
	}
}

// chain follows what entries rest on, each on one other at most: a likeness,
// or a place at one time. At another time than now, what says nothing of its
// place then was where it is.
type chain struct {
	b      *Build
	key    string
	length map[string]int
	loop   string // the entry that a loop being followed came back to
}

// The lengths of what is not followed to its end.
const (
	open    = -1 // not yet; if it is met again, it is on a loop
	endless = -2 // it leads back to itself
)

// follow counts on how many others an entry rests. Behind a loop the count
// begins anew: the loop is told of by itself.
func (c *chain) follow(path string) int {
	n, known := c.length[path]
	switch {
	case n == open:
		c.loop = path
		return endless
	case known:
		return n
	}
	c.length[path] = open
	if e, ok := c.b.Entry(path); ok {
		if _, to, _ := c.next(e); to != "" {
			n = max(0, c.follow(to)) + 1
		}
	}
	if c.loop != "" {
		n = endless
		if c.loop == path {
			c.loop = ""
		}
	}
	c.length[path] = n
	return n
}

// next is what an entry rests on, and the key that says so.
func (c *chain) next(e *Entry) (key, to string, at syntax.Position) {
	if key = c.key; key == "like" {
		to, at = likeOf(e)
		return key, to, at
	}
	if e.node.Child(key) == nil {
		key = "at"
	}
	to, at = placeOf(key, e)
	return key, to, at
}

// placeOf finds what an entry's place depends on.
func placeOf(key string, e *Entry) (string, syntax.Position) {
	if f := e.schema.byKey[key]; f == nil || f.typ != typeSpot {
		return "", syntax.Position{}
	}
	n := e.node.Child(key)
	if n != nil && n.Kind == syntax.Table {
		n = n.Child("from")
	}
	return stringOf(n)
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

package ledger

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger/schema"
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
		tell("takes %s; got %q%s", schema.TakesName(ref.kinds), ref.to, near)
		return
	}
	if !takesAny && !slices.Contains(ref.kinds, kind) {
		tell("takes %s; got %q", schema.TakesName(ref.kinds), ref.to)
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
	found := false
	e.written(anyField, func(v Value, _ *syntax.Node) { found = found || v.Key == key || strings.HasPrefix(v.Key, key+".") })
	return found
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
			for to := range Outward(r.to) {
				if s := shop[to]; s != nil {
					if own[to] == nil && out[to] == nil {
						out[to] = s
						take(s)
					}
					break
				}
			}
		}
	}
	for _, e := range own {
		take(e)
	}
	for path, e := range shop {
		if e.schema.Single || e.schema.ShopOnly {
			out[path] = e
		}
	}
	return out
}

// deepest is how many others a place or a likeness may rest on, one behind
// another.
const deepest = 50

// resting is one way in which entries rest on others: by their places at one
// time, or by what they are like.
type resting struct {
	key       string
	otherwise string // the key that counts where an entry does not have this one
	like      bool
}

// restings are all ways, as the schema has them.
var restings = func() []resting {
	var out []resting
	add := func(r resting) {
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, k := range kinds {
		if k.Like != nil {
			add(resting{key: k.Like.Key, like: true})
		}
		for _, f := range k.Fields {
			if f.Else != "" {
				add(resting{key: f.Else})
				add(resting{key: f.Key, otherwise: f.Else})
			}
		}
	}
	return out
}()

// cycles finds places and likenesses that depend on themselves, or rest on too
// many others.
func (r *reader) cycles(b *Build) {
	for _, way := range restings {
		c := chain{b: b, way: way, length: map[string]int{}}
		for _, e := range b.Entries() {
			says, to, at := c.next(e)
			if to == "" {
				continue
			}
			n := c.follow(e.Path())
			switch {
			case n == endless && says == way.key:
				r.faults = append(r.faults, Fault{e.place(e.node, at), fmt.Sprintf("%s.%s leads back to itself through %s", e.Path(), says, to)})
			case n == deepest+1:
				r.faults = append(r.faults, Fault{e.place(e.node, at), fmt.Sprintf("%s.%s rests on more than %d others, one behind another", e.Path(), says, deepest)})
			}
		}
	}
}

// chain follows what entries rest on, each on one other at most. At another time
// than now, what says nothing of its place then was where it is.
type chain struct {
	b      *Build
	way    resting
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
	f := e.schema.Field(c.way.key)
	if c.way.otherwise != "" && e.node.Child(c.way.key) == nil {
		f = e.schema.Field(c.way.otherwise)
	}
	if f == nil || c.way.like && f != e.schema.Like || !c.way.like && f.Type != schema.Place {
		return "", "", syntax.Position{}
	}
	n := e.node.Child(f.Key)
	if f.Type == schema.Place && n != nil && n.Kind == syntax.Table {
		n = n.Child(f.Nested.OfType(schema.Ref).Key)
	}
	to, at = stringOf(n)
	return f.Key, to, at
}

func stringOf(n *syntax.Node) (string, syntax.Position) {
	if n == nil || n.Kind != syntax.String {
		return "", syntax.Position{}
	}
	return n.Value.(string), n.ValueAt
}

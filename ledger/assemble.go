package ledger

import (
	"fmt"
	"regexp"
	"slices"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
	"fishplate/ledger/syntax"
)

// reader gathers the entries of one build, or of one shop.
type reader struct {
	file    string
	shop    bool
	entries map[string]*Entry
	hookups map[string]HookupRule
	words   words // nil: the known ones
	ofShop  *shop // that hookups are of
	kept    *kept
	faults  []Fault
	lacks   map[Fault]string // of these, those of an entry that is not there, with its name
	unread  bool             // a file, or part of one: what is named may stand there
	lost    []loss
	room    room
}

func (r *reader) fault(at syntax.Position, format string, args ...any) {
	r.faults = append(r.faults, Fault{q.Place{File: r.file, Line: at.Line, Column: at.Column}, fmt.Sprintf(format, args...)})
}

func (r *reader) syntaxFaults(d *syntax.Document) {
	for _, f := range d.Faults {
		r.fault(f.At, "%s", f.Message)
	}
	r.unread = r.unread || len(d.Faults) > 0
	if d.Lost {
		r.lose("", d.Faults[0].At)
	}
}

// document reads the entries of a file.
func (r *reader) document(d *syntax.Document) {
	r.syntaxFaults(d)
	if d.Root != nil {
		r.root(d.Root)
	}
}

// foreign says which letter of a name is none of those that names have, as the
// end of a message.
func foreign(name string) string {
	if f := spelling.Foreign(name); f != "" {
		return "; " + f
	}
	return ""
}

// An id is words of small letters and digits, of so many bytes at most.
const longestID = 80

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func (r *reader) root(root *syntax.Node) {
	for _, n := range root.Children {
		s := kindNamed[n.Key]
		switch {
		case n.Key == LimitsEntry && r.shop: // ownLimits reads them
		case n.Key == LimitsEntry:
			r.fault(n.KeyAt, "[%s] stands in shop.toml, not in a build", LimitsEntry)
		case s == nil:
			r.fault(n.KeyAt, "unknown table %q%s%s", n.Key, didYouMean(n.Key, KindNames()), foreign(n.Key))
			r.lose("", n.KeyAt)
		case n.Kind != syntax.Table:
			r.fault(n.ValueAt, "%s is a table: write [%s]", n.Key, s.Header())
			r.lose(s.Name, n.KeyAt)
		case s.ShopOnly && !r.shop:
			r.fault(n.KeyAt, "[%s] stands in shop.toml, not in a build", s.Header())
		case r.shop && !s.ShopOnly && !s.Shared: // it would be passed over
			r.fault(n.KeyAt, "[%s] stands in a build, not in shop.toml", s.Header())
		case s.Single:
			r.add(s, "", n)
			r.inside(s, n)
		default:
			r.many(s, n)
		}
	}
}

// inside reads the entries that stand in the table of another.
func (r *reader) inside(outer *schema.Kind, n *syntax.Node) {
	for _, c := range n.Children {
		s := outer.Inside[c.Key]
		switch {
		case s == nil:
		case c.Kind != syntax.Table:
			r.fault(c.ValueAt, "%s is a table: write [%s]", s.Name, s.Name)
		default:
			r.add(s, "", c)
		}
	}
}

func (r *reader) many(s *schema.Kind, n *syntax.Node) {
	bare := false
	for _, c := range n.Children {
		if c.Kind != syntax.Table {
			switch {
			case s.Has(c.Key) && bare:
			case s.Has(c.Key):
				bare = true // told once, and not of each key
				r.fault(c.KeyAt, "[%s] needs an id: write [%s.ID], as in [%s.%s]", s.Name, s.Name, s.Name, "main")
			default:
				r.fault(c.KeyAt, "%s.%s is a table: write [%s.%s]", s.Name, c.Key, s.Name, c.Key)
			}
			r.lose(s.Name, c.KeyAt)
			continue
		}
		if !idForm.MatchString(c.Key) || len(c.Key) > longestID {
			r.fault(c.KeyAt, "bad id %q: an id is lower-case words or digits joined by hyphens, as in %s.oil-cooler%s", c.Key, s.Name, foreign(c.Key))
			r.lose(s.Name, c.KeyAt)
			continue
		}
		r.add(s, c.Key, c)
	}
}

func (r *reader) add(s *schema.Kind, id string, n *syntax.Node) {
	path := join(s.Name, id)
	place := q.Place{File: r.file, Line: n.KeyAt.Line, Column: n.KeyAt.Column}
	e := &Entry{Kind: s.Name, ID: id, Place: place, Shop: r.shop, path: path, node: american(s, n), schema: s}
	before := len(r.faults)
	bindEntry(e, r.hookups, r.words, &r.room, &r.faults)
	if damaged := len(r.faults) > before || n.Damaged || hurtBelow(n); damaged {
		e.damage(r.hookups, r.words)
	}
	r.put(e)
}

// put adds an entry, unless there is one of its name.
func (r *reader) put(e *Entry) {
	old, ok := r.entries[e.path]
	switch {
	case !ok:
	case e.onlyInside():
		return
	case old.onlyInside():
	default:
		r.faults = append(r.faults, e.twice(old))
		twice := *old
		twice.damage(r.hookups, r.words)
		r.entries[e.path] = &twice
		return
	}
	r.entries[e.path] = e
}

// twice tells that another entry of the same name stands somewhere else.
func (e *Entry) twice(old *Entry) Fault {
	at := old.Place
	return Fault{e.Place, fmt.Sprintf("%s is already at %s:%d:%d; an entry stands in one place", e.path, at.File, at.Line, at.Column)}
}

// hurtBelow tells whether a table below a node is damaged.
func hurtBelow(n *syntax.Node) bool {
	return slices.ContainsFunc(n.Children, func(c *syntax.Node) bool { return c.Damaged || hurtBelow(c) })
}

// damage binds an entry anew so that what it does not say waits for its fault
// to be put right: that may have stood there.
func (e *Entry) damage(hookups map[string]HookupRule, words words) {
	e.damaged = true
	var told []Fault // they have been told
	bindEntry(e, hookups, words, &room{}, &told)
}

// onlyInside tells that the entry's table holds nothing but other entries, as
// [vehicle] may hold the axles alone.
func (e *Entry) onlyInside() bool {
	inside := e.schema.Inside
	return inside != nil && !slices.ContainsFunc(e.node.Children, func(c *syntax.Node) bool { return inside[c.Key] == nil })
}

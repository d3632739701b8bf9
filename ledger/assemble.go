package ledger

import (
	"fmt"
	"regexp"
	"slices"

	q "fishplate/ledger/quantity"
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
}

func (r *reader) fault(at syntax.Position, format string, args ...any) {
	r.faults = append(r.faults, Fault{q.Place{File: r.file, Line: at.Line, Column: at.Column}, fmt.Sprintf(format, args...)})
}

func (r *reader) syntaxFaults(d *syntax.Document) {
	for _, f := range d.Faults {
		r.fault(f.At, "%s", f.Message)
	}
	r.unread = r.unread || len(d.Faults) > 0
}

// document reads the entries of a file.
func (r *reader) document(d *syntax.Document) {
	r.syntaxFaults(d)
	if d.Root != nil {
		r.root(d.Root)
	}
}

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func (r *reader) root(root *syntax.Node) {
	for _, n := range root.Children {
		s := kinds[n.Key]
		switch {
		case n.Key == "limits" && r.shop:
			continue
		case n.Key == "limits":
			r.fault(n.KeyAt, "[limits] stands in %s, not in a build", "shop.toml")
		case s == nil:
			r.fault(n.KeyAt, "unknown table %q%s", n.Key, didYouMean(n.Key, kindNames))
		case n.Kind != syntax.Table:
			r.fault(n.ValueAt, "%s is a table: write [%s]", n.Key, example(s))
		case s.shop && !r.shop:
			r.fault(n.KeyAt, "[%s] stands in shop.toml, not in a build", example(s))
		case r.shop && !s.shop && !shared[s.name]: // it would be passed over
			r.fault(n.KeyAt, "[%s] stands in a build, not in shop.toml", example(s))
		case s.single:
			r.add(s, "", n)
			r.axles(n)
		default:
			r.many(s, n)
		}
	}
}

func example(s *schema) string {
	if s.single {
		return s.name
	}
	return s.name + ".ID"
}

func (r *reader) axles(n *syntax.Node) {
	if n.Key != "vehicle" {
		return
	}
	for _, c := range n.Children {
		if !isAxle(c.Key) {
			continue
		}
		if c.Kind != syntax.Table {
			r.fault(c.ValueAt, "vehicle.%s is a table: write [vehicle.%s]", c.Key, c.Key)
			continue
		}
		r.add(kinds["vehicle."+c.Key], "", c)
	}
}

func (r *reader) many(s *schema, n *syntax.Node) {
	for _, c := range n.Children {
		if c.Kind != syntax.Table {
			if s.byKey[c.Key] != nil {
				r.fault(c.KeyAt, "[%s] needs an id: write [%s.ID], as in [%s.%s]", s.name, s.name, s.name, "main")
			} else {
				r.fault(c.KeyAt, "%s.%s is a table: write [%s.%s]", s.name, c.Key, s.name, c.Key)
			}
			continue
		}
		if !idForm.MatchString(c.Key) || len(c.Key) > 80 {
			r.fault(c.KeyAt, "bad id %q: an id is lower-case words or digits joined by hyphens, as in %s.oil-cooler", c.Key, s.name)
			continue
		}
		r.add(s, c.Key, c)
	}
}

func (r *reader) add(s *schema, id string, n *syntax.Node) {
	path := join(s.name, id)
	e := &Entry{Kind: s.name, ID: id, Place: q.Place{File: r.file, Line: n.KeyAt.Line, Column: n.KeyAt.Column}, Shop: r.shop, path: path, node: s.american(n), schema: s}
	before := len(r.faults)
	bindEntry(e, r.hookups, r.words, &r.faults)
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
	case e.path == "vehicle" && bare(e.node):
		return
	case e.path == "vehicle" && bare(old.node):
	default:
		r.faults = append(r.faults, Fault{e.Place, fmt.Sprintf("%s is already at %s:%d:%d; an entry stands in one place", e.path, old.Place.File, old.Place.Line, old.Place.Column)})
		twice := *old
		twice.damage(r.hookups, r.words)
		r.entries[e.path] = &twice
		return
	}
	r.entries[e.path] = e
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
	bindEntry(e, hookups, words, &told)
}

// bare: a [vehicle] that only holds axles, which are entries of their own.
func bare(n *syntax.Node) bool {
	return !slices.ContainsFunc(n.Children, func(c *syntax.Node) bool { return !isAxle(c.Key) })
}

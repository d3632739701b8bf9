package ledger

import (
	"reflect"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// spot binds a place: distances from three lines, or from an assembly's datum, or
// the name of a part that is at the same place.
func (b *binder) spot(s *Spot, v reflect.Value, f *schema.Field, n *syntax.Node, key string) {
	if n == nil {
		absent := Ref{b.missingWord(key)}
		s.SameAs, s.From = absent, absent
		b.noDistances(v, f.Nested, key, absent)
		return
	}
	s.known = true
	switch n.Kind {
	case syntax.String:
		s.SameAs = Ref{b.ref(samePlace, n, key)}
		s.From = Ref{q.MissingWord(b.source(key, n.KeyAt))}
		whole := b.missing(q.Length, key)
		for _, d := range f.Nested.Fields {
			if d.Type == schema.Quantity {
				*v.Field(d.Index).Addr().Interface().(*q.Quantity) = whole
			}
		}
		return
	case syntax.Table:
		for _, c := range n.Children {
			if !f.Nested.Has(c.Key) {
				b.fault(c.KeyAt, "unknown key %q in a place%s; takes %s", c.Key, didYouMean(c.Key, f.Nested.Keys()), schema.And(f.Nested.Keys()))
			}
		}
	default:
		b.fault(n.ValueAt, "%s takes %s; got %s", key, f.Takes(), kindOfNode(n))
		n = &syntax.Node{Kind: syntax.Table, KeyAt: n.KeyAt}
	}
	s.SameAs = Ref{q.MissingWord(b.source(key, n.KeyAt))}
	b.parts(v, f.Nested, q.Length, n, key)
}

// samePlace is the name of a part in place of a place.
var samePlace = &schema.Field{Type: schema.Ref, Refs: []string{"part"}}

// noDistances are those of a place that the ledger does not give. On a ledger of
// phantoms each waits for itself, elsewhere they all wait for the place, under
// names of their own.
func (b *binder) noDistances(v reflect.Value, place *schema.Kind, key string, absent Ref) {
	var to [3]*q.Quantity
	var keys [3]string
	n := 0
	for _, d := range place.Fields {
		if d.Type == schema.Quantity {
			to[n], keys[n] = v.Field(d.Index).Addr().Interface().(*q.Quantity), whole(place, d, key)
			n++
		}
	}
	switch {
	case b.phantom:
		for i, d := range to {
			*d = b.missing(q.Length, keys[i])
		}
	case b.needs != nil:
		for _, d := range to {
			*d = b.missing(q.Length, key)
		}
	default:
		for i, d := range q.MissingThree(q.Length, absent.Source(), keys) {
			*to[i] = d
		}
	}
}

// parts binds the keys of a place, or of a need, whose quantities are of one
// dimension. The node is nil, or a table.
func (b *binder) parts(v reflect.Value, s *schema.Kind, dim q.Dim, n *syntax.Node, key string) {
	for _, f := range s.Fields {
		var c *syntax.Node
		if n != nil {
			c = n.Child(f.Key)
		}
		switch to := v.Field(f.Index).Addr().Interface().(type) {
		case *q.Quantity:
			*to = b.quantity(f, dim, c, whole(s, f, key))
		case *Ref:
			*to = Ref{b.ref(f, c, whole(s, f, key))}
		}
	}
}

// near guesses which kind of hookup was meant.
func (b *binder) near(kind string) string {
	if len(*b.faults) >= mostGuesses {
		return ""
	}
	return didYouMean(kind, hookupNames(b.hookups))
}

// hookup binds what a part needs or gives of one kind of hookup.
func (b *binder) hookup(h *Hookup, v reflect.Value, f *schema.Field, n *syntax.Node, kind, key string) {
	rule, known := b.hookups[kind]
	if n == nil || !known {
		rule.Dim = q.Any
	}
	h.Kind, h.place = kind, b.place
	var need, level *syntax.Node
	if n != nil {
		h.place = b.at(n.KeyAt)
		switch {
		case !known:
			b.fault(n.KeyAt, "unknown hookup %q%s; a shop adds kinds of its own in [hookup.%s]", kind, b.near(kind), kind)
		case n.Kind == syntax.Bool && n.Value == true:
		case f.Level:
			level = n
		case n.Kind != syntax.Table:
			b.fault(n.ValueAt, "%s takes { least, exactly or takes, and from }; got %s", key, kindOfNode(n))
		default:
			need = n
			b.needKeys(f.Nested, rule, n, kind, key)
		}
	}
	h.Level = b.quantity(f, rule.Dim, level, key)
	b.parts(v, f.Nested, rule.Dim, need, key)
}

// needKeys tells the keys of a need that are unknown, and those that the kind of
// hookup is not measured by.
func (b *binder) needKeys(need *schema.Kind, rule HookupRule, n *syntax.Node, kind, key string) {
	measure := measureOf(rule.Compare)
	for _, c := range n.Children {
		f := need.Field(c.Key)
		switch {
		case !need.Has(c.Key):
			b.fault(c.KeyAt, "unknown key %q in a need%s; takes %s", c.Key, didYouMean(c.Key, need.Keys()), schema.And(need.Keys()))
		case f.Type == schema.Ref && c.Value == b.path:
			b.fault(c.ValueAt, "%s: a part cannot feed itself", key)
		case f.Type == schema.Ref || c.Key == measure || rule.Compare == "":
		case measure == "":
			b.fault(c.KeyAt, "%s takes no %s: %s is there or not, and not measured", key, c.Key, kind)
		default:
			b.fault(c.KeyAt, "%s takes %s instead of %s, as %s is compared by %q", key, measure, c.Key, kind, rule.Compare)
		}
	}
}

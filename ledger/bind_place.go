package ledger

import (
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// coordinates are the keys of a place, but for what it is measured from.
var coordinates = [3]string{"behind", "right", "above"}

// spot binds a place: distances from three lines, or from an assembly's datum, or
// the name of a part that is at the same place.
func (b *binder) spot(f *schema.Field, n *syntax.Node, key string) Spot {
	if n == nil {
		return b.absentSpot(f, key)
	}
	absent := Ref{q.MissingWord(b.source(key+".from", n.KeyAt))}
	s := Spot{given: true, SameAs: absent, From: absent}
	switch n.Kind {
	case syntax.String:
		s.SameAs = Ref{b.ref(samePlace, n, key)}
		whole := b.missing(q.Length, key)
		s.Behind, s.Right, s.Above = whole, whole, whole
		return s
	case syntax.Table:
		for _, c := range n.Children {
			if !f.Nested.Has(c.Key) {
				b.fault(c.KeyAt, "unknown key %q in a place%s; takes behind, right, above and from", c.Key, didYouMean(c.Key, f.Nested.Keys()))
			}
		}
	default:
		b.fault(n.ValueAt, "%s takes %s; got %s", key, f.Takes(), kindOfNode(n))
		n = &syntax.Node{Kind: syntax.Table}
	}
	if c := n.Child("from"); c != nil {
		s.From = Ref{b.ref(f.Nested.Field("from"), c, key+".from")}
	}
	distance := func(part string) q.Quantity {
		return b.quantity(f.Nested.Field(part), q.Length, n.Child(part), key+"."+part)
	}
	s.Behind, s.Right, s.Above = distance("behind"), distance("right"), distance("above")
	return s
}

// samePlace is the name of a part in place of a place.
var samePlace = &schema.Field{Type: schema.Ref, Refs: []string{"part"}}

// absentSpot is a place that the ledger does not give. On a ledger of phantoms
// each of its distances waits for itself, elsewhere they all wait for the place,
// under names of their own.
func (b *binder) absentSpot(f *schema.Field, key string) Spot {
	whole, absent := b.missing(q.Length, key), Ref{b.missingWord(key)}
	s := Spot{SameAs: absent, From: absent, Behind: whole, Right: whole, Above: whole}
	if b.needs == nil {
		each := q.MissingThree(q.Length, whole.Source(), coordinates)
		s.Behind, s.Right, s.Above = each[0], each[1], each[2]
	}
	if b.phantom {
		s.Behind, s.Right, s.Above = b.missing(q.Length, key+".behind"), b.missing(q.Length, key+".right"), b.missing(q.Length, key+".above")
	}
	return s
}

// measures are the keys that say how much is needed, by how gifts are compared.
var measures = map[string]string{"level": "least", "equal": "exactly", "sum": "takes"}

// near guesses which kind of hookup was meant.
func (b *binder) near(kind string) string {
	if len(*b.faults) >= mostGuesses {
		return ""
	}
	return didYouMean(kind, hookupNames(b.hookups))
}

// hookup binds what a part needs or gives of one kind of hookup.
func (b *binder) hookup(f *schema.Field, n *syntax.Node, kind, key string) Hookup {
	rule, known := b.hookups[kind]
	if n == nil || !known {
		rule.Dim = q.Any
	}
	h := Hookup{Kind: kind, place: b.place}
	value := func(part string, n *syntax.Node) q.Quantity {
		return b.quantity(f.Nested.Field(part), rule.Dim, n, key+"."+part)
	}
	from := func(n *syntax.Node) Ref { return Ref{b.ref(f.Nested.Field("from"), n, key+".from")} }
	h.Least, h.Exactly, h.Takes, h.From = value("least", nil), value("exactly", nil), value("takes", nil), from(nil)
	h.Level = b.quantity(f, rule.Dim, nil, key)
	if n == nil {
		return h
	}
	h.place = b.source(key, n.KeyAt).Place
	switch {
	case !known:
		b.fault(n.KeyAt, "unknown hookup %q%s; a shop adds kinds of its own in [hookup.%s]", kind, b.near(kind), kind)
	case n.Kind == syntax.Bool && n.Value == true:
	case f.Level:
		h.Level = b.quantity(f, rule.Dim, n, key)
	case n.Kind != syntax.Table:
		b.fault(n.ValueAt, "%s takes { least, exactly or takes, and from }; got %s", key, kindOfNode(n))
	default:
		b.needKeys(f.Nested, rule, n, kind, key)
		h.Least, h.Exactly, h.Takes = value("least", n.Child("least")), value("exactly", n.Child("exactly")), value("takes", n.Child("takes"))
		if h.From = from(n.Child("from")); h.From.String() == b.path {
			b.fault(n.Child("from").ValueAt, "%s: a part cannot feed itself", key)
		}
	}
	return h
}

// needKeys tells the keys of a need that are unknown, and those that the kind of
// hookup is not measured by.
func (b *binder) needKeys(need *schema.Kind, rule HookupRule, n *syntax.Node, kind, key string) {
	for _, c := range n.Children {
		switch f := need.Field(c.Key); {
		case !need.Has(c.Key):
			b.fault(c.KeyAt, "unknown key %q in a need%s; takes least, exactly, takes and from", c.Key, didYouMean(c.Key, need.Keys()))
		case f.Type == schema.Ref || c.Key == measures[rule.Compare] || rule.Compare == "":
		case rule.Compare == "present":
			b.fault(c.KeyAt, "%s takes no %s: %s is there or not, and not measured", key, c.Key, kind)
		default:
			b.fault(c.KeyAt, "%s takes %s instead of %s, as %s is compared by %q", key, measures[rule.Compare], c.Key, kind, rule.Compare)
		}
	}
}

package ledger

import (
	"fmt"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
)

// coordinates are the keys of a place, but for what it is measured from.
var coordinates = [3]string{"behind", "right", "above"}

func (b *binder) spot(f *field, n *syntax.Node, key string) Spot {
	var s Spot
	if n == nil {
		absent := Ref{b.missingWord(key)}
		s.SameAs, s.From = absent, absent
		whole := b.missing(q.Length, key)
		s.Behind, s.Right, s.Above = whole, whole, whole
		if b.needs == nil {
			each := q.MissingThree(q.Length, whole.Source(), coordinates)
			s.Behind, s.Right, s.Above = each[0], each[1], each[2]
		}
		if b.phantom {
			s.Behind, s.Right, s.Above = b.missing(q.Length, key+".behind"), b.missing(q.Length, key+".right"), b.missing(q.Length, key+".above")
		}
		return s
	}
	s.given = true
	absent := Ref{q.MissingWord(b.source(key+".from", n.KeyAt))}
	s.SameAs, s.From = absent, absent
	switch n.Kind {
	case syntax.String:
		s.SameAs = Ref{b.ref(&field{refs: []string{"part"}}, n, key)}
		whole := b.missing(q.Length, key)
		s.Behind, s.Right, s.Above = whole, whole, whole
		return s
	case syntax.Table:
		for _, c := range n.Children {
			if !contains(spotKeys, c.Key) {
				b.fault(c.KeyAt, "unknown key %q in a place%s; takes behind, right, above and from", c.Key, didYouMean(c.Key, spotKeys))
			}
		}
	default:
		b.fault(n.ValueAt, "%s takes %s; got %s", key, f.takes(), kindOfNode(n))
		n = &syntax.Node{Kind: syntax.Table}
	}
	if c := n.Child("from"); c != nil {
		s.From = Ref{b.ref(&field{refs: []string{"assembly"}}, c, key+".from")}
	}
	length := &field{key: key, typ: typeSpot, dim: q.Length, lever: f.key == "at"}
	s.Behind = b.quantity(length, q.Length, n.Child("behind"), key+".behind")
	s.Right = b.quantity(length, q.Length, n.Child("right"), key+".right")
	s.Above = b.quantity(length, q.Length, n.Child("above"), key+".above")
	return s
}

var hookupKeys = []string{"least", "exactly", "takes", "from"}

// measures are the keys that say how much is needed, by how gifts are compared.
var measures = map[string]string{"level": "least", "equal": "exactly", "sum": "takes"}

// near guesses which kind of hookup was meant.
func (b *binder) near(kind string) string {
	if len(*b.faults) >= mostGuesses {
		return ""
	}
	return didYouMean(kind, hookupNames(b.hookups))
}

func (b *binder) hookup(f *field, n *syntax.Node, kind, key string) Hookup {
	rule, known := b.hookups[kind]
	if n == nil || !known {
		rule.Dim = q.Any
	}
	h := Hookup{Kind: kind, place: b.place}
	plain := &field{typ: typeQuantity, dim: rule.Dim}
	part := &field{refs: []string{"part"}}
	absent := func() {
		h.Least, h.Exactly, h.Takes = b.quantity(plain, rule.Dim, nil, key+".least"), b.quantity(plain, rule.Dim, nil, key+".exactly"), b.quantity(plain, rule.Dim, nil, key+".takes")
		h.From = Ref{b.ref(part, nil, key+".from")}
		h.Level = b.quantity(plain, rule.Dim, nil, key)
	}
	absent()
	if n == nil {
		return h
	}
	h.place = b.source(key, n.KeyAt).Place
	if !known {
		b.fault(n.KeyAt, "unknown hookup %q%s; a shop adds kinds of its own in [hookup.%s]", kind, b.near(kind), kind)
		return h
	}
	if n.Kind == syntax.Bool && n.Value == true {
		return h
	}
	if f.key == "gives" {
		h.Level = b.quantity(plain, rule.Dim, n, key)
		return h
	}
	if n.Kind != syntax.Table {
		b.fault(n.ValueAt, "%s takes { least, exactly or takes, and from }; got %s", key, kindOfNode(n))
		return h
	}
	for _, c := range n.Children {
		switch {
		case !contains(hookupKeys, c.Key):
			b.fault(c.KeyAt, "unknown key %q in a need%s; takes least, exactly, takes and from", c.Key, didYouMean(c.Key, hookupKeys))
		case c.Key == "from" || c.Key == measures[rule.Compare] || rule.Compare == "":
		case rule.Compare == "present":
			b.fault(c.KeyAt, "%s takes no %s: %s is there or not, and not measured", key, c.Key, kind)
		default:
			b.fault(c.KeyAt, "%s takes %s instead of %s, as %s is compared by %q", key, measures[rule.Compare], c.Key, kind, rule.Compare)
		}
	}
	limit := &field{typ: typeQuantity, dim: rule.Dim, exact: true}
	h.Least = b.quantity(limit, rule.Dim, n.Child("least"), key+".least")
	h.Exactly = b.quantity(plain, rule.Dim, n.Child("exactly"), key+".exactly")
	h.Takes = b.quantity(plain, rule.Dim, n.Child("takes"), key+".takes")
	h.From = Ref{b.ref(part, n.Child("from"), key+".from")}
	if h.From.String() == b.path {
		b.fault(n.Child("from").ValueAt, "%s: a part cannot feed itself", key)
	}
	return h
}

// conductorSize reads "12 AWG", "2/0 AWG" or "3 mm2" into one spelling.
func conductorSize(text string) (string, error) {
	s := strings.Join(strings.Fields(text), " ")
	up := strings.ToUpper(s)
	if num, ok := strings.CutSuffix(up, "AWG"); ok {
		num = strings.TrimPrefix(strings.TrimSpace(num), "#")
		if i, err := strconv.Atoi(num); err == nil && i >= 1 && i <= 40 && num[0] != '+' {
			return strconv.Itoa(i) + " AWG", nil
		}
		if n, d, ok := strings.Cut(num, "/"); ok && d == "0" && (n == "1" || n == "2" || n == "3" || n == "4") {
			return num + " AWG", nil
		}
		return "", fmt.Errorf("AWG sizes run from 40 to 1, then 1/0 to 4/0; got %q", text)
	}
	for _, unit := range []string{"mm2", "mm²", "mm^2"} {
		if num, ok := strings.CutSuffix(s, unit); ok {
			v, err := strconv.ParseFloat(strings.TrimSpace(num), 64)
			if err != nil || !(v > 0 && v < 1000) {
				return "", fmt.Errorf("a conductor size in mm2, such as 2.5 mm2; got %q", text)
			}
			return strconv.FormatFloat(v, 'g', -1, 64) + " mm2", nil
		}
	}
	return "", fmt.Errorf("takes a conductor size, such as 12 AWG, 2/0 AWG or 3 mm2; got %q", text)
}

package ledger

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// missing is a quantity that waits for its key, or for what the whole entry waits
// for.
func (b *binder) missing(dim q.Dim, key string) q.Quantity {
	if b.needs == nil {
		return q.Missing(dim, b.source(key, syntax.Position{}))
	}
	for _, w := range b.waiting {
		if w.Dim() == dim {
			return w
		}
	}
	w := b.waiting[0].WaitsToo(dim)
	b.waiting = append(b.waiting, w)
	return w
}

// quantity binds a quantity, which the entry may give another dimension than the
// key has.
func (b *binder) quantity(f *schema.Field, dim q.Dim, n *syntax.Node, key string) q.Quantity {
	if n == nil {
		if f.Default != "" && !b.phantom && b.needs == nil {
			return b.absent(f, dim, key)
		}
		return b.missing(dim, key)
	}
	r, err := readingOf(f, dim, n)
	if err == nil {
		if wrong := cmp.Or(tooGreat(r), f.Refuses(r)); wrong != "" {
			err = fmt.Errorf("%s; got %s", wrong, n.Text)
		}
	}
	if err != nil {
		b.fault(n.ValueAt, "%s: %v", key, err)
		return b.missing(dim, key)
	}
	if counted := r.Unit.Dim == q.PerAngle || r.Unit.Dim == q.PerLength; counted && r.Grade == q.Stated {
		r.Low, r.High = r.Value, r.Value // pulses are counted, and counts are exact
	}
	src := b.source(key, n.KeyAt)
	src.Lever = f.Lever
	return q.Leaf(r, src)
}

// readingOf reads a quantity as it is written: as text with a unit, or as a bare
// number where the dimension has no unit.
func readingOf(f *schema.Field, dim q.Dim, n *syntax.Node) (q.Reading, error) {
	var x float64
	switch v := n.Value.(type) {
	case string:
		return q.Parse(v, dim, q.Options{Exact: f.Exact, Position: f.Position})
	case int64:
		x = float64(v)
	case float64:
		x = v
	default:
		return q.Reading{}, fmt.Errorf("takes %s; got %s", dim.Takes(), kindOfNode(n))
	}
	switch {
	case dim != q.Ratio && dim != q.Any:
		return q.Reading{}, fmt.Errorf("a number without a unit; takes %s, written as a string", dim.Takes())
	case math.IsNaN(x) || math.IsInf(x, 0):
		return q.Reading{}, errors.New("must be finite")
	}
	r, _ := q.Number(x).Reading()
	return r, nil
}

// absent is what a quantity that is left out is by the format. One that a shop
// can change has a place, so that it can be put in.
func (b *binder) absent(f *schema.Field, dim q.Dim, key string) q.Quantity {
	if f.Lever == nil {
		v, _ := strconv.ParseFloat(f.Default, 64)
		return q.Number(v)
	}
	r, err := q.Parse(f.Default, dim, q.Options{Exact: true})
	if err != nil {
		return b.missing(dim, key)
	}
	src := b.source(key, syntax.Position{})
	src.Lever = f.Lever
	return q.Leaf(r, src)
}

// word binds a word, which may be one of a list.
func (b *binder) word(f *schema.Field, n *syntax.Node, key string) q.Word {
	if n == nil {
		if f.Default != "" && !b.phantom && b.needs == nil {
			return q.Written(f.Default, b.source(key, syntax.Position{}))
		}
		return b.missingWord(key)
	}
	text, fault := wordOf(f, n, key)
	switch {
	case fault != "":
		b.fault(n.ValueAt, "%s", fault)
		return q.MissingWord(b.source(key, n.KeyAt))
	case f.Words != "":
		return b.known(f, text, n, key)
	}
	return q.Written(text, b.source(key, n.KeyAt))
}

// wordOf reads a word as it is written, or says what is wrong with it.
func wordOf(f *schema.Field, n *syntax.Node, key string) (text, fault string) {
	text, ok := n.Value.(string)
	if !ok && f.Whole && n.Kind == syntax.Integer {
		text, ok = fmt.Sprint(n.Value), true
	}
	switch {
	case !ok:
		return "", fmt.Sprintf("%s takes %s; got %s", key, f.Takes(), kindOfNode(n))
	case len(f.OneOf) > 0 && !slices.Contains(f.OneOf, text):
		return "", fmt.Sprintf("%s takes one of %s; got %q%s", key, schema.Or(f.OneOf), text, didYouMean(text, f.OneOf))
	case f.Size:
		size, err := ConductorSize(text)
		if err != nil {
			return "", fmt.Sprintf("%s: %v", key, err)
		}
		return size, ""
	case strings.TrimSpace(text) == "":
		return "", key + " is empty; leave the key out where there is nothing to say"
	}
	return text, ""
}

// missingWord is a word that waits in the same way.
func (b *binder) missingWord(key string) q.Word {
	if b.needs != nil {
		return b.openWord
	}
	return q.MissingWord(b.source(key, syntax.Position{}))
}

// waitingWord is a missing word that waits for another entry's key.
func waitingWord(needs []q.Need) q.Word {
	return q.MissingWord(&q.Source{Key: needs[0].Key, Place: needs[0].Place})
}

// truth binds true or false.
func (b *binder) truth(f *schema.Field, n *syntax.Node, key string) q.Truth {
	if n == nil {
		if b.needs != nil {
			return q.Unknown(b.needs)
		}
		if f.Default != "" && !b.phantom {
			return q.Is(f.Default == "true")
		}
		return q.MissingTruth(b.source(key, syntax.Position{}))
	}
	v, ok := n.Value.(bool)
	if !ok {
		b.fault(n.ValueAt, "%s takes true or false; got %s", key, kindOfNode(n))
		return q.MissingTruth(b.source(key, n.KeyAt))
	}
	return q.Is(v)
}

// date binds a date, which TOML may have as one of its own or as text.
func (b *binder) date(n *syntax.Node, key string) q.Word {
	if n == nil {
		return b.missingWord(key)
	}
	src := b.source(key, n.KeyAt)
	text := ""
	switch n.Kind {
	case syntax.Date:
		text = dateText(n)
	case syntax.String:
		text = n.Value.(string)
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		if n.Kind != syntax.Date || n.Value != nil { // else it was told where it was read
			b.fault(n.ValueAt, "%s takes a date, such as 2026-03-01; got %s", key, kindOfNode(n))
		}
		return q.MissingWord(src)
	}
	return q.Written(text, src)
}

// dateText is a TOML date without a time; one with a time stays as it is written,
// and is refused.
func dateText(n *syntax.Node) string {
	if t, ok := n.Value.(time.Time); ok && len(n.Text) <= len(time.DateOnly) {
		return t.Format(time.DateOnly)
	}
	return n.Text
}

// ref binds the name of another entry; whether there is one is told when all are
// known.
func (b *binder) ref(f *schema.Field, n *syntax.Node, key string) q.Word {
	if n == nil {
		return b.missingWord(key)
	}
	src := b.source(key, n.KeyAt)
	text, ok := n.Value.(string)
	if !ok {
		b.fault(n.ValueAt, "%s takes %s; got %s", key, schema.TakesName(f.Refs), kindOfNode(n))
		return q.MissingWord(src)
	}
	kind, _, dotted := strings.Cut(text, ".")
	if f.OrWords && !(dotted && isKind(kind)) {
		return q.Written(text, src)
	}
	to := text
	if f.Pin {
		var err error
		if to, err = plugOf(text); err != nil {
			b.fault(n.ValueAt, "%s: %v", key, err)
			return q.MissingWord(src)
		}
	}
	b.refs = append(b.refs, reference{to, f.Refs, b.at(n.ValueAt)})
	return q.Written(text, src)
}

package ledger

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// reference is a key that names another entry, to be checked when all entries
// are known.
type reference struct {
	to    string
	kinds []string
	place q.Place
}

// binder fills a view from the node of an entry, and tells every fault.
// Without a node it makes a phantom, whose values are missing: each waits for
// its own key, or all for needs.
type binder struct {
	path    string
	place   q.Place // of the entry
	phantom bool
	needs   []q.Need
	waiting map[q.Dim]q.Quantity // those that wait for needs
	hookups map[string]HookupRule
	words   words
	system  q.Word
	unheard []Unheard
	faults  *[]Fault
	refs    []reference
	sources []q.Source // ready to be used: an entry takes about one a field
	fields  int
}

func (b *binder) fault(at syntax.Position, format string, args ...any) {
	*b.faults = append(*b.faults, Fault{q.Place{File: b.place.File, Line: at.Line, Column: at.Column}, fmt.Sprintf(format, args...)})
}

func (b *binder) source(key string, at syntax.Position) *q.Source {
	if len(b.sources) == 0 {
		b.sources = make([]q.Source, 1+b.fields)
	}
	s := &b.sources[0]
	b.sources = b.sources[1:]
	s.Entry, s.Key, s.Place = b.path, key, b.place
	if at.Line > 0 {
		s.Place.Line, s.Place.Column = at.Line, at.Column
	}
	return s
}

// bindEntry makes the view of an entry.
func bindEntry(e *Entry, hookups map[string]HookupRule, words words, faults *[]Fault) {
	b := &binder{path: e.Path(), place: e.Place, hookups: hookups, words: words, faults: faults, fields: len(e.schema.Fields)}
	if e.damaged {
		b.needs, b.waiting = []q.Need{{Key: e.Path() + " without its faults", Place: e.Place}}, map[q.Dim]q.Quantity{}
	}
	v := reflect.New(e.schema.View)
	v.Interface().(interface{ setHead(Head) }).setHead(Head{path: e.Path(), place: e.Place, entry: e, needs: b.needs})
	b.table(v.Elem(), e.schema, e.node, "")
	e.view, e.refs, e.strange, e.system = v.Interface(), b.refs, b.unheard, b.system
}

// phantomView is the view of an entry that is not there.
func phantomView(s *schema.Kind, path string, place q.Place, needs []q.Need, all bool) any {
	b := &binder{path: path, place: place, needs: needs, waiting: map[q.Dim]q.Quantity{}, phantom: all, fields: len(s.Fields)}
	v := reflect.New(s.View)
	head := Head{path: path, place: place, needs: needs}
	if all { // whether it is written is as unknown as what it says
		head.needs = []q.Need{{Key: path, Place: place}}
	}
	v.Interface().(interface{ setHead(Head) }).setHead(head)
	b.table(v.Elem(), s, nil, "")
	return v.Interface()
}

func (b *binder) table(v reflect.Value, s *schema.Kind, n *syntax.Node, prefix string) {
	if n != nil {
		for _, c := range n.Children {
			switch {
			case s.Has(c.Key), s.Inside[c.Key] != nil:
			case prefix == "" && schema.Common(c.Key) != nil:
				b.common(schema.Common(c.Key), c)
			case s.Renamed(c.Key) != "":
				b.fault(c.KeyAt, "%s has no key %q; it is called %q", s.Name, c.Key, s.Renamed(c.Key))
			default:
				b.fault(c.KeyAt, "unknown key %q in %s%s", c.Key, s.Name, didYouMean(c.Key, s.Keys()))
			}
		}
	}
	for _, f := range s.Fields {
		var c *syntax.Node
		if n != nil {
			c = n.Child(f.Key)
		}
		b.value(v.Field(f.Index), f, v.Field(f.Index).Type(), c, prefix+f.Key)
	}
}

// common binds a key that any entry may have.
func (b *binder) common(f *schema.Field, n *syntax.Node) {
	w := b.word(f, n, f.Key)
	if f == schema.System {
		b.system = w
	}
}

// value binds one key. Without a node it sets what absence means.
func (b *binder) value(v reflect.Value, f *schema.Field, t reflect.Type, n *syntax.Node, key string) {
	switch to := v.Addr().Interface().(type) {
	case *q.Quantity:
		*to = b.quantity(f, f.Dim, n, key)
	case *q.Word:
		*to = b.word(f, n, key)
	case *q.Truth:
		*to = b.truth(f, n, key)
	case *Date:
		*to = Date{b.date(n, key)}
	case *Ref:
		*to = Ref{b.ref(f, n, key)}
	case *Spot:
		*to = b.spot(f, n, key)
	default:
		b.container(v, f, t, n, key)
	}
}

func (b *binder) container(v reflect.Value, f *schema.Field, t reflect.Type, n *syntax.Node, key string) {
	switch t.Kind() {
	case reflect.Struct:
		if n != nil && n.Kind != syntax.Table {
			b.fault(n.ValueAt, "%s takes a table with %s; got %s", key, schema.Or(f.Nested.Keys()), kindOfNode(n))
			n = nil
		}
		b.table(v, f.Nested, n, key+".")
	case reflect.Slice:
		b.slice(v, f, t, n, key)
	case reflect.Map:
		b.mapping(v, f, t, n, key)
	}
}

func (b *binder) slice(v reflect.Value, f *schema.Field, t reflect.Type, n *syntax.Node, key string) {
	if n == nil {
		if b.phantom {
			v.Set(reflect.MakeSlice(t, 1, 1))
			b.value(v.Index(0), f, t.Elem(), nil, key)
		}
		return
	}
	if n.Kind != syntax.Array {
		b.fault(n.ValueAt, "%s takes a list, as in %s = [...]; got %s", key, key, kindOfNode(n))
		return
	}
	v.Set(reflect.MakeSlice(t, len(n.Children), len(n.Children)))
	for i, c := range n.Children {
		b.value(v.Index(i), f, t.Elem(), c, key+"."+strconv.Itoa(i))
	}
}

func (b *binder) mapping(v reflect.Value, f *schema.Field, t reflect.Type, n *syntax.Node, key string) {
	if n == nil {
		if b.phantom {
			v.Set(reflect.MakeMap(t))
			b.element(v, f, t, nil, AnyHookup, key)
		}
		return
	}
	if n.Kind != syntax.Table {
		b.fault(n.ValueAt, "%s takes a table, as in %s = { ... }; got %s", key, key, kindOfNode(n))
		return
	}
	v.Set(reflect.MakeMapWithSize(t, len(n.Children)))
	for _, c := range n.Children {
		b.element(v, f, t, c, c.Key, key)
	}
}

func (b *binder) element(v reflect.Value, f *schema.Field, t reflect.Type, c *syntax.Node, name, key string) {
	e := reflect.New(t.Elem()).Elem()
	if h, ok := e.Addr().Interface().(*Hookup); ok {
		*h = b.hookup(f, c, name, key+"."+name)
	} else {
		b.value(e, f, t.Elem(), c, key+"."+name)
	}
	if f.Keys != "" && c != nil {
		b.refs = append(b.refs, reference{name, []string{f.Keys}, b.source(key, c.KeyAt).Place})
	}
	v.SetMapIndex(reflect.ValueOf(name), e)
}

func (b *binder) missing(dim q.Dim, key string) q.Quantity {
	if b.needs == nil {
		return q.Missing(dim, b.source(key, syntax.Position{}))
	}
	w, ok := b.waiting[dim]
	if !ok {
		w = q.WaitsFor(dim, b.needs)
		b.waiting[dim] = w
	}
	return w
}

func (b *binder) quantity(f *schema.Field, dim q.Dim, n *syntax.Node, key string) q.Quantity {
	if n == nil {
		if f.Default != "" && !b.phantom && b.needs == nil {
			return b.absent(f, dim, key)
		}
		return b.missing(dim, key)
	}
	var r q.Reading
	var err error
	switch v := n.Value.(type) {
	case string:
		r, err = q.Parse(v, dim, q.Options{Exact: f.Exact, Position: f.Position})
	case int64, float64:
		if dim != q.Ratio && dim != q.Any {
			err = fmt.Errorf("a number without a unit; takes %s, written as a string", dim.Takes())
			break
		}
		x, ok := v.(float64)
		if !ok {
			x = float64(v.(int64))
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			err = fmt.Errorf("must be finite")
			break
		}
		num := q.Number(x)
		r, _ = num.Reading()
	default:
		err = fmt.Errorf("takes %s; got %s", dim.Takes(), kindOfNode(n))
	}
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

func (b *binder) word(f *schema.Field, n *syntax.Node, key string) q.Word {
	if n == nil {
		if f.Default != "" && !b.phantom && b.needs == nil {
			return q.Written(f.Default, b.source(key, syntax.Position{}))
		}
		return b.missingWord(key)
	}
	src := b.source(key, n.KeyAt)
	text, ok := n.Value.(string)
	if !ok && f.Whole && n.Kind == syntax.Integer {
		text, ok = fmt.Sprint(n.Value), true
	}
	if !ok {
		b.fault(n.ValueAt, "%s takes %s; got %s", key, f.Takes(), kindOfNode(n))
		return q.MissingWord(src)
	}
	if len(f.OneOf) > 0 && !slices.Contains(f.OneOf, text) {
		b.fault(n.ValueAt, "%s takes one of %s; got %q%s", key, schema.Or(f.OneOf), text, didYouMean(text, f.OneOf))
		return q.MissingWord(src)
	}
	if f.Size {
		size, err := conductorSize(text)
		if err != nil {
			b.fault(n.ValueAt, "%s: %v", key, err)
			return q.MissingWord(src)
		}
		text = size
	}
	if strings.TrimSpace(text) == "" {
		b.fault(n.ValueAt, "%s is empty; leave the key out where there is nothing to say", key)
		return q.MissingWord(src)
	}
	if f.Words != "" {
		return b.known(f, text, n, key)
	}
	return q.Written(text, src)
}

func (b *binder) missingWord(key string) q.Word {
	if b.needs != nil {
		return waitingWord(b.needs)
	}
	return q.MissingWord(b.source(key, syntax.Position{}))
}

// waitingWord is a missing word that waits for another entry's key.
func waitingWord(needs []q.Need) q.Word {
	return q.MissingWord(&q.Source{Key: needs[0].Key, Place: needs[0].Place})
}

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
		b.fault(n.ValueAt, "%s takes a date, such as 2026-03-01; got %s", key, kindOfNode(n))
		return q.MissingWord(src)
	}
	return q.Written(text, src)
}

func dateText(n *syntax.Node) string {
	if t, ok := n.Value.(time.Time); ok {
		if len(n.Text) <= len("2026-03-01") {
			return t.Format(time.DateOnly)
		}
		return n.Text
	}
	return n.Text
}

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
	at := b.source(key, n.ValueAt).Place
	to := text
	if f.Pin {
		var err error
		if to, err = plugOf(text); err != nil {
			b.fault(n.ValueAt, "%s: %v", key, err)
			return q.MissingWord(src)
		}
	}
	b.refs = append(b.refs, reference{to, f.Refs, at})
	return q.Written(text, src)
}

func kindOfNode(n *syntax.Node) string {
	switch n.Kind {
	case syntax.String:
		return fmt.Sprintf("the string %q", n.Value)
	case syntax.Table:
		return "a table"
	case syntax.Array:
		return "a list"
	case syntax.Bool:
		return fmt.Sprint(n.Value)
	case syntax.Date:
		return "a date"
	}
	return "the number " + n.Text
}

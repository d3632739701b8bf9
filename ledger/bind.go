package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"

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

// binder fills the view of one entry from the node that it was parsed into, and
// tells every fault. Without a node, all values of the view are missing.
type binder struct {
	path    string
	place   q.Place // of the entry
	hookups map[string]HookupRule
	words   words

	phantom  bool         // of a ledger of phantoms: even what has a default is missing
	needs    []q.Need     // what all missing values wait for; each for its own key where there are none
	waiting  []q.Quantity // the missing quantities that wait for needs, one a dimension
	openWord q.Word       // the missing word that does

	system  q.Word // what the entry says of its system
	public  bool   // it says public = true
	unheard []Unheard
	refs    []reference
	faults  *[]Fault

	room *room
}

// room is what the entries of a file are bound in one after the other.
type room struct {
	sources []q.Source // made ahead, some at a time
	refs    []reference
}

func (r *room) source() *q.Source {
	if len(r.sources) == 0 {
		r.sources = make([]q.Source, 21) // 2 KB
	}
	next := &r.sources[0]
	r.sources = r.sources[1:]
	return next
}

// fault tells what is wrong at a position of the entry's file.
func (b *binder) fault(at syntax.Position, format string, args ...any) {
	*b.faults = append(*b.faults, Fault{b.at(at), fmt.Sprintf(format, args...)})
}

// at is a position of the entry's file, or the entry's own place where there is
// none.
func (b *binder) at(p syntax.Position) q.Place {
	if p.Line == 0 {
		return b.place
	}
	return q.Place{File: b.place.File, Line: p.Line, Column: p.Column}
}

// source is where the value of a key comes from.
func (b *binder) source(key string, at syntax.Position) *q.Source {
	s := b.room.source()
	s.Entry, s.Key, s.Place = b.path, key, b.at(at)
	return s
}

// waitFor lets all missing values wait for needs.
func (b *binder) waitFor(needs []q.Need) {
	b.needs, b.waiting, b.openWord = needs, []q.Quantity{q.WaitsFor(q.Ratio, needs)}, waitingWord(needs)
}

// bindEntry makes the view of an entry.
func bindEntry(e *Entry, hookups map[string]HookupRule, words words, in *room, faults *[]Fault) {
	b := &binder{
		path: e.Path(), place: e.Place, hookups: hookups, words: words,
		faults: faults, room: in, refs: in.refs[:0],
	}
	if e.damaged {
		b.waitFor([]q.Need{{Key: e.Path() + " without its faults", Place: e.Place}})
	}
	v := newView(e.schema, Head{path: e.Path(), place: e.Place, entry: e, needs: b.needs})
	b.table(v.Elem(), e.schema, e.node, "")
	e.view, e.refs, e.strange, e.system, e.public = v.Interface(), slices.Clone(b.refs), b.unheard, b.system, b.public
	in.refs = b.refs
}

// newView is a view of a kind with its head, and nothing in it yet.
func newView(s *schema.Kind, head Head) reflect.Value {
	v := reflect.New(s.View)
	v.Interface().(interface{ setHead(Head) }).setHead(head)
	return v
}

// phantomView is the view of an entry that is not there. Its values wait for
// needs; those of a ledger of phantoms, each for its own key.
func phantomView(s *schema.Kind, path string, place q.Place, needs []q.Need, phantom bool) any {
	b := &binder{path: path, place: place, phantom: phantom, room: &room{}}
	if len(needs) > 0 {
		b.waitFor(needs)
	}
	head := Head{path: path, place: place, needs: needs}
	if phantom { // whether it is written is as unknown as what it says
		head.needs = []q.Need{{Key: path, Place: place}}
	}
	v := newView(s, head)
	b.table(v.Elem(), s, nil, "")
	return v.Interface()
}

// whole is the key of a value in a table that stands at a key, "" for the entry's
// own. In an entry's own table, as most are, it is made ahead.
func whole(table *schema.Kind, f *schema.Field, at string) string {
	if at == table.Within {
		return f.Path
	}
	return at + "." + f.Key
}

// table binds all keys of a kind from a table that stands at a key, "" for the
// entry's own.
func (b *binder) table(v reflect.Value, s *schema.Kind, n *syntax.Node, at string) {
	if n != nil {
		b.others(s, n, at == "")
	}
	for _, f := range s.Fields {
		var c *syntax.Node
		if n != nil {
			c = n.Child(f.Key)
		}
		b.value(v.Field(f.Index), f, c, whole(s, f, at))
	}
}

// others binds the keys that any entry may have in its own table, and tells those
// that are unknown.
func (b *binder) others(s *schema.Kind, n *syntax.Node, own bool) {
	for _, c := range n.Children {
		switch {
		case s.Has(c.Key), s.Inside[c.Key] != nil:
		case own && schema.Common(c.Key) != nil:
			b.common(schema.Common(c.Key), c)
		case s.Renamed(c.Key) != "":
			b.fault(c.KeyAt, "%s has no key %q; it is called %q", s.Name, c.Key, s.Renamed(c.Key))
		default:
			hint := didYouMean(c.Key, s.Keys()) + foreign(c.Key)
			if hint == "" && len(s.Keys()) <= fewKeys {
				hint = "; takes " + schema.And(s.Keys())
			}
			b.fault(c.KeyAt, "unknown key %q in %s%s", c.Key, s.Name, hint)
		}
	}
}

// fewKeys is how many keys a fault names that knows none like the one that is written.
const fewKeys = 8

// common binds a key that any entry may have.
func (b *binder) common(f *schema.Field, n *syntax.Node) {
	switch f {
	case schema.Public:
		b.public = b.truth(f, n, f.Key).Holds()
	case schema.System:
		b.system = b.word(f, n, f.Key)
	default:
		b.word(f, n, f.Key)
	}
}

// value binds one key. Without a node it sets what absence means.
func (b *binder) value(v reflect.Value, f *schema.Field, n *syntax.Node, key string) {
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
		b.spot(to, v, f, n, key)
	default:
		b.container(v, f, n, key)
	}
}

// container binds a table with keys of its own, a list, or a table of values by
// name.
func (b *binder) container(v reflect.Value, f *schema.Field, n *syntax.Node, key string) {
	switch v.Kind() {
	case reflect.Struct:
		if n != nil && n.Kind != syntax.Table {
			b.fault(n.ValueAt, "%s takes a table with %s; got %s", key, schema.Or(f.Nested.Keys()), kindOfNode(n))
			n = nil
		}
		b.table(v, f.Nested, n, key)
	case reflect.Slice:
		b.slice(v, f, n, key)
	case reflect.Map:
		b.mapping(v, f, n, key)
	}
}

// slice binds a list. On a ledger of phantoms it has one value.
func (b *binder) slice(v reflect.Value, f *schema.Field, n *syntax.Node, key string) {
	if n == nil {
		if b.phantom {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
			b.value(v.Index(0), f, nil, key)
		}
		return
	}
	if f.Alone != "" && n.Value == f.Alone {
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		b.value(v.Index(0), f, n, key)
		return
	}
	if n.Kind != syntax.Array {
		b.fault(n.ValueAt, "%s takes a list, as in %s = [...]%s; got %s", key, key, f.OrAlone(), kindOfNode(n))
		return
	}
	all := n.Children
	if f.Few && len(all) > schema.MostFew {
		b.fault(all[schema.MostFew].ValueAt, "%s takes %d at most; this one and %d more are too many", key, schema.MostFew, len(all)-schema.MostFew-1)
		all = all[:schema.MostFew]
	}
	v.Set(reflect.MakeSlice(v.Type(), len(all), len(all)))
	for i, c := range all {
		b.value(v.Index(i), f, c, key+"."+strconv.Itoa(i))
	}
}

// mapping binds a table of values by name. On a ledger of phantoms it has one.
func (b *binder) mapping(v reflect.Value, f *schema.Field, n *syntax.Node, key string) {
	if n == nil {
		if b.phantom {
			v.Set(reflect.MakeMap(v.Type()))
			b.element(v, f, nil, AnyHookup, key)
		}
		return
	}
	if n.Kind != syntax.Table {
		b.fault(n.ValueAt, "%s takes a table, as in %s = { ... }; got %s", key, key, kindOfNode(n))
		return
	}
	v.Set(reflect.MakeMapWithSize(v.Type(), len(n.Children)))
	for _, c := range n.Children {
		if f.Keys != "" && c.Key == f.Keys && c.Kind == syntax.Table && len(c.Children) > 0 {
			name := f.Keys + "." + c.Children[0].Key
			b.fault(c.KeyAt, "%s takes the name of a %s in quotes, as in %s = { %q = ... }", key, f.Keys, key, name)
			continue
		}
		b.element(v, f, c, c.Key, key)
	}
}

// element binds one value of such a table.
func (b *binder) element(v reflect.Value, f *schema.Field, c *syntax.Node, name, key string) {
	e := reflect.New(v.Type().Elem()).Elem()
	if h, ok := e.Addr().Interface().(*Hookup); ok {
		b.hookup(h, e, f, c, name, key+"."+name)
	} else {
		b.value(e, f, c, key+"."+name)
	}
	if f.Keys != "" && c != nil {
		b.refs = append(b.refs, reference{name, []string{f.Keys}, b.at(c.KeyAt)})
	}
	v.SetMapIndex(reflect.ValueOf(name), e)
}

// kindOfNode is what a value is, for messages.
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

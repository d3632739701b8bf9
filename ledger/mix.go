package ledger

import (
	"maps"
	"reflect"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// LimitsEntry is the table of a shop's limits, which has no kind, and what they go
// by where entries are listed.
const LimitsEntry = schema.LimitsTable

// Difference is the smallest thing that two ledgers are told apart by: an entry, a
// key of a single entry, or a shop's limit for a rule.
type Difference struct {
	Entry string
	Key   string // "" for an entry with an id
}

// Path is the name of what differs: "part.engine", "vehicle.wheelbase".
func (u Difference) Path() string { return join(u.Entry, u.Key) }

// Differences lists what differs between two ledgers, by path.
func Differences(a, b *Build) []Difference {
	var out []Difference
	for _, path := range paths(a, b) {
		e, _ := a.own(path)
		f, _ := b.own(path)
		if Single(path) {
			for _, key := range keysApart(e, f) {
				out = append(out, Difference{path, key})
			}
		} else if !SameValues(e, f) {
			out = append(out, Difference{Entry: path})
		}
	}
	for rule := range a.Limits {
		if m, ok := b.Limits[rule]; !ok || m.Value.Spelling() != a.Limits[rule].Value.Spelling() {
			out = append(out, Difference{LimitsEntry, rule})
		}
	}
	for rule := range b.Limits {
		if _, ok := a.Limits[rule]; !ok {
			out = append(out, Difference{LimitsEntry, rule})
		}
	}
	slices.SortFunc(out, func(u, v Difference) int { return strings.Compare(u.Path(), v.Path()) })
	return out
}

// paths are those of all entries of either build, sorted.
func paths(a, b *Build) []string {
	set := map[string]bool{}
	for _, c := range []*Build{a, b} {
		for _, e := range c.Entries() {
			set[e.Path()] = true
		}
	}
	return slices.Sorted(maps.Keys(set))
}

// SameValues tells whether two entries say the same, wherever they stand. A
// nil entry is one that is not there.
func SameValues(e, f *Entry) bool {
	if e == nil || f == nil {
		return e == f
	}
	return slices.EqualFunc(e.Values(), f.Values(), sameValue)
}

func sameValue(v, w Value) bool { return v.Key == w.Key && v.Type == w.Type && v.Text == w.Text }

// keysApart are the top-level keys in which two single entries differ; "" is
// the entry itself where it holds nothing else.
func keysApart(e, f *Entry) []string {
	was, is := byTopKey(e), byTopKey(f)
	var out []string
	for key, vs := range was {
		if !slices.EqualFunc(vs, is[key], sameValue) {
			out = append(out, key)
		}
	}
	for key := range is {
		if _, ok := was[key]; !ok {
			out = append(out, key)
		}
	}
	if len(out) == 0 && (e == nil) != (f == nil) {
		out = append(out, "")
	}
	slices.Sort(out)
	return out
}

func byTopKey(e *Entry) map[string][]Value {
	out := map[string][]Value{}
	if e == nil {
		return out
	}
	for _, v := range e.Values() {
		key, _, _ := strings.Cut(v.Key, ".")
		out[key] = append(out[key], v)
	}
	return out
}

// Mix is the build with the differences given as the other ledger has them. An entry
// that is named and in neither of what was taken is looked for in both, but
// not listed among its kind.
func (b *Build) Mix(other *Build, those []Difference) *Build {
	c := *b
	c.memo = map[any]memoized{}
	c.Limits, c.hookups = maps.Clone(b.Limits), maps.Clone(b.hookups)
	top := map[string]*Entry{}
	keys := map[string][]string{}
	for _, u := range those {
		switch {
		case u.Entry == LimitsEntry:
			c.takeLimit(other, u.Key)
		case Single(u.Entry):
			keys[u.Entry] = append(keys[u.Entry], u.Key)
		default:
			e, _ := other.own(u.Entry)
			if top[u.Entry] = e; e != nil && e.schema.IfUsed == schema.AsHookup {
				c.hookups[e.ID] = other.hookups[e.ID]
			}
		}
	}
	for path, ks := range keys {
		top[path] = b.mixed(other, path, ks)
	}
	c.layers = append([]map[string]*Entry{top}, b.layers...)
	c.behind = []*Build{other, b}
	c.Packs = packs(&c)
	return &c
}

func (b *Build) takeLimit(other *Build, rule string) {
	if l, ok := other.Limits[rule]; ok {
		if b.Limits == nil {
			b.Limits = map[string]Limit{}
		}
		b.Limits[rule] = l
		return
	}
	delete(b.Limits, rule)
}

// mixed is a single entry with some of its keys as another ledger has them.
// It is nil where nothing is left of an entry that only one ledger has.
func (b *Build) mixed(other *Build, path string, keys []string) *Entry {
	e, _ := b.own(path)
	f, _ := other.own(path)
	if !slices.ContainsFunc(keysApart(e, f), func(k string) bool { return !slices.Contains(keys, k) }) {
		return f
	}
	s := kindNamed[path]
	out := &Entry{Kind: path, path: path, schema: s, node: &syntax.Node{Kind: syntax.Table, Key: path}}
	for _, from := range []*Entry{f, e} {
		if from == nil {
			continue
		}
		out.Place, out.Shop, out.node.In = from.Place, from.Shop, from.node.In
		out.also = append(out.also, from.sources()...)
		for _, n := range from.node.Children {
			if (from == f) == slices.Contains(keys, n.Key) {
				out.node.Children = append(out.node.Children, n)
				if n.Key == schema.System.Key {
					out.system = from.system
				}
			}
		}
	}
	if (e == nil || f == nil) && len(out.node.Children) == 0 {
		return nil
	}
	v := reflect.New(s.View)
	v.Elem().Set(b.viewOf(s, path, e))
	take := b.viewOf(s, path, f)
	for _, fd := range s.Fields {
		if slices.Contains(keys, fd.Key) {
			v.Elem().Field(fd.Index).Set(take.Field(fd.Index))
		}
	}
	out.view = v.Interface()
	out.view.(interface{ setHead(Head) }).setHead(Head{path: path, place: out.Place, entry: out})
	return out
}

func (b *Build) viewOf(s *schema.Kind, path string, e *Entry) reflect.Value {
	if e == nil {
		return reflect.ValueOf(phantomView(s, path, b.main, []q.Need(nil), false)).Elem()
	}
	return reflect.ValueOf(e.view).Elem()
}

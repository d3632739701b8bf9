package ledger

import (
	"fmt"
	"sync"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
)

// shop is what a shop.toml holds.
type shop struct {
	once    sync.Once
	entries map[string]*Entry
	hookups map[string]HookupRule
	words   words
	limits  map[string]Limit
	faults  []Fault
	unread  bool
}

// shopsKept is how many contents of shops' files a loader holds that reads builds
// again and again; past them it starts anew.
const shopsKept = 16

// shop reads the nearest shop file, once.
func (l *Loader) shop(src *revision.Build) (*shop, []Fault) {
	name, data, found, err := src.Shop()
	if err != nil {
		return &shop{hookups: hookups, unread: true}, []Fault{{q.Place{File: name, Line: 1, Column: 1}, message(err)}}
	}
	if !found {
		return &shop{hookups: hookups}, nil
	}
	key := name + "\x00" + string(data)
	l.mu.Lock()
	sh := l.shops[key]
	if sh == nil {
		if l.kept != nil && len(l.shops) >= shopsKept {
			clear(l.shops)
		}
		sh = &shop{}
		l.shops[key] = sh
	}
	l.mu.Unlock()
	sh.once.Do(func() { sh.read(name, data) })
	return sh, sh.faults
}

func (sh *shop) read(name string, data []byte) {
	r := &reader{file: name, entries: map[string]*Entry{}, hookups: map[string]HookupRule{}, words: knownWords, shop: true}
	for k, v := range hookups {
		r.hookups[k] = v
	}
	sh.entries, sh.hookups = r.entries, r.hookups
	sh.limits = map[string]Limit{}
	doc := syntax.Read(data)
	r.syntaxFaults(doc)
	if doc.Root != nil {
		r.ownHookups(doc.Root)
		r.ownWords(doc.Root)
		sh.words = r.words
		sh.limits = r.ownLimits(doc.Root)
		r.root(doc.Root)
		r.ownQuestions()
	}
	if sh.unread = r.unread; !r.unread {
		r.references(newBuild(name, r.entries))
	}
	sh.faults = SortFaults(r.faults)
}

// ownHookups reads the kinds of hookup that a shop adds.
func (r *reader) ownHookups(root *syntax.Node) {
	n := root.Child("hookup")
	if n == nil {
		return
	}
	for _, c := range n.Children {
		compare, _ := stringOf(c.Child("compare"))
		if c.Child("compare") == nil {
			r.fault(c.KeyAt, "hookup.%s does not say compare: how what is fed is held against what is needed, by level, sum, equal or present", c.Key)
		}
		word, at := stringOf(c.Child("dimension"))
		dim := q.Ratio
		if word != "" {
			var ok bool
			if dim, ok = q.DimNamed(word); !ok {
				r.fault(at, "unknown dimension %q; such as pressure, power or flow", word)
			}
		}
		switch {
		case dim == q.Any:
			r.fault(at, "a hookup is of one dimension, such as pressure, power or flow; got %q", word)
		case dim.Point && (compare == "sum" || compare == "equal"):
			r.fault(at, "%s is compared by \"level\" or \"present\": it does not add up, and has no shares", dim)
		}
		if _, builtIn := hookups[c.Key]; builtIn {
			r.fault(c.KeyAt, "the hookup %q is known already", c.Key)
		}
		r.hookups[c.Key] = HookupRule{compare, dim}
	}
}

// ownLimits reads a shop's limits. Which rules there are is not the ledger's
// to know.
func (r *reader) ownLimits(root *syntax.Node) map[string]Limit {
	out := map[string]Limit{}
	n := root.Child("limits")
	if n == nil {
		return out
	}
	if n.Kind != syntax.Table {
		r.fault(n.ValueAt, "limits is a table: write [limits]")
		return out
	}
	for _, c := range n.Children {
		src := &q.Source{Entry: "limits", Key: c.Key, Place: q.Place{File: r.file, Line: c.KeyAt.Line, Column: c.KeyAt.Column}}
		var reading q.Reading
		var err error
		switch v := c.Value.(type) {
		case string:
			reading, err = q.Parse(v, q.Any, q.Options{Exact: true})
		case int64:
			reading, _ = q.Number(float64(v)).Reading()
		case float64:
			reading, _ = q.Number(v).Reading()
		default:
			err = fmt.Errorf("takes a quantity such as \"2 %%\"; got %s", kindOfNode(c))
		}
		if err != nil {
			r.fault(c.ValueAt, "limits.%s: %v", c.Key, err)
			continue
		}
		out[c.Key] = Limit{c.Key, q.Leaf(reading, src), src.Place}
	}
	return out
}

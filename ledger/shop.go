package ledger

import (
	"fmt"
	"strings"
	"sync"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
)

// shop is what a shop.toml and the files of rules beside it hold.
type shop struct {
	once    sync.Once
	entries map[string]*Entry
	hookups map[string]HookupRule
	words   words
	limits  map[string]Limit
	faults  []Fault
	unread  bool
	lost    []loss
	made    sync.Map // what others made of it, once for all builds
}

// shopsKept is how many contents of shops' files a loader holds that reads builds
// again and again; past them it starts anew.
const shopsKept = 16

// shop reads the nearest shop file, once.
func (l *Loader) shop(src *revision.Build) (*shop, []Fault) {
	from, err := src.Shop()
	if err != nil {
		name := src.Name("shop.toml")
		if e, ok := err.(*revision.Error); ok {
			name = e.Path
		}
		return &shop{hookups: hookups, unread: true, lost: []loss{lossOf(name)}}, []Fault{{q.Place{File: name, Line: 1, Column: 1}, message(err)}}
	}
	if from == nil {
		return &shop{hookups: hookups}, nil
	}
	sh := l.shopOf(from)
	return sh, sh.faults
}

func (l *Loader) shopOf(from *revision.Shop) *shop {
	var key strings.Builder
	key.WriteString(from.Name + "\x00" + string(from.Content))
	for _, f := range from.Rules {
		key.WriteString("\x00" + f.Name + "\x00" + f.Fault + "\x00" + string(f.Content))
	}
	l.mu.Lock()
	sh := l.shops[key.String()]
	if sh == nil {
		if l.kept != nil && len(l.shops) >= shopsKept {
			clear(l.shops)
		}
		sh = &shop{}
		l.shops[key.String()] = sh
	}
	l.mu.Unlock()
	sh.once.Do(func() { sh.read(from) })
	return sh
}

// OfShop is a build that holds nothing but what a shop's files give to all.
func (l *Loader) OfShop(from *revision.Shop) *Build {
	sh := l.shopOf(from)
	b := newBuild(from.Name, used(nil, sh.entries))
	b.main.File = from.Name
	b.hookups, b.words, b.Limits, b.ofShop = sh.hookups, sh.words, sh.limits, sh
	b.Faults = sh.faults
	return b
}

// OnceAShop keeps what is made of a shop's files, for all the builds that share
// them; a build without a shop has its own.
func OnceAShop[T any](b *Build, key any, make func() T) T {
	if b.ofShop == nil {
		return memo(b, key, make)
	}
	kept, _ := b.ofShop.made.LoadOrStore(key, sync.OnceValue(make))
	return kept.(func() T)()
}

func (sh *shop) read(from *revision.Shop) {
	r := &reader{file: from.Name, entries: map[string]*Entry{}, hookups: map[string]HookupRule{}, words: knownWords, shop: true}
	for k, v := range hookups {
		r.hookups[k] = v
	}
	sh.entries, sh.hookups = r.entries, r.hookups
	sh.limits = map[string]Limit{}
	doc := syntax.Read(from.Content)
	r.syntaxFaults(doc)
	if doc.Root != nil {
		r.ownHookups(doc.Root)
		r.ownWords(doc.Root)
		sh.words = r.words
		sh.limits = r.ownLimits(doc.Root)
		r.root(doc.Root)
		r.ownQuestions()
	}
	r.ruleFiles(from.Rules)
	r.ownRules()
	if sh.unread = r.unread; !r.unread {
		r.references(newBuild(from.Name, r.entries))
	}
	sh.faults, sh.lost = SortFaults(r.faults), r.lost
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
	n := root.Child(LimitsEntry)
	if n == nil {
		return out
	}
	if n.Kind != syntax.Table {
		r.fault(n.ValueAt, "%s is a table: write [%s]", LimitsEntry, LimitsEntry)
		return out
	}
	for _, c := range n.Children {
		src := &q.Source{Entry: LimitsEntry, Key: c.Key, Place: q.Place{File: r.file, Line: c.KeyAt.Line, Column: c.KeyAt.Column}}
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

package ledger

import (
	"fmt"
	"regexp"
	"slices"
	"sync"
	"time"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
)

// Loader reads builds. It is safe for concurrent use, and reads a shop's file
// once for all the builds that share it.
type Loader struct {
	mu    sync.Mutex
	shops map[string]*shop
}

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

// NewLoader makes a loader.
func NewLoader() *Loader { return &Loader{shops: map[string]*shop{}} }

// Load reads a build and tells everything that is wrong with its files. The
// build is nil where there are faults.
func (l *Loader) Load(src *revision.Build) (*Build, []Fault) {
	sh, faults := l.shop(src)
	r := &reader{entries: map[string]*Entry{}, hookups: sh.hookups, words: sh.words}
	files, err := src.TOML()
	if err != nil {
		return nil, append(faults, Fault{q.Place{File: src.Folder()}, err.Error()})
	}
	r.files(src, files)
	b := newBuild(src.Folder(), r.entries, sh.entries)
	b.main.File = src.Name(MainFile)
	b.hookups, b.words, b.Limits = sh.hookups, sh.words, sh.limits
	b.files = filesOf(src)
	b.revised = revised(src)
	if !r.unread && !sh.unread {
		r.references(b)
		r.cycles(b)
	}
	b.Packs = packs(b)
	b.layers = []map[string]*Entry{r.entries, used(r.entries, sh.entries)}
	b.memo = map[any]any{}
	if faults = SortFaults(append(slices.Clone(faults), r.faults...)); len(faults) > 0 {
		return nil, faults
	}
	return b, nil
}

// files reads a build's files, all at once: a revision has them ready together.
func (r *reader) files(src *revision.Build, files []revision.File) {
	var names []string
	for _, f := range files {
		if f.Fault != "" {
			r.faults = append(r.faults, Fault{q.Place{File: src.Name(f.Path), Line: 1, Column: 1}, f.Fault})
			r.unread = true
			continue
		}
		names = append(names, f.Path)
	}
	data, errs := src.ReadAll(names)
	for i, name := range names {
		r.file = src.Name(name)
		if errs[i] != nil {
			r.faults = append(r.faults, Fault{q.Place{File: r.file, Line: 1, Column: 1}, message(errs[i])})
			r.unread = true
			continue
		}
		r.read(data[i])
	}
}

// revised is the later of the author's and the committer's date of a revision,
// "" of a folder.
func revised(src *revision.Build) string {
	d, ok := src.Date()
	if !ok {
		return ""
	}
	return max(d.Format(time.DateOnly), src.Authored().Format(time.DateOnly))
}

func message(err error) string {
	if e, ok := err.(*revision.Error); ok {
		return e.Message
	}
	return err.Error()
}

func packs(b *Build) []q.Word {
	if p := b.Info().Packs; p != nil {
		return p
	}
	return single[ShopInfo](b, "shop").Packs
}

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
	root, faults := syntax.Parse(data)
	r.syntaxFaults(faults)
	if root != nil {
		r.ownHookups(root)
		r.ownWords(root)
		sh.words = r.words
		sh.limits = r.ownLimits(root)
		r.root(root)
	}
	if sh.unread = r.unread; !r.unread {
		r.references(newBuild(name, r.entries))
	}
	sh.faults = SortFaults(r.faults)
}

// reader gathers the entries of one build, or of one shop.
type reader struct {
	file    string
	shop    bool
	entries map[string]*Entry
	hookups map[string]HookupRule
	words   words // nil: the known ones
	faults  []Fault
	unread  bool // a file, or part of one: what is named may stand there
}

func (r *reader) fault(at syntax.Position, format string, args ...any) {
	r.faults = append(r.faults, Fault{q.Place{File: r.file, Line: at.Line, Column: at.Column}, fmt.Sprintf(format, args...)})
}

func (r *reader) syntaxFaults(faults []syntax.Fault) {
	for _, f := range faults {
		r.fault(f.At, "%s", f.Message)
		r.unread = true
	}
}

func (r *reader) read(data []byte) {
	root, faults := syntax.Parse(data)
	r.syntaxFaults(faults)
	if root != nil {
		r.root(root)
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
	e := &Entry{Kind: s.name, ID: id, Place: q.Place{File: r.file, Line: n.KeyAt.Line, Column: n.KeyAt.Column}, Shop: r.shop, path: path, node: n, schema: s}
	if old, ok := r.entries[path]; ok {
		onlyAxles := path == "vehicle" && (bare(n) || bare(old.node))
		if !onlyAxles {
			r.fault(n.KeyAt, "%s is already at %s:%d:%d; an entry stands in one place", path, old.Place.File, old.Place.Line, old.Place.Column)
			return
		}
		if bare(n) {
			return
		}
	}
	s.americanize(n)
	bindEntry(e, r.hookups, r.words, &r.faults)
	r.entries[path] = e
}

// bare: a [vehicle] that only holds axles, which are entries of their own.
func bare(n *syntax.Node) bool {
	return !slices.ContainsFunc(n.Children, func(c *syntax.Node) bool { return !isAxle(c.Key) })
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
			r.fault(c.KeyAt, "hookup.%s says no compare: how a gift meets a need, by level, sum, equal or present", c.Key)
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

package compare

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/schema"
)

// pairing finds the entries of two ledgers that only changed their names: of
// the same kind, with the same values. What they say of one another is followed
// to a fixpoint: classes of like entries are refined by the classes of what
// they name until none splits any more (color refinement).
type pairing struct {
	gone, come []*ledger.Entry
	values     map[string][]ledger.Value
	named      map[string]map[string]bool // who names an entry, and where
	class      map[string]string
	fixed      map[string]string // what tells a pair of twins from the others
}

// mostTwins bounds how many pairs of twins are told apart one by one.
const mostTwins = 300

// pair gives the new names of renamed entries by their old ones.
func pair(before, after *ledger.Build) map[string]string {
	p := &pairing{values: map[string][]ledger.Value{}, named: map[string]map[string]bool{}, class: map[string]string{}, fixed: map[string]string{}}
	p.gone, p.come = p.candidates(before, after), p.candidates(after, before)
	if len(p.gone) == 0 || len(p.come) == 0 {
		return nil
	}
	p.referrers(before)
	p.referrers(after)
	names := map[string]string{}
	for range mostTwins {
		p.refine()
		var same, twins []couple
		names, same, twins = p.match()
		if len(same)+len(twins) == 0 {
			break
		}
		if len(same) == 0 {
			same = []couple{slices.MinFunc(twins, couple.compare)}
		}
		for _, c := range same {
			p.fixed[c.old], p.fixed[c.new] = c.old, c.old
		}
	}
	return p.sound(names)
}

// candidates are the entries of b that the other ledger lacks.
func (p *pairing) candidates(b, other *ledger.Build) []*ledger.Entry {
	var out []*ledger.Entry
	for _, e := range b.Entries() {
		if _, both := other.Entry(e.Path()); both || e.Schema().Single || e.Schema().IfUsed == schema.AsHookup {
			continue
		}
		vs := e.Values()
		if len(vs) == 0 {
			continue // its name is all that it says
		}
		out = append(out, e)
		p.values[e.Path()] = vs
		p.class[e.Path()] = e.Kind
	}
	return out
}

// referrers notes who names the candidates.
func (p *pairing) referrers(b *ledger.Build) {
	for _, e := range b.Entries() {
		for _, v := range e.Values() {
			v.Renamed(func(path string) (string, bool) {
				if p.values[path] != nil {
					if p.named[path] == nil {
						p.named[path] = map[string]bool{}
					}
					p.named[path][e.Path()+" "+v.Key] = true
				}
				return "", false
			})
		}
	}
}

// refine splits the classes until none splits any more.
func (p *pairing) refine() {
	for n := 0; ; {
		next := map[string]string{}
		for path, vs := range p.values {
			next[path] = p.classOf(path, vs)
		}
		p.class = next
		m := len(slices.Compact(slices.Sorted(maps.Values(next))))
		if m == n {
			return
		}
		n = m
	}
}

func (p *pairing) classOf(path string, vs []ledger.Value) string {
	kind, _, _ := strings.Cut(path, ".")
	lines := said(vs, func(to string) (string, bool) { c, ok := p.class[to]; return "\x00" + c, ok })
	return fmt.Sprintf("%x", sha256.Sum256(fmt.Appendf(nil, "%q %q %q", kind, p.fixed[path], lines)))
}

// said is what values say, with entries under other names.
func said(vs []ledger.Value, to func(string) (string, bool)) []string {
	out := make([]string, len(vs))
	for i, v := range vs {
		v = v.Renamed(to)
		out[i] = fmt.Sprintf("%q %s %q", v.Key, v.Type, v.Text)
	}
	slices.Sort(out)
	return out
}

// couple is a pair of which there are several like it.
type couple struct {
	old, new string
	common   int // how many name both at the same key
}

func (c couple) compare(d couple) int {
	return cmp.Or(cmp.Compare(d.common, c.common), cmp.Compare(c.old, d.old), cmp.Compare(c.new, d.new))
}

// mostCouples bounds the couples of one class that are held against each other.
const mostCouples = 10_000

// match pairs what is alone in its class on both sides. Of the classes in which
// there are more it gives back, in the order of their names, the
// couples of those that are alike; and of the first of the others all couples.
func (p *pairing) match() (names map[string]string, same, twins []couple) {
	come := p.byClass(p.come)
	gone := p.byClass(p.gone)
	names = map[string]string{}
	seen := map[string]bool{}
	for _, e := range p.gone {
		c := p.class[e.Path()]
		olds, news := gone[c], come[c]
		if seen[c] || len(news) == 0 {
			continue
		}
		seen[c] = true
		switch {
		case len(olds) == 1 && len(news) == 1:
			names[olds[0]] = news[0]
		case p.alike(olds, news):
			slices.Sort(olds)
			slices.Sort(news)
			for i := range min(len(olds), len(news)) {
				same = append(same, couple{old: olds[i], new: news[i]})
			}
		case twins == nil:
			for _, o := range olds {
				for _, n := range news {
					twins = append(twins, couple{o, n, p.common(o, n)})
				}
			}
		}
	}
	return names, same, twins
}

// byClass are the paths of entries by their class.
func (p *pairing) byClass(es []*ledger.Entry) map[string][]string {
	out := map[string][]string{}
	for _, e := range es {
		c := p.class[e.Path()]
		out[c] = append(out[c], e.Path())
	}
	return out
}

// alike tells that it does not matter which of some entries is paired with
// which: nothing names any of them, or there are too many to try.
func (p *pairing) alike(olds, news []string) bool {
	named := func(path string) bool { return len(p.named[path]) > 0 }
	return len(olds)*len(news) > mostCouples || !slices.ContainsFunc(olds, named) && !slices.ContainsFunc(news, named)
}

func (p *pairing) common(o, n string) int {
	count := 0
	for at := range p.named[o] {
		if p.named[n][at] {
			count++
		}
	}
	return count
}

// sound drops the pairs that say different things under the names found, until
// all agree.
func (p *pairing) sound(names map[string]string) map[string]string {
	for again := true; again; {
		again = false
		to := func(path string) (string, bool) { n, ok := names[path]; return n, ok }
		for _, o := range slices.Sorted(maps.Keys(names)) {
			same := func(string) (string, bool) { return "", false }
			if !slices.Equal(said(p.values[o], to), said(p.values[names[o]], same)) {
				delete(names, o)
				again = true
			}
		}
	}
	return names
}

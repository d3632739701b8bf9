package lint

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Wait is one thing that open checks wait for: a value to be written, one to
// be read better, or work to be done.
type Wait struct {
	// Key is the value that is not written, with a star for the entry's id
	// where several of a kind lack it, or what else is lacking, in words.
	Key string
	// Act is what is to be done, in the words that its checks share.
	Act string
	// Of are the entries, or the pins of a plug, that lack it.
	Of     []string
	Checks []*Result
	Also   []string // what else some of these checks wait for
	Place  quantity.Place
	// Leaf is a value that is written and has to be known better, to within
	// the half width in SI; 0 where it cannot settle the checks by itself.
	Leaf quantity.Quantity
	Half float64
	// With are the values that settle it together with this one, each as a
	// plain gauge reads; empty where none do.
	With []*quantity.Source

	told map[string]bool // what is in Also and in Of
}

// Reading tells that the thing is to be read on the vehicle: work of that sort,
// or a value that is not off a label.
func (w *Wait) Reading() bool {
	switch {
	case w.Act != "":
		return w.Checks[0].reading
	case w.Leaf.Known():
		return w.Half > 0 || len(w.With) > 0
	}
	_, ok := w.Dim()
	return ok
}

// Dim is the dimension of what is to be read, where it is a value that a person
// measures; false where it is not.
func (w *Wait) Dim() (quantity.Dim, bool) {
	if w.Leaf.Known() {
		return w.Leaf.Dim(), true
	}
	key := w.Key
	if w.Act == "" && strings.Contains(key, " ") {
		return quantity.Dim{}, false
	}
	return ledger.Measured(strings.Replace(key, ".*.", ".x.", 1))
}

// lack is one reason why a check is open.
type lack struct {
	id, key, of string
	place       quantity.Place
	doubt       *quantity.Doubt
}

// Waits gathers open checks under what they wait for, what most of them wait
// for first, else in the order of the checks. Each check stands once, under the commonest of its reasons.
func Waits(rs []*Result) []*Wait {
	lacks := map[*Result][]lack{}
	q := &queue{by: map[string]*reason{}, taken: map[*Result]bool{}}
	for _, r := range rs {
		if list := lacksOf(r); len(list) > 0 {
			lacks[r] = list
			q.note(r, ids(list))
		}
	}
	q.order()
	var out []*Wait
	for id := q.commonest(); id != nil; id = q.commonest() {
		w := &Wait{}
		for _, r := range id.checks {
			if q.taken[r] {
				continue
			}
			q.taken[r] = true
			w.take(r, lacks[r], id.id)
			for _, other := range ids(lacks[r]) {
				q.by[other].open--
			}
		}
		out = append(out, w.settle()...)
	}
	at := map[*Result]int{}
	for i, r := range rs {
		at[r] = i
	}
	slices.SortStableFunc(out, func(a, b *Wait) int {
		return cmp.Or(len(b.Checks)-len(a.Checks), at[a.Checks[0]]-at[b.Checks[0]])
	})
	return out
}

var (
	ofKind = regexp.MustCompile(`^([a-z-]+)\.([a-z0-9-]+)\.(\S+)$`)
	ofPin  = regexp.MustCompile(`^(plug\.[a-z0-9-]+)\.pins\.([^. ]+)(\.\S+)?$`)
)

// lacksOf lists why a check is open.
func lacksOf(r *Result) []lack {
	switch {
	case r.Undone():
		return []lack{{id: "do\x00" + r.Rule.Name, key: r.Reason, of: r.Subject(), place: r.Place}}
	case r.Verdict == Unproven:
		doubts := r.Analysis(r.Margin).Doubts()
		if len(doubts) == 0 {
			return nil
		}
		d := largest(doubts)
		return []lack{{id: "read\x00" + d.Source.Path(), key: d.Source.Path(), place: d.Source.Place, doubt: &d}}
	case r.Verdict != Missing:
		return nil
	}
	var out []lack
	for _, n := range r.Needs {
		l := lack{id: "write\x00" + n.Key, key: n.Key, place: n.Place}
		if m := ofPin.FindStringSubmatch(n.Key); m != nil {
			l.key, l.of = m[1]+".pins.*"+m[3], m[2]
			l.id = "write\x00" + l.key
		} else if m := ofKind.FindStringSubmatch(n.Key); m != nil {
			l.key, l.of = m[1]+".*."+m[3], m[1]+"."+m[2]
			l.id = "write\x00" + l.key
		} else if words := strings.Fields(n.Key); len(words) > 3 && !strings.Contains(words[0], ".") {
			head, _, _ := strings.Cut(n.Key, ":")
			l.key, l.of = strings.Join(words[:3], " "), strings.TrimPrefix(head, strings.Join(words[:3], " ")+" ")
			l.id = "words\x00" + r.Rule.Name + "\x00" + l.key
		}
		out = append(out, l)
	}
	return out
}

// largest is the doubt of the ledger's own value that adds most; of a constant
// only where there is no other, for no one can read a constant better.
func largest(doubts []quantity.Doubt) quantity.Doubt {
	for _, d := range doubts {
		if d.Source.Entry != "" && d.Doubt > 0 {
			return d
		}
	}
	return doubts[0]
}

// take puts a check under the reason id.
func (w *Wait) take(r *Result, list []lack, id string) {
	for _, l := range list {
		if l.id != id {
			if key := l.fullKey(); w.first("also\x00" + key) {
				w.Also = append(w.Also, key)
			}
			continue
		}
		if len(w.Checks) == 0 {
			w.Place = l.place
		}
		w.Key = l.key
		if l.of != "" && w.first("of\x00"+l.of) {
			w.Of = append(w.Of, l.of)
		}
		if l.doubt != nil {
			w.read(r.Analysis(r.Margin), *l.doubt)
		}
	}
	w.Checks = append(w.Checks, r)
}

// first tells that a thing was not told before.
func (w *Wait) first(what string) bool {
	if w.told == nil {
		w.told = map[string]bool{}
	}
	again := w.told[what]
	w.told[what] = true
	return !again
}

// read notes how well a value has to be known to settle a check by itself; where
// it cannot, or no plain gauge reads so finely, what else has to be read.
func (w *Wait) read(margin *quantity.Analysis, d quantity.Doubt) {
	half := Settling(margin, d)
	w.Leaf = d.Leaf
	switch {
	case half > 0 && half >= Finest(d.Leaf):
		if w.Half == 0 || half < w.Half {
			w.Half = half
		}
	case w.With == nil:
		for _, o := range Together(margin) {
			if o.Source != d.Source {
				w.With = append(w.With, o.Source)
			}
		}
	}
}

// fullKey is the key with its entry or pin in it.
func (l *lack) fullKey() string {
	switch {
	case strings.Contains(l.key, ".pins.*"):
		return strings.Replace(l.key, "*", l.of, 1)
	case strings.Contains(l.key, ".*."):
		kind, rest, _ := strings.Cut(l.key, ".*.")
		_, id, _ := strings.Cut(l.of, ".")
		return kind + "." + id + "." + rest
	case l.of != "":
		return l.key + " " + l.of
	}
	return l.key
}

// settle says a key in full where one entry alone lacks it, and parts work
// that is not all the same.
func (w *Wait) settle() []*Wait {
	slices.SortFunc(w.Of, Natural)
	switch {
	case w.Checks[0].Undone():
		return acts(w.Checks)
	case len(w.Of) == 1 && strings.Contains(w.Key, "*"):
		w.Key, w.Of = (&lack{key: w.Key, of: w.Of[0]}).fullKey(), nil
	case len(w.Of) > 1 && !strings.Contains(w.Key, "*"):
		w.Key, w.Of = alike(w.Key, w.Of)
	}
	return []*Wait{w}
}

// alike moves the words that all ends of a sentence begin with to its head.
func alike(head string, ends []string) (string, []string) {
	for {
		first, _, more := strings.Cut(ends[0], " ")
		if !more || slices.ContainsFunc(ends, func(e string) bool { return !strings.HasPrefix(e, first+" ") }) {
			return head, ends
		}
		head += " " + first
		for i, e := range ends {
			ends[i] = strings.TrimPrefix(e, first+" ")
		}
	}
}

// acts parts checks of one rule that wait for work by the clause of their
// reasons that most of them share.
func acts(rs []*Result) []*Wait {
	n := map[string]int{}
	for _, r := range rs {
		for _, c := range clauseEnd.Split(r.Reason, -1) {
			n[c]++
		}
	}
	var out []*Wait
	by := map[string]*Wait{}
	for _, r := range rs {
		key := r.Reason
		for _, c := range clauseEnd.Split(r.Reason, -1) {
			if n[c] > 1 && n[c] > n[key] {
				key = c
			}
		}
		if by[key] == nil {
			by[key] = &Wait{Place: r.Place}
			out = append(out, by[key])
		}
		by[key].Checks, by[key].Of = append(by[key].Checks, r), append(by[key].Of, r.Subject())
	}
	for _, w := range out {
		w.Act = shared(w.Checks)
	}
	return out
}

var clauseEnd = regexp.MustCompile(`[:;] `)

// shared is the part of their reasons that all checks have in common, clause
// by clause.
func shared(rs []*Result) string {
	same := true
	for _, r := range rs {
		same = same && r.Reason == rs[0].Reason
	}
	if same {
		return rs[0].Reason
	}
	var keep []string
	for _, clause := range clauseEnd.Split(rs[0].Reason, -1) {
		if !slices.ContainsFunc(rs, func(r *Result) bool { return !slices.Contains(clauseEnd.Split(r.Reason, -1), clause) }) {
			keep = append(keep, clause)
		}
	}
	return strings.Join(keep, "; ")
}

// Natural compares names with the numbers in them as numbers.
func Natural(a, b string) int { return ledger.Natural(a, b) }

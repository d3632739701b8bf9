package lint

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// Blank is a value that open checks wait for, and that one can read or find
// out: one that is not written, one that has to be read again, or one that has
// to be known better.
type Blank struct {
	Path, Key string // of the entry, and in it
	Field     *schema.Field
	Entry     *ledger.Entry // nil of one that is not written yet
	// Leaf is the value that has to be known better, to within the half width
	// in SI; missing where it is another blank.
	Leaf quantity.Quantity
	Half float64
	// Again tells that it was read before something moved, or only guessed.
	Again  bool
	Or     string // what else would do, where one of several will
	Checks []*Result
}

// Blanks lists the values that open checks wait for, each once, in the order of
// the checks; and the checks that wait for something else.
func Blanks(b *ledger.Build, rs []*Result) (out []*Blank, others []*Result) {
	by := map[string]*Blank{}
	for _, r := range rs {
		list := blanksOf(b, r)
		if len(list) == 0 {
			others = append(others, r)
		}
		for _, n := range list {
			at := n.Path + " " + n.Key
			old := by[at]
			if old == nil {
				old, by[at], out = n, n, append(out, n)
			}
			if n.Half > 0 && (old.Half == 0 || n.Half < old.Half) {
				old.Leaf, old.Half = n.Leaf, n.Half
			}
			old.Again = old.Again || n.Again
			old.Checks = append(old.Checks, r)
		}
	}
	return out, others
}

// blanksOf are the values that one open check waits for.
func blanksOf(b *ledger.Build, r *Result) []*Blank {
	switch {
	case r.Undone():
		if r.reading {
			return readAgain(b, r)
		}
		return nil
	case r.Verdict == Unproven:
		return knownBetter(b, r)
	case r.Verdict != Missing:
		return nil
	}
	var out []*Blank
	for _, n := range r.Needs {
		out = append(out, blanksNamed(b, n.Key)...)
	}
	return out
}

// readAgain are the readings of an entry between two things, with what says
// when they were read.
func readAgain(b *ledger.Build, r *Result) []*Blank {
	e, ok := b.Entry(r.Entry)
	if !ok || e.Shop {
		return nil
	}
	var out []*Blank
	has := map[string]bool{}
	values := e.Values()
	for _, v := range values {
		top, _, _ := strings.Cut(v.Key, ".")
		has[top] = true
	}
	for _, f := range e.Schema().Fields {
		switch {
		case f.Moves == schema.MovedDate, f.Moves == schema.MovedBefore && has[f.Key]:
			out = append(out, &Blank{Path: r.Entry, Key: f.Key, Field: f, Entry: e, Again: true})
		case f.Moves == schema.MovedRead && has[f.Key]:
			for _, v := range values {
				if v.Key == f.Key || strings.HasPrefix(v.Key, f.Key+".") {
					out = append(out, &Blank{Path: r.Entry, Key: v.Key, Field: v.Field, Entry: e, Again: true})
				}
			}
		}
	}
	return out
}

// knownBetter is the value that has to be known better for a check to be
// settled, or those that do it together; none where no gauge reads so finely.
func knownBetter(b *ledger.Build, r *Result) []*Blank {
	margin := r.Analysis(r.Margin)
	doubts := margin.Doubts()
	if len(doubts) == 0 {
		return nil
	}
	d := largest(doubts)
	if half := Settling(margin, d); half > 0 && half >= Finest(d.Leaf) {
		return better(b, d, half)
	}
	var out []*Blank
	for _, d := range Together(margin) {
		out = append(out, better(b, d, Finest(d.Leaf))...)
	}
	return out
}

func better(b *ledger.Build, d quantity.Doubt, half float64) []*Blank {
	out := blanksNamed(b, d.Source.Path())
	for _, n := range out {
		n.Leaf, n.Half = d.Leaf, half
	}
	return out
}

var betweenKeys = regexp.MustCompile(` (or|and) `)

// blanksNamed are the values of a name as a check has it: "part.fan.mass", or
// several of which one will do, "speedometer.measured or speedometer.pulses".
func blanksNamed(b *ledger.Build, name string) []*Blank {
	var out []*Blank
	keys := betweenKeys.Split(name, -1)
	for _, key := range keys {
		n := blankNamed(b, key)
		if n == nil {
			return nil
		}
		if k := ledger.KindOf(n.Path); n.Entry == nil && !k.Single {
			f := calls(k, strings.TrimPrefix(n.Path, k.Name+"."))
			out = append(out, &Blank{Path: n.Path, Key: f.Key, Field: f})
		}
		if len(keys) > 1 {
			n.Or = name
		}
		if n.Field.Type != schema.Place {
			out = append(out, n)
			continue
		}
		for _, f := range n.Field.Nested.Fields {
			if f.TakesQuantity() {
				out = append(out, &Blank{Path: n.Path, Key: n.Key + "." + f.Key, Field: f, Entry: n.Entry, Or: n.Or})
			}
		}
	}
	return out
}

// blankNamed is the value of a path; nil where it is none that can be written.
func blankNamed(b *ledger.Build, path string) *Blank {
	parts := strings.Split(path, ".")
	for n := min(2, len(parts)-1); n > 0; n-- {
		name := strings.Join(parts[:n], ".")
		k := ledger.KindOf(name)
		if k == nil || k.ShopOnly || k.Single != (k.Name == name) {
			continue
		}
		e, there := b.Entry(name)
		key := strings.Join(parts[n:], ".")
		f := k.At(key)
		if there && e.Shop || f == nil || f.Type == schema.Table || strings.Contains(path, " ") {
			return nil
		}
		if !there && !k.Single && calls(k, parts[1]) == nil { // nothing tells that one of that name is meant
			return nil
		}
		if !there {
			e = nil
		}
		return &Blank{Path: name, Key: key, Field: f, Entry: e}
	}
	return nil
}

// calls is the key of a kind that may say what an entry is in the word that is its
// id, as when = "as-received" of weighing.as-received; nil where none does.
func calls(k *schema.Kind, id string) *schema.Field {
	for _, f := range k.Fields {
		if slices.Contains(f.OneOf, id) {
			return f
		}
	}
	return nil
}

// Walk sorts blanks in the order of a walk round the vehicle: by system, then
// from the front to the rear and from left to right, what has no place last.
func Walk(b *ledger.Build, list []*Blank) {
	type spot struct {
		system, lost, key int
		x, y              float64
	}
	var systems []string
	for _, n := range list {
		systems = append(systems, n.System(b))
	}
	systems = ledger.Systems(systems)
	at := map[*Blank]spot{}
	for _, n := range list {
		top, _, _ := strings.Cut(n.Key, ".")
		s := spot{system: slices.Index(systems, n.System(b)), lost: 1, key: slices.Index(ledger.KindOf(n.Path).Keys(), top)}
		if p, ok := b.Whereabouts(n.Entry); ok {
			s.lost, s.x, s.y = 0, p.X.Value(), p.Y.Value()
		}
		at[n] = s
	}
	slices.SortStableFunc(list, func(m, n *Blank) int {
		a, c := at[m], at[n]
		return cmp.Or(a.system-c.system, a.lost-c.lost, cmp.Compare(a.x, c.x), cmp.Compare(a.y, c.y), Natural(m.Path, n.Path), a.key-c.key)
	})
}

// System is the system of the vehicle that a blank's entry belongs to, or "".
func (n *Blank) System(b *ledger.Build) string {
	if n.Entry == nil {
		return ledger.KindOf(n.Path).System
	}
	return b.System(n.Entry)
}

package report

import (
	"fmt"
	"regexp"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// mostNext is how many things to measure are worth a person's attention.
const mostNext = 8

// want is a line of what to measure: one value, or the same key of several
// entries of one kind.
type want struct {
	*lint.Wanted
	ids    []string // of the entries, where they are several
	checks map[*lint.Result]bool
	alone  int
}

func (t *text) next(r *lint.Report) {
	list := together(lint.Next(r.Results))
	if len(list) == 0 {
		return
	}
	t.line("\n%s", t.paint(bold, "Measure or write down next"))
	for _, w := range list[:min(len(list), mostNext)] {
		words := w.words(r.Build.Style())
		if heading, key, ok := unwritten(r.Build, w); ok {
			words = "add [" + heading + "] " + key + strings.TrimPrefix(words, heading+"."+key)
		} else if at := Where(w.Place); at != "" {
			words += " (" + at + ")"
		}
		t.wrap("  ", "      ", "", words)
	}
	left := 0
	for _, w := range list[min(len(list), mostNext):] {
		left += max(1, len(w.ids))
	}
	if left > 0 {
		t.line("  and %s more", Plural(left, "value"))
	}
}

var ofEntry = regexp.MustCompile(`^([a-z-]+)\.([a-z0-9-]+)\.(\S+)$`)

// unwritten tells that a value is wanted of a single entry that the ledger
// lacks: its heading has to be added, and there is no place to point at.
func unwritten(b *ledger.Build, w *want) (heading, key string, ok bool) {
	heading, key, ok = strings.Cut(w.Key, ".")
	if !ok || w.Leaf.Known() || w.Place != b.Main() || !ledger.Single(heading) || strings.ContainsAny(key, " .") {
		return "", "", false
	}
	_, there := b.Entry(heading)
	return heading, key, !there
}

// together puts what several entries of a kind lack on one line, at the place
// of the first.
func together(list []*lint.Wanted) []*want {
	var out []*want
	by := map[string]*want{}
	for _, w := range list {
		m := ofEntry.FindStringSubmatch(w.Key)
		if m == nil || w.Leaf.Known() {
			out = append(out, newWant(w))
			continue
		}
		key := m[1] + "." + m[3]
		if g := by[key]; g != nil {
			g.ids, g.alone = append(g.ids, m[1]+"."+m[2]), g.alone+w.Alone
			g.count(w)
			continue
		}
		g := newWant(w, m[1]+"."+m[2])
		by[key] = g
		out = append(out, g)
	}
	return out
}

func newWant(w *lint.Wanted, ids ...string) *want {
	out := &want{Wanted: w, ids: ids, checks: map[*lint.Result]bool{}, alone: w.Alone}
	out.count(w)
	return out
}

func (w *want) count(other *lint.Wanted) {
	for _, c := range other.Checks {
		w.checks[c] = true
	}
}

// words says what a value would settle, and how well it has to be known for
// that.
func (w *want) words(s quantity.Style) string {
	checks := Plural(len(w.checks), "check")
	if w.Leaf.Known() {
		now := Clean(w.Leaf.Spelling())
		if w.Half == 0 {
			why := "cannot settle it alone"
			if w.TooFine {
				why = "would have to be known better than a plain gauge reads"
			}
			return fmt.Sprintf("%s: now %s; adds most to the doubt of %s, but %s; %s", Clean(w.Key), now, checks, why, with(w.With))
		}
		return fmt.Sprintf("%s: now %s; known to %s or better it settles %s", Clean(w.Key), now, Tolerance(w.Leaf, w.Half, s), Plural(w.alone, "check"))
	}
	key, it, verb := Clean(w.Key), "it", "wait"
	if len(w.ids) > 1 {
		m := ofEntry.FindStringSubmatch(w.Key)
		key, it = Clean(m[3]+" of "+few(w.ids, 3)), "them"
	}
	if len(w.checks) == 1 {
		verb = "waits"
	}
	if w.alone == 0 {
		it += ", among others"
	}
	return fmt.Sprintf("%s: %s %s for %s", key, checks, verb, it)
}

// with says what else would have to be read for a check to be settled.
func with(others []*quantity.Source) string {
	if len(others) == 0 {
		return "it is too near its limit for any gauge of a shop: move it away"
	}
	var keys []string
	for _, o := range others {
		keys = append(keys, Clean(o.Path()))
	}
	return "read it and " + few(keys, 3)
}

// few lists the first of many words.
func few(words []string, most int) string {
	if len(words) <= most+1 {
		return strings.Join(words, ", ")
	}
	return strings.Join(words[:most], ", ") + fmt.Sprintf(" and %d more", len(words)-most)
}

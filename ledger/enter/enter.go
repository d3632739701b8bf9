package enter

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/rows"
	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
)

// Done is what was put into a draft.
type Done struct {
	Values  int      // that were changed or added, of entries that were there
	Entries int      // that were added
	Same    int      // values that the ledger had already
	Before  []string // entries that were read anew, and still say that it was before the move
}

// wanted is what the rows ask for one entry, in the order of the rows.
type wanted struct {
	entry string
	kind  *schema.Kind
	by    rows.Cell
	there bool
	asks  []ask
}

// ask is a value for a key.
type ask struct {
	key   string
	path  []string
	value edit.Value
	cell  rows.Cell
}

// Added are the names of the entries that a table may add: a fault of the build
// that one of them is not there is none then.
func Added(t *rows.Table) map[string]bool {
	out := map[string]bool{}
	all, _ := gather(t)
	for _, g := range all {
		out[g.entry] = true
	}
	return out
}

// Into puts the rows of a table into a draft. New entries go to the end of the
// file that has most of their kind, or of the one that is named. It tells all
// that is wrong, by cell; nothing is to be written of the draft then.
func Into(d *edit.Draft, t *rows.Table, file string) (Done, []rows.Fault) {
	all, faults := gather(t)
	list, bad := sortOut(d, all)
	faults = append(faults, bad...)
	var done Done
	for _, w := range list {
		if w.there {
			faults = append(faults, w.change(d, &done)...)
			if w.stillBefore(d.Before()) {
				done.Before = append(done.Before, w.entry)
			}
		}
	}
	faults = append(faults, add(d, list, file, &done)...)
	faults = append(faults, loaderSays(d, list)...)
	slices.SortStableFunc(faults, func(a, b rows.Fault) int {
		return cmp.Or(cmp.Compare(a.Cell.Line, b.Cell.Line), cmp.Compare(a.Cell.Column, b.Cell.Column))
	})
	return done, slices.Compact(faults)
}

// stillBefore tells that an entry is read anew and not asked to say so: it says that
// it was read before the move.
func (w *wanted) stillBefore(b *ledger.Build) bool {
	asked := func(is schema.Moved) bool {
		return slices.ContainsFunc(w.asks, func(a ask) bool { f := w.kind.Field(a.path[0]); return f != nil && f.Moves == is })
	}
	if !asked(schema.MovedRead) || asked(schema.MovedBefore) {
		return false
	}
	return slices.ContainsFunc(w.kind.Fields, func(f *schema.Field) bool {
		v, ok := b.Value(w.entry, f.Key)
		return f.Moves == schema.MovedBefore && ok && v.Text == "true"
	})
}

// sortOut gathers what is asked under its entries.
func sortOut(d *edit.Draft, all []given) (list []*wanted, faults []rows.Fault) {
	by := map[string]*wanted{}
	told := map[rows.Cell]bool{}
	for _, g := range all {
		w := by[g.entry]
		if w == nil {
			var wrong string
			if w, wrong = newWanted(d, g); wrong != "" {
				if !told[g.by] {
					faults = append(faults, g.by.At("%s", wrong))
				}
				told[g.by] = true
				continue
			}
			by[g.entry], list = w, append(list, w)
		}
		if g.key == "" {
			continue
		}
		path, f, wrong := pathOf(w.kind, g.key)
		if wrong == "" {
			at, there := d.Stand(g.entry, path)
			a := ask{key: g.key, path: path, cell: g.cell}
			if a.value, wrong = valueOf(f, g.text, there && isNumber(at.Kind())); wrong == "" {
				if i := slices.IndexFunc(w.asks, func(b ask) bool { return b.key == a.key }); i >= 0 {
					faults = append(faults, g.cell.At("%s.%s is in %s already", g.entry, g.key, w.asks[i].cell.Name))
					continue
				}
				w.asks = append(w.asks, a)
				continue
			}
			wrong = g.key + " " + wrong
		}
		faults = append(faults, g.cell.At("%s", wrong))
	}
	return list, faults
}

var id = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// newWanted begins what is asked for an entry, or says what is wrong with its
// name.
func newWanted(d *edit.Draft, g given) (w *wanted, wrong string) {
	b := d.Before()
	k := ledger.KindOf(g.entry)
	name, rest, dotted := strings.Cut(g.entry, ".")
	switch {
	case k == nil:
		return nil, fmt.Sprintf("%q is no entry: a kind and an id, such as part.radiator%s", g.entry, spelling.DidYouMean(name, ledger.KindNames()))
	case !k.Single && !dotted:
		return nil, fmt.Sprintf("%s needs an id, as in %s.main", name, name)
	case k.Single && g.entry != k.Name, !k.Single && !id.MatchString(rest):
		return nil, fmt.Sprintf("bad name %q: an id is lower-case words or digits joined by hyphens, as in %s.oil-cooler", g.entry, name)
	case k.ShopOnly:
		return nil, fmt.Sprintf("%s stands in shop.toml, to which nothing is entered", k.Header())
	}
	e, there := b.Entry(g.entry)
	if there && e.Shop {
		return nil, fmt.Sprintf("%s stands in shop.toml, to which nothing is entered", g.entry)
	}
	if near := nearEntry(b, k, g.entry); !there && g.long && near != "" {
		return nil, fmt.Sprintf("there is no %s; did you mean %q? If it is a new one, enter it from a table with a column a key", g.entry, near)
	}
	return &wanted{entry: g.entry, kind: k, by: g.by, there: there}, ""
}

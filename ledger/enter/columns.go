package enter

import (
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/rows"
	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
)

// Columns are those of a sheet: a row a value.
var Columns = []string{"entry", "key", "value", "now", "unit", "good-to", "system", "where", "checks"}

// given is one value of a row: a text for a key of an entry.
type given struct {
	entry, key, text string
	by               rows.Cell // of the entry
	cell             rows.Cell // of the value
	long             bool      // it has a row of its own
}

// form is how a table's columns are meant.
type form struct {
	entry, key, value int
	keys              map[int]string // of a row an entry: the key of each column
}

// formOf reads the heads.
func formOf(heads []rows.Cell) (f form, faults []rows.Fault) {
	f = form{-1, -1, -1, map[int]string{}}
	at := map[string]rows.Cell{}
	for _, h := range heads {
		if first, twice := at[h.Text]; twice && h.Text != "" {
			faults = append(faults, h.At("the column %q is in %s already", h.Text, first.Name))
		}
		at[h.Text] = h
	}
	_, key := at["key"]
	_, value := at["value"]
	long := key || value
	for i, h := range heads {
		switch {
		case h.Text == "entry":
			f.entry = i
		case long && h.Text == "key":
			f.key = i
		case long && h.Text == "value":
			f.value = i
		case h.Text == "" || long && slices.Contains(Columns, h.Text):
		case long:
			faults = append(faults, h.At("unknown column %q; the columns of a sheet are %s%s", h.Text, strings.Join(Columns, ", "), spelling.DidYouMean(h.Text, Columns)))
		default:
			f.keys[i] = h.Text
		}
	}
	if f.entry < 0 {
		faults = append(faults, heads[0].At("no column entry; the first row takes entry, key and value, or entry and the names of keys"))
	}
	if long && (f.key < 0 || f.value < 0) {
		faults = append(faults, heads[0].At("a row a value takes the columns entry, key and value; only one of key and value is there"))
	}
	if !long && len(f.keys) == 0 {
		faults = append(faults, heads[0].At("nothing but the column entry; it takes key and value too, or the names of keys"))
	}
	return f, faults
}

// gather lists what the rows give, and tells what is wrong with their columns.
func gather(t *rows.Table) (all []given, faults []rows.Fault) {
	f, faults := formOf(t.Heads)
	if len(faults) > 0 {
		return nil, faults
	}
	faults = f.strange(t)
	for _, row := range t.Rows {
		list, bad := f.row(row)
		all, faults = append(all, list...), append(faults, bad...)
	}
	return all, faults
}

// row lists what one row gives.
func (f form) row(row []rows.Cell) (out []given, faults []rows.Fault) {
	by := cellOf(row, f.entry)
	if f.key >= 0 {
		key, value := cellOf(row, f.key), cellOf(row, f.value)
		switch {
		case value.Text == "":
			return nil, nil
		case by.Text == "":
			return nil, []rows.Fault{value.At("a value without an entry")}
		case key.Text == "":
			return nil, []rows.Fault{value.At("a value without a key")}
		}
		return []given{{by.Text, key.Text, rows.Text(value.Text), by, value, true}}, nil
	}
	for i, c := range row {
		switch key := f.keys[i]; {
		case c.Text == "" || key == "" && i == f.entry || key == past:
		case key == "":
			faults = append(faults, c.At("stands under no head"))
		case by.Text == "":
			faults = append(faults, c.At("a value without an entry"))
		default:
			out = append(out, given{by.Text, key, rows.Text(c.Text), by, c, false})
		}
	}
	if len(out) == 0 && len(faults) == 0 && by.Text != "" {
		out = append(out, given{entry: by.Text, by: by, cell: by}) // an entry that says nothing yet
	}
	return out, faults
}

// strange tells of the columns that are a key of none of the rows' kinds, which
// are read past from there on.
func (f form) strange(t *rows.Table) (faults []rows.Fault) {
	kinds := map[string]*schema.Kind{}
	var keys []string
	for _, row := range t.Rows {
		if k := ledger.KindOf(cellOf(row, f.entry).Text); k != nil && kinds[k.Name] == nil {
			kinds[k.Name], keys = k, append(keys, k.Keys()...)
		}
	}
	slices.Sort(keys)
	for i, h := range t.Heads {
		known := f.keys[i] == "" || len(kinds) == 0
		for _, k := range kinds {
			_, _, wrong := pathOf(k, h.Text)
			known = known || wrong == ""
		}
		if !known {
			faults = append(faults, h.At("unknown column %q%s", h.Text, ledger.DidYouMeanKey(h.Text, slices.Compact(keys))))
			f.keys[i] = past
		}
	}
	return faults
}

// past is the key of a column that is read past.
const past = "\x00"

func cellOf(row []rows.Cell, i int) rows.Cell {
	if i < len(row) {
		return row[i]
	}
	return rows.Cell{Line: row[0].Line, Column: row[0].Column, Name: row[0].Name}
}

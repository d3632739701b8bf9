// Package refdata loads the cited tables of a rule pack. A pack embeds its
// refdata/*.toml; each file has sources, single values and tables:
//
//	[source.abyc-e-11]
//	text = "ABYC E-11, 3 % and 10 % voltage drop"   # document and section, table or page
//	confidence = "looked-up"                         # or "second-hand", or "memory"
//
//	[value.critical-drop]
//	is = "3 %"                                       # the digits as printed
//	source = "abyc-e-11"
//
//	[table.awg-resistance]
//	source = "nec-ch9-table8"
//	columns = ["size", "ohm-per-kft"]
//	units = ["", "ohm/kft"]
//	rows = [ ["18 AWG", "7.95"], ... ]
//
// A source that is common practice has practice = true and no text. The data
// are part of the program: what is wrong with them is a defect and panics. A
// quantity is read when it is first asked for.
package refdata

import (
	"bytes"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/pelletier/go-toml/v2"

	"fishplate/ledger/quantity"
)

// Set is the reference data of one pack.
type Set struct {
	name    string
	sources map[string]*source
	values  map[string]func() quantity.Quantity
	tables  map[string]*Table
}

type source struct {
	cite quantity.Citation
	used atomic.Bool // set by rules as they run, on many builds at once
}

// Table is a published table. Its first column names the rows.
type Table struct {
	Cite    quantity.Citation
	columns []string
	order   []string
	words   map[string][]string // as printed, by the name of the row
	cells   func() map[string][]quantity.Quantity
}

type file struct {
	Source map[string]struct {
		Text, Confidence, Notes string
		Practice                bool
	}
	Value map[string]struct{ Is, Source, Notes string }
	Table map[string]struct {
		Source, Notes  string
		Columns, Units []string
		Rows           [][]string
	}
}

// Load reads all of a pack's tables from its embedded files.
func Load(pack string, files fs.FS) *Set {
	s := &Set{name: pack, sources: map[string]*source{}, values: map[string]func() quantity.Quantity{}, tables: map[string]*Table{}}
	names, err := fs.Glob(files, "refdata/*.toml")
	if err != nil || len(names) == 0 {
		s.defect("no refdata/*.toml")
	}
	var all []file
	for _, name := range names {
		data, err := fs.ReadFile(files, name)
		if err != nil {
			s.defect("%v", err)
		}
		var f file
		if err := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields().Decode(&f); err != nil {
			s.defect("%s: %v", name, err)
		}
		s.addSources(f)
		all = append(all, f)
	}
	for _, f := range all {
		s.addValues(f)
		s.addTables(f)
	}
	return s
}

func (s *Set) defect(format string, args ...any) {
	panic("reference data of " + s.name + ": " + fmt.Sprintf(format, args...))
}

func (s *Set) addSources(f file) {
	for key, d := range f.Source {
		if s.sources[key] != nil {
			s.defect("source %s twice", key)
		}
		c := quantity.Citation{Key: key, Text: d.Text, Memory: d.Confidence == "memory", SecondHand: d.Confidence == "second-hand"}
		switch {
		case d.Practice && d.Text == "" && d.Confidence == "":
			c.Text = quantity.Practice.Text
		case d.Practice || d.Text == "" || d.Confidence != "looked-up" && !c.Memory && !c.SecondHand:
			s.defect("source %s needs text and a confidence, or practice", key)
		}
		s.sources[key] = &source{cite: c}
	}
}

func (s *Set) addValues(f file) {
	for key, d := range f.Value {
		if _, twice := s.values[key]; twice {
			s.defect("value %s twice", key)
		}
		cite := s.Source(d.Source)
		s.values[key] = sync.OnceValue(func() quantity.Quantity {
			return quantity.Cited(strings.ReplaceAll(key, "-", " "), d.Is, cite.String())
		})
	}
}

func (s *Set) addTables(f file) {
	for key, d := range f.Table {
		if s.tables[key] != nil || len(d.Columns) != len(d.Units) || len(d.Columns) < 2 {
			s.defect("table %s: twice, or columns and units differ in number", key)
		}
		t := &Table{Cite: s.Source(d.Source), columns: d.Columns, words: map[string][]string{}}
		for _, row := range d.Rows {
			if len(row) != len(d.Columns) || t.words[row[0]] != nil {
				s.defect("table %s: row %v is twice there or has not %d cells", key, row, len(d.Columns))
			}
			t.order = append(t.order, row[0])
			t.words[row[0]] = row
		}
		t.cells = sync.OnceValue(func() map[string][]quantity.Quantity { return t.read(d.Units) })
		s.tables[key] = t
	}
}

// read reads the quantities of a table by the units of its columns.
func (t *Table) read(units []string) map[string][]quantity.Quantity {
	out := map[string][]quantity.Quantity{}
	cite := t.Cite.String()
	for _, name := range t.order {
		row := make([]quantity.Quantity, len(units))
		for i, cell := range t.words[name] {
			if i > 0 && cell != "" && units[i] != "word" {
				called := fmt.Sprintf("%s of %s", strings.ReplaceAll(t.columns[i], "-", " "), name)
				row[i] = quantity.Cited(called, strings.TrimSpace(cell+" "+units[i]), cite)
			}
		}
		out[name] = row
	}
	return out
}

// Source is a citation by its key.
func (s *Set) Source(key string) quantity.Citation {
	src := s.sources[key]
	if src == nil {
		s.defect("no source %q", key)
	}
	src.used.Store(true)
	return src.cite
}

// Value is a cited constant by its key.
func (s *Set) Value(key string) quantity.Quantity {
	v, ok := s.values[key]
	if !ok {
		s.defect("no value %q", key)
	}
	return v()
}

// Table is a table by its key.
func (s *Set) Table(key string) *Table {
	t := s.tables[key]
	if t == nil {
		s.defect("no table %q", key)
	}
	return t
}

// Unused lists the sources that nothing refers to, for a test. It reads all that
// the set has, so that a defect anywhere in it is found.
func (s *Set) Unused() []string {
	for _, v := range s.values {
		v()
	}
	for _, t := range s.tables {
		t.cells()
	}
	var out []string
	for key, src := range s.sources {
		if !src.used.Load() {
			out = append(out, key)
		}
	}
	slices.Sort(out)
	return out
}

// Rows lists the names of the rows, in the table's order.
func (t *Table) Rows() []string { return slices.Clone(t.order) }

// Columns lists the names of the columns; the first one names the rows.
func (t *Table) Columns() []string { return slices.Clone(t.columns) }

// Cell is one value; false where the table has none there.
func (t *Table) Cell(row, column string) (quantity.Quantity, bool) {
	if t.Word(row, column) == "" {
		return quantity.Quantity{}, false
	}
	q := t.cells()[row][slices.Index(t.columns, column)]
	return q, q != quantity.Quantity{}
}

// Word is one cell as printed; "" where there is none.
func (t *Table) Word(row, column string) string {
	i := slices.Index(t.columns, column)
	if i < 0 || t.words[row] == nil {
		return ""
	}
	return t.words[row][i]
}

// Look finds the cell of the row that a ledger's word names. A word without a
// row gives a missing value that says so, and what the nearest row is.
func (t *Table) Look(row quantity.Word, column string, dim quantity.Dim, what string) quantity.Quantity {
	return quantity.Look(row, dim, what, func(w string) (quantity.Quantity, bool) { return t.Cell(w, column) }, t.order...)
}

// Package rows reads the csv files that spreadsheet programs save, and keeps
// their cells from being taken for formulas.
package rows

import (
	"encoding/csv"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What is read at most. A shop's longest list comes to a tenth of it; that
// nobody types more is practice, without a source.
const (
	MaxBytes   = 2 << 20
	MaxRows    = 2000
	maxColumns = 200
)

// Cell is a cell of a table, with the place where it begins in the file (line
// and character, from 1) and the name that a spreadsheet gives it, "C12".
type Cell struct {
	Text         string
	Line, Column int
	Name         string
}

// Table is a csv file: its heads, and the rows below in which something stands.
// Blanks around a cell are not in it.
type Table struct {
	Heads []Cell
	Rows  [][]Cell
}

// Fault is something wrong in a file, at a cell where one is to blame.
type Fault struct {
	Cell    Cell // its text is not told
	Message string
}

// At tells what is wrong with a cell.
func (c Cell) At(format string, args ...any) Fault { return Fault{c, fmt.Sprintf(format, args...)} }

// In is the fault as a line about a file of that name.
func (f Fault) In(name string) string {
	switch {
	case f.Cell.Line == 0:
		return fmt.Sprintf("%s: %s", name, f.Message)
	case f.Cell.Name == "":
		return fmt.Sprintf("%s:%d:%d: %s", name, f.Cell.Line, f.Cell.Column, f.Message)
	}
	return fmt.Sprintf("%s:%d:%d: cell %s: %s", name, f.Cell.Line, f.Cell.Column, f.Cell.Name, f.Message)
}

// Read reads a csv file: UTF-8, with or without a byte order mark, lines ended
// by LF or CRLF, cells parted by commas or by semicolons, quoted as RFC 4180
// has it. Where there are faults the table is nil.
func Read(data []byte) (*Table, []Fault) {
	if len(data) > MaxBytes {
		return nil, []Fault{{Message: fmt.Sprintf("larger than %d MB; enter it in parts", MaxBytes>>20)}}
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	if f, ok := unreadable(text); ok {
		return nil, []Fault{f}
	}
	lines := strings.Split(text, "\n")
	comma, bad := separator(lines[0])
	if bad != "" {
		return nil, []Fault{{Cell{Line: 1, Column: 1}, bad}}
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = comma, -1
	t := &Table{}
	var faults []Fault
	within := 0 // line breaks inside cells so far, which are no rows
	for {
		record, err := r.Read()
		if err != nil {
			if f, ok := broken(err, lines); ok {
				faults = append(faults, f)
			}
			break
		}
		row := make([]Cell, len(record))
		for i, cell := range record {
			line, column := r.FieldPos(i)
			row[i] = Cell{strings.TrimSpace(cell), line, characters(lines[line-1], column), ""}
		}
		first, inside := row[0].Line-within, 0
		for i := range row {
			row[i].Name = fmt.Sprintf("%s%d", letters(i), first)
			inside += strings.Count(record[i], "\n")
		}
		within += inside
		if more := t.take(row); more != nil {
			if faults = append(faults, more...); len(t.Rows) > MaxRows {
				break
			}
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return t, nil
}

// take adds a row to the table, the first as its heads, and tells what is wrong
// with its cells.
func (t *Table) take(row []Cell) (faults []Fault) {
	empty := true
	for i, c := range row {
		empty = empty && c.Text == ""
		if at := strings.IndexFunc(c.Text, control); at >= 0 {
			r, _ := utf8.DecodeRuneInString(c.Text[at:])
			faults = append(faults, c.At("has a control character (U+%04X)", r))
		}
		if i >= maxColumns && c.Text != "" {
			return append(faults, c.At("more than %d columns", maxColumns))
		}
		if t.Heads != nil && i >= len(t.Heads) && c.Text != "" {
			faults = append(faults, c.At("stands under no head: the first row has %d", len(t.Heads)))
		}
	}
	switch {
	case empty:
	case t.Heads == nil:
		t.Heads = row
	default:
		if t.Rows = append(t.Rows, row); len(t.Rows) > MaxRows {
			faults = append(faults, row[0].At("more than %d rows; enter them in parts", MaxRows))
		}
	}
	return faults
}

func control(r rune) bool { return r != '\n' && r != '\t' && unicode.IsControl(r) }

// unreadable tells of a text that is none, or has no lines.
func unreadable(text string) (Fault, bool) {
	if strings.TrimSpace(text) == "" {
		return Fault{Message: "nothing in it; the first row takes the heads of the columns"}, true
	}
	if !utf8.ValidString(text) {
		line := 1 + strings.Count(text[:firstInvalid(text)], "\n")
		return Fault{Cell{Line: line, Column: 1}, "is no UTF-8; save it anew as csv in UTF-8"}, true
	}
	if strings.Contains(text, "\r") && !strings.Contains(text, "\n") {
		return Fault{Cell{Line: 1, Column: 1}, "its lines end with a carriage return alone; save it anew as csv with the line ends of today"}, true
	}
	return Fault{}, false
}

func firstInvalid(s string) int {
	for i, r := range s {
		if r == utf8.RuneError {
			if _, size := utf8.DecodeRuneInString(s[i:]); size == 1 {
				return i
			}
		}
	}
	return len(s)
}

// separator is what parts the cells, by the line of the heads.
func separator(head string) (rune, string) {
	n := map[rune]int{}
	quoted := false
	for _, r := range head {
		if r == '"' {
			quoted = !quoted
		} else if !quoted {
			n[r]++
		}
	}
	switch {
	case n['\t'] > n[','] && n['\t'] > n[';']:
		return 0, "its cells are parted by tabs; save it anew as csv, with commas or semicolons"
	case n[';'] > n[',']:
		return ';', ""
	}
	return ',', ""
}

// broken words what the library finds wrong with the quotes; false at the end.
func broken(err error, lines []string) (Fault, bool) {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return Fault{Message: err.Error()}, err.Error() != "EOF"
	}
	say := "its quotes do not close; a quote inside a quoted cell is written twice"
	if errors.Is(err, csv.ErrBareQuote) {
		say = `a quote inside a cell that is not quoted: write the cell as "5 ft 2 """, or the unit as in`
	}
	at := min(p.Line, len(lines))
	return Fault{Cell{Line: at, Column: characters(lines[at-1], p.Column)}, say}, true
}

// characters turns a byte's column into a character's.
func characters(line string, column int) int {
	return 1 + utf8.RuneCountInString(line[:min(max(column-1, 0), len(line))])
}

// letters name a column as spreadsheets do: A to Z, AA and so on.
func letters(i int) string {
	s := ""
	for i++; i > 0; i = (i - 1) / 26 {
		s = string(rune('A'+(i-1)%26)) + s
	}
	return s
}

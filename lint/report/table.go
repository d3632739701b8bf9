package report

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"fishplate/ledger/rows"
	"fishplate/lint"
)

// table is rows of cells under heads, one lot a build.
type table struct {
	heads []string
	rows  func(*lint.Report) [][]string
}

// tableCSV writes a table as RFC 4180 has it, the heads once. No cell is taken
// for a formula by a spreadsheet.
func tableCSV(t table, to io.Writer) *Writer {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	headed := false
	head := func() {
		if !headed {
			headed = true
			w.Write(t.heads)
		}
	}
	flush := func() error { w.Flush(); return w.Error() }
	return &Writer{
		Build: func(r *lint.Report) error {
			head()
			for _, row := range t.rows(r) {
				cells := make([]string, len(row))
				for i, c := range row {
					cells[i] = rows.Inert(Clean(c))
				}
				w.Write(cells)
			}
			return flush()
		},
		Close: func(*Totals) error { head(); return flush() },
	}
}

// tableMarkdown writes a table a build.
func tableMarkdown(t table, head func(*lint.Report) string, none string, to io.Writer) *Writer {
	w := bufio.NewWriter(to)
	return &Writer{
		Build: func(r *lint.Report) error {
			rows := t.rows(r)
			fmt.Fprintf(w, "### %s\n\n%s\n\n", Literal(r.Title), head(r))
			if len(rows) == 0 {
				fmt.Fprintf(w, "%s\n\n", none)
				return w.Flush()
			}
			fmt.Fprintf(w, "| %s |\n|%s\n", strings.Join(t.heads, " | "), strings.Repeat("---|", len(t.heads)))
			for _, row := range rows {
				for _, c := range row {
					fmt.Fprintf(w, "| %s ", Literal(c))
				}
				fmt.Fprint(w, "|\n")
			}
			fmt.Fprint(w, "\n")
			return w.Flush()
		},
		Close: func(t *Totals) error {
			if say := leftOut(t, false); say != "" {
				fmt.Fprintf(w, "%s\n", say)
			}
			return w.Flush()
		},
	}
}

// tableJSON writes the rows of each build as objects, by the heads.
func tableJSON(t table, what map[string]any, to io.Writer) *Writer {
	type build struct {
		Folder string              `json:"folder"`
		Title  string              `json:"title"`
		Stage  string              `json:"stage"`
		AsOf   string              `json:"as-of"`
		Rows   []map[string]string `json:"rows"`
	}
	builds := []build{}
	return &Writer{
		Build: func(r *lint.Report) error {
			b := build{r.Folder, r.Title, r.Stage.String(), r.AsOf, []map[string]string{}}
			for _, row := range t.rows(r) {
				m := map[string]string{}
				for i, c := range row {
					m[t.heads[i]] = c
				}
				b.Rows = append(b.Rows, m)
			}
			builds = append(builds, b)
			return nil
		},
		Close: func(*Totals) error {
			what["fishplate"], what["builds"] = 2, builds
			_, err := fmt.Fprintf(to, "%s\n", encode(what))
			return err
		},
	}
}

// leftOut tells of the builds with faults, at the end of a page: what could be
// read of them is on it, or they are left out.
func leftOut(t *Totals, partial bool) string {
	switch {
	case t.Unread == 0:
		return ""
	case partial:
		return Plural(t.Unread, "build") + " cannot be read whole, for faults that are listed separately: what could be read is here."
	}
	return Plural(t.Unread, "build") + " cannot be read, for faults that are listed separately, and left out."
}

// stageAndDate is a build's stage and its day, for the head of a page.
func stageAndDate(r *lint.Report) string {
	return Literal(r.Folder) + ", " + r.Stage.String() + ", as of " + Literal(r.AsOf) + "."
}

// SystemName is a system for people; what tells of none has a name too.
func SystemName(s string) string {
	if s == "" {
		return "no system"
	}
	return Clean(s)
}

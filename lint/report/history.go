package report

import (
	"encoding/csv"
	"io"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/rows"
	"fishplate/lint/history"
)

// HistoryKinds are the outputs of a build's history.
var HistoryKinds = []Kind{
	{"text", "for a person, a figure drawn as a line with its band", HistoryText},
	{"json", "everything, for a program, in SI", HistoryJSON},
	{"csv", "a table for a spreadsheet (RFC 4180)", HistoryCSV},
	{"html", "one page, with a figure's drawing", HistoryHTML},
	{"svg", "the drawing of one check's figure, as a file of its own", HistorySVG},
}

// historyWriter is a writer of histories alone.
func historyWriter(tell func(*history.Told) error) *Writer {
	return &Writer{History: tell, Close: func(*Totals) error { return nil }}
}

// HistoryCSV writes a history as a table: a change of a verdict, a figure or a
// failing check a line.
func HistoryCSV(to io.Writer, _ Options) *Writer {
	return historyWriter(func(t *history.Told) error {
		w := csv.NewWriter(to)
		w.UseCRLF = true
		heads, list := historyTable(t)
		w.Write(heads) // what goes wrong is told at the end
		for _, row := range list {
			for i, c := range row {
				row[i] = rows.Inert(Clean(c))
			}
			w.Write(row)
		}
		w.Flush()
		return w.Error()
	})
}

// commitHeads head what a table says of a commit.
var commitHeads = []string{"commit", "date", "author", "subject"}

func historyTable(t *history.Told) (heads []string, list [][]string) {
	of := func(s *revision.Step) []string { return []string{s.ID, DayOf(s), s.Author, s.About} }
	switch t.Asked {
	case history.Verdicts:
		heads = append(commitHeads[:4:4], "change", "rule", "on", "before", "now", "by")
		for _, e := range t.Events {
			if say := eventWords(e); say != "" {
				list = append(list, append(of(e.Step), say, "", "", "", "", ""))
			}
			for _, c := range e.Changes {
				list = append(list, append(of(e.Step), changeWord(c), c.Rule, c.Subject(), c.Before, c.After, byWords(c)))
			}
		}
	case history.Figures:
		heads = append(commitHeads[:4:4], "rule", "on", "verdict", "value", "least", "most", "limit", "upper limit", "unit", "remark", "happened")
		for _, l := range t.Lines {
			for _, p := range l.Points {
				list = append(list, append(of(p.Step), l.Rule.Name, l.Subject(), p.Verdict, csvNumber(p, p.Value), csvEnd(p, p.Value, true), csvEnd(p, p.Value, false),
					csvNumber(p, p.Limit), csvNumber(p, p.Upper), p.Unit.Symbol, p.Say, strings.Join(p.Events, "; ")))
			}
		}
	case history.Since:
		heads = append(commitHeads[:4:4], "rule", "on", "now", "before", "by")
		for _, f := range t.Failing {
			before, by := "failed at the first commit already", ""
			if f.Change != nil {
				before, by = f.Change.Before, byWords(f.Change)
			}
			list = append(list, append(of(f.Since), f.Rule, f.Subject(), f.Say, before, by))
		}
	}
	return heads, list
}

// tableDigits is to how many digits a table gives a figure: more than any tape
// reads, and fewer than rounding shows in.
const tableDigits = 9

func csvNumber(p *history.Point, s *history.Span) string {
	if s == nil {
		return ""
	}
	return quantity.Digits(p.Unit.In(s.Value), tableDigits)
}

// csvEnd is an end of a figure's range; "" where it has none.
func csvEnd(p *history.Point, s *history.Span, least bool) string {
	if s == nil {
		return ""
	}
	end := s.High
	if least {
		end = s.Low
	}
	if end == nil {
		return ""
	}
	return quantity.Digits(p.Unit.In(*end), tableDigits)
}

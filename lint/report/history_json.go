package report

import (
	"bufio"
	"fmt"
	"io"

	"fishplate/ledger/revision"
	"fishplate/lint/history"
)

type jsonCommit struct {
	ID      string `json:"commit"`
	Date    string `json:"date"`
	Author  string `json:"author"`
	Subject string `json:"subject"`
}

type jsonEvent struct {
	jsonCommit
	Unread  string            `json:"unread,omitempty"`
	Gone    bool              `json:"gone,omitempty"`
	First   bool              `json:"first,omitempty"`
	From    string            `json:"moved-from,omitempty"`
	Counts  map[string]int    `json:"counts,omitempty"`
	Changes []*history.Change `json:"changes"`
}

type jsonPoint struct {
	jsonCommit
	Verdict string      `json:"verdict"`
	Value   *jsonNumber `json:"value"`
	Limit   *jsonNumber `json:"limit"`
	Upper   *jsonNumber `json:"upper-limit,omitempty"`
	Say     string      `json:"remark,omitempty"`
	Events  []string    `json:"events,omitempty"`
}

type jsonLine struct {
	Rule   string      `json:"rule"`
	Entry  string      `json:"entry"`
	Aspect string      `json:"aspect"`
	Last   bool        `json:"at-last-commit"`
	Points []jsonPoint `json:"points"`
}

type jsonFailing struct {
	Rule   string          `json:"rule"`
	Entry  string          `json:"entry"`
	Aspect string          `json:"aspect"`
	Now    string          `json:"now"`
	Always bool            `json:"always"`
	Since  jsonCommit      `json:"since"`
	Change *history.Change `json:"change"`
}

// HistoryJSON writes a history for a program, a commit a line, the oldest first.
func HistoryJSON(to io.Writer, _ Options) *Writer {
	return historyWriter(func(t *history.Told) error {
		w := bufio.NewWriter(to)
		fmt.Fprintf(w, "{\"fishplate\": 2,\n\"folder\": %s, \"commits\": %d, \"shallow\": %v, \"as-of\": %s", encode(t.Folder), t.Commits, t.Short, encode(said(t.AsOf)))
		switch t.Asked {
		case history.Verdicts:
			jsonList(w, "events", t.Events, func(e *history.Event) jsonEvent {
				return jsonEvent{commitOf(e.Step), e.Unread, e.Gone, e.First, e.From, e.Counts, append([]*history.Change{}, e.Changes...)}
			})
		case history.Figures:
			jsonList(w, "figures", t.Lines, jsonLineOf)
		case history.Since:
			jsonList(w, "failing", t.Failing, func(f *history.Failing) jsonFailing {
				return jsonFailing{f.Rule, f.Entry, f.Aspect, f.Say, f.Always, commitOf(f.Since), f.Change}
			})
		}
		fmt.Fprint(w, "}\n")
		return w.Flush()
	})
}

func commitOf(s *revision.Step) jsonCommit {
	return jsonCommit{s.ID, DayOf(s), s.Author, s.About}
}

func jsonLineOf(l *history.Line) jsonLine {
	out := jsonLine{Rule: l.Rule.Name, Entry: l.Entry, Aspect: l.Aspect, Last: l.Last, Points: []jsonPoint{}}
	for _, p := range l.Points {
		out.Points = append(out.Points, jsonPoint{commitOf(p.Step), p.Verdict, jsonSpanOf(p, p.Value), jsonSpanOf(p, p.Limit), jsonSpanOf(p, p.Upper), p.Say, p.Events})
	}
	return out
}

func jsonSpanOf(p *history.Point, s *history.Span) *jsonNumber {
	if s == nil {
		return nil
	}
	low, high := endsOf(s)
	return &jsonNumber{Value: decimal(s.Value), Low: decimal(low), High: decimal(high), Unit: p.SI}
}

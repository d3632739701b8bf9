package report

import (
	"bufio"
	"fmt"
	"io"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
)

type jsonCause struct {
	Entry       string  `json:"entry"`
	Share       decimal `json:"share"` // of the margin, in the change's unit; null where there is none
	AloneBreaks bool    `json:"alone-breaks"`
	UndoneMends bool    `json:"undone-mends"`
	File        string  `json:"file"`
	Line        int     `json:"line"`
}

type jsonChange struct {
	Rule     string      `json:"rule"`
	Entry    string      `json:"entry"`
	Aspect   string      `json:"aspect"`
	Kind     string      `json:"kind"`
	Counts   bool        `json:"counts"`
	Why      string      `json:"why"`
	Before   *jsonCheck  `json:"before"`
	After    *jsonCheck  `json:"after"`
	Change   decimal     `json:"margin-change"`
	Unit     string      `json:"unit"`
	Causes   []jsonCause `json:"causes"`
	Together decimal     `json:"together"`
}

type jsonSpan struct {
	Op   string `json:"op"`
	Text string `json:"text"`
}

type jsonValueEdit struct {
	Key     string     `json:"key"`
	Before  *string    `json:"before"`
	After   *string    `json:"after"`
	Private bool       `json:"private"`
	Words   []jsonSpan `json:"words,omitempty"`
}

type jsonEdit struct {
	Entry  string          `json:"entry"`
	Kind   string          `json:"kind"`
	Was    string          `json:"was"`
	From   string          `json:"from"`
	Shop   bool            `json:"shop"`
	File   string          `json:"file"`
	Line   int             `json:"line"`
	Values []jsonValueEdit `json:"values"`
}

type jsonNotice struct {
	Kind    string `json:"kind"`
	Subject string `json:"subject"`
	Before  string `json:"before"`
	After   string `json:"after"`
	Loosens bool   `json:"loosens"`
	File    string `json:"file"`
	Line    int    `json:"line"`
}

type jsonReading struct {
	Entry   string `json:"entry"`
	Follows bool   `json:"follows"`
	File    string `json:"file"`
	Line    int    `json:"line"`
}

type jsonMove struct {
	Assembly string        `json:"assembly"`
	Behind   *jsonNumber   `json:"behind"`
	Right    *jsonNumber   `json:"right"`
	Above    *jsonNumber   `json:"above"`
	Readings []jsonReading `json:"readings"`
}

type jsonMoved struct {
	Entry  string      `json:"entry"`
	Behind *jsonNumber `json:"behind"`
	Right  *jsonNumber `json:"right"`
	Above  *jsonNumber `json:"above"`
}

type jsonAgain struct {
	Entry    string      `json:"entry"`
	Moved    []jsonMoved `json:"moved"`
	Swapped  []string    `json:"was-read-off"`
	Back     []string    `json:"went-on"`
	Gone     bool        `json:"gone"`
	Unlikely bool        `json:"same-to-the-digit"`
	File     string      `json:"file"`
	Line     int         `json:"line"`
}

type jsonAsk struct {
	Entry    string `json:"entry"`
	Key      string `json:"key"`
	Did      string `json:"did"`
	Weighing string `json:"weighing"`
	File     string `json:"file"`
	Line     int    `json:"line"`
}

// jsonFresh is a build of a tree that cannot be read in the older one.
type jsonFresh struct {
	jsonHead
	Worse  bool        `json:"worse"`
	Faults []jsonFault `json:"faults"`
}

// CompareJSON writes a comparison for a program, a change and an entry a line;
// those of several builds in a list.
func CompareJSON(to io.Writer, opt Options) *Writer {
	w := bufio.NewWriter(to)
	if !opt.Tree {
		return &Writer{
			Compare: func(c *compare.Comparison) error {
				fmt.Fprint(w, "{\"fishplate\": 2,\n")
				jsonComparison(w, c)
				fmt.Fprint(w, "}\n")
				return w.Flush()
			},
			Close: func(*Totals) error { return w.Flush() },
		}
	}
	fmt.Fprint(w, "{\"fishplate\": 2,\n\"compared\": [")
	sep := ""
	added, gone, fresh := []jsonHead{}, []jsonHead{}, []jsonFresh{}
	return &Writer{
		Compare: func(c *compare.Comparison) error {
			fmt.Fprintf(w, "%s\n{", sep)
			sep = ","
			jsonComparison(w, c)
			fmt.Fprint(w, "}")
			return w.Flush()
		},
		Lone: func(l *compare.Lone) error {
			switch {
			case len(l.Before) > 0:
				fresh = append(fresh, jsonFresh{headOf(l.Report), l.Failed(), unreadOf([]Unread{{Faults: l.Before}})[0].Faults})
			case l.Added:
				added = append(added, headOf(l.Report))
			default:
				gone = append(gone, headOf(l.Report))
			}
			return nil
		},
		Close: func(t *Totals) error {
			fmt.Fprintf(w, "],\n\"added\": %s,\n\"gone\": %s", encode(added), encode(gone))
			if len(fresh) > 0 {
				fmt.Fprintf(w, ",\n\"unread-before\": %s", encode(fresh))
			}
			if len(t.Left) > 0 {
				fmt.Fprintf(w, ",\n\"unread\": %s", encode(unreadOf(t.Left)))
			}
			fmt.Fprint(w, "}\n")
			return w.Flush()
		},
	}
}

func jsonComparison(w io.Writer, c *compare.Comparison) {
	fmt.Fprintf(w, "\"before\": %s,\n\"after\": %s,\n\"worse\": %v", encode(headOf(c.Before)), encode(headOf(c.After)), c.Failed())
	if len(c.Parents) > 0 {
		fmt.Fprintf(w, ",\n\"parents\": %s", encode(c.Parents))
	}
	jsonList(w, "changes", c.Changes, jsonChangeOf)
	jsonList(w, "read-again", c.Again, jsonAgainOf)
	jsonList(w, "asked", c.Asks, func(a *compare.Ask) jsonAsk {
		return jsonAsk{a.Entry, a.Key, a.Did, a.Weighing, a.Place.File, a.Place.Line}
	})
	jsonList(w, "entries", c.Edits, jsonEditOf)
	jsonList(w, "notices", c.Notices, jsonNoticeOf)
	jsonList(w, "moves", c.Moves, jsonMoveOf)
}

func headOf(r *lint.Report) jsonHead {
	return jsonHead{Folder: r.Folder, Title: r.Title, Stage: r.Stage.String(), AsOf: r.AsOf, Digest: r.Digest()}
}

func jsonList[T, J any](w io.Writer, name string, list []T, of func(T) J) {
	fmt.Fprintf(w, ",\n%q: [", name)
	for i, v := range list {
		if i > 0 {
			fmt.Fprint(w, ",")
		}
		fmt.Fprintf(w, "\n  %s", encode(of(v)))
	}
	fmt.Fprint(w, "]")
}

func jsonChangeOf(x *compare.Change) jsonChange {
	out := jsonChange{Rule: x.Rule.Name, Entry: x.Entry, Aspect: x.Aspect, Kind: string(x.Kind), Counts: x.Counts, Why: x.Why,
		Change: decimal(x.Delta), Causes: []jsonCause{}, Together: decimal(x.Together)}
	if !out.Change.none() {
		out.Unit = x.After.Margin.Dim().SISymbol()
	}
	if x.Before != nil {
		out.Before = checkOf(x.Before)
		out.Before.Sources = citesOf(x.Before.Rule)
	}
	if x.After != nil {
		out.After = checkOf(x.After)
		out.After.Sources = citesOf(x.After.Rule)
	}
	worse := x.Kind == compare.Worse
	for _, c := range x.Causes {
		out.Causes = append(out.Causes, jsonCause{c.Entry, decimal(c.Share), worse && c.Alone, worse && c.Undone, c.Place.File, c.Place.Line})
	}
	return out
}

func jsonEditOf(e *compare.Edit) jsonEdit {
	out := jsonEdit{Entry: e.Entry, Kind: string(e.Kind), Was: e.Was, From: e.From, Shop: e.Shop, File: e.Place.File, Line: e.Place.Line, Values: []jsonValueEdit{}}
	for _, v := range e.Values {
		j := jsonValueEdit{Key: v.Key, Private: v.Private}
		if !v.Private {
			j.Before, j.After = said(v.Before), said(v.After)
			for _, s := range v.Words {
				j.Words = append(j.Words, jsonSpan{string(s.Op), s.Text})
			}
		}
		out.Values = append(out.Values, j)
	}
	return out
}

// said is a text, or null where nothing is said.
func said(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func jsonNoticeOf(n *compare.Notice) jsonNotice {
	return jsonNotice{n.Kind, n.Subject, n.Before, n.After, n.Loosens, n.Place.File, n.Place.Line}
}

func jsonMoveOf(m *compare.MovedAssembly) jsonMove {
	out := jsonMove{Assembly: m.Assembly, Behind: numberOf(quantity.Analyze(m.By.X)), Right: numberOf(quantity.Analyze(m.By.Y)), Above: numberOf(quantity.Analyze(m.By.Z)), Readings: []jsonReading{}}
	for _, r := range m.Readings {
		out.Readings = append(out.Readings, jsonReading{r.Entry, r.Follows, r.Place.File, r.Place.Line})
	}
	return out
}

func jsonAgainOf(a *compare.Again) jsonAgain {
	out := jsonAgain{Entry: a.Entry, Moved: []jsonMoved{}, Swapped: append([]string{}, a.Swapped...), Back: append([]string{}, a.Back...), Gone: a.Gone, Unlikely: a.Unlikely, File: a.Place.File, Line: a.Place.Line}
	for _, m := range a.Moved {
		out.Moved = append(out.Moved, jsonMoved{m.Entry, numberOf(quantity.Analyze(m.By.X)), numberOf(quantity.Analyze(m.By.Y)), numberOf(quantity.Analyze(m.By.Z))})
	}
	return out
}

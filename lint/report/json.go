package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"unicode/utf8"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

type jsonNumber struct {
	Value decimal `json:"value"`
	Low   decimal `json:"low"` // null where it has no end
	High  decimal `json:"high"`
	Unit  string  `json:"unit"`
	Grade string  `json:"grade,omitempty"`
}

type jsonShare struct {
	Entry   string  `json:"entry"`
	OfValue decimal `json:"of-value"`
	OfDoubt decimal `json:"of-doubt"`
}

// jsonCite is a source, how it is known, and whether the limit rests on it.
type jsonCite struct {
	Text     string `json:"text"`
	Standing string `json:"standing"`
	Backs    bool   `json:"backs-limit"`
}

type jsonCheck struct {
	Rule       string      `json:"rule"`
	Entry      string      `json:"entry"`
	Aspect     string      `json:"aspect"`
	Verdict    string      `json:"verdict"`
	Underlying string      `json:"underlying"`
	ToDo       bool        `json:"to-do,omitempty"` // missing work that is not due yet
	Counts     bool        `json:"counts"`
	Must       bool        `json:"must"`
	Due        string      `json:"due"`
	Sense      lint.Sense  `json:"sense"`
	Value      *jsonNumber `json:"value"`
	Limit      *jsonNumber `json:"limit"`
	Upper      *jsonNumber `json:"upper-limit,omitempty"`
	Within     *jsonNumber `json:"within,omitempty"` // the share of the limit that "same" allows
	Margin     *jsonNumber `json:"margin"`
	Missing    []string    `json:"missing"`
	Reason     string      `json:"reason"`
	Settled    string      `json:"settled-by,omitempty"` // what a question that passes was settled by
	Sources    []jsonCite  `json:"sources"`
	File       string      `json:"file"`
	Line       int         `json:"line"`
	Column     int         `json:"column"`
	Shares     []jsonShare `json:"shares"`
	Room       *jsonRoom   `json:"room,omitempty"`
}

type jsonHead struct {
	Folder string `json:"folder"`
	Title  string `json:"title"`
	Stage  string `json:"stage"`
	AsOf   string `json:"as-of"`
	Digest string `json:"digest"`
	Shop   string `json:"shop,omitempty"` // the shop's file that has a say
}

type jsonUnread struct {
	Folder string      `json:"folder"`
	Faults []jsonFault `json:"faults"`
}

type jsonFault struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
}

type jsonCounts struct {
	Pass     int `json:"pass"`
	Fail     int `json:"fail"`
	Unproven int `json:"unproven"`
	Missing  int `json:"missing"`
	Waived   int `json:"waived"`
}

// JSON writes one document for a program: values in SI with the unit named, a
// check a line. Checks that do not apply are there where all are asked for.
func JSON(to io.Writer, opt Options) *Writer {
	w := bufio.NewWriter(to)
	first := true
	var cites sync.Map // the sources of each rule, encoded
	var lines []line   // written over by the next build's
	open := func() {
		if first {
			w.WriteString("{\"fishplate\": 2, \"builds\": [")
		}
	}
	return &Writer{
		Build: func(r *lint.Report) error {
			open()
			if !first {
				w.WriteByte(',')
			}
			first = false
			head := encode(jsonHead{Folder: r.Folder, Title: r.Title, Stage: r.Stage.String(), AsOf: r.AsOf, Digest: r.Digest(), Shop: r.Shop})
			fmt.Fprintf(w, "\n%s, \"checks\": [", head[:len(head)-1])
			lines = inOrder(lines, r.Results, func(out line, c *jsonCheck, r *lint.Result) line {
				if r.Verdict == lint.NotApplicable && !opt.All {
					return out
				}
				cited, ok := cites.Load(r.Rule)
				if !ok {
					cited, _ = cites.LoadOrStore(r.Rule, encode(citesOf(r.Rule)))
				}
				out.add(",\n  ")
				c.fill(r)
				out.check(c, cited.([]byte))
				return out
			})
			sep := 1 // the comma before the first
			for _, l := range lines {
				if len(l) > 0 {
					w.Write(l[sep:])
					sep = 0
				}
			}
			w.WriteString("]}")
			return w.Flush()
		},
		Close: func(t *Totals) error {
			open()
			n := t.Counts
			w.WriteString("],\n")
			if len(t.Left) > 0 {
				fmt.Fprintf(w, "\"unread\": %s,\n", encode(unreadOf(t.Left)))
			}
			if t.Since != "" {
				fmt.Fprintf(w, "\"changed-from\": %s,\n\"gone\": %s,\n", encode(t.Since), encode(append([]string{}, t.Gone...)))
			}
			if len(t.Passed) > 0 {
				fmt.Fprintf(w, "\"passed-by\": %s,\n", encode(t.Passed))
			}
			fmt.Fprintf(w, "\"counts\": %s}\n", encode(jsonCounts{n[lint.Pass], n[lint.Fail], n[lint.Unproven], n[lint.Missing], n[lint.Waived]}))
			return w.Flush()
		},
	}
}

// unreadOf are the builds that cannot be read.
func unreadOf(left []Unread) (out []jsonUnread) {
	for _, u := range left {
		j := jsonUnread{Folder: u.Folder}
		for _, f := range u.Faults {
			j.Faults = append(j.Faults, jsonFault{f.Place.File, f.Place.Line, f.Place.Column, f.Message})
		}
		out = append(out, j)
	}
	return out
}

// atATime is how many checks are written on one list.
const atATime = 16

// inOrder writes all checks, on all cores, over what was written before, so many at
// a time, and gives what came of it in the order of the checks.
func inOrder(over []line, rs []*lint.Result, write func(line, *jsonCheck, *lint.Result) line) []line {
	n := (len(rs) + atATime - 1) / atATime
	out := slices.Grow(over[:0], n)[:n]
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			var c jsonCheck
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				out[i] = slices.Grow(out[i][:0], atATime<<10)
				for _, r := range rs[i*atATime : min((i+1)*atATime, len(rs))] {
					out[i] = write(out[i], &c, r)
				}
			}
		})
	}
	wg.Wait()
	return out
}

// citesOf are the sources of a rule.
func citesOf(r *lint.Rule) []jsonCite {
	out := make([]jsonCite, 0, len(r.Sources))
	for _, s := range r.Sources {
		out = append(out, jsonCite{s.Text, s.Standing(), r.BacksLimit(s)})
	}
	return out
}

// checkOf is a check without its rule's sources.
func checkOf(r *lint.Result) *jsonCheck {
	c := &jsonCheck{Missing: []string{}, Shares: []jsonShare{}}
	c.fill(r)
	return c
}

// fill writes a check over another.
func (c *jsonCheck) fill(r *lint.Result) {
	*c = jsonCheck{Rule: r.Rule.Name, Entry: r.Entry, Aspect: r.Aspect, Verdict: r.Verdict.String(), Counts: r.Counts, Must: !r.Should, Due: r.Due.String(),
		Sense: r.Sense, Missing: c.Missing[:0], Reason: r.Reason, ToDo: r.ToDo(), File: r.Place.File, Line: r.Place.Line, Column: r.Place.Column, Shares: c.Shares[:0]}
	if r.Verdict == lint.Pass {
		c.Settled = r.Settled
	}
	if r.Verdict == lint.Waived {
		c.Underlying = r.Underlying.String()
	}
	for _, n := range r.Needs {
		c.Missing = append(c.Missing, n.Key)
	}
	if !r.Numeric() {
		return
	}
	c.Value, c.Limit, c.Margin = graded(r.Analysis(r.Value)), graded(r.Analysis(r.Limit)), numberOf(r.Analysis(r.Margin))
	if r.Sense == lint.Between {
		c.Upper = graded(r.Analysis(r.Upper))
	}
	if r.Sense == lint.Same {
		c.Within = numberOf(r.Analysis(r.Within))
	}
	if c.Margin == nil {
		c.Room = roomOf(r)
		return
	}
	for _, s := range r.Analysis(r.Margin).Shares() {
		if s.OfValue != 0 || s.OfDoubt != 0 {
			c.Shares = append(c.Shares, jsonShare{Entry: s.Entry, OfValue: decimal(s.OfValue), OfDoubt: decimal(s.OfDoubt)})
		}
	}
}

func numberOf(a *quantity.Analysis) *jsonNumber {
	q := a.Of()
	if !q.Known() {
		return nil
	}
	low, high := a.Bounds()
	return &jsonNumber{decimal(q.Value()), decimal(low), decimal(high), q.Dim().SISymbol(), ""}
}

func graded(a *quantity.Analysis) *jsonNumber {
	n := numberOf(a)
	if n != nil {
		n.Grade = a.Grade().String()
	}
	return n
}

// decimal is a number as JSON has it, to twelve digits, past which machines differ:
// null where that has none for it.
type decimal float64

const plainDigits = 12

// none tells that JSON has no number for it.
func (d decimal) none() bool { return math.IsNaN(float64(d)) || math.IsInf(float64(d), 0) }

// MarshalJSON is what encoding/json asks for.
func (d decimal) MarshalJSON() ([]byte, error) {
	if d.none() {
		return []byte("null"), nil
	}
	return json.Marshal(quantity.Rounded(float64(d), plainDigits) + 0) // no minus zero
}

// encode is a value as JSON, in which what Clean would spell out is escaped:
// the string stays what it is, and a terminal is not fooled.
func encode(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic(err) // the types above always encode
	}
	in := shown.Commands.ReplaceAll(bytes.TrimSuffix(b.Bytes(), []byte("\n")), []byte(`#\u0023$1[`))
	if !slices.ContainsFunc(in, func(c byte) bool { return c >= 0x7f }) {
		return in
	}
	out := make([]byte, 0, len(in))
	for len(in) > 0 {
		r, size := utf8.DecodeRune(in)
		switch {
		case r < 0x80 && r != 0x7f || !shown.Hidden(r):
			out = append(out, in[:size]...)
		case r >= 0x10000:
			r -= 0x10000
			out = fmt.Appendf(out, `\u%04x\u%04x`, 0xd800+(r>>10), 0xdc00+(r&0x3ff))
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		in = in[size:]
	}
	return out
}

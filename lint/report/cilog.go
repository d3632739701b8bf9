package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// CILog writes the log lines that a CI host turns into remarks beside the lines
// of a change: an error for what makes the run fail, a warning for a should that
// fails. What a ledger says cannot end a command or begin another.
func CILog(to io.Writer, _ Options) *Writer {
	w := bufio.NewWriter(to)
	return &Writer{
		Build: func(r *lint.Report) error {
			for _, c := range r.Results {
				level := "warning"
				switch {
				case c.Counts:
					level = "error"
				case c.Verdict != lint.Fail:
					continue
				}
				remark(w, level, r.Revision, c.Place, c.Rule.Name, Sentence(c, r.Build.Style()))
			}
			return w.Flush()
		},
		Close: func(t *Totals) error {
			for _, u := range t.Left {
				for _, f := range u.Faults {
					remark(w, "error", u.Revision, f.Place, "cannot be read", f.Message)
				}
			}
			return w.Flush()
		},
	}
}

// remark is one line of the log, at a place of a revision.
func remark(w io.Writer, level, revision string, at quantity.Place, title, says string) {
	fmt.Fprintf(w, "::%s file=%s,line=%d,col=%d,title=%s::%s\n", level, property(strings.TrimPrefix(at.File, revision)), at.Line, at.Column, property(title), message(says))
}

// mostRemarked is how many checks a remark at an edit names.
const mostRemarked = 6

// CompareCILog writes a remark at each edit that made checks worse: those of check
// stand at what is judged, which an edit mostly leaves as it was.
func CompareCILog(to io.Writer, _ Options) *Writer {
	w := bufio.NewWriter(to)
	return &Writer{
		Compare: func(c *compare.Comparison) error {
			type edit struct {
				at      quantity.Place
				counts  bool
				entry   string
				changes []string
			}
			var edits []*edit
			by := map[string]*edit{}
			for _, x := range c.Changes {
				if x.Kind != compare.Worse && !x.Counts {
					continue
				}
				_, parts := causesOf(x, c.After.Build.Style())
				if len(x.Causes) == 0 { // the check itself, then
					parts = []part{{entry: x.Entry, place: lastOf(x).Place}}
				}
				for _, p := range parts {
					if p.place.File == "" || c.Before.Revision != c.After.Revision && c.Before.Revision != "" && strings.HasPrefix(p.place.File, c.Before.Revision) {
						continue // no line of what is there now
					}
					if strings.HasPrefix(p.share, "+") {
						continue // without it the check would be worse still
					}
					e := by[p.entry]
					if e == nil {
						e = &edit{at: p.place, entry: p.entry}
						by[p.entry], edits = e, append(edits, e)
					}
					say := wordNow(x)
					if p.share != "" {
						say += ", margin " + p.share
					}
					e.counts, e.changes = e.counts || x.Counts, append(e.changes, x.Rule.Name+" on "+subjectOf(x)+" ("+say+")")
				}
			}
			for _, e := range edits {
				level := "warning"
				if e.counts {
					level = "error"
				}
				remark(w, level, c.After.Revision, e.at, e.entry, "this edit makes "+Plural(len(e.changes), "check")+" worse: "+few(e.changes, mostRemarked))
			}
			for _, a := range c.Again {
				remark(w, "error", c.After.Revision, a.Place, a.Entry, "read it again: "+againOf(a, c.After.Build.Style()))
			}
			for _, a := range c.Asks {
				remark(w, "error", c.After.Revision, a.Place, a.Entry, askOf(a))
			}
			return w.Flush()
		},
		Lone:  func(*compare.Lone) error { return nil }, // check tells of it
		Close: func(*Totals) error { return w.Flush() },
	}
}

// wordNow is the verdict of a change as it is now.
func wordNow(x *compare.Change) string {
	if x.After == nil {
		return "gone"
	}
	return x.After.Word()
}

var (
	messageEscapes  = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	propertyEscapes = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)

func message(s string) string  { return messageEscapes.Replace(Clean(s)) }
func property(s string) string { return propertyEscapes.Replace(Clean(s)) }

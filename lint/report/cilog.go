package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"fishplate/lint"
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
				file := strings.TrimPrefix(c.Place.File, r.Revision)
				fmt.Fprintf(w, "::%s file=%s,line=%d,col=%d,title=%s::%s\n", level, property(file), c.Place.Line, c.Place.Column, property(c.Rule.Name), message(Sentence(c, r.Build.Style())))
			}
			return w.Flush()
		},
		Close: func(t *Totals) error {
			for _, u := range t.Left {
				for _, f := range u.Faults {
					fmt.Fprintf(w, "::error file=%s,line=%d,col=%d,title=%s::%s\n", property(strings.TrimPrefix(f.Place.File, u.Revision)), f.Place.Line, f.Place.Column, property("cannot be read"), message(f.Message))
				}
			}
			return w.Flush()
		},
	}
}

var (
	messageEscapes  = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	propertyEscapes = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)

func message(s string) string  { return messageEscapes.Replace(Clean(s)) }
func property(s string) string { return propertyEscapes.Replace(Clean(s)) }

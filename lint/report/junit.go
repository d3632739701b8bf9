package report

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"

	"fishplate/lint"
)

type (
	junitSuite struct {
		XMLName  xml.Name    `xml:"testsuite"`
		Name     string      `xml:"name,attr"`
		Tests    int         `xml:"tests,attr"`
		Failures int         `xml:"failures,attr"`
		Errors   int         `xml:"errors,attr"`
		Skipped  int         `xml:"skipped,attr"`
		Cases    []junitCase `xml:"testcase"`
	}
	junitCase struct {
		Class   string     `xml:"classname,attr"`
		Name    string     `xml:"name,attr"`
		File    string     `xml:"file,attr,omitempty"`
		Line    int        `xml:"line,attr,omitempty"`
		Error   *junitSays `xml:"error"`
		Failure *junitSays `xml:"failure"`
		Skipped *junitSays `xml:"skipped"`
	}
	junitSays struct {
		Message string `xml:"message,attr"`
		Type    string `xml:"type,attr,omitempty"`
		Text    string `xml:",chardata"`
	}
)

// JUnit writes the XML that test runners' readers take: a suite a build, a case
// a check, and an error where a build cannot be read. What makes the run fail is a failure; what is open, advised or
// waived is skipped and says why. Checks that do not apply are left out.
func JUnit(to io.Writer, _ Options) *Writer {
	w := bufio.NewWriter(to)
	fmt.Fprint(w, xml.Header, "<testsuites name=\"fishplate\">\n")
	return &Writer{
		Build: func(r *lint.Report) error {
			out, err := xml.MarshalIndent(junitSuiteOf(r), "", " ")
			if err != nil {
				return err
			}
			w.Write(out)
			fmt.Fprintln(w)
			return w.Flush()
		},
		Close: func(t *Totals) error {
			for _, u := range t.Left {
				out, err := xml.MarshalIndent(junitErrors(u), "", " ")
				if err != nil {
					return err
				}
				w.Write(out)
				fmt.Fprintln(w)
			}
			fmt.Fprintln(w, "</testsuites>")
			return w.Flush()
		},
	}
}

// junitErrors is the suite of a build that cannot be read: each fault is an
// error, as a test that could not be run is.
func junitErrors(u Unread) junitSuite {
	s := junitSuite{Name: Clean(u.Folder), Tests: len(u.Faults), Errors: len(u.Faults)}
	for _, f := range u.Faults {
		s.Cases = append(s.Cases, junitCase{Class: "ledger", Name: Clean(Where(f.Place)), File: Clean(f.Place.File), Line: f.Place.Line,
			Error: &junitSays{Message: Clean(f.Message), Type: "unread"}})
	}
	return s
}

func junitSuiteOf(r *lint.Report) junitSuite {
	s := junitSuite{Name: Clean(r.Folder)}
	for _, c := range r.Results {
		if c.Verdict == lint.NotApplicable {
			continue
		}
		k := junitCase{Class: c.Rule.Name, Name: Clean(c.Subject()), File: Clean(c.Place.File), Line: c.Place.Line}
		Says := &junitSays{Message: Sentence(c, r.Build.Style()), Type: c.Word()}
		switch {
		case c.Counts:
			Says.Text = Where(c.Place) + ": " + c.Rule.Title
			k.Failure = Says
			s.Failures++
		case c.Verdict != lint.Pass:
			Says.Type = ""
			k.Skipped = Says
			s.Skipped++
		}
		s.Cases = append(s.Cases, k)
		s.Tests++
	}
	return s
}

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
// a check. What makes the run fail is a failure; what is open, advised or
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
		Close: func(*Totals) error {
			fmt.Fprintln(w, "</testsuites>")
			return w.Flush()
		},
	}
}

func junitSuiteOf(r *lint.Report) junitSuite {
	s := junitSuite{Name: Clean(r.Folder)}
	for _, c := range r.Results {
		if c.Verdict == lint.NotApplicable {
			continue
		}
		k := junitCase{Class: c.Rule.Name, Name: Clean(c.Subject()), File: Clean(c.Place.File), Line: c.Place.Line}
		says := &junitSays{Message: Sentence(c, r.Build.Style()), Type: c.Word()}
		switch {
		case c.Counts:
			says.Text = Where(c.Place) + ": " + c.Rule.Title
			k.Failure = says
			s.Failures++
		case c.Verdict != lint.Pass:
			says.Type = ""
			k.Skipped = says
			s.Skipped++
		}
		s.Cases = append(s.Cases, k)
		s.Tests++
	}
	return s
}

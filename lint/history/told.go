package history

import (
	"fmt"

	"fishplate/ledger/revision"
	"fishplate/lint"
)

// Asked is a question about a build's history.
type Asked int

// The questions.
const (
	Verdicts Asked = iota // which commits changed a verdict
	Figures               // what a rule's figure was
	Since                 // since when what fails does
)

// Told is a question and its answer, for a report.
type Told struct {
	Asked   Asked
	Folder  string
	Commits int              // that touched the build or its shop's file
	Short   bool             // older ones are not there: the clone is shallow
	Moved   []*revision.Step // the commits that moved the build from another folder
	Began   *revision.Step   // the first; nil where there is none
	AsOf    string           // the day that all are judged on; "" for each its own
	Rule    *lint.Rule       // that was asked for; nil where all are meant

	Events  []*Event // the oldest first
	Lines   []*Line
	Failing []*Failing
}

// Subject is the entry, with the aspect where there is one.
func (l *Line) Subject() string { return subject(l.Entry, l.Aspect) }

// Subject is the entry, with the aspect where there is one.
func (c *Change) Subject() string { return subject(c.Entry, c.Aspect) }

// Subject is the entry, with the aspect where there is one.
func (f *Failing) Subject() string { return subject(f.Entry, f.Aspect) }

func subject(entry, aspect string) string {
	if aspect == "" {
		return entry
	}
	return fmt.Sprintf("%s (%s)", entry, aspect)
}

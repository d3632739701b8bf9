package report

import (
	"io"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/history"
	"fishplate/lint/report/drawing"
)

// Options says how a report is written. What is listed on a screen or a page
// can be narrowed; no verdict changes by it, and nothing is left out of what a
// program reads.
type Options struct {
	All    bool          // list passes and what does not apply as well
	Due    *ledger.Stage // list what is due at one stage
	Advice bool          // list advice
	Pack   string        // list the checks of one pack
	About  string        // list what touches one entry

	List job.Kind // of list
	Word string   // of find

	System string // of sheet: the one system that is asked for

	Color  bool // the output is a terminal that takes colors
	Width  int  // of the screen, in columns; 0 for the usual one
	Builds int  // how many there are to tell of
	Tree   bool // of a comparison: of all builds of a tree, be there one or many
	// Propose finds the nearest changes that would make a check pass; nil
	// where there is no time to look for them.
	Propose func(*lint.Report, *lint.Result) []lint.Proposal
	// Drawn is what the rules reckon of a build for its drawings; nil where there
	// are none.
	Drawn func(*ledger.Build) drawing.Figures
}

// Writer is an output under way. Build takes each report in turn, without
// those of builds that could not be read; Close ends the output.
type Writer struct {
	Build   func(*lint.Report) error
	Partial func(*lint.Report) error        // of a build with faults, what could still be judged; nil where only the faults are told
	Compare func(*compare.Comparison) error // of CompareKinds, in place of Build
	Lone    func(*compare.Lone) error       // of these too: a build that only one of two trees has
	History func(*history.Told) error       // of HistoryKinds, in place of Build
	Close   func(*Totals) error
}

// Kind is a kind of output.
type Kind struct {
	Name, About string
	New         func(io.Writer, Options) *Writer
}

// Kinds are the outputs that there are. A new one adds its line here and its
// file beside the others.
var Kinds = []Kind{
	{"text", "for a person at a bench", Text},
	{"json", "everything, for a program, in SI", JSON},
	{"sarif", "a static-analysis log (OASIS SARIF 2.1.0)", SARIF},
	{"junit", "XML for readers of test results", JUnit},
	{"markdown", "a summary for a page", Markdown},
	{"ci-log", "log lines that a CI host turns into remarks beside the lines", CILog},
}

// KindNamed finds a kind of output.
func KindNamed(kinds []Kind, name string) (Kind, bool) {
	for _, k := range kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// KindNames are the names of the kinds.
func KindNames(kinds []Kind) []string {
	var out []string
	for _, k := range kinds {
		out = append(out, k.Name)
	}
	return out
}

// Totals counts over all builds of a run.
type Totals struct {
	Builds int // reported
	Failed int // of these, with something that makes the run fail
	Unread int // left out, as their ledgers cannot be read
	Left   []Unread
	Since  string   // the revision, where only builds that differ from it were checked
	Gone   []string // builds of that revision that are there no more
	Passed []string // folders of builds that try a shop's rules, and were passed by
	Counts map[lint.Verdict]int
}

// Unread is a build that cannot be read, and why.
type Unread struct {
	Folder, Revision string
	Faults           []ledger.Fault
}

// Add counts a report.
func (t *Totals) Add(r *lint.Report) {
	if len(r.Faults) > 0 {
		t.Unread++
		t.Left = append(t.Left, Unread{r.Folder, r.Revision, r.Faults})
		return
	}
	t.Builds++
	if r.Failed() {
		t.Failed++
	}
	if t.Counts == nil {
		t.Counts = map[lint.Verdict]int{}
	}
	for v, n := range r.Counts() {
		t.Counts[v] += n
	}
}

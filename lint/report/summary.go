package report

import (
	"fmt"
	"strings"

	"fishplate/lint"
)

// Summary says in plain words what a build's checks come to: what fails, what
// is due and open, what is open and not due yet.
func Summary(r *lint.Report) string {
	var fail, missing, unproven, later, advised int
	for _, c := range r.Results {
		switch {
		case c.Counts && c.Verdict == lint.Fail:
			fail++
		case c.Counts && c.Verdict == lint.Missing:
			missing++
		case c.Counts:
			unproven++
		case !c.Should && open(c):
			later++
		case c.Should && (open(c) || c.Verdict == lint.Fail):
			advised++
		}
	}
	n := r.Counts()
	if len(r.Results) == 0 {
		return "Nothing to check yet."
	}
	var say []string
	tell := func(count int, one, many string) {
		switch {
		case count == 1:
			say = append(say, one)
		case count > 1:
			say = append(say, fmt.Sprintf(many, count))
		}
	}
	tell(fail, "1 check fails", "%d checks fail")
	tell(missing, "1 is due and lacks something", "%d are due and lack something")
	tell(unproven, "1 is due and left open by its tolerance", "%d are due and left open by their tolerances")
	if len(say) == 0 {
		say = append(say, "Nothing to put right now")
	}
	tell(later, "1 is open and not due yet", "%d are open and not due yet")
	tell(advised, "1 piece of advice is open", "%d pieces of advice are open")
	tell(n[lint.Waived], "1 is waived", "%d are waived")
	tell(n[lint.Pass], "1 passes", "%d pass")
	return strings.Join(say, "; ") + "."
}

// Sentence says in plain words what a run over several builds comes to.
func (t *Totals) Sentence() string {
	s := fmt.Sprintf("%s: ", Plural(t.Builds+t.Unread, "build"))
	switch {
	case t.Failed == 0 && t.Unread == 0:
		return s + "nothing fails."
	case t.Unread == 0:
		return s + fmt.Sprintf("%d with something to put right now, %d without.", t.Failed, t.Builds-t.Failed)
	}
	return s + fmt.Sprintf("%d with something to put right now, %d without, %d that cannot be read.", t.Failed, t.Builds-t.Failed, t.Unread)
}

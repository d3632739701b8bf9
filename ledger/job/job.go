package job

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fishplate/ledger"
)

// Job is a build as of a day.
type Job struct {
	*ledger.Build
	AsOf string // YYYY-MM-DD; what is dated later has not happened yet

	orders bool // the shop writes down here what is ordered and what came in
	again  bool // it was begun from another build: what is not dated here was done there
	works  []*ledger.Work
	step   map[string]*ledger.Work
	on     map[string][]*ledger.Work // the steps of a part, worked on or needed in hand
}

// Of is a build as of a day.
func Of(b *ledger.Build, asOf string) *Job {
	j := &Job{Build: b, AsOf: asOf, works: b.Works(), step: map[string]*ledger.Work{}, on: map[string][]*ledger.Work{}, again: b.Info().From.Known()}
	j.orders = j.again
	for _, p := range b.Parts() {
		j.orders = j.orders || p.Ordered.Known() || p.Arrived.Known()
	}
	for _, h := range b.Hoses() {
		j.orders = j.orders || h.Ordered.Known() || h.Arrived.Known()
	}
	for _, w := range j.works {
		j.step[w.Path()] = w
		for _, list := range [][]ledger.Ref{w.Parts, w.PartsInHand} {
			for _, r := range list {
				j.on[r.String()] = append(j.on[r.String()], w)
			}
		}
	}
	return j
}

// by tells that a date is written and has come.
func (j *Job) by(d ledger.Date) bool { return d.Known() && (j.AsOf == "" || d.String() <= j.AsOf) }

// Done tells that a step has been done.
func (j *Job) Done(w *ledger.Work) bool { return j.by(w.Date) }

// over tells that the vehicle has been handed over.
func (j *Job) over() bool { return j.by(j.Info().Delivered) || j.Stage() == ledger.AtDelivery }

// thing is what parts and hoses have in common: something that may be bought.
type thing struct {
	path                       string
	bought, wears              bool
	ordered, arrived, fittedOn ledger.Date
	orderAs, supplier          string
}

func ofPart(p *ledger.Part) thing {
	own := p.Origin.Is("original", "donor", "made").Holds()
	return thing{p.Path(), p.Origin.Is("bought").Holds() || !own && (p.OrderAs.Known() || p.Ordered.Known()) || p.Ordered.Known(), p.Wears.Holds(),
		p.Ordered, p.Arrived, p.FittedOn, p.OrderAs.String(), p.Supplier.String()}
}

func ofHose(h *ledger.Hose) thing {
	return thing{h.Path(), h.OrderAs.Known() || h.Ordered.Known(), h.Wears.Holds(), h.Ordered, h.Arrived, ledger.Date{}, h.OrderAs.String(), h.Supplier.String()}
}

// there tells that a thing is in the shop or on the vehicle: it came in, or it
// went on, or a step that is done has dealt with it.
func (j *Job) there(t thing) bool {
	switch {
	case j.by(t.arrived), j.by(t.fittedOn), j.over():
		return true
	case !t.bought:
		return !j.toMake(t.path) && !j.toCome(t.path)
	case t.ordered.Known():
		return false
	}
	return j.worked(t.path) || !j.orders
}

// worked tells that a step which is done has dealt with a part.
func (j *Job) worked(path string) bool {
	return slices.ContainsFunc(j.on[path], j.Done)
}

// toMake tells that the step which makes a part is still to be done, or that
// nothing shows that it was made for this build and not for the one before.
func (j *Job) toMake(path string) bool {
	if e, ok := j.Entry(path); ok && j.again {
		p, ok := j.View(e).(*ledger.Part)
		if ok && p.Origin.Is("made").Holds() && !j.by(p.FittedOn) && !j.worked(path) {
			return true
		}
	}
	for _, w := range j.on[path] {
		if w.Did.Is("made").Holds() && !j.Done(w) && ledger.Refer(w.Parts, path) {
			return true
		}
	}
	return false
}

// toCome tells that a part is to come from a donor, as it did in the build that
// this one was begun from, and nothing shows that there is one yet.
func (j *Job) toCome(path string) bool {
	e, ok := j.Entry(path)
	if !ok || !j.again || j.over() {
		return false
	}
	p, ok := j.View(e).(*ledger.Part)
	return ok && p.Origin.Is("donor").Holds() && !p.Donor.Known() && !j.by(p.FittedOn) && !j.worked(path)
}

// awaited says of a thing that is not there what it waits for.
func (j *Job) awaited(t thing) string {
	switch {
	case j.by(t.ordered) && t.supplier != "":
		return "ordered " + t.ordered.String() + j.ago(t.ordered) + " from " + t.supplier
	case j.by(t.ordered):
		return "ordered " + t.ordered.String() + j.ago(t.ordered)
	case !t.bought && j.toCome(t.path):
		return "to come from a donor"
	case !t.bought:
		return "to be made"
	}
	return "not ordered"
}

// ago says how many days a date is before the job's day, in brackets.
func (j *Job) ago(d ledger.Date) string {
	day, err := time.Parse(time.DateOnly, j.AsOf)
	then, err2 := time.Parse(time.DateOnly, d.String())
	if err != nil || err2 != nil {
		return ""
	}
	return fmt.Sprintf(" (%d days)", int(day.Sub(then).Hours()/24))
}

// NeededBy is the first stage of the steps still to do that name an entry;
// false where none says a stage.
func (j *Job) NeededBy(path string) (ledger.Stage, bool) {
	first := ledger.AtNever
	for _, w := range j.on[path] {
		if s, err := ledger.StageNamed(w.Stage.String()); err == nil && !j.Done(w) {
			first = min(first, s)
		}
	}
	return first, first != ledger.AtNever
}

// State says in words how far an entry has come; "" where the ledger does not
// tell.
func (j *Job) State(e *ledger.Entry) string {
	switch v := j.View(e).(type) {
	case *ledger.Part:
		return j.stateOfPart(v)
	case *ledger.Hose:
		return j.stateOfThing(ofHose(v), "")
	case *ledger.Work:
		return j.Step(v).Words()
	case *ledger.Document:
		if v.SHA256.Known() {
			return "attached"
		}
		return "no digest"
	}
	return ""
}

func (j *Job) stateOfPart(p *ledger.Part) string {
	if p.Fitted.Fails() || j.by(p.RemovedOn) {
		switch {
		case p.Fate.Known():
			return p.Fate.String()
		case j.by(p.RemovedOn):
			return "removed " + p.RemovedOn.String()
		case p.Origin.Is("original").Holds():
			return "comes out"
		}
		return "not fitted"
	}
	kept := ""
	switch {
	case j.again && !j.over() && p.Origin.Is("original").Holds() && p.Change.Known() && !j.by(p.FittedOn) && !j.worked(p.Path()):
		kept = "to be altered"
	case p.Origin.Is("original").Holds() && (p.Change.Known() || p.MassWas.Known()):
		kept = "altered"
	case p.Origin.Is("original").Holds():
		kept = "kept"
	case j.toCome(p.Path()):
		kept = "to come from a donor"
	case p.Origin.Is("donor").Holds() && p.Change.Known():
		kept = "from the donor, altered"
	case p.Origin.Is("donor").Holds():
		kept = "from the donor"
	case p.Origin.Is("made").Holds() && !j.toMake(p.Path()):
		kept = "made"
	}
	return j.stateOfThing(ofPart(p), kept)
}

func (j *Job) stateOfThing(t thing, otherwise string) string {
	switch {
	case j.by(t.fittedOn):
		return "fitted " + t.fittedOn.String()
	case j.over() && otherwise != "":
		return otherwise
	case j.over():
		return "fitted"
	case j.by(t.arrived):
		return "arrived " + t.arrived.String()
	case !j.there(t):
		return firstPart(j.awaited(t))
	case otherwise != "":
		return otherwise
	}
	return ""
}

// firstPart is what was ordered when, without from whom.
func firstPart(s string) string {
	s, _, _ = strings.Cut(s, " from ")
	return s
}

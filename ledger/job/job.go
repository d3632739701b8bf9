package job

import (
	"strings"

	"fishplate/ledger"
)

// Job is a build as of a day.
type Job struct {
	*ledger.Build
	AsOf string // YYYY-MM-DD; what is dated later has not happened yet

	orders bool // the shop writes down here what is ordered and what came in
	works  []*ledger.Work
	step   map[string]*ledger.Work
	on     map[string][]*ledger.Work // the steps of a part, worked on or needed in hand
}

// Of is a build as of a day.
func Of(b *ledger.Build, asOf string) *Job {
	j := &Job{Build: b, AsOf: asOf, works: b.Works(), step: map[string]*ledger.Work{}, on: map[string][]*ledger.Work{}}
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
		return !j.toMake(t.path)
	case t.ordered.Known():
		return false
	}
	for _, w := range j.on[t.path] {
		if j.Done(w) {
			return true
		}
	}
	return !j.orders
}

// toMake tells that the step which makes a part is still to be done.
func (j *Job) toMake(path string) bool {
	for _, w := range j.on[path] {
		if w.Did.Is("made").Holds() && !j.Done(w) && names(w.Parts, path) {
			return true
		}
	}
	return false
}

func names(list []ledger.Ref, path string) bool {
	for _, r := range list {
		if r.String() == path {
			return true
		}
	}
	return false
}

// awaited says of a thing that is not there what it waits for.
func (j *Job) awaited(t thing) string {
	switch {
	case j.by(t.ordered) && t.supplier != "":
		return "ordered " + t.ordered.String() + " from " + t.supplier
	case j.by(t.ordered):
		return "ordered " + t.ordered.String()
	case !t.bought:
		return "to be made"
	}
	return "not ordered"
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
	case p.Origin.Is("original").Holds() && (p.Change.Known() || p.MassWas.Known()):
		kept = "altered"
	case p.Origin.Is("original").Holds():
		kept = "kept"
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
	case j.by(t.arrived):
		return "arrived " + t.arrived.String()
	case !j.there(t):
		return firstPart(j.awaited(t))
	case otherwise != "":
		return otherwise
	case j.over():
		return "fitted"
	}
	return ""
}

// firstPart is what was ordered when, without from whom.
func firstPart(s string) string {
	s, _, _ = strings.Cut(s, " from ")
	return s
}

package job

import (
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Row is an entry on a list. Money is on none of them.
type Row struct {
	Path    string // of the entry, or of a pin of it
	Entry   *ledger.Entry
	Name    string
	System  string
	Count   string
	State   string
	OrderAs string
	Own     []string // the kind's own columns
	Place   q.Place
}

// Kind is a kind of list.
type Kind struct {
	Name, About string
	Columns     []string // its own, after those that all have
	rows        func(j *Job) []Row
	Ordered     bool // it has an order of its own, not that of the systems
}

// Columns are those that every list has.
var Columns = []string{"entry", "name", "system", "count", "state", "order-as"}

// Kinds are the lists that there are.
var Kinds = []Kind{
	{"order", "what is to be ordered, or is on order, first what is needed first", []string{"needed-by", "supplier", "ordered"}, (*Job).orderRows, true},
	{"custom", "what is made, altered, bought, from the donor or kept, by system", []string{"origin", "change", "material", "process", "made-by", "drawing"}, (*Job).customRows, false},
	{"donor", "what came from a donor, and what became of it", []string{"donor", "fate", "why"}, (*Job).donorRows, false},
	{"removed", "what came off or is not fitted, and what became of it", []string{"origin", "removed-on", "fate", "why"}, (*Job).removedRows, false},
	{"fuses", "every fuse and breaker, with what it protects", []string{"fuse", "breaker", "gauge", "from", "to"}, (*Job).fuseRows, false},
	{"wires", "every circuit, and every pin of a plug that is wired", []string{"gauge", "color", "insulation", "length", "from", "to"}, (*Job).wireRows, false},
	{"hoses", "every hose, tube and pipe", []string{"carries", "bore", "length", "class", "from", "to", "clamps"}, (*Job).hoseRows, false},
	{"wears", "what the next owner will have to buy", []string{"supplier"}, (*Job).wearRows, false},
	{"work", "the steps of the work, in order", []string{"stage", "by", "after", "parts", "parts-in-hand", "did", "date"}, (*Job).workRows, true},
	{"documents", "every document, and what it proves", []string{"kind", "file", "date", "by", "proves"}, (*Job).documentRows, false},
}

// KindNames are the names of the lists.
func KindNames() []string {
	var out []string
	for _, k := range Kinds {
		out = append(out, k.Name)
	}
	return out
}

// KindNamed finds a list by its name.
func KindNamed(name string) (Kind, bool) {
	for _, k := range Kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// Rows are the rows of a list of the job, in the order of the systems where
// the list has no order of its own.
func (k Kind) Rows(j *Job) []Row { return k.rows(j) }

// row is what every list says of an entry.
func (j *Job) row(e *ledger.Entry, own ...string) Row {
	r := Row{Path: e.Path(), Entry: e, System: j.System(e), Count: "1", State: j.State(e), Own: own, Place: e.Place}
	switch v := j.View(e).(type) {
	case *ledger.Part:
		r.Name, r.OrderAs, r.Count = v.Name.Or(v.Role.String()).String(), v.OrderAs.String(), count(v.Count)
	case *ledger.Hose:
		r.Name, r.OrderAs = strings.TrimSpace(v.Carries.String()+" "+v.Role.String()), v.OrderAs.String()
	case *ledger.Work:
		r.Name = j.Step(v).Says()
	case *ledger.Document:
		r.Name = v.Kind.String()
	case *ledger.Decision:
		r.Name = v.Question.String()
	case *ledger.Tank:
		r.Name = v.Fluid.String()
	case *ledger.Tire:
		r.Name = v.Size.String()
	}
	return r
}

// count is how many, as a plain number.
func count(n q.Quantity) string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(n.Value(), 'f', -1, 64)
}

// bySystem are the rows of some entries, in the order of the systems.
func (j *Job) bySystem(own map[*ledger.Entry][]string) []Row {
	var list []*ledger.Entry
	for _, e := range j.Entries() {
		if own[e] != nil {
			list = append(list, e)
		}
	}
	j.BySystem(list)
	out := make([]Row, len(list))
	for i, e := range list {
		out[i] = j.row(e, own[e]...)
	}
	return out
}

func (j *Job) orderRows() (out []Row) {
	for _, o := range j.Orders() {
		by, ordered := "", ""
		if o.NeededKnown {
			by = o.NeededBy.String()
		}
		if o.Ordered {
			ordered = o.On
		}
		out = append(out, j.row(o.Entry, by, o.Supplier, ordered))
	}
	return out
}

func (j *Job) customRows() []Row {
	own := map[*ledger.Entry][]string{}
	for p := range j.Fitted() {
		drawing := p.Made.Drawing.String()
		own[p.Entry()] = []string{p.Origin.String(), p.Change.String(), p.Made.Material.String(), p.Made.Process.String(), p.Made.By.String(), drawing}
	}
	return j.bySystem(own)
}

func (j *Job) donorRows() []Row {
	own := map[*ledger.Entry][]string{}
	for _, p := range j.Parts() {
		if p.Origin.Is("donor").Holds() || p.Donor.Known() {
			own[p.Entry()] = []string{p.Donor.String(), p.Fate.String(), p.Why.String()}
		}
	}
	return j.bySystem(own)
}

func (j *Job) removedRows() []Row {
	own := map[*ledger.Entry][]string{}
	for _, p := range j.Parts() {
		if p.Fitted.Fails() || j.by(p.RemovedOn) {
			own[p.Entry()] = []string{p.Origin.String(), p.RemovedOn.String(), p.Fate.String(), p.Why.String()}
		}
	}
	return j.bySystem(own)
}

func (j *Job) fuseRows() []Row {
	own := map[*ledger.Entry][]string{}
	for _, c := range j.Circuits() {
		if c.Fuse.Known() || c.Breaker.Known() {
			own[c.Entry()] = []string{c.Fuse.Spelling(), c.Breaker.Spelling(), c.Gauge.String(), c.From.String(), joined(c.To)}
		}
	}
	return j.bySystem(own)
}

func (j *Job) wireRows() []Row {
	own := map[*ledger.Entry][]string{}
	for _, c := range j.Circuits() {
		own[c.Entry()] = []string{c.Gauge.String(), c.Color.String(), c.Insulation.String(), c.Length.Spelling(), c.From.String(), joined(c.To)}
	}
	out := j.bySystem(own)
	for _, p := range j.Plugs() {
		var pins []string
		for name, pin := range p.Pins {
			if pin.Circuit.Known() || pin.To.Known() {
				pins = append(pins, name)
			}
		}
		slices.SortFunc(pins, ledger.Natural)
		for _, name := range pins {
			pin := p.Pins[name]
			c := j.Circuit(pin.Circuit)
			at := p.Path() + ":" + name
			r := j.row(p.Entry(), pin.Gauge.Or(c.Gauge.String()).String(), pin.Color.Or(c.Color.String()).String(), c.Insulation.String(), "", at, pin.To.String())
			r.Path, r.Name, r.State = at, pin.Circuit.String(), pin.Now.String()
			out = append(out, r)
		}
	}
	return out
}

func (j *Job) hoseRows() []Row {
	own := map[*ledger.Entry][]string{}
	for _, h := range j.Hoses() {
		own[h.Entry()] = []string{h.Carries.String(), h.Bore.Spelling(), h.Length.Spelling(), h.Class.String(), h.From.String(), h.To.String(), h.Clamps.String()}
	}
	return j.bySystem(own)
}

func (j *Job) wearRows() []Row {
	own := map[*ledger.Entry][]string{}
	for p := range j.Fitted() {
		if p.Wears.Holds() {
			own[p.Entry()] = []string{p.Supplier.String()}
		}
	}
	for _, h := range j.Hoses() {
		if h.Wears.Holds() {
			own[h.Entry()] = []string{h.Supplier.String()}
		}
	}
	return j.bySystem(own)
}

func (j *Job) workRows() (out []Row) {
	for _, s := range j.Steps() {
		stage := ""
		if s.Stage != ledger.AtNever {
			stage = s.Stage.String()
		}
		out = append(out, j.row(s.Entry(), stage, s.By.String(), joined(s.Work.After), joined(s.Parts), joined(s.PartsInHand), s.Did.String(), s.Date.String()))
	}
	return out
}

func (j *Job) documentRows() []Row {
	own := map[*ledger.Entry][]string{}
	for _, d := range j.Documents() {
		own[d.Entry()] = []string{d.Kind.String(), d.File.String(), d.Date.String(), d.By.String(), joined(d.Proves)}
	}
	return j.bySystem(own)
}

func joined(list []ledger.Ref) string {
	var out []string
	for _, r := range list {
		out = append(out, r.String())
	}
	return strings.Join(out, ", ")
}

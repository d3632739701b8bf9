package paperwork

import (
	"embed"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var (
	data     = refdata.Load("paperwork", files)
	practice = []quantity.Citation{data.Source("practice")}
	drawings = data.Table("drawings").Rows()
	harder   = data.Table("loaded-harder").Rows()
	looked   = data.Table("looked-at").Rows()
	axles    = stage("measured", "axle-loads")
	taped    = stage("measured", "gaps")
)

// stage is when a row of a table is due.
func stage(table, row string) ledger.Stage {
	s, err := ledger.StageNamed(data.Table(table).Word(row, "due"))
	if err != nil {
		panic("reference data of paperwork: " + row + ": " + err.Error())
	}
	return s
}

// Pack checks that a build can be handed over.
var Pack = &lint.Pack{
	Name:  "paperwork",
	Title: "Paperwork: where parts come from, what the next owner can buy, documents, measurements, signature",
	Rules: []*lint.Rule{origin, serviceable, dueDocuments, measured, renewed, torqued, torqueFigure, fate, arrived, workOrder, stepsDone, measureFirst, driverLimits, shopQuestions, signed, dates},
}

var origin = &lint.Rule{
	Name:    "paperwork/origin",
	Title:   "every part says where it comes from, and a part made or altered in the shop can be made again",
	Due:     ledger.AtAssembly,
	Sources: practice,
	Note:    "A part from a donor names it. A part made in the shop has material, process and a drawing or a photo: the document that made.drawing names, or one that proves the part. An altered part has one by delivery: a should.",
	Caution: "Nothing here says that a part made in the shop is strong enough. What carries steering, brakes, seats or the vehicle's weight is for a licensed engineer or shop to judge where your local code says so.",
	Check:   checkOrigin,
}

// checkOrigin asks for what the origin calls for, once that is known.
func checkOrigin(b *ledger.Build, s *lint.Sheet) {
	for _, p := range b.Parts() {
		s.On(p, "").Holds(p.Origin.Required().And(unless(p.Origin.Is("donor"), p.Donor.Required())).And(unless(p.Origin.Is("made"), made(b, p))),
			"%s is neither a drawing nor a photo, and no drawing or photo proves %s", p.Made.Drawing, p.Path())
		s.On(p, "change").Recommended().Due(ledger.AtDelivery).Work().When(p.Change.Given(), "it was not altered").
			Holds(drawn(b, p), "no drawing and no photo of it is in the ledger; attach one with --kind photo --proves %s", p.Path())
	}
}

func made(b *ledger.Build, p *ledger.Part) quantity.Truth {
	return p.Made.Material.Required().And(p.Made.Process.Required()).And(b.Document(p.Made.Drawing).Kind.Is(drawings...).Or(drawn(b, p)))
}

// drawn tells whether a drawing or a photo proves the part.
func drawn(b *ledger.Build, p *ledger.Part) quantity.Truth {
	is := quantity.Is(false)
	for _, kind := range drawings {
		is = is.Or(proved(b, kind, p))
	}
	return is
}

// unless is what must hold where the case is known to be so.
func unless(is, holds quantity.Truth) quantity.Truth { return is.OrElse(false).Not().Or(holds) }

var measured = &lint.Rule{
	Name:    "paperwork/measured",
	Title:   "gaps and axle loads are measured, not guessed, when the stage wants them so",
	Due:     taped,
	Sources: practice,
	Note:    "A value is measured that has the ± of its reading; of a gap, a tape's fraction such as 3 1/2 in counts as well, good to 1/32. When each value is due is the pack's table.",
	Caution: "Measure on level ground or on stands rated for the weight: a jack is no stand, and nobody reaches under what only a jack holds. An axle load that was guessed overloads tires and brakes; ratings and your local code come first.",
	Check:   checkMeasured,
}

func checkMeasured(b *ledger.Build, s *lint.Sheet) {
	for _, g := range b.Gaps() {
		isMeasured(s.On(g, "").Due(taped), g.Measured, taken(g.Measured))
	}
	built := quantity.Is(false)
	for _, w := range b.Weighings() {
		is := w.When.Is("as-built")
		built = built.Or(is)
		isMeasured(s.On(w, "front").Due(axles).When(is, "it is not of the vehicle as built"), w.Front, w.Front.Graded(quantity.Measured))
		isMeasured(s.On(w, "rear").Due(axles).When(is, "it is not of the vehicle as built"), w.Rear, w.Rear.Graded(quantity.Measured))
	}
	s.On(b.Info(), "axle loads").Due(axles).Reading().Holds(built, "the vehicle as built has not been weighed")
}

// taken tells whether a gap was measured: it has the ± of its reading, or is a
// fraction of an inch, which nobody reads but off a tape.
func taken(gap quantity.Quantity) quantity.Truth {
	fraction := gap.Grade() == quantity.Stated && strings.Contains(gap.Spelling(), "/") && strings.HasSuffix(gap.Spelling(), " in")
	return gap.Graded(quantity.Measured).Or(quantity.Is(fraction))
}

func isMeasured(u *lint.Subject, v quantity.Quantity, is quantity.Truth) {
	u.Reading().Holds(is, "%s is %s, not a measurement: read it, and write its ±", v.Spelling(), grades[v.Grade()])
}

var grades = map[quantity.Grade]string{quantity.Assumed: "assumed", quantity.Estimate: "an estimate", quantity.Stated: "stated"}

var renewed = &lint.Rule{
	Name:    "paperwork/renewed",
	Title:   "what has run already and is loaded harder now was looked at or renewed",
	Should:  true,
	Due:     ledger.AtRoadTest,
	Sources: practice,
	Note:    "Joints, bushings, bearings and brakes that the vehicle or the donor came with, by role. A work entry counts that says renewed, repaired or inspected: paint and grease prove nothing.",
	Caution: "Joints and brakes that were good enough for the old engine may not be for this one. A shop that does brakes and steering for a living has the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for p := range b.Fitted() {
			ran := p.Origin.Is("original", "donor").And(p.Role.Is(harder...))
			s.On(p, "").When(ran, "it is new, or not among what a swap loads harder").Work().Holds(worked(b, p), "no work entry says that it was %s", either(looked))
		}
	},
}

var signed = &lint.Rule{
	Name:    "paperwork/signed",
	Title:   "a build at delivery is signed",
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note:    "Whether the signature is over the ledger as it stands is for ledger/signature to tell.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		signed := quantity.Is(false)
		for _, v := range b.Signatures() {
			signed = signed.Or(v.Stage.Is("delivery"))
		}
		s.On(b.Info(), "").Work().Holds(signed, "no signature for delivery; fishplate sign writes one")
	},
}

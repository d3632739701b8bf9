package ledger

import "iter"

// The views of single entries, of kinds of entry, and of what a reference
// names.

// Vehicle is [vehicle].
func (b *Build) Vehicle() *Vehicle { return the[Vehicle](b, "vehicle") }

// Front is [vehicle.front].
func (b *Build) Front() *Axle { return the[Axle](b, "vehicle.front") }

// Rear is [vehicle.rear].
func (b *Build) Rear() *Axle { return the[Axle](b, "vehicle.rear") }

// Axles are the front and the rear axle.
func (b *Build) Axles() []*Axle { return []*Axle{b.Front(), b.Rear()} }

// Engine is [engine].
func (b *Build) Engine() *Engine { return the[Engine](b, "engine") }

// EngineWas is [engine-was].
func (b *Build) EngineWas() *Engine { return the[Engine](b, "engine-was") }

// Supply is [supply].
func (b *Build) Supply() *Supply { return the[Supply](b, "supply") }

// Fuel is [fuel].
func (b *Build) Fuel() *Fuel { return the[Fuel](b, "fuel") }

// Transmission is [transmission].
func (b *Build) Transmission() *Transmission { return the[Transmission](b, "transmission") }

// Transfer is [transfer].
func (b *Build) Transfer() *Transfer { return the[Transfer](b, "transfer") }

// Tachometer is [tachometer].
func (b *Build) Tachometer() *Tachometer { return the[Tachometer](b, "tachometer") }

// Speedometer is [speedometer].
func (b *Build) Speedometer() *Speedometer { return the[Speedometer](b, "speedometer") }

// Cooling is [cooling].
func (b *Build) Cooling() *Cooling { return the[Cooling](b, "cooling") }

// Intake is [intake].
func (b *Build) Intake() *Intake { return the[Intake](b, "intake") }

// Exhaust is [exhaust].
func (b *Build) Exhaust() *Exhaust { return the[Exhaust](b, "exhaust") }

// Trailer is [trailer].
func (b *Build) Trailer() *Trailer { return the[Trailer](b, "trailer") }

// Brakes is [brakes].
func (b *Build) Brakes() *Brakes { return the[Brakes](b, "brakes") }

// Owner is [owner].
func (b *Build) Owner() *Owner { return the[Owner](b, "owner") }

// Weighings are all [weighing.ID].
func (b *Build) Weighings() []*Weighing { return all[Weighing](b) }

// Donors are all [donor.ID].
func (b *Build) Donors() []*Donor { return all[Donor](b) }

// Parts are all [part.ID].
func (b *Build) Parts() []*Part { return all[Part](b) }

// Assemblies are all [assembly.ID].
func (b *Build) Assemblies() []*Assembly { return all[Assembly](b) }

// Loads are all [load.ID].
func (b *Build) Loads() []*Load { return all[Load](b) }

// Tanks are all [tank.ID].
func (b *Build) Tanks() []*Tank { return all[Tank](b) }

// Gaps are all [gap.ID].
func (b *Build) Gaps() []*Gap { return all[Gap](b) }

// Circuits are all [circuit.ID].
func (b *Build) Circuits() []*Circuit { return all[Circuit](b) }

// Relays are all [relay.ID].
func (b *Build) Relays() []*Relay { return all[Relay](b) }

// Hoses are all [hose.ID].
func (b *Build) Hoses() []*Hose { return all[Hose](b) }

// Wetted are all [wetted.ID].
func (b *Build) Wetted() []*Wetted { return all[Wetted](b) }

// Answers are all [answer.ID].
func (b *Build) Answers() []*Answer { return all[Answer](b) }

// Works are all [work.ID].
func (b *Build) Works() []*Work { return all[Work](b) }

// Documents are all [document.ID].
func (b *Build) Documents() []*Document { return all[Document](b) }

// Waivers are all [waiver.ID].
func (b *Build) Waivers() []*Waiver { return all[Waiver](b) }

// Signatures are all [signature.ID].
func (b *Build) Signatures() []*Signature { return all[Signature](b) }

// Shafts are all [shaft.ID].
func (b *Build) Shafts() []*Shaft { return all[Shaft](b) }

// Radiators are all [radiator.ID].
func (b *Build) Radiators() []*Radiator { return all[Radiator](b) }

// Loops are all [loop.ID].
func (b *Build) Loops() []*Loop { return all[Loop](b) }

// Tests are all [test.ID].
func (b *Build) Tests() []*Test { return all[Test](b) }

// Lamps are all [lamp.ID].
func (b *Build) Lamps() []*Lamp { return all[Lamp](b) }

// SeatBelts are all [seat-belt.ID].
func (b *Build) SeatBelts() []*SeatBelt { return all[SeatBelt](b) }

// Mirrors are all [mirror.ID].
func (b *Build) Mirrors() []*Mirror { return all[Mirror](b) }

// Emissions are all [emission.ID].
func (b *Build) Emissions() []*Emission { return all[Emission](b) }

// Plugs are all [plug.ID].
func (b *Build) Plugs() []*Plug { return all[Plug](b) }

// Splices are all [splice.ID].
func (b *Build) Splices() []*Splice { return all[Splice](b) }

// Part is the part that a reference names.
func (b *Build) Part(r Ref) *Part { return get[Part](b, r, "part") }

// Assembly is the assembly that a reference names.
func (b *Build) Assembly(r Ref) *Assembly { return get[Assembly](b, r, "assembly") }

// Load is the load that a reference names.
func (b *Build) Load(r Ref) *Load { return get[Load](b, r, "load") }

// Tank is the tank that a reference names.
func (b *Build) Tank(r Ref) *Tank { return get[Tank](b, r, "tank") }

// Tire is the tire that a reference names.
func (b *Build) Tire(r Ref) *Tire { return get[Tire](b, r, "tire") }

// Wheel is the wheel that a reference names.
func (b *Build) Wheel(r Ref) *Wheel { return get[Wheel](b, r, "wheel") }

// Zone is the zone that a reference names.
func (b *Build) Zone(r Ref) *Zone { return get[Zone](b, r, "zone") }

// Circuit is the circuit that a reference names.
func (b *Build) Circuit(r Ref) *Circuit { return get[Circuit](b, r, "circuit") }

// Relay is the relay that a reference names.
func (b *Build) Relay(r Ref) *Relay { return get[Relay](b, r, "relay") }

// Hose is the hose that a reference names.
func (b *Build) Hose(r Ref) *Hose { return get[Hose](b, r, "hose") }

// Document is the document that a reference names.
func (b *Build) Document(r Ref) *Document { return get[Document](b, r, "document") }

// Donor is the donor that a reference names.
func (b *Build) Donor(r Ref) *Donor { return get[Donor](b, r, "donor") }

// Plug is the plug that a reference names.
func (b *Build) Plug(r Ref) *Plug { return get[Plug](b, r, "plug") }

// Fitted are the parts that the finished vehicle carries.
func (b *Build) Fitted() iter.Seq[*Part] {
	return func(yield func(*Part) bool) {
		for _, p := range b.Parts() {
			if !p.Fitted.Fails() && !yield(p) {
				return
			}
		}
	}
}

// Limit is the shop's own limit for a rule.
func (b *Build) Limit(rule string) (Limit, bool) { l, ok := b.Limits[rule]; return l, ok }

// Decisions are all [decision.ID].
func (b *Build) Decisions() []*Decision { return all[Decision](b) }

// Faqs are all [faq.ID].
func (b *Build) Faqs() []*Faq { return all[Faq](b) }

// Instructions are all [instruction.ID].
func (b *Build) Instructions() []*Instruction { return all[Instruction](b) }

// Visits are all [visit.ID].
func (b *Build) Visits() []*Visit { return all[Visit](b) }

// Shop is [shop] of the shop's file.
func (b *Build) Shop() *ShopInfo { return the[ShopInfo](b, "shop") }

// View is an entry as rules see it, a *Part or another of the views, with what it
// takes from the one it is like.
func (b *Build) View(e *Entry) any {
	if _, to := e.like(); to == "" {
		return e.view
	}
	return memo(b, e, func() any { return b.alike(e, 0).Interface() })
}

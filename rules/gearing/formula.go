package gearing

import q "fishplate/ledger/quantity"

// Pull is what an axle torque pulls with at the road:
//
//	F = eta T / (D/2)
//
// T torque by the gears, eta what the driveline lets through, D tire diameter
// not loaded. Left out: what spins up with it. In shop units F = eta T i /
// (D/24), lb-ft and in. Mechanics.
func Pull(torque, efficiency, diameter q.Quantity) q.Quantity {
	return efficiency.Mul(torque).Div(diameter.Div(q.Number(2)))
}

// Grade is the steepest grade that a pull starts a weight on, rise over run:
//
//	grade = tan(asin(F/G - f)),  F/G - f at most m
//
// F pull, G weight, f rolling resistance as a share of the weight, m the sine
// of the steepest slope worth telling. Left out: air, and the bit of pull that
// makes it move. Mechanics; SAE J688 and J2188 are the procedures (not read).
func Grade(pull, weight, resistance, steepest q.Quantity) q.Quantity {
	sine := q.Min(pull.Div(weight).Sub(resistance), steepest)
	return q.Tan(q.Asin(sine))
}

// PhasePulses is how many pulses a crankshaft revolution an alternator's phase
// (W terminal) gives:
//
//	P = r p / k
//
// r crankshaft pulley over alternator pulley, p pole pairs, once 1 pulse a
// revolution, k what a converter divides by. At n rpm of the engine that is f = r p n / 60 Hz. Left out: slip
// of the belt, and that there is no signal while the field is off. US Navy
// electricity training series, generator frequency (f = poles * rpm / 120).
func PhasePulses(pulleys, polePairs, once, dividedBy q.Quantity) q.Quantity {
	return pulleys.Mul(polePairs).Mul(once).Div(dividedBy)
}

// RoadPulses is how many pulses a sender gives a distance:
//
//	S = P N i / k
//
// P pulses a revolution of what it turns with, N turns of the tire a distance,
// i turns of that a turn of the tire, k what a converter divides by.
func RoadPulses(pulses, turns, ratio, dividedBy q.Quantity) q.Quantity {
	return pulses.Mul(turns).Mul(ratio).Div(dividedBy)
}

// Rescaled is what a sender gives that was right before tires or axle changed:
//
//	S' = S (N' i') / (N i)
//
// S before, N turns of the tire a distance, i the axle ratio (1 for a sender
// that turns with the wheel); primed now. Taller tires turn less often: fewer
// pulses, and a speedometer that reads low.
func Rescaled(before, turnsNow, ratioNow, turnsWas, ratioWas q.Quantity) q.Quantity {
	return before.Mul(turnsNow.Mul(ratioNow)).Div(turnsWas.Mul(ratioWas))
}

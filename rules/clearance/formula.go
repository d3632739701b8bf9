package clearance

import q "fishplate/ledger/quantity"

// Left is the gap that is left in use, the distance between two things a and b
// when they have come as near as they do:
//
//	g = g0 - m + r + (d_b - d_a)
//
// g0 the tape's reading, m how far the two come together in use, r the room
// made since by cutting or dimpling, d how far each of the two has been moved
// since the reading, counted from a to b. All are lengths; g is negative where
// the two touch. Wear, heat and what sags later are left out. Plain geometry;
// common practice, no source.
func Left(measured, motion, relief, moveA, moveB q.Quantity) q.Quantity {
	return measured.Sub(motion).Add(relief).Add(moveB.Sub(moveA)).As("gap left", "measured - motion + relief + (move of b - move of a)")
}

// RockMotion is the most that a point of the engine travels, in whatever
// direction, when the mounts let the engine roll about its crankshaft:
//
//	m = θ r,  r = sqrt(y² + z²)
//
// θ the roll to one side (an angle), y and z how far the point is from the
// crankshaft line, across and up (lengths). It is the arc, which is longer
// than its chord and than either component of it. How the engine lifts, surges
// or pitches on its mounts is left out. Plain geometry; no source.
func RockMotion(rock, across, up q.Quantity) q.Quantity {
	r := q.Hypot(across, up).As("distance from the crankshaft line", "sqrt(y² + z²)")
	return q.Arc(r, rock).As("motion by the engine's rock", "rock × distance from the crankshaft line")
}

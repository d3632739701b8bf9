package street

import q "fishplate/ledger/quantity"

// Grown is by how much a width is more than it was: w - w'.
func Grown(now, was q.Quantity) q.Quantity { return now.Sub(was) }

// Sideways is how far the outer face of each tire moved out:
//
//	dy = (dT + dS) / 2
//
// dT by how much the track grew, dS the tires' section width. The track carries
// what wheels of another offset and spacers do, half of it on each side; a tire
// grows half outward and half inward. Left out: that a tire on a wider rim is
// wider than its catalogue says, and camber. Geometry.
func Sideways(track, width q.Quantity) q.Quantity { return track.Add(width).Div(q.Number(2)) }

// Covered is how far the body still stands out past the tire:
//
//	c = c' - dy
//
// c' as received, dy by Sideways.
func Covered(was, sideways q.Quantity) q.Quantity { return was.Sub(sideways) }

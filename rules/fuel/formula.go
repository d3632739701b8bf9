package fuel

import (
	"math"

	"fishplate/ledger/quantity"
)

// Pipe is a round line that runs full.
type Pipe struct {
	Name      string            // what the worked solution calls it
	Flow      quantity.Quantity // Q, volume a time
	Bore      quantity.Quantity // D
	Length    quantity.Quantity // L
	Roughness quantity.Quantity // e, of the wall
}

func (p Pipe) is(q quantity.Quantity, name, formula string) quantity.Quantity {
	if p.Name != "" {
		name += " in " + p.Name
	}
	return q.As(name, formula)
}

// Liquid is what runs in it.
type Liquid struct {
	Viscosity quantity.Quantity // nu, kinematic
	Density   quantity.Quantity // rho
}

// Regimes are the Reynolds numbers at which flow changes. Between them it is
// turbulent where Turbulent, a number from 0 to 1, is a half or more.
type Regimes struct {
	LaminarUpTo, TurbulentFrom, Turbulent quantity.Quantity
}

// Velocity is the mean velocity in the bore: V = Q / (pi D²/4).
// From a fluid-mechanics textbook's example 6.7, second-hand.
func Velocity(p Pipe) quantity.Quantity {
	area := p.Bore.Mul(p.Bore).Times(math.Pi / 4)
	return p.is(p.Flow.Div(area), "velocity", "V = Q / (pi D²/4)")
}

// Reynolds is the Reynolds number: Re = V D / nu = 4 Q / (pi D nu), in the second
// form so that each value enters once. Same source.
func Reynolds(p Pipe, l Liquid) quantity.Quantity {
	re := p.Flow.Times(4 / math.Pi).Div(p.Bore.Mul(l.Viscosity))
	return p.is(re, "Reynolds number", "Re = 4 Q / (pi D nu)")
}

// SwameeJain is the Darcy friction factor of turbulent flow in a rough pipe:
// f = 0.25 / log10(e/(3.7 D) + 5.74/Re^0.9)², which stands for Colebrook's
// equation without iteration. Textbook example 6.7. It is for turbulent flow;
// at single Reynolds numbers it has no result.
func SwameeJain(p Pipe, re quantity.Quantity) quantity.Quantity {
	wall := p.Roughness.Div(p.Bore.Times(3.7))
	flow := quantity.Pow(re, -0.9).Times(5.74)
	log := quantity.Log10(wall.Add(flow))
	return p.is(quantity.Number(0.25).Div(log.Mul(log)), "turbulent friction factor", "f = 0.25 / log10(e/(3.7 D) + 5.74/Re^0.9)²")
}

// Darcy is the pressure lost to friction: dp = f (L/D) rho V²/2, with f the Darcy
// factor. Same sources. Bends, fittings and lift are left out.
func Darcy(f quantity.Quantity, p Pipe, l Liquid) quantity.Quantity {
	v := Velocity(p)
	return p.is(f.Mul(p.Length).Div(p.Bore).Mul(l.Density).Mul(v.Mul(v)).Times(0.5), "turbulent loss", "dp = f (L/D) rho V²/2")
}

// Laminar is Darcy with 64/Re put in: dp = 128 nu rho L Q / (pi D⁴), in which each value
// stands once, so that its interval is no wider than it must be. Exam problem
// as above, where it is printed as hf = 8 f L Q²/(pi² g D⁵).
func Laminar(p Pipe, l Liquid) quantity.Quantity {
	top := l.Viscosity.Mul(l.Density).Mul(p.Length).Mul(p.Flow).Times(128 / math.Pi)
	return p.is(top.Div(quantity.Pow(p.Bore, 4)), "laminar loss", "dp = 128 nu rho L Q / (pi D^4)")
}

// LineLoss is the pressure lost to friction in a pipe whatever the flow in it:
// Laminar below one Reynolds number, Darcy with SwameeJain from another, and
// between them either, at that Reynolds number: the hull of both where Turbulent
// is open. So it is too where the doubt of Re leaves the regime open. The
// turbulent factor is not worked out below the laminar limit, where it does not
// hold.
func LineLoss(p Pipe, l Liquid, r Regimes) quantity.Quantity {
	re := Reynolds(p, l)
	laminar := Laminar(p, l)
	turbulent := Darcy(SwameeJain(p, quantity.Max(re, r.LaminarUpTo)), p, l)
	either := p.is(quantity.Below(r.Turbulent, quantity.Number(0.5), laminar, turbulent), "loss between the two", "laminar or turbulent loss")
	upper := quantity.Below(re, r.TurbulentFrom, either, turbulent)
	loss := quantity.Below(re, r.LaminarUpTo, laminar, upper)
	return p.is(loss, "friction loss", "laminar loss below Re 2000, turbulent loss from Re 4000, either of them between")
}

// Burnt is the volume of fuel a time that carries a heat:
//
//	V = P_f / (H rho)
//
// P_f heat a time, H lower heating value, rho density. By definition.
func Burnt(heat, heating, density quantity.Quantity) quantity.Quantity {
	return heat.Div(heating.Mul(density))
}

package fuel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

func si(v float64, d quantity.Dim) quantity.Quantity { return quantity.SI(v, d) }

// spread is a value in SI with its least and most.
func spread(t *testing.T, text string, d quantity.Dim) quantity.Quantity {
	t.Helper()
	r, err := quantity.Parse(text, d, quantity.Options{})
	require.NoError(t, err)
	return quantity.Leaf(r, &quantity.Source{Entry: "test", Key: text})
}

// head is a pressure as meters of the liquid, g = 9.81 m/s².
func head(dp quantity.Quantity, rho float64) float64 { return dp.Value() / rho / 9.81 }

// Fluid-mechanics textbook, example 6.7: oil, 900 kg/m³ and 0.00001 m²/s, at 0.2 m³/s
// in 500 m of 200 mm cast-iron pipe. Printed: V = 6.4 m/s, Re = 128 000 (from the
// rounded V), e/d = 0.0013, Moody f = 0.0225. hf = 117 m is the book's from memory.
func TestTextbookTurbulent(t *testing.T) {
	p := Pipe{Flow: si(0.2, quantity.Flow), Bore: si(0.2, quantity.Length), Length: si(500, quantity.Length), Roughness: si(0.00026, quantity.Length)}
	l := Liquid{Viscosity: si(0.00001, quantity.Viscosity), Density: si(900, quantity.Density)}
	re := Reynolds(p, l)
	assert.InDelta(t, 6.4, Velocity(p).Value(), 0.05)
	assert.InEpsilon(t, 128000, re.Value(), 0.006)
	assert.InDelta(t, 0.0013, p.Roughness.Div(p.Bore).Value(), 0.00005)
	assert.InEpsilon(t, 0.0225, SwameeJain(p, re).Value(), 0.02)
	assert.InEpsilon(t, 117, head(LineLoss(p, l, pipeLimits), 900), 0.02)
}

// Published exam problem: 0.01 m³/s in 1000 m of smooth 100 mm pipe at Re = 800.
// Printed: f = 0.08, hf = 66.1 m with g = 9.81.
func TestExamLaminar(t *testing.T) {
	p := Pipe{Flow: si(0.01, quantity.Flow), Bore: si(0.1, quantity.Length), Length: si(1000, quantity.Length), Roughness: si(0, quantity.Length)}
	l := Liquid{Density: si(1000, quantity.Density)}
	l.Viscosity = Velocity(p).Mul(p.Bore).Div(quantity.Number(800))
	re := Reynolds(p, l)
	assert.InEpsilon(t, 800, re.Value(), 1e-12)
	f := quantity.Number(64).Div(re) // of laminar flow
	assert.InEpsilon(t, 0.08, f.Value(), 1e-12)
	assert.InDelta(t, 66.1, head(LineLoss(p, l, pipeLimits), 1000), 0.05)
	assert.InEpsilon(t, Darcy(f, p, l).Value(), Laminar(p, l).Value(), 1e-12, "64/Re in Darcy's equation is the second form")
}

// colebrook solves 1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f))).
func colebrook(rough, re float64) float64 {
	x := 8.0 // 1/sqrt(f)
	for range 100 {
		x = -2 * math.Log10(rough/3.7+2.51*x/re)
	}
	return 1 / (x * x)
}

// Swamee-Jain against Colebrook's equation, which it stands for, from the
// smallest Reynolds number at which it is used; that the two agree so well is
// textbook knowledge from memory (3 % from Re 5000, better above).
func TestSwameeJainAgainstColebrook(t *testing.T) {
	worst := map[bool]float64{}
	for _, rough := range []float64{1e-6, 1e-5, 1e-4, 2e-4, 1e-3, 1e-2} {
		for re := 4000.0; re < 1.1e8; re *= 1.25 {
			p := Pipe{Bore: si(1, quantity.Length), Roughness: si(rough, quantity.Length)}
			off := math.Abs(SwameeJain(p, quantity.Number(re)).Value()/colebrook(rough, re) - 1)
			worst[re > 5000] = max(worst[re > 5000], off)
		}
	}
	t.Logf("off by %.2f %% at most at Re 4000 to 5000, %.2f %% above", 100*worst[false], 100*worst[true])
	assert.Less(t, worst[true], 0.03)
	assert.Less(t, worst[false], 0.035)
}

func fuelPipe(t *testing.T, flow string) (Pipe, Liquid) {
	p := Pipe{Flow: spread(t, flow, quantity.Flow), Bore: si(0.008, quantity.Length), Length: si(2, quantity.Length), Roughness: roughness}
	return p, Liquid{Viscosity: si(3e-6, quantity.Viscosity), Density: si(850, quantity.Density)}
}

// Laminar loss goes with length, viscosity, density and flow, and with the
// inverse fourth power of the bore.
func TestLaminarScales(t *testing.T) {
	p, l := fuelPipe(t, "0.02 ± 0 L/s")
	one := LineLoss(p, l, pipeLimits).Value()
	for name, change := range map[string]func(*Pipe, *Liquid){
		"length":    func(p *Pipe, _ *Liquid) { p.Length = p.Length.Times(2) },
		"density":   func(_ *Pipe, l *Liquid) { l.Density = l.Density.Times(2) },
		"viscosity": func(_ *Pipe, l *Liquid) { l.Viscosity = l.Viscosity.Times(2) },
	} {
		p, l := p, l
		change(&p, &l)
		assert.InEpsilon(t, 2*one, LineLoss(p, l, pipeLimits).Value(), 1e-12, name)
	}
	p.Bore = p.Bore.Times(2)
	assert.InEpsilon(t, one/16, LineLoss(p, l, pipeLimits).Value(), 1e-12)
}

// ASTM D975 lets No. 2 diesel be 1.9 to 4.1 mm²/s at 40 °C: a laminar line loses as
// much more at the thick end, and a line with fuel of either end is within what
// the whole range gives.
func TestD975Range(t *testing.T) {
	p, l := fuelPipe(t, "0.01 ± 0 L/s")
	at := func(viscosity string) quantity.Quantity {
		l.Viscosity = spread(t, viscosity, quantity.Viscosity)
		return LineLoss(p, l, pipeLimits)
	}
	thin, thick := at("1.9 ± 0 cSt").Value(), at("4.1 ± 0 cSt").Value()
	assert.InEpsilon(t, 4.1/1.9, thick/thin, 1e-9)
	lo, hi := at("1.9 to 4.1 cSt").Bounds()
	assert.InEpsilon(t, thin, lo, 1e-9)
	assert.InEpsilon(t, thick, hi, 1e-9)
}

// Between Re 2000 and 4000 the loss is the interval from the laminar to the
// turbulent figure; at either end it is one of them.
func TestTransition(t *testing.T) {
	for _, c := range []struct {
		re                 float64
		laminar, turbulent bool
	}{{1999, true, false}, {2001, true, true}, {3000, true, true}, {3999, true, true}, {4001, false, true}} {
		p, l := fuelPipe(t, "1 L/s")
		p.Flow = si(c.re*math.Pi*0.008*3e-6/4, quantity.Flow)
		lo, hi := LineLoss(p, l, pipeLimits).Bounds()
		re := Reynolds(p, l)
		lam, turb := Laminar(p, l).Value(), Darcy(SwameeJain(p, re), p, l).Value()
		require.Greater(t, turb, lam)
		wantLo, wantHi := lam, turb
		if !c.laminar {
			wantLo = turb
		}
		if !c.turbulent {
			wantHi = lam
		}
		assert.InEpsilon(t, wantLo, lo, 1e-9, c.re)
		assert.InEpsilon(t, wantHi, hi, 1e-9, c.re)
	}
}

// Flow whose doubt straddles the regimes: no flow that it may be escapes.
func TestStraddling(t *testing.T) {
	p, l := fuelPipe(t, "0.02 to 0.10 L/s")
	lo, hi := LineLoss(p, l, pipeLimits).Bounds()
	samples := 0
	for q := 0.02e-3; q <= 0.10e-3; q += 0.2e-6 {
		p.Flow = si(q, quantity.Flow)
		a, b := LineLoss(p, l, pipeLimits).Bounds()
		assert.LessOrEqual(t, lo, a*(1+1e-9))
		assert.GreaterOrEqual(t, hi, b*(1-1e-9))
		samples++
	}
	t.Logf("%d flows within %.0f to %.0f Pa", samples, lo, hi)
	assert.Greater(t, samples, 300)
}

// A trickle, a flow that may be none, and none at all are laminar: that
// Swamee-Jain has no result there does no harm.
func TestTrickle(t *testing.T) {
	for _, flow := range []string{"0.00002 ± 0 L/s", "0.0 to 0.001 L/s", "0 ± 0 L/s"} {
		p, l := fuelPipe(t, flow)
		loss := LineLoss(p, l, pipeLimits)
		require.True(t, loss.Known(), flow)
		assert.InDelta(t, Laminar(p, l).Value(), loss.Value(), 1e-9, flow)
	}
}

// The roughness is from memory; a smooth pipe in its place moves the loss of a
// fuel line by less than a hundredth.
func TestRoughnessHardlyMatters(t *testing.T) {
	p, l := fuelPipe(t, "0.1 ± 0 L/s")
	require.Greater(t, Reynolds(p, l).Value(), 5000.0)
	one := LineLoss(p, l, pipeLimits).Value()
	p.Roughness = roughness.Times(0)
	assert.InEpsilon(t, one, LineLoss(p, l, pipeLimits).Value(), 0.01)
}

// The whole sum through a ledger, by hand: 26 gph at 8.5 cSt and (7.079 + 7.3)/2 lb/gal,
// 8 ft of 0.305 in and 5 ft of 3/8 in, both laminar.
func TestSupplyLineByHand(t *testing.T) {
	const gallon, pound, inch = 3.785411784e-3, 0.45359237, 0.0254
	q, nu, rho := 26*gallon/3600, 8.5e-6, (7.079+7.3)/2*pound/gallon
	want := 0.0
	for _, c := range []struct{ bore, length float64 }{{0.305 * inch, 96 * inch}, {0.375 * inch, 60 * inch}} {
		v := q / (math.Pi / 4 * c.bore * c.bore)
		re := v * c.bore / nu
		require.Less(t, re, 2000.0)
		want += 64 / re * c.length / c.bore * rho * v * v / 2
	}
	b := packtest.Load(t, "testdata/line-loss/pass")
	assert.InEpsilon(t, want, supplyLoss(b).Value(), 1e-9)
}

// The worked solution of a line that is surely laminar says nothing of
// turbulence.
func TestWorkedSolution(t *testing.T) {
	names := func(flow string) (out []string) {
		p, l := fuelPipe(t, flow)
		for _, s := range LineLoss(p, l, pipeLimits).Steps() {
			out = append(out, s.Name)
		}
		return out
	}
	assert.Equal(t, []string{"Reynolds number", "laminar loss", "friction loss"}, names("0.01 ± 0 L/s"))
	assert.Equal(t, []string{"Reynolds number", "turbulent friction factor", "velocity", "turbulent loss", "friction loss"}, names("0.1 ± 0 L/s"))
	assert.Contains(t, names("0.05 ± 0 L/s"), "loss between the two")
}

// Of the fuels carried the heaviest counts, in whatever order: B100 at 7.3 lb/gal
// (DOE/NREL) against gasoline at a specific gravity of 0.78 at most (AFDC).
func TestHeaviest(t *testing.T) {
	for _, carries := range []string{`["B100", "gasoline"]`, `["gasoline", "B100"]`} {
		low, high := heaviest(packtest.Build(t, "[fuel]\ncarries = "+carries+"\n")).Bounds()
		assert.InDelta(t, 7.3*0.45359237/3.785411784e-3, low, 1e-6, carries)
		assert.InDelta(t, low, high, 1e-9, carries)
	}
}

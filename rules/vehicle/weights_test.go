package vehicle_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
	"fishplate/rules/vehicle"
)

const pound, inch = 0.45359237, 0.0254

// base stands on the scale with 3000 lb in front and 2000 lb behind.
const base = `
[vehicle]
wheelbase = "100 ± 1 in"
cg-height = "30 ± 1 in"

[weighing.in]
when = "as-received"
front = "3000 ± 5 lb"
rear = "2000 ± 5 lb"
`

func keys(v q.Quantity) []string {
	var out []string
	for _, n := range v.Needs() {
		out = append(out, n.Key)
	}
	return out
}

func lb(v q.Quantity) float64 { return v.Value() / pound }

// Curb as received, worked by hand: the driver's 200 lb sat half way, and of
// ten gallons of gasoline at 0.75 kg/L (6.259 lb/gal) 7.5 were lacking, of
// which a fifth would have borne on the front axle.
func TestReceived(t *testing.T) {
	b := packtest.Build(t, base+`
aboard = ["load.driver"]
levels = { "tank.main" = 0.25 }

[load.driver]
mass = "200 lb"
at = { behind = "50 in" }

[tank.main]
fluid = "gasoline"
capacity = "10 gal"
at = { behind = "80 in" }
`)
	w := vehicle.WeightsOf(b)
	room := 7.5 * 0.75 * 3.785411784 / pound
	assert.InDelta(t, 3000-100+0.2*room, lb(w.Front.Received), 1e-6)
	assert.InDelta(t, 2000-100+0.8*room, lb(w.Rear.Received), 1e-6)
	assert.InDelta(t, 5000-200+room, lb(w.Total.Received), 1e-6)
	assert.InDelta(t, lb(w.Front.Received), lb(w.Front.Predicted), 1e-9, "nothing was changed")
	assert.InDelta(t, lb(w.Front.Received)+100, lb(w.Front.Loaded), 1e-6, "and the driver is back")
}

// What each kind of part does to the front axle and to the whole, by the
// definition of the predicted curb; each worked by hand.
func TestPredicted(t *testing.T) {
	for _, c := range []struct {
		name, entry  string
		front, total float64
	}{
		{"bought", `origin = "bought"` + "\nmass = \"100 lb\"\nat = { behind = \"20 in\" }", 80, 100},
		{"made, ahead of the axle", `origin = "made"` + "\nmass = \"100 lb\"\nat = { behind = \"-20 in\" }", 120, 100},
		{"a pair from the donor", `origin = "donor"` + "\ncount = 2\nmass = \"50 lb\"\nat = { behind = \"20 in\" }", 80, 100},
		{"left over from the donor", `origin = "donor"` + "\nfitted = false\nmass = \"50 lb\"", 0, 0},
		{"came off", `origin = "original"` + "\nfitted = false\nmass = \"100 lb\"\nat = { behind = \"20 in\" }", -80, -100},
		{"came off, from another place", `origin = "original"` + "\nfitted = false\nmass = \"100 lb\"\nat = { behind = \"20 in\" }\nwas-at = { behind = \"50 in\" }", -50, -100},
		{"came off, after it was altered", `origin = "original"` + "\nfitted = false\nmass = \"120 lb\"\nmass-was = \"100 lb\"\nat = { behind = \"20 in\" }", -80, -100},
		{"came off, by its date alone", `origin = "original"` + "\nremoved-on = 2026-01-05\nmass = \"100 lb\"\nat = { behind = \"20 in\" }", -80, -100},
		{"came off and went on again", `origin = "original"` + "\nremoved-on = 2026-01-05\nfitted-on = 2026-02-05\nmass = \"100 lb\"\nat = { behind = \"20 in\" }", 0, 0},
		{"heavier now", `origin = "original"` + "\ncount = 2\nmass = \"110 lb\"\nmass-was = \"100 lb\"\nat = { behind = \"20 in\" }", 16, 20},
		{"altered, and no new mass", `origin = "original"` + "\nchange = \"painted\"\nmass-was = \"100 lb\"\nat = { behind = \"20 in\" }", 0, 0},
		{"as it was", `origin = "original"` + "\nmass = \"100 lb\"", 0, 0},
		{"moved ahead", `origin = "original"` + "\nmass = \"100 lb\"\nat = { behind = \"20 in\" }\nwas-at = { behind = \"50 in\" }", 30, 0},
		{"moved, and never weighed", `origin = "original"` + "\nat = { behind = \"20 in\" }\nwas-at = { behind = \"50 in\" }", 0, 0},
		{"moved and heavier", `origin = "original"` + "\nmass = \"120 lb\"\nmass-was = \"100 lb\"\nat = { behind = \"10 in\" }\nwas-at = { behind = \"30 in\" }", 108 - 70, 20},
		{"moved with its assembly", `origin = "original"` + "\nmass = \"400 lb\"\nat = { from = \"assembly.a\", behind = \"5 in\" }\n[assembly.a]\nat = { behind = \"10 in\" }\nwas-at = { behind = \"20 in\" }", 40, 0},
		{"on an assembly that moved, from the donor", `origin = "donor"` + "\nmass = \"400 lb\"\nat = { from = \"assembly.a\", behind = \"5 in\" }\n[assembly.a]\nat = { behind = \"10 in\" }\nwas-at = { behind = \"20 in\" }", 340, 400},
	} {
		w := vehicle.WeightsOf(packtest.Build(t, base+"[part.x]\n"+c.entry+"\n"))
		assert.InDelta(t, c.front, lb(w.Front.Predicted)-3000, 1e-6, c.name)
		assert.InDelta(t, c.total, lb(w.Total.Predicted)-5000, 1e-6, c.name)
		assert.InDelta(t, c.total-c.front, lb(w.Rear.Predicted)-2000, 1e-6, c.name)
	}
}

// A tank that moved, grew and changed its fluid: full now less full then.
func TestTanks(t *testing.T) {
	b := packtest.Build(t, base+`
levels = { "tank.main" = 1.0 }

[tank.main]
fluid = "diesel"
fluid-was = "gasoline"
capacity = "20 gal"
capacity-was = "10 gal"
at = { behind = "60 in" }
was-at = { behind = "80 in" }

[tank.new]
fluid = "Diesel"
capacity = "10 gal"
capacity-was = "0 gal"
at = { behind = "50 in" }
`)
	now, then := 20*7.079, 10*0.75*3.785411784/pound
	w := vehicle.WeightsOf(b)
	assert.InDelta(t, 3000+0.4*now-0.2*then+0.5*70.79, lb(w.Front.Predicted), 1e-6)
	assert.InDelta(t, 5000+now-then+70.79, lb(w.Total.Predicted), 1e-6)
	assert.InDelta(t, 5000, lb(w.Total.Received), 1e-6, "a tank that was not there lacked nothing")
}

const weighedAgain = `
[weighing.out]
when = "as-built"
date = 2026-05-01
front = "3100 ± 5 lb"
rear = "2100 ± 5 lb"

[part.winch]
origin = "bought"
mass = "100 lb"
at = { behind = "-20 in" }
fitted-on = 2026-06-01

[part.rack]
origin = "bought"
mass = "50 lb"
at = { behind = "50 in" }
fitted-on = 2026-04-01
removed-on = 2026-06-02

[part.bumper]
origin = "original"
mass = "40 lb"
at = { behind = "-30 in" }
fitted = false
removed-on = 2026-06-03
`

// The second weighing counts, with what went on after it and without what came
// off after it; the prediction held against it has the vehicle as it then was.
func TestBuilt(t *testing.T) {
	w := vehicle.WeightsOf(packtest.Build(t, base+weighedAgain))
	assert.InDelta(t, 3100, lb(w.Front.Built), 1e-6)
	assert.InDelta(t, 3100+120-25-52, lb(w.Front.Curb), 1e-6)
	assert.InDelta(t, 5200+100-50-40, lb(w.Total.Curb), 1e-6)
	assert.InDelta(t, 3000+25, lb(w.Front.Expected), 1e-6, "the rack was on, the bumper too, the winch not yet")
	assert.InDelta(t, 3000+120-52, lb(w.Front.Predicted), 1e-6)
	assert.True(t, w.Front.Weighed.Holds())
}

// Where nobody says when it was weighed, what is dated leaves the curb open;
// where a part does not say its origin, so does that. Without a load nothing is
// known of the vehicle loaded, and the curb is.
func TestWaits(t *testing.T) {
	w := vehicle.WeightsOf(packtest.Build(t, base+`
[weighing.out]
when = "as-built"
front = "3100 ± 5 lb"
rear = "2100 ± 5 lb"

[part.winch]
origin = "bought"
mass = "100 lb"
at = { behind = "-20 in" }
fitted-on = 2026-06-01
`))
	assert.Equal(t, "weighing.out.date", w.Front.Curb.Needs()[0].Key)
	w = vehicle.WeightsOf(packtest.Build(t, base+"[part.x]\nmass = \"10 lb\"\nat = { behind = \"0 in\" }\n"))
	assert.Equal(t, "part.x.origin", w.Front.Curb.Needs()[0].Key)
	assert.False(t, w.Front.Weighed.Known())
	w = vehicle.WeightsOf(packtest.Build(t, base))
	assert.True(t, w.Front.Curb.Known())
	for _, s := range []vehicle.State{w.Front, w.Rear, w.Total} {
		assert.Equal(t, []string{"a load.x for all that ride along"}, keys(s.Loaded))
	}
	w = vehicle.WeightsOf(packtest.Build(t, "[vehicle]\nwheelbase = \"100 in\"\n"))
	assert.Equal(t, "weighing.as-received.front", w.Front.Curb.Needs()[0].Key)
	w = vehicle.WeightsOf(packtest.Build(t, "[weighing.in]\nfront = \"100 lb\"\n"))
	assert.Equal(t, "weighing.in.when", w.Front.Curb.Needs()[0].Key)
}

// What a move shifts hangs on how far it went: the part's own place under the
// assembly cancels, and the wheelbase counts once. By hand: 400 * 10/100 = 40;
// its doubt 2 and 2 from the two tapes and 0.4 from the wheelbase, to first
// order, and a little more for the products of doubts. The part's own place
// would add 4, the wheelbase 34 on the scale's 3000.
func TestSharedLeavesCancel(t *testing.T) {
	w := vehicle.WeightsOf(packtest.Build(t, base+`
[part.x]
origin = "original"
mass = "400 ± 0 lb"
at = { from = "assembly.a", behind = "5.0 ± 0.5 in" }

[assembly.a]
at = { behind = "10.0 ± 0.5 in" }
was-at = { behind = "20.0 ± 0.5 in" }
`))
	low, high := w.Front.Predicted.Sub(w.Front.Received).Bounds()
	assert.InDelta(t, 40-4.4, low/pound, 0.25)
	assert.InDelta(t, 40+4.4, high/pound, 0.25)
}

// Each part's share goes to the part, not to the assembly it hangs on.
func TestSharesGoToTheParts(t *testing.T) {
	w := vehicle.WeightsOf(packtest.Build(t, base+`
[part.x]
origin = "donor"
mass = "400 lb"
at = { from = "assembly.a", behind = "5 in" }

[assembly.a]
at = { behind = "10 in" }

[load.y]
mass = "100 lb"
at = "part.x"
`))
	for axle, want := range map[*vehicle.State][3]float64{&w.Front: {3000, 340, 85}, &w.Rear: {2000, 60, 15}, &w.Total: {3000, 400, 100}} {
		got := map[string]float64{}
		for _, s := range axle.Loaded.Shares() {
			got[s.Entry] = s.OfValue / pound
		}
		assert.InDelta(t, want[1], got["part.x"], 1e-6)
		assert.InDelta(t, want[2], got["load.y"], 1e-6)
		assert.Zero(t, got["assembly.a"])
	}
}

// 5000 lb at 30 in, 500 lb put on at 52 in, and tires 4 in taller: by moments
// (150,000 + 26,000) / 5500 = 32 in, and 2 in for the tires.
func TestHeights(t *testing.T) {
	h := vehicle.HeightsOf(packtest.Build(t, base+`
[part.rack]
origin = "bought"
mass = "500 lb"
at = { above = "52 in" }

[load.nobody]
mass = "0 lb"
at = { above = "0 in" }

[vehicle.front]
tire = "tire.big"
tire-was = "tire.small"

[vehicle.rear]
tire = "tire.big"
tire-was = "tire.small"

[tire.small]
diameter = "29 in"

[tire.big]
size = "33x12.50R15"
`))
	assert.InDelta(t, 30, h.Was.Value()/inch, 1e-9)
	assert.InDelta(t, 34, h.Now.Value()/inch, 1e-9)
}

// A tire's diameter is the one stated, else the nominal one, with a spread; a
// size that does not tell it leaves it open.
func TestDiameter(t *testing.T) {
	b := packtest.Build(t, `
[tire.stated]
size = "LT235/85R16"
diameter = "31.7 in"
[tire.metric]
size = "LT235/85R16"
[tire.flotation]
size = "34x10.50R17LT"
[tire.numeric]
size = "7.50R16"
[tire.nothing]
pressure = "80 psi"
`)
	d := map[string]q.Quantity{}
	for _, tire := range []string{"stated", "metric", "flotation", "numeric", "nothing"} {
		d[tire] = vehicle.Diameter(b, b.Tire(ledger.Ref{Word: q.Written("tire."+tire, &q.Source{})}))
	}
	assert.InDelta(t, 31.7, d["stated"].Value()/inch, 1e-9)
	assert.InDelta(t, 31.728, d["metric"].Value()/inch, 5e-4)
	assert.InDelta(t, 34, d["flotation"].Value()/inch, 1e-9)
	low, high := d["metric"].Bounds()
	assert.InDelta(t, 0.06*15.728, (high-low)/inch, 1e-3, "3 % of the height either way")
	assert.Equal(t, "tire.numeric.diameter or a diameter for 7.50R16", d["numeric"].Needs()[0].Key)
	assert.Equal(t, "tire.nothing.diameter or tire.nothing.size", d["nothing"].Needs()[0].Key)
}

// Densities are intervals, and a fluid that no table has says so.
func TestDensity(t *testing.T) {
	for _, fluid := range []string{"gasoline", "Diesel", "B20", "coolant", "water"} {
		low, high := vehicle.Density(q.Written(fluid, &q.Source{})).Bounds()
		assert.Less(t, low, high, fluid)
		assert.Greater(t, low, 600.0, fluid)
		assert.Less(t, high, 1200.0, fluid)
	}
	assert.Equal(t, "a density for moonshine", vehicle.Density(q.Written("moonshine", &q.Source{})).Needs()[0].Key)
}

// By hand: 3000 lb in front on a track of 60 in, sides not weighed. A driver of
// 200 lb half way back and 15 in to the left puts 100 on the front axle, of which
// 100 * 15/60 = 25 lb go from right to left: 1550 + 25 on the left, and up to 75
// more, for nobody weighed the sides. Weighed, they are 20 lb apart.
func TestHeavierSide(t *testing.T) {
	const loaded = "[vehicle.front]\ntrack = \"60.0 in\"\n[load.driver]\nmass = \"200 lb\"\nat = { behind = \"50 in\", right = \"-15 in\", above = \"40 in\" }\n"
	text := strings.NewReplacer("± 1 in", "± 0 in", "± 5 lb", "± 0 lb").Replace(base)
	b := packtest.Build(t, text+loaded)
	side := vehicle.HeavierSide(b, b.Front())
	assert.InDelta(t, 1575, lb(side), 1e-6)
	_, high := side.Bounds()
	assert.InDelta(t, 1650, high/pound, 5)
	b = packtest.Build(t, text+"front-left = \"1510 ± 0 lb\"\nfront-right = \"1490 ± 0 lb\"\n"+loaded)
	assert.InDelta(t, 1585, lb(vehicle.HeavierSide(b, b.Front())), 1e-6)
}

// A part that is counted in another's mass has none of its own, on or off, also
// when it went on after the weighing.
func TestCountedIn(t *testing.T) {
	engine := "[part.engine]\norigin = \"donor\"\nmass = \"600 lb\"\nat = { behind = \"0 in\", above = \"30 in\" }\n"
	without := vehicle.WeightsOf(packtest.Build(t, base+engine)).Total
	with := vehicle.WeightsOf(packtest.Build(t, base+engine+"[part.pump]\norigin = \"donor\"\ncounted-in = \"part.engine\"\n[part.old]\norigin = \"original\"\nfitted = false\ncounted-in = \"part.engine\"\n")).Total
	assert.InDelta(t, 5600, lb(with.Curb), 1e-6)
	assert.InDelta(t, lb(without.Curb), lb(with.Curb), 1e-9)
}

package job_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/ledger/revision"
)

// of lays down a build and a shop's file, and reads the job as of a day.
func of(t *testing.T, asOf, shop, build string) *job.Job {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, ".git"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".git", "HEAD"), nil, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.toml"), []byte(shop), 0o644))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "van"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "van", "build.toml"), []byte(build), 0o644))
	place, err := revision.Open(filepath.Join(dir, "van"))
	require.NoError(t, err)
	t.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	return job.Of(b, asOf)
}

func entry(t *testing.T, j *job.Job, path string) *ledger.Entry {
	t.Helper()
	e, ok := j.Entry(path)
	require.True(t, ok, path)
	return e
}

// money is a figure as a shop may write it, and its cents by an independent
// reckoning: value, least and most.
type money struct {
	text           string
	mid, low, high int64
}

// writeMoney makes one of the ways to write money: exact, an estimate (good to
// ten percent), with a tolerance, or a range.
func writeMoney(rnd *rand.Rand) money {
	whole := int64(10 + rnd.IntN(4000))
	cents := int64(rnd.IntN(100))
	switch rnd.IntN(4) {
	case 0:
		return money{fmt.Sprintf("%d.%02d USD", whole, cents), 100*whole + cents, 100*whole + cents, 100*whole + cents}
	case 1:
		return money{fmt.Sprintf("~%d USD", whole), 100 * whole, 90 * whole, 110 * whole}
	case 2:
		half := int64(1 + rnd.IntN(9))
		return money{fmt.Sprintf("%d ± %d USD", whole, half), 100 * whole, 100 * (whole - half), 100 * (whole + half)}
	}
	more := 2 * int64(1+rnd.IntN(200)) // even: the middle is a whole number
	return money{fmt.Sprintf("%d to %d USD", whole, whole+more), 100*whole + 50*more, 100 * whole, 100 * (whole + more)}
}

// TestCostAgreesWithCents: a hundred ledgers at random, added up a second time
// here in whole cents and tenths of hours. The sums are the same to the cent,
// and the interval is that of the corners: all at their least, or all at their
// most, sales the other way round.
func TestCostAgreesWithCents(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 2026))
	for range 100 {
		var b strings.Builder
		var parts, outside, sold, total [3]int64
		add := func(to *[3]int64, m money, n int64) {
			for i, v := range []int64{m.mid, m.low, m.high} {
				to[i] += n * v
			}
		}
		quoted := int64(rnd.IntN(60000))
		rate := int64(4000 + rnd.IntN(9000)) // cents an hour
		fmt.Fprintf(&b, "[build]\nquoted = \"%d USD\"\n", quoted)
		for i := range 1 + rnd.IntN(8) {
			m, n := writeMoney(rnd), int64(1+rnd.IntN(4))
			fmt.Fprintf(&b, "[part.p%d]\norigin = \"bought\"\nprice = \"%s\"\ncount = %d\nsystem = \"%s\"\n", i, m.text, n, ledger.SystemNames()[rnd.IntN(20)])
			add(&parts, m, n)
		}
		for i := range rnd.IntN(3) {
			m := writeMoney(rnd)
			fmt.Fprintf(&b, "[hose.h%d]\ncarries = \"coolant\"\nprice = \"%s\"\n", i, m.text)
			add(&parts, m, 1)
		}
		for i := range rnd.IntN(3) {
			m := writeMoney(rnd)
			fmt.Fprintf(&b, "[part.s%d]\norigin = \"original\"\nfitted = false\nfate = \"sold\"\nsold-for = \"%s\"\n", i, m.text)
			add(&sold, m, 1)
		}
		for i := range rnd.IntN(3) {
			m := writeMoney(rnd)
			fmt.Fprintf(&b, "[work.o%d]\nby = \"the pump shop\"\nprice = \"%s\"\n", i, m.text)
			add(&outside, m, 1)
		}
		// Hours in tenths: done takes what was spent; to do takes the plan, or
		// what is spent where that is more, end by end.
		var tenths [3]int64
		steps := rnd.IntN(5)
		for i := range steps {
			plan, half, spent := int64(20+rnd.IntN(200)), int64(1+rnd.IntN(15)), int64(rnd.IntN(250))
			fmt.Fprintf(&b, "[work.w%d]\nby = \"shop\"\nhours = \"%d.%d ± %d.%d h\"\nspent = \"%d.%d ± 0 h\"\n", i, plan/10, plan%10, half/10, half%10, spent/10, spent%10)
			if rnd.IntN(2) == 0 {
				b.WriteString("date = 2026-02-01\n")
				plan, half = 0, 0
			}
			tenths[0] += max(plan, spent)
			tenths[1] += max(plan-half, spent)
			tenths[2] += max(plan+half, spent)
		}
		for i := range total {
			other := [3]int64{0, 2, 1}[i] // of what is taken off, the other end
			total[i] = 10*(parts[i]+outside[i]-sold[other]) + rate*tenths[i]
		}
		j := of(t, "2026-03-01", fmt.Sprintf("[shop]\ncurrency = \"USD\"\nrate = \"%d.%02d USD/h\"\n", rate/100, rate%100), b.String())
		c, faults := job.CostOf(j)
		require.Empty(t, faults)
		low, high := c.Total.Cost.Bounds()
		for i, got := range []float64{c.Total.Cost.Value(), low, high} {
			assert.InDelta(t, float64(total[i])/1000, got, 0.001, "%s\n%d", b.String(), i)
		}
		low, high = c.Left.Bounds()
		assert.InDelta(t, float64(quoted)-float64(total[0])/1000, c.Left.Value(), 0.001)
		assert.InDelta(t, float64(quoted)-float64(total[2])/1000, low, 0.001)
		assert.InDelta(t, float64(quoted)-float64(total[1])/1000, high, 0.001)

		// The systems add up to the whole, and the doubts to half its width.
		sum, half := 0.0, 0.0
		for _, l := range c.Lines {
			if l.Cost.Known() {
				sum += l.Cost.Value()
			}
		}
		assert.InDelta(t, c.Total.Cost.Value(), sum, 1e-6)
		for _, d := range c.Doubts() {
			half += d.Half
		}
		assert.InDelta(t, (high-low)/2, half, 1e-6)
	}
}

// TestCostByHand: one ledger reckoned on paper.
//
//	parts     4 x 12.55 + 300                       =   350.20
//	outside   ~500, so 450 to 550                   =   500
//	hours     done 3 (plan 2), to do 6 ± 1 at 95    =   855 (760 to 950)
//	sold      200                                   =  -200
//	total     350.20 + 500 + 855 - 200              =  1505.20 (1360.20 to 1650.20)
//	left      2000 - 1505.20                        =   494.80
func TestCostByHand(t *testing.T) {
	j := of(t, "2026-03-01", "[shop]\ncurrency = \"USD\"\nrate = \"95 USD/h\"\n", `
[build]
quoted = "2000 USD"
[part.bolt]
origin = "bought"
role = "engine-mount"
count = 4
price = "12.55 USD"
[part.core]
origin = "bought"
role = "radiator"
price = "300 USD"
[part.wrong-core]
origin = "bought"
role = "radiator"
price = "280 USD"
fitted = false
fate = "returned"
[part.v8]
origin = "original"
role = "engine"
fitted = false
fate = "sold"
sold-for = "200 USD"
[part.fan]
origin = "bought"
role = "fan"
[part.tray]
origin = "made"
role = "bracket"
[part.box]
origin = "donor"
donor = "donor.truck"
role = "transmission"
[donor.truck]
[hose.mine]
carries = "coolant"
[work.shaft]
parts = ["part.core"]
by = "the driveline shop"
price = "~500 USD"
[work.old]
parts = ["part.bolt"]
hours = "2 h"
spent = "3 ± 0 h"
date = 2026-02-01
[work.new]
parts = ["part.core"]
hours = "6 ± 1 h"
[work.blank]
parts = ["part.core"]
`)
	c, faults := job.CostOf(j)
	require.Empty(t, faults)
	assert.Equal(t, "USD", c.Currency)
	assert.InDelta(t, 350.20, c.Total.Parts.Value(), 1e-9)
	assert.InDelta(t, 500, c.Total.Outside.Value(), 1e-9)
	assert.InDelta(t, 855, c.Total.Labor.Value(), 1e-9)
	assert.InDelta(t, 200, c.Total.Sold.Value(), 1e-9)
	assert.Equal(t, "1505 ± 145 USD", c.Money(c.Total.Cost))
	assert.InDelta(t, 494.80, c.Left.Value(), 1e-9)
	var systems []string
	for _, l := range c.Lines {
		systems = append(systems, l.System+" "+c.Money(l.Cost))
	}
	assert.Equal(t, []string{"engine -200 USD", "mounts 335.20 USD", "cooling 1370 ± 145 USD"}, systems, "bolt 50.20 and 3 h; core 300, shaft 500, 6 h")
	d := c.Doubts()
	require.Len(t, d, 2)
	assert.Equal(t, "work.new.hours", d[0].Path, "95 of the 145 in doubt")
	assert.InDelta(t, 95.0/145, d[0].Share, 1e-9)
	assert.Equal(t, "work.shaft.price", d[1].Path)

	var lacks []string
	for _, l := range c.Lacks {
		lacks = append(lacks, l.Path+": "+l.What)
	}
	assert.ElementsMatch(t, []string{
		"part.fan: " + job.LacksPrice, "part.tray: " + job.LacksMade, "donor.truck: " + job.LacksDonor, "hose.mine: " + job.LacksHose, "work.blank: " + job.LacksHours,
	}, lacks)
	require.Len(t, c.Back, 1)
	assert.Equal(t, "part.wrong-core", c.Back[0].Path())
	require.Len(t, c.Over, 1)
	assert.Equal(t, "work.old", c.Over[0].Path(), "3 h spent of 2, which may be 2 1/2 at most")
}

// One currency is never turned into another, and none is taken for another.
func TestCostInTwoCurrencies(t *testing.T) {
	build := "[part.a]\nprice = \"5 EUR\"\n[part.b]\nprice = \"5 USD\"\n[work.a]\nprice = \"7 CAD\"\n"
	_, faults := job.CostOf(of(t, "", "[shop]\ncurrency = \"USD\"\n", build))
	require.Len(t, faults, 2)
	assert.Contains(t, faults[0].String(), "build.toml:2:1: part.a.price is in EUR, and the build's money in USD")
	assert.Contains(t, faults[1].String(), "build.toml:6:1: work.a.price is in CAD")
	_, faults = job.CostOf(of(t, "", "", build))
	require.Len(t, faults, 2, "the first that is written counts")
}

// Without a rate, hours are told and not counted, and without a quote nothing
// is left; both are said to be lacking.
func TestCostOfLittle(t *testing.T) {
	c, _ := job.CostOf(of(t, "", "", "[work.a]\nhours = \"6 ± 1 h\"\n"))
	assert.False(t, c.Total.Cost.Known())
	assert.InDelta(t, 6*3600, c.Total.Planned.Value(), 1e-6)
	assert.Len(t, c.Lacking(job.LacksRate), 1)
	assert.Len(t, c.Lacking(job.LacksQuoted), 1)
	assert.Empty(t, c.Doubts())
	c, _ = job.CostOf(of(t, "", "", ""))
	assert.Empty(t, c.Lines)
	assert.False(t, c.Left.Known())
	assert.True(t, math.IsNaN(c.Left.Value()))
}

// TestSteps: what can start, and what the rest waits for.
func TestSteps(t *testing.T) {
	j := of(t, "2026-03-01", "", `
[part.core]
origin = "bought"
role = "radiator"
ordered = 2026-02-20
supplier = "Threlbane"
[part.fan]
origin = "bought"
role = "fan"
order-as = "a fan"
[part.here]
origin = "bought"
ordered = 2026-02-01
arrived = 2026-02-10
[part.later]
origin = "bought"
ordered = 2026-02-01
arrived = 2026-03-02
[part.plate]
origin = "made"
[part.on]
origin = "bought"
[work.make]
title = "Make the plate"
parts = ["part.plate"]
did = "made"
stage = "assembly"
[work.hang]
title = "Hang the core"
parts-in-hand = ["part.core", "part.here", "part.plate"]
after = ["work.clean", "work.make"]
stage = "assembly"
[work.clean]
parts = ["part.here", "part.on"]
did = "cleaned"
date = 2026-02-11
[work.first]
title = "First"
stage = "plan"
parts-in-hand = ["part.here"]
[work.wait-for-tomorrow]
title = "Tomorrow"
parts-in-hand = ["part.later"]
[work.ring-a]
after = ["work.ring-b"]
[work.ring-b]
after = ["work.ring-a"]
[work.fan]
parts = ["part.fan"]
stage = "mock-up"
[hose.a]
carries = "coolant"
order-as = "a hose"
`)
	var order []string
	states := map[string]string{}
	for _, s := range j.Steps() {
		order = append(order, s.Path())
		states[s.Path()] = s.Words()
	}
	assert.Equal(t, []string{"work.first", "work.fan", "work.make", "work.hang"}, order[:4], "by stage, and what comes before first")
	assert.Equal(t, map[string]string{
		"work.first": "can start", "work.fan": "can start", "work.make": "can start", "work.clean": "done 2026-02-11",
		"work.hang":              "waits for work.make, part.core, part.plate",
		"work.wait-for-tomorrow": "waits for part.later",
		"work.ring-a":            "waits for work.ring-b", "work.ring-b": "waits for work.ring-a",
	}, states)
	assert.Equal(t, []job.Awaited{{"part.core", "ordered 2026-02-20 (9 days) from Threlbane"}, {"part.plate", "to be made"}}, j.Step(entryWork(j, "work.hang")).Lacks)

	var orders []string
	for _, o := range j.Orders() {
		by := ""
		if o.NeededKnown {
			by = " by " + o.NeededBy.String()
		}
		orders = append(orders, o.Entry.Path()+": "+o.State+by)
	}
	assert.Equal(t, []string{"part.fan: not ordered by mock-up", "hose.a: not ordered", "part.core: ordered 2026-02-20 (9 days) by assembly", "part.later: ordered 2026-02-01 (28 days)"}, orders)
	for path, want := range map[string]string{"part.here": "arrived 2026-02-10", "part.core": "ordered 2026-02-20 (9 days)", "part.fan": "not ordered", "part.plate": "to be made", "work.clean": "done 2026-02-11"} {
		assert.Equal(t, want, j.State(entry(t, j, path)), path)
	}
}

func entryWork(j *job.Job, path string) *ledger.Work {
	for _, w := range j.Works() {
		if w.Path() == path {
			return w
		}
	}
	return nil
}

// A shop that writes down no orders has none waiting.
// What a build was begun with is not there yet: nothing can be done to it but make it.
func TestStepsOfABuildBegunFromAnother(t *testing.T) {
	const build = `
[build]
from = "0123456789ab:builds/other"
[donor.van]
make = "A"
[part.engine]
origin = "donor"
[part.pump]
origin = "donor"
donor = "donor.van"
[part.shaft]
origin = "original"
[part.belt]
origin = "bought"
[part.tray]
origin = "made"
[work.injectors]
parts = ["part.engine"]
did = "renewed"
[work.bench]
parts = ["part.pump", "part.shaft"]
did = "tested"
[work.bolts]
parts = ["part.belt", "part.tray"]
parts-in-hand = ["part.belt"]
did = "torqued"
[work.tray]
parts = ["part.tray"]
did = "made"
[work.later]
parts = ["part.belt"]
title = "Find out about the belt"
`
	words := func(build string) map[string]string {
		out := map[string]string{}
		for _, s := range of(t, "2026-06-01", "", build).Steps() {
			out[strings.TrimPrefix(s.Path(), "work.")] = s.Words()
		}
		return out
	}
	want := map[string]string{"injectors": "waits for part.engine", "bench": "can start", "bolts": "waits for part.belt, part.tray", "tray": "can start", "later": "can start"}
	assert.Equal(t, want, words(build))
	want["injectors"] = "can start"
	assert.Equal(t, want, words(strings.Replace(build, `origin = "donor"`, "origin = \"donor\"\ndonor = \"donor.van\"", 1)))
	want["bolts"], want["tray"] = "can start", "done 2026-05-20"
	assert.Equal(t, want, words(strings.NewReplacer(`origin = "donor"`+"\n[part.pump]", "origin = \"donor\"\ndonor = \"donor.van\"\n[part.pump]",
		`origin = "bought"`, "origin = \"bought\"\narrived = 2026-05-01", `did = "made"`, "did = \"made\"\ndate = 2026-05-20").Replace(build)))
}

func TestNoOrdersKept(t *testing.T) {
	j := of(t, "", "", "[part.a]\norigin = \"bought\"\norder-as = \"x\"\n[work.a]\nparts-in-hand = [\"part.a\"]\n")
	assert.Empty(t, j.Orders())
	assert.Equal(t, 1, j.Undated(), "and they are counted")
	assert.Equal(t, "can start", j.Step(entryWork(j, "work.a")).Words())
	j = of(t, "", "", "[part.a]\norigin = \"bought\"\n[part.b]\norigin = \"bought\"\nordered = 2026-01-01\n[part.c]\norigin = \"made\"\n")
	assert.Len(t, j.Orders(), 2)
	assert.Zero(t, j.Undated())
}

func TestFind(t *testing.T) {
	j := of(t, "", "[shop]\nname = \"Lift pump and Sons\"\n", `
[owner]
name = "Ann Liftpump"
[part.feed]
name = "Lift pump, diaphragm"
order-as = "TR 3128-B"
price = "77 USD"
[hose.a]
to = "part.feed"
[part.other]
why = "the lift-pump was in the way"
[vehicle]
vin = "LIFTPUMP"
`)
	say := func(word string) (out []string) {
		for _, f := range job.Find(j, word) {
			out = append(out, fmt.Sprint(f.Path, f.Keys, f.Itself))
		}
		return out
	}
	assert.Equal(t, []string{"part.feed[name] true", "part.other[why] false"}, say("LIFT PUMP"))
	assert.Equal(t, []string{"part.feed[name] true", "part.other[why] false"}, say("liftpump"), "no VIN, owner or shop")
	assert.Equal(t, []string{"part.feed[order-as] true"}, say("tr3128b"))
	assert.Equal(t, []string{"part.feed[] true", "hose.a[to] false"}, say("part.feed"))
	assert.Empty(t, say("77"))
	assert.Empty(t, say(" "))
}

// Every list has as many cells as it has columns, and no list has money.
func TestListsAreWhole(t *testing.T) {
	j := of(t, "2026-03-01", "", `
[part.a]
origin = "bought"
ordered = 2026-02-01
price = "4711 USD"
wears = true
[part.b]
origin = "donor"
donor = "donor.d"
fitted = false
fate = "sold"
sold-for = "4711 USD"
[donor.d]
[hose.h]
wears = true
price = "4711 USD"
[circuit.c]
fuse = "15 A"
gauge = "12 AWG"
[plug.p]
pins = { 2 = { to = "part.a", circuit = "circuit.c" }, 12 = { to = "part.a" } }
[work.w]
price = "4711 USD"
hours = "47.11 h"
spent = "47.11 h"
[document.d]
kind = "photo"
`)
	want := map[string]string{"order": "part.a", "custom": "part.a", "donor": "part.b", "removed": "part.b", "fuses": "circuit.c", "wires": "circuit.c plug.p:2 plug.p:12",
		"hoses": "hose.h", "wears": "part.a hose.h", "work": "work.w", "documents": "document.d"}
	for _, k := range job.Kinds {
		var paths []string
		for _, r := range k.Rows(j) {
			assert.Len(t, r.Own, len(k.Columns), k.Name)
			paths = append(paths, r.Path)
			assert.NotContains(t, fmt.Sprint(r.Name, r.State, r.OrderAs, r.Own), "47", k.Name)
		}
		assert.ElementsMatch(t, strings.Fields(want[k.Name]), paths, k.Name)
	}
}

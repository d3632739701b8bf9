package street

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

var given, in = packtest.Given, packtest.In

// Common practice, no source; by hand: a tire of 10.5 in for one of 9.3, and the
// track an inch wider, moves the face out 1.1 in a side. Of 1 1/2 in that leaves
// 0.4.
func TestSideways(t *testing.T) {
	dy := Sideways(Grown(given("67.5 in"), given("66.5 in")), Grown(given("10.5 in"), given("9.3 in")))
	assert.InDelta(t, 1.1, in(t, dy, "in"), 1e-9)
	assert.InDelta(t, 0.4, in(t, Covered(given("1.5 in"), dy), "in"), 1e-9)
}

// A wider tire on a track that shrank by as much stays where it was; the change
// turned round goes the other way.
func TestSidewaysCancels(t *testing.T) {
	d, e := given("1.2 in"), given("0.7 in")
	assert.InDelta(t, 0, Sideways(d, d.Neg()).Value(), 1e-12)
	assert.InDelta(t, -Sideways(d, e).Value(), Sideways(d.Neg(), e.Neg()).Value(), 1e-12)
}

// 49 CFR 571.108, Tables I-a to I-c: the headlamp's row as read, stop lamp and
// turn signal second-hand, the others from memory.
func TestLampHeights(t *testing.T) {
	for kind, in22 := range map[string][2]float64{
		"headlamp": {22, 54}, "tail": {15, 72}, "stop": {15, 72}, "turn-signal": {15, 83}, "parking": {15, 72}, "reflex-reflector": {15, 60},
	} {
		w := q.Written(kind, nil)
		assert.InDelta(t, in22[0], in(t, height(w, "lowest"), "in"), 1e-9, kind)
		assert.InDelta(t, in22[1], in(t, height(w, "highest"), "in"), 1e-9, kind)
	}
	marker := q.Written("side-marker", nil)
	assert.InDelta(t, 15, in(t, height(marker, "lowest"), "in"), 1e-9)
	assert.False(t, height(marker, "highest").Known(), "the text has no highest for it")
	assert.False(t, headlamps.Cite.Memory)
	assert.True(t, quoted.Cite.SecondHand)
	assert.True(t, lamps.Cite.Memory)
}

// 49 CFR 571.111, second-hand and from memory, printed in two units: 19.5 in² is 126 cm² and 50
// in² is 323. 10,000 lb itself is the lighter.
func TestMirrorArea(t *testing.T) {
	assert.InDelta(t, 126, mirrorArea(given("10000 lb")).Value()*1e4, 0.5)
	assert.InDelta(t, 19.5, in(t, mirrorArea(given("8800 lb")), "in2"), 1e-9)
	assert.InDelta(t, 323, mirrorArea(given("10001 lb")).Value()*1e4, 0.5)
	assert.InDelta(t, 50, in(t, mirrorArea(given("14000 lb")), "in2"), 1e-9)
}

// US EPA, Engine Switching Fact Sheet and Tampering Policy, looked up; its
// heavy-duty paragraph with the 8,500 lb, and California, from memory.
func TestEngineSwitchingConfidence(t *testing.T) {
	assert.False(t, data.Source("epa-switching").Memory)
	assert.False(t, data.Source("epa-policy").Memory)
	assert.True(t, data.Source("epa-heavy").Memory)
	assert.True(t, data.Source("referee").Memory)
	assert.InDelta(t, 8500, in(t, data.Value("light-duty-rating"), "lb"), 1e-9)
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

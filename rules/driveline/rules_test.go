package driveline

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

const marten = "../../examples/tamarack/builds/marten"

// byName finds a build's shafts as they lie now.
func byName(b *ledger.Build) map[string]shaft {
	out := map[string]shaft{}
	for _, s := range shafts(b) {
		out[s.Path()] = s
	}
	return out
}

// Move marten's powertrain half an inch and every shaft reading taken before
// the move follows by itself: back, the rear shaft is shorter by as much as
// its slope lets it be, steeper, and its slip is in deeper; up, it is steeper.
func TestMartenMoves(t *testing.T) {
	before := packtest.Load(t, marten)
	for key, to := range map[string]string{"at.behind": "17 in", "at.above": "28 in", "at.right": "1 in"} {
		after, faults := before.WithValue("assembly.powertrain", key, to)
		require.Empty(t, faults)
		moved := 0
		for name, was := range byName(before) {
			if !was.BeforeMove.Holds() {
				continue
			}
			moved++
			is := byName(after)[name]
			inches := func(s shaft) float64 { return in(t, s.length, "in") }
			assert.InDelta(t, inches(is)-inches(was), in(t, is.grown, "in")-in(t, was.grown, "in"), 1e-9, "%s: slip follows length", name)
			switch key {
			case "at.behind":
				assert.InDelta(t, -0.5, inches(is)-inches(was), 0.005, name)
				assert.Greater(t, is.slope.Value(), was.slope.Value(), name)
			case "at.above":
				assert.InDelta(t, 0.05, inches(is)-inches(was), 0.01, "%s: half an inch times the sine of 5.7 deg", name)
				assert.InDelta(t, 0.43, in(t, is.slope, "deg")-in(t, was.slope, "deg"), 0.01, "%s: half an inch in 67", name)
			case "at.right":
				assert.InDelta(t, -0.43, in(t, is.plan, "deg")-in(t, was.plan, "deg"), 0.01, name)
			}
			for i := range was.joints {
				if was.joints[i].here.Holds() {
					assert.NotEqual(t, was.joints[i].angle().Value(), is.joints[i].angle().Value(), "%s %s", name, was.joints[i].name)
				}
			}
			assert.NotEqual(t, was.resultant().Value(), is.resultant().Value(), name)
			assert.NotEqual(t, was.critical(was.length).Value(), is.critical(is.length).Value(), name)
		}
		assert.NotZero(t, moved, "marten has shafts read before the move")
	}
}

// A shaft that nothing moved under is as it was read, and one read at the old
// place of an assembly whose move the ledger does not know is read again.
func TestCarriedOnlyByAMove(t *testing.T) {
	const ends = `
[part.case]
role = "transfer-case"
at = { from = "assembly.a", behind = "30 in" }
[part.axle]
role = "rear-axle"
at = { behind = "120 in" }
[assembly.a]
at = { behind = "20 in", right = "0 in", above = "20 in" }
`
	const rear = `
[shaft.rear]
from = "part.case"
to = "part.axle"
length = "60 in"
joints = 2
slopes = { shaft = "0.0 deg" }
plan = { shaft = "0.0 deg" }
`
	s := byName(packtest.Build(t, ends+rear))["shaft.rear"]
	assert.True(t, s.carried.Fails())
	assert.InDelta(t, 60, in(t, s.length, "in"), 1e-12)
	s = byName(packtest.Build(t, ends+rear+"before-move = true\n"))["shaft.rear"]
	assert.True(t, s.carried.Holds())
	assert.Contains(t, s.length.Needs()[0].Key, "was-at")
	const was = "was-at = { behind = \"21.75 in\", right = \"0 in\", above = \"20 in\" }\n"
	s = byName(packtest.Build(t, ends+was+rear+"before-move = true\n"))["shaft.rear"]
	assert.InDelta(t, 61.75, in(t, s.length, "in"), 1e-9, "1 3/4 in forward")
	s = byName(packtest.Build(t, ends+"measured-at = { behind = \"19 in\", right = \"0 in\", above = \"20 in\" }\n"+rear))["shaft.rear"]
	assert.InDelta(t, 59, in(t, s.length, "in"), 1e-9, "an inch back since it was taped")
	assert.True(t, s.carried.Holds())
}

// Three joints: the middle one counts between the tubes, and with the yokes of
// each tube in line signs take turns. By hand, 3, 1 and 2 deg make
// sqrt(9 - 1 + 4), out of line sqrt(9 + 1 + 4).
func TestThreeJoints(t *testing.T) {
	text := func(phased string) string {
		return `
[shaft.rear]
joints = 3
phased = ` + phased + `
slopes = { from = "0.0 deg", shaft = "3.0 deg", second = "4.0 deg", to = "2.0 deg" }
plan = { from = "0.0 deg", shaft = "0.0 deg", second = "0.0 deg", to = "0.0 deg" }
`
	}
	for phased, square := range map[string]float64{"true": 12, "false": 14} {
		s := byName(packtest.Build(t, text(phased)))["shaft.rear"]
		r := in(t, s.resultant(), "deg")
		assert.InDelta(t, square, r*r, 1e-9)
		assert.InDelta(t, 1, in(t, s.joints[1].angle(), "deg"), 1e-9)
	}
}

// A constant-velocity joint at the driving end leaves the plain one at the
// other end alone, whatever the yokes.
func TestOnePlainJoint(t *testing.T) {
	s := byName(packtest.Build(t, `
[shaft.front]
joints = "cv-plain"
slopes = { shaft = "-8.0 deg", to = "-7.0 deg" }
plan = { shaft = "0.0 deg", to = "0.0 deg" }
`))["shaft.front"]
	assert.InDelta(t, 1, in(t, s.resultant(), "deg"), 1e-9)
}

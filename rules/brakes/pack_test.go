package brakes

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/lint"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

// That it holds with a driver aboard, that 393.52's deceleration can be reached,
// and the order of locking to 0.5 g are demanded; holding at the gross rating and
// the order to 0.8 g are advice, and so is 0.5 g of the vehicle's own brakes whose
// order turns where it did.
func TestMustsAndShoulds(t *testing.T) {
	should := map[string]map[string]bool{
		"testdata/parking/fail-advice-empty": {"held": false, "driver aboard": false, "at the gross rating": true},
		"testdata/balance/fail-advice-order": {
			"before a wheel locks, empty": false, "before a wheel locks, loaded": false,
			"front wheels lock first to 0.5 g, empty": true, "front wheels lock first to 0.8 g, loaded": true,
		},
		"testdata/balance/fail-outdated": {"front wheels lock first to 0.5 g, empty": false, "front wheels lock first to 0.8 g, empty": true},
	}
	for folder, want := range should {
		rep := lint.Check(packtest.Load(t, folder), []*lint.Pack{Pack}, lint.Options{})
		got := map[string]bool{}
		for _, r := range rep.Results {
			if _, ok := want[r.Aspect]; ok {
				got[r.Aspect] = r.Should
			}
		}
		assert.Equal(t, want, got, folder)
	}
}

// The failing must of a case is the one that its comment tells of.
func TestRearLocksTooSoon(t *testing.T) {
	rep := lint.Check(packtest.Load(t, "testdata/balance/fail"), []*lint.Pack{Pack}, lint.Options{})
	for _, r := range rep.Results {
		if r.Aspect == "before a wheel locks, empty" {
			assert.Equal(t, lint.Fail, r.Verdict)
			// by hand: 0.8 * 0.4 / (0.5 + 0.8 * 28/130) = 0.476 g
			assert.InDelta(t, 0.476, r.Value.Div(gravity).Value(), 5e-4)
		}
	}
}

package vehicle_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
	"fishplate/rules/vehicle"
)

func answer(says string, entries int) *ledger.Answer {
	return &ledger.Answer{Says: q.Written(says, &q.Source{}), Entries: make([]ledger.Ref, entries)}
}

// What people write when they have nothing to say, of what was tried.
func TestAnswersThatSayNothing(t *testing.T) {
	b := packtest.Build(t, "[work.w]\nby = \"Teo Masz, the pump shop\"\n")
	for _, says := range []string{
		"ask Teo", "see phone", "see my phone, the photos of March", "later", "ok", "?", "OK.", "yes", "yes, works", "looks fine to me", "Teo knows", "Teo says it's fine", "Teo tried it Tuesday",
		"tried it, no problems", "will do it tomorrow", "works great!", "same as usual", "done", "tested OK", "ask him about the valve and the cable", "TBD, waiting for the valve", "waiting for the valve to come", "- -", "...", "checked by Teo",
	} {
		assert.False(t, vehicle.Says(b, answer(says, 0), vehicle.Tried), says)
	}
	for _, says := range []string{"ok", "see phone", "yes, it works", "done, all good", "Teo did it"} {
		assert.False(t, vehicle.Says(b, answer(says, 2), vehicle.Tried), "%s, with entries", says)
	}
	assert.False(t, vehicle.Says(b, answer("Teo knows", 0), vehicle.Must))
	assert.False(t, vehicle.Says(b, answer("ask Teo", 0), vehicle.Any))
	assert.False(t, vehicle.Says(b, answer("later", 0), vehicle.Any))
}

// What says something, though in few words.
func TestAnswersThatSaySomething(t *testing.T) {
	b := packtest.Build(t, "[work.w]\nby = \"Teo Masz, the pump shop\"\n")
	for _, says := range []string{
		"Snaps shut on either spring.", "- meter on the seat, twenty minutes: nothing", "Nothing: the lever is in neutral by habit.", "Pull knob under the dash", "it holds 24 % both ways",
		"No smell, no reading.", "No leak after ten hard pedals", "See-through hose showed no bubble", "pump shop did it", "Пробовали дважды", "试过两次",
	} {
		assert.True(t, vehicle.Says(b, answer(says, 0), vehicle.Tried), says)
	}
	assert.True(t, vehicle.Says(b, answer("Manual gearbox now.", 1), vehicle.Must))
	assert.True(t, vehicle.Says(b, answer("Clutch switch.", 0), vehicle.Must))
	assert.True(t, vehicle.Says(b, answer("Cable, as before.", 0), vehicle.Must))
	assert.True(t, vehicle.Says(b, answer("Truck has no air conditioning.", 0), vehicle.Must))
	assert.True(t, vehicle.Says(b, answer("See the drawing of the valve.", 1), vehicle.Tried))
	assert.True(t, vehicle.Says(b, answer("it does", 0), vehicle.Any))
}

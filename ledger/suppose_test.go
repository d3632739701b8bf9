package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
)

// A sum of a mass and a length behind a question is found by answering it: left
// open, nobody goes that way.
func TestPhantomsWhere(t *testing.T) {
	wrong := func(b *Build) {
		p := b.Parts()[0]
		if p.Role.Is("radiator").Holds() || p.Fitted.Fails() {
			p.Mass.Add(p.At.Behind)
		}
	}
	assert.NotPanics(t, func() { wrong(Phantoms()) })
	for _, yes := range []bool{true, false} {
		b := PhantomsWhere(yes)
		assert.Panics(t, func() { wrong(b) }, "%v", yes)
		assert.True(t, b.IsPhantom())
		p := b.Parts()[0]
		for _, truth := range []q.Truth{p.Role.Is("x"), p.Role.Required(), p.Fitted, p.At.From.Is("x"), b.Vehicle().Drive.Is("rear"), b.Part(p.At.From).Fitted, p.Needs[AnyHookup].From.Is("x"), p.Role.Same(p.Origin)} {
			assert.True(t, truth.Known())
			assert.Equal(t, yes, truth.Holds())
		}
		assert.False(t, p.Mass.Known())
		assert.True(t, p.Role.Given().Fails(), "nothing stands there")
	}
}

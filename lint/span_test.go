package lint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/quantity"
	"fishplate/lint"
)

func TestSpan(t *testing.T) {
	of := func(text string) quantity.Quantity { return quantity.Cited("given", text, "the example") }
	share := func(sense lint.Sense, value, limit, upper string) float64 {
		r := &lint.Result{Sense: sense, Limit: of(limit)}
		if sense == lint.AtMost {
			r.Margin = of(limit).Sub(of(value))
		} else {
			r.Margin = of(value).Sub(of(limit))
		}
		if upper != "" {
			r.Upper = of(upper)
		}
		span, ok := r.Span()
		require.True(t, ok)
		return r.Margin.Value() / span
	}
	assert.InDelta(t, 0.05, share(lint.AtMost, "95 degC", "100 degC", ""), 1e-9, "and not 1.3 % of 373 K")
	assert.InDelta(t, 0.05, share(lint.AtMost, "203 degF", "212 degF", ""), 1e-9, "nor another by the scale")
	assert.InDelta(t, 0.05, share(lint.AtLeast, "-5 degC", "-10 degC", ""), 1e-9, "below freezing too")
	assert.InDelta(t, -0.1, share(lint.AtMost, "10 degC", "0 degC", ""), 1e-9, "and at it")
	assert.InDelta(t, 0.25, share(lint.AtMost, "15 K", "20 K", ""), 1e-9, "a rise has a zero of its own")
	assert.InDelta(t, 0.1, share(lint.AtMost, "900 lb", "1000 lb", ""), 1e-9)
	assert.InDelta(t, 0.05, share(lint.Between, "30 in", "28 in", "40 in"), 1e-9)

	_, ok := (&lint.Result{Sense: lint.AtMost, Limit: of("0 in"), Margin: of("1 in")}).Span()
	assert.False(t, ok, "a limit of nothing")
	_, ok = (&lint.Result{Sense: lint.Holds}).Span()
	assert.False(t, ok, "what compares nothing")
}

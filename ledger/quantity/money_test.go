package quantity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
)

// Prices are in the codes of ISO 4217 (list one: USD, EUR and JPY are on it):
// what is written is exact, an estimate is not, and AWG is a wire size.
func TestMoney(t *testing.T) {
	for text, want := range map[string][3]float64{
		"1400 USD": {1400, 1400, 1400}, "0.35 EUR": {0.35, 0.35, 0.35}, "~1400 USD": {1400, 1260, 1540},
		"1200 to 1600 USD": {1400, 1200, 1600}, "1400 ± 50 JPY": {1400, 1350, 1450},
	} {
		r, err := q.Parse(text, q.Money, q.Options{})
		require.NoError(t, err, text)
		assert.InDeltaSlice(t, want[:], []float64{r.Value, r.Low, r.High}, 1e-9, text)
		again, err := q.Parse(r.Spelling, q.Money, q.Options{})
		require.NoError(t, err, r.Spelling)
		assert.Equal(t, r.Value, again.Value)
	}
	rate, err := q.Parse("95 USD/h", q.MoneyRate, q.Options{})
	require.NoError(t, err)
	hours, err := q.Parse("12 ± 2 h", q.Time, q.Options{})
	require.NoError(t, err)
	src := &q.Source{Entry: "work.a", Key: "hours"}
	labor := q.Leaf(rate, &q.Source{Entry: "shop", Key: "rate"}).Mul(q.Leaf(hours, src))
	assert.Equal(t, q.Money, labor.Dim())
	low, high := labor.Bounds()
	assert.InDeltaSlice(t, []float64{1140, 950, 1330}, []float64{labor.Value(), low, high}, 1e-6, "12 h at 95, 10 to 14 h")
	for text, says := range map[string]string{
		"1400":     "a number without a unit; takes a sum of money, such as USD or EUR",
		"1400 AWG": `unknown unit "AWG"; takes a sum of money, such as USD or EUR`,
		"1400 usd": `unknown unit "usd"; takes a sum of money`,
		"3 lb":     `takes a sum of money, such as USD or EUR; got a mass ("lb")`,
	} {
		_, err := q.Parse(text, q.Money, q.Options{})
		assert.ErrorContains(t, err, says, text)
	}
	assert.Equal(t, "24,512.35 USD", q.FormatMoney(24512.35, 24512.35, 24512.35, "USD"))
	assert.Equal(t, "1400 ± 140 USD", q.FormatMoney(1400, 1260, 1540, "USD"))
}

package quantity

import (
	"testing"

	"github.com/Knetic/govaluate"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"regexp"
	"strconv"
	"strings"
)

func standing(t *testing.T, path, text string, dim Dim) Quantity {
	r, err := Parse(text, dim, Options{})
	require.NoError(t, err, text)
	entry, key, _ := strings.Cut(path, "/")
	return Leaf(r, &Source{Entry: entry, Key: key})
}

var unitOfNumber = regexp.MustCompile(`([0-9.]+) (°F|°C|°|lb|in|kg|mm|V|A|ohm|mohm|W|K|m)\b?`)

// calculator works a put-in text out as a person with a pocket calculator
// would: the units left out. The arithmetic is govaluate's.
func calculator(t *testing.T, text string) float64 {
	plain := strings.NewReplacer(",", "", "×", "*").Replace(unitOfNumber.ReplaceAllString(text, "$1"))
	e, err := govaluate.NewEvaluableExpression(plain)
	require.NoError(t, err, text)
	v, err := e.Evaluate(nil)
	require.NoError(t, err, text)
	return v.(float64)
}

// Moments about an axle: FAA-H-8083-1, weight and balance arithmetic; an item
// ahead of the axle loads it with more than its own weight.
func frontLoad(t *testing.T) Quantity {
	received := standing(t, "weighing.in/front", "2104 ± 12 lb", Mass)
	base := standing(t, "vehicle/wheelbase", "130 ± 0.25 in", Length)
	engine, at := standing(t, "part.engine/mass", "300 ± 3 lb", Mass), standing(t, "part.engine/at.behind", "-6 ± 0.5 in", Length)
	old, oldAt := standing(t, "part.old/mass", "250 ± 3 lb", Mass), standing(t, "part.old/at.behind", "4 ± 0.5 in", Length)
	share := func(m, x Quantity) Quantity { return m.Mul(Number(1).Sub(x.Div(base))) }
	return received.Add(share(engine, at)).Sub(share(old, oldAt)).As("front load", "received + sum of m (1 - x/L)")
}

func TestPutInWeight(t *testing.T) {
	q := frontLoad(t)
	steps := q.Steps()
	require.Len(t, steps, 1)
	assert.Equal(t, "front load", steps[0].Name)
	assert.Equal(t, "2104 lb + 300 lb × (1 - (-6 in) / 130 in) - 250 lb × (1 - 4 in / 130 in)", steps[0].PutIn(Style{}))
	assert.InDelta(t, 2104+313.846-242.308, calculator(t, steps[0].PutIn(Style{})), 1e-3, "by hand")
	for _, s := range []Style{{}, {SI: true}} {
		u := s.Unit(q)
		low, high := q.Bounds()
		assert.InDelta(t, q.Value()/u.Factor, calculator(t, steps[0].PutIn(s)), (high-low)/2/u.Factor/50, "to the digits that the doubt leaves and one more")
	}
}

// Voltage drop, Ohm's law: amperes times milliohms give millivolts, so the
// thousand between them and volts stands in the line.
func TestPutInVoltage(t *testing.T) {
	i := standing(t, "circuit.fan/load", "20 ± 1 A", Current)
	wire := standing(t, "circuit.fan/resistance", "12 ± 1 mohm", Resistance).Add(standing(t, "circuit.fan/return", "3 ± 1 mohm", Resistance)).As("resistance", "R + Rr")
	q := i.Mul(wire).As("drop", "I R")
	steps := q.Steps()
	require.Len(t, steps, 2)
	assert.Equal(t, "12 mohm + 3 mohm", steps[0].PutIn(Style{SI: true}))
	assert.Equal(t, "20 A × 15.0 mohm / 1000", steps[1].PutIn(Style{SI: true}))
	assert.InEpsilon(t, q.Value(), calculator(t, steps[1].PutIn(Style{SI: true})), 1e-9)
	assert.Equal(t, "0.300 ± 0.057 V", Style{SI: true}.Format(q), "21 A through 17 mohm at most")
}

// A ratio of temperatures is one from absolute zero, and an arc one of radians.
func TestPutInScales(t *testing.T) {
	ratio := FromZero(standing(t, "a/k", "80 degF", Temperature)).Div(FromZero(standing(t, "b/k", "60 degF", Temperature))).As("ratio", "T1/T2")
	st := ratio.Steps()[0]
	assert.InEpsilon(t, ratio.Value(), calculator(t, st.PutIn(Style{})), 1e-6)
	turn := Radians(standing(t, "a/k", "30 deg", Angle)).As("r", "theta")
	assert.Equal(t, "30 ° × 0.01745329", turn.Steps()[0].PutIn(Style{}))
}

func TestPutInMissingAndLong(t *testing.T) {
	q := Missing(Mass, &Source{Entry: "part.a", Key: "mass"}).Add(standing(t, "part.b/mass", "5 lb", Mass)).As("both", "a + b")
	assert.Equal(t, "[part.a.mass] + 5 lb", q.Steps()[0].PutIn(Style{}))
	assert.Equal(t, []string{"part.a.mass", "part.b.mass"}, q.Symbols())

	var terms []Quantity
	for _, id := range []string{"a", "b", "c", "d", "e"} {
		terms = append(terms, standing(t, "part."+id+"/mass", "5 lb", Mass))
	}
	long := Sum(Mass, terms...).Sub(standing(t, "part.f/mass", "1 lb", Mass)).As("all", "sum of m").Steps()[0]
	require.Len(t, long.Terms, 6)
	assert.Equal(t, "part.f", long.Terms[5].Entry)
	assert.True(t, long.Terms[5].Minus)
	assert.Equal(t, "1 lb", long.Terms[5].PutIn(Style{}))
}

// What the entries contribute adds up to a sum's value, constants included.
func TestSharesAddUp(t *testing.T) {
	tare := Cited("tare", "10 lb", "the scale's plate")
	front := frontLoad(t)
	for name, q := range map[string]Quantity{
		"front load": front, "less a constant": front.Sub(tare), "and a number": Sum(Ratio, front.Div(tare), Number(2)), "halved": front.Times(0.5), "negative": front.Neg(),
	} {
		sum := 0.0
		for _, s := range q.Shares() {
			sum += s.OfValue
		}
		assert.InEpsilon(t, q.Value(), sum, 1e-12, name)
	}
	s := front.Shares()
	assert.Equal(t, "weighing.in", s[0].Entry)
	assert.Equal(t, "part.engine", s[1].Entry)
	assert.InDelta(t, 313.846*pound, s[1].OfValue, 1e-3)
	assert.InDelta(t, 12*pound, s[0].OfDoubt, 1e-9)
}

// An expression that uses everything below it twice is as long as it is deep,
// however long it is written out.
func TestSharedExpressions(t *testing.T) {
	m := standing(t, "part.a/mass", "5 lb", Mass)
	sum, most, product := m, m, m.Div(SI(1, Mass))
	for range 200 {
		sum = sum.Add(sum).Times(0.5)
		most = Max(most.Times(0.5), most)
		product = Sqrt(product.Mul(product))
	}
	for name, q := range map[string]Quantity{"sum": sum, "most": most, "product": product} {
		shares := q.Shares()
		require.Len(t, shares, 1, name)
		assert.Equal(t, "part.a", shares[0].Entry)
		assert.InEpsilon(t, q.Value(), shares[0].OfValue, 1e-9, name)
		st := q.As(name, name).Steps()[0]
		assert.Less(t, len(st.PutIn(Style{})), 4000, name)
	}
	doubled := m
	for range 60 {
		doubled = doubled.Add(doubled)
	}
	st := doubled.As("doubled", "a + a").Steps()[0]
	total := 0.0
	for _, term := range st.Terms {
		total += term.Value.Value()
	}
	assert.InEpsilon(t, doubled.Value(), total, 1e-9)
	assert.Less(t, len(st.Terms), 100)
}

// What a choice between choices waits for is as long as a person reads.
func TestFirstOfManyMissing(t *testing.T) {
	q := Missing(Mass, &Source{Entry: "part.a", Key: "mass"})
	for i := range 200 {
		own := Missing(Mass, &Source{Entry: "part.b" + strconv.Itoa(i), Key: "mass"})
		q = FirstOf(own, Max(FirstOf(own, q), FirstOf(q, own)))
	}
	require.Len(t, q.Needs(), 1)
	key := q.Needs()[0].Key
	assert.Less(t, len(key), 400)
	assert.True(t, strings.HasPrefix(key, "part.b199.mass or "), key)
	assert.True(t, strings.HasSuffix(key, "others"), key)
}

package rules_test

import (
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/packtest"
)

// told are the texts that say in words what no formula says shorter: sums over
// what a ledger lists, choices and look-ups.
var told = []string{}

// TestFormulaTexts: the text of every formula, worked out with the values of the
// operands that its symbols stand for, comes to what the sum came to. What a
// symbol stands for is found by trying: some one choice of operands has to hold
// for every check that prints the text.
func TestFormulaTexts(t *testing.T) {
	folders := slices.Clone(exampleBuilds)
	cases, err := filepath.Glob("*/testdata/*/*")
	require.NoError(t, err)
	bindings, shown := map[string]*binding{}, map[string]bool{}
	for _, folder := range append(folders, cases...) {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			for _, st := range v.Steps() {
				if st.Result.Known() && !slices.Contains(told, st.Formula) {
					text := st.Formula
					if bindings[text] == nil {
						bindings[text] = &binding{text: text}
					}
					shown[text] = true
					bindings[text].add(st)
				}
			}
		})
	}
	for _, text := range slices.Sorted(maps.Keys(bindings)) {
		b := bindings[text]
		assert.Empty(t, b.fault, "%q", text)
	}
	for _, text := range told {
		assert.False(t, shown[text], text)
	}
	t.Logf("%d texts, %d bound to operands", len(shown), len(bindings))
	assert.Greater(t, len(bindings), 80)
}

// binding is what the symbols of a text can stand for: by the shape of the sum,
// the places of their operands that held for all steps so far.
type binding struct {
	text    string
	formula *packtest.Formula
	left    map[string][][]int
	seen    map[string]int
	fault   string
}

// mostSeen is how many steps of one shape are tried.
const mostSeen = 12

func (b *binding) add(st q.Step) {
	if b.left == nil {
		b.left, b.seen = map[string][][]int{}, map[string]int{}
		f, err := packtest.ParseFormula(b.text)
		if err != nil {
			b.fault = err.Error()
			return
		}
		b.formula = f
	}
	if b.fault != "" {
		return
	}
	parts := st.Parts()
	values := []float64{st.Result.Value()}
	var shape strings.Builder
	for _, p := range parts {
		values = append(values, p.Value())
		shape.WriteString(p.Dim().String() + ";")
	}
	key := shape.String()
	if b.seen[key]++; b.seen[key] > mostSeen {
		return
	}
	if b.seen[key] == 1 {
		b.left[key] = b.all(values)
	} else {
		b.left[key] = slices.DeleteFunc(b.left[key], func(places []int) bool { return !b.holds(values, places) })
	}
	if len(b.left[key]) == 0 {
		b.fault = "no operands make it " + st.Name
	}
}

// all tries every choice of places; the first place is the result's.
func (b *binding) all(values []float64) (out [][]int) {
	first, n := 1, len(b.formula.Symbols)
	if b.formula.Equation() {
		first = 0
	}
	if math.Pow(float64(len(values)), float64(n)) > 4e6 {
		return nil
	}
	places := make([]int, n)
	var try func(i int)
	try = func(i int) {
		if i == n {
			if b.holds(values, places) {
				out = append(out, slices.Clone(places))
			}
			return
		}
		for p := first; p < len(values); p++ {
			if !slices.Contains(places[:i], p) {
				places[i] = p
				try(i + 1)
			}
		}
	}
	try(0)
	return out
}

func (b *binding) holds(values []float64, places []int) bool {
	at := map[string]float64{}
	for i, s := range b.formula.Symbols {
		at[s] = values[places[i]]
	}
	return b.formula.Holds(values[0], at)
}

package rules_test

import (
	"fmt"
	"maps"
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

// asWords are the texts that say in words what no formula of the ones that can be
// worked out says shorter, with why.
var asWords = []string{
	// Choices between cases, of which one holds.
	"(right - left)/2, else W u/2",
	"W / (1 - mu h/L) behind, W / (1 + mu h/L) in front",
	"W / w, where w < 0.95 W",
	"laminar loss below Re 2000, turbulent loss from Re 4000, either of them between",
	"laminar or turbulent loss",
	"a, else v^2 / (2 d)",
	"as stated, 5 % of rated power at the least",
	"as written",
	"the lesser of governed and drag-limited speed",
	// Lists of any length.
	"each from its own hottest inlet",
	"of a cooler that sits in the coolant",
	"the larger need",
	"the larger of what supply and circuits say",
	"the least of the flows written",
	"own load + what it feeds",
	"the greatest of their areas",
	"the greatest of the ratios",
	"the least of the ratios",
	"largest fuse of what returns there",
	"largest area behind the largest fuse",
	"of the heaviest fuel carried",
	"the engine's, and of coolers that sit in the coolant",
	// Tables.
	"by the table",
	"table's column of T_ins",
	"T = T_sat(p)",
	"the same, or the next below",
	// Three components of a vector, or one along a direction.
	"(1, tan p, -tan t) L / sqrt(1 + tan^2 t + tan^2 p)",
	"its place now - its place when measured, along the gap",
	"place of b - place of a, along the gap",
	// Units other than SI's in the numbers: revolutions, mm and 1 °C.
	"(pi / (8 L^2)) sqrt(E (D^2 + d^2) / rho)",
	"226² ln(1 + (Tf - Ti) / (234.5 °C + Ti))",
	"V' = V n eta / 2",
	// The symbol is itself a square.
	"k² A²",
}

// inWords tells that a text is on the list, or is a sum over all that a ledger
// has of a kind, whose terms stand below it one by one.
func inWords(text string) bool {
	return slices.Contains(asWords, text) || strings.Contains(text, "sum of ") || strings.HasPrefix(text, "what ") && strings.HasSuffix(text, "not fed itself")
}

// TestFormulaTexts: the text of every formula, worked out with the values of the
// operands that its symbols stand for, comes to what the sum came to. What a
// symbol stands for is found by trying: some one choice of operands has to hold
// for every check that prints the text.
func TestFormulaTexts(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute of one goroutine")
	}
	folders := slices.Clone(exampleBuilds)
	cases, err := filepath.Glob("*/testdata/*/*")
	require.NoError(t, err)
	bindings, shown := map[string]*binding{}, map[string]bool{}
	for _, folder := range append(folders, cases...) {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			for _, st := range v.Steps() {
				text := st.Formula
				parts := st.Parts()
				if !st.Result.Known() || len(parts) == 0 || len(parts) == 1 && parts[0].Value() == st.Result.Value() { // taken over as it is
					continue
				}
				if shown[text] = true; inWords(text) {
					continue
				}
				if bindings[text] == nil {
					bindings[text] = &binding{text: text}
				}
				bindings[text].add(r.Rule.Name, st)
			}
		})
	}
	for _, text := range slices.Sorted(maps.Keys(bindings)) {
		b := bindings[text]
		assert.Empty(t, b.fault, "%q", text)
	}
	for _, text := range asWords {
		assert.True(t, shown[text], "%q is printed nowhere", text)
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
const mostSeen = 6

func (b *binding) add(rule string, st q.Step) {
	if b.left == nil {
		b.left, b.seen = map[string][][]int{}, map[string]int{}
		f, err := packtest.ParseFormula(b.text)
		if err != nil {
			b.fault = err.Error()
			return
		}
		if b.formula = f; slices.Contains(f.Symbols, b.text) {
			b.fault = "in words alone"
		}
	}
	if b.fault != "" {
		return
	}
	parts := st.Parts()
	values := []float64{st.Result.Value()}
	var shape strings.Builder
	shape.WriteString(rule + ";")
	for _, p := range parts {
		values = append(values, p.Value())
		shape.WriteString(p.Dim().String() + ";")
	}
	for _, r := range st.PutIn(q.Style{}) {
		if strings.ContainsRune("+-×/^(),", r) {
			shape.WriteRune(r)
		}
	}
	key := shape.String()
	if b.seen[key]++; b.seen[key] > mostSeen {
		return
	}
	if b.seen[key] == 1 {
		var ends, any []int
		for i, p := range parts {
			any = append(any, i+1)
			if p.Source() != nil || p.Name() != "" {
				ends = append(ends, i+1)
			}
		}
		if b.left[key] = b.all(values, any, false); len(b.left[key]) == 0 {
			b.left[key] = b.all(values, ends, false)
		}
		if len(b.left[key]) == 0 { // one value for two symbols, such as nothing
			b.left[key] = b.all(values, ends, true)
		}
	} else {
		b.left[key] = slices.DeleteFunc(b.left[key], func(places []int) bool { return !b.holds(values, places) })
	}
	if len(b.left[key]) == 0 {
		b.fault = fmt.Sprintf("no operands make it %s: %s; of %v", st.Name, st.PutIn(q.Style{}), values)
	}
}

// all tries every choice of the places given; the result of an equation has one
// as well, place 0.
func (b *binding) all(values []float64, among []int, twice bool) (out [][]int) {
	n := len(b.formula.Symbols)
	if b.formula.Equation() {
		among = append([]int{0}, among...)
	}
	choices := 1.0
	for i := range n {
		choices *= float64(max(0, len(among)-i))
	}
	if choices > 4e6 {
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
		for _, p := range among {
			if twice || !slices.Contains(places[:i], p) {
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

// refused is the least share of wrong texts, by what is wrong, that no choice of
// operands makes hold. The rest pass for one of two reasons: operands that are
// nothing in the examples, and parts of the sum that have no name and yet may be
// chosen. They would be refused as well if each symbol were bound by declaration.
var refused = map[string]float64{"factor": 0.9, "power": 0.85, "sign": 0.5, "other sign": 0.7, "division": 0.55}

// TestWrongTextsAreRefused: a text with another factor, power, sign or division than
// the sum has is refused, as far as binding by trial can. Every text of the
// examples that is worked out is tried in every way.
func TestWrongTextsAreRefused(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute of trials")
	}
	tried := map[string]int{}
	held := map[string][]string{}
	first := map[string][]stepOf{}
	for _, folder := range exampleBuilds {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			for _, st := range v.Steps() {
				if parts := st.Parts(); st.Result.Known() && len(parts) > 1 && !inWords(st.Formula) && len(first[st.Formula]) < mostSeen {
					first[st.Formula] = append(first[st.Formula], stepOf{r.Rule.Name, st})
				}
			}
		})
	}
	for text, steps := range first {
		for how, wrong := range wrongTexts(text) {
			_, err := packtest.ParseFormula(wrong)
			require.NoError(t, err) // else it would be refused for that
			b := &binding{text: wrong}
			for _, s := range steps {
				b.add(s.rule, s.st)
			}
			if tried[how]++; b.fault == "" {
				held[how] = append(held[how], wrong)
			}
		}
	}
	for how, n := range tried {
		t.Logf("%s: %d of %d refused", how, n-len(held[how]), n)
		assert.GreaterOrEqual(t, float64(n-len(held[how]))/float64(n), refused[how], "%s: %q hold", how, held[how])
	}
	assert.Len(t, tried, len(refused))
}

// stepOf is a step of a check of a rule.
type stepOf struct {
	rule string
	st   q.Step
}

// wrongTexts are what a text may be mistyped to.
func wrongTexts(text string) map[string]string {
	right := text[strings.LastIndex(text, "= ")+1:]
	side := func(changed string) string {
		return text[:len(text)-len(right)] + changed
	}
	out := map[string]string{
		"factor": side("1.01 (" + right + ")"),
		"power":  side("(" + right + ")^2"),
	}
	for how, signs := range map[string][2]string{"sign": {" + ", " - "}, "other sign": {" - ", " + "}, "division": {" / ", " * "}} {
		if strings.Contains(right, signs[0]) {
			out[how] = side(strings.Replace(right, signs[0], signs[1], 1))
		}
	}
	return out
}

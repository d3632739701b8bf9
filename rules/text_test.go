package rules_test

import (
	"errors"
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

// step is a step of a check, laid bare for its text.
type step struct {
	rule, name, put string
	result          float64
	parts           []q.Quantity
}

// stepsByText are the steps of all checks of the examples and of the packs' cases
// that work something out, by their text. The values of the ledger are moved a
// little from what is written, each by its own share, so that none is nothing
// and no two are alike: a wrong text then cannot come right by chance.
func stepsByText(t *testing.T) map[string][]step {
	cases, err := filepath.Glob("*/testdata/*/*")
	require.NoError(t, err)
	out := map[string][]step{}
	for _, folder := range slices.Concat(exampleBuilds, cases) {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			if v = moved(v); what != "margin" || !v.Known() {
				return
			}
			for _, st := range v.Steps() {
				parts := st.Parts()
				if len(parts) == 0 || len(parts) == 1 && parts[0].Value() == st.Result.Value() || st.Name == "margin" { // taken over as it is
					continue
				}
				out[st.Formula] = append(out[st.Formula], step{r.Rule.Name, st.Name, st.PutIn(q.Style{}), st.Result.Value(), parts})
			}
		})
	}
	return out
}

// moved is a quantity with each value that a ledger states up to a hundredth off,
// and none at nothing.
func moved(v q.Quantity) q.Quantity {
	put := map[*q.Source]q.Reading{}
	for i, l := range v.Leaves() {
		r, ok := l.Reading()
		if stated := l.Source().Entry != ""; !ok || !stated && (l.Source().Path() == "" || r.Value != 0) {
			continue
		}
		share := float64(hashOf(fmt.Sprint(i, l.Name()))%10007) / 10007
		if r.Value *= 1 + 0.02*(share-0.5); r.Value == 0 {
			r.Value = 0.01 + 0.01*share
		}
		r.Low, r.High = r.Value, r.Value
		put[l.Source()] = r
	}
	return v.Put(put)
}

// TestFormulaTexts: the text of every formula, worked out with the operands that
// its symbols are declared to stand for, comes to what the sum came to; and a
// text with another factor, power, sign or division, or with two of its symbols
// changed for each other, does not.
func TestFormulaTexts(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute of one goroutine")
	}
	texts, steps := packtest.Texts(t, "."), stepsByText(t)
	words, tried, held := 0, map[string]int{}, []string{}
	for _, text := range slices.Sorted(maps.Keys(steps)) {
		x := texts[text]
		switch {
		case !assert.NotNil(t, x, "%q: no symbols.toml says what its symbols stand for", text):
		case x.Words != "":
			words++
		default:
			bound, ok := holds(t, text, x, steps[text])
			if !ok {
				continue
			}
			for _, w := range wrongTexts(t, x) {
				if w.is.Same(x.Formula) {
					continue
				}
				if tried[w.how]++; !refused(w.is, bound) {
					held = append(held, w.text)
				}
			}
		}
	}
	for text := range texts {
		assert.NotEmpty(t, steps[text], "%q is printed nowhere", text)
	}
	t.Logf("%d texts worked out, %d in words; wrong ones refused: %v, held: %v", len(steps)-words, words, tried, held)
	assert.Len(t, tried, 5)
	assert.Empty(t, held)
}

// bound is the result of a step and the values of its text's symbols.
type bound struct {
	result float64
	at     map[string]float64
}

// holds tests a text on its steps, of which some have to have all its operands.
func holds(t *testing.T, text string, x *packtest.Text, steps []step) (out []bound, ok bool) {
	for _, s := range steps {
		at, err := x.Operands(s.result, s.parts)
		if errors.Is(err, packtest.ErrFewer) {
			continue
		}
		if !assert.NoError(t, err, "%q: %s of %s: %s", text, s.name, s.rule, s.put) ||
			!assert.True(t, x.Holds(s.result, at), "%q is not %s of %s: %s = %g of %v", text, s.name, s.rule, s.put, s.result, at) {
			return nil, false
		}
		out = append(out, bound{s.result, at})
	}
	return out, assert.NotEmpty(t, out, "%q: no step has all its operands", text)
}

func refused(f *packtest.Formula, steps []bound) bool {
	return slices.ContainsFunc(steps, func(b bound) bool { return !f.Holds(b.result, b.at) })
}

type wrongText struct {
	how, text string
	is        *packtest.Formula
}

// wrongTexts are what a text may be mistyped to: with one factor, power, sign
// or division other than it has, or two symbols in each other's place.
func wrongTexts(t *testing.T, x *packtest.Text) (out []wrongText) {
	at := strings.LastIndex(x.Plain, "= ") + 1
	left, right := x.Plain[:at], x.Plain[at:]
	wrong := func(how, changed string) {
		f, err := packtest.ParseFormula(left + changed)
		require.NoError(t, err, changed)
		f.Result = x.Result
		out = append(out, wrongText{how, left + changed, f})
	}
	wrong("factor", " 1.01 ("+right+")")
	wrong("power", " ("+right+")^2")
	for _, one := range []struct{ how, is, not string }{{"sign", " + ", " - "}, {"sign", " - ", " + "}, {"division", "/", "*"}} {
		for i := range right {
			if rest, ok := strings.CutPrefix(right[i:], one.is); ok {
				wrong(one.how, right[:i]+one.not+rest)
			}
		}
	}
	operands := slices.DeleteFunc(slices.Clone(x.Symbols), func(s string) bool { return s == x.Result })
	for i, a := range operands {
		for _, b := range operands[i+1:] {
			out = append(out, wrongText{"swap", x.Plain + ": " + a + " for " + b, x.Swapped(a, b)})
		}
	}
	return out
}

package lint

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger/quantity"
)

// TestNatural: numbers in names count as numbers, as a person lists pins.
func TestNatural(t *testing.T) {
	names := []string{"pin 12", "pin 2", "pin 12, other end", "pin B", "pin 2a", "pin 10", "pin 1"}
	slices.SortFunc(names, Natural)
	assert.Equal(t, []string{"pin 1", "pin 2", "pin 2a", "pin 10", "pin 12", "pin 12, other end", "pin B"}, names)
	for _, n := range names {
		assert.Zero(t, Natural(n, n))
	}
	assert.NotZero(t, Natural("pin 02", "pin 2"), "names that differ are never the same")
}

func waiting(rule, entry string, needs ...string) *Result {
	r := &Result{Rule: &Rule{Name: rule}, Entry: entry, Verdict: Missing}
	for _, n := range needs {
		r.Needs = append(r.Needs, quantity.Need{Key: n})
	}
	return r
}

func undone(rule, entry, reason string) *Result {
	return &Result{Rule: &Rule{Name: rule}, Entry: entry, Verdict: Missing, Reason: reason, Needs: []quantity.Need{{Key: reason}}, work: true}
}

// TestWaits: each check stands once, under what most checks wait for; the same
// key of several entries, the pins of a plug, and acts in the same words are
// one thing.
func TestWaits(t *testing.T) {
	rs := []*Result{
		waiting("a/gap", "gap.a", "gap.a.measured", "gap.a.motion"),
		waiting("a/gap", "gap.b", "gap.b.motion"),
		waiting("a/pins", "plug.cowl", "plug.cowl.pins.12.to"),
		waiting("a/pins", "plug.cowl", "plug.cowl.pins.2.to"),
		waiting("a/pins", "plug.cowl", "plug.cowl.pins.3.to"),
		waiting("a/test", "vehicle", "an emission.x whose gear is catalyst"),
		waiting("a/test", "vehicle", "an emission.x whose gear is filter"),
		waiting("a/one", "hose.x", "hose.x.rated-for"),
		undone("b/read", "gap.a", "1 in is stated: read it"),
		undone("b/read", "gap.b", "2 in is stated: read it"),
		undone("b/read", "vehicle", "it has not been weighed"),
		{Rule: &Rule{Name: "a/pass"}, Verdict: Pass},
	}
	type wait struct {
		key, act string
		of, also []string
		checks   int
	}
	var got []wait
	seen := map[*Result]bool{}
	for _, w := range Waits(rs) {
		got = append(got, wait{w.Key, w.Act, w.Of, w.Also, len(w.Checks)})
		for _, r := range w.Checks {
			assert.False(t, seen[r], "a check twice")
			seen[r] = true
		}
	}
	assert.Len(t, seen, len(rs)-1)
	assert.Equal(t, []wait{
		{"plug.cowl.pins.*.to", "", []string{"2", "3", "12"}, nil, 3},
		{"gap.*.motion", "", []string{"gap.a", "gap.b"}, []string{"gap.a.measured"}, 2},
		{"an emission.x whose gear is", "", []string{"catalyst", "filter"}, nil, 2},
		{"", "read it", []string{"gap.a", "gap.b"}, nil, 2},
		{"hose.x.rated-for", "", nil, nil, 1},
		{"", "it has not been weighed", []string{"vehicle"}, nil, 1},
	}, got)
}

// TestWords: advice that fails is not met; work that is not due is to do, and
// only then.
func TestWords(t *testing.T) {
	for _, c := range []struct {
		want string
		r    Result
	}{
		{"fail", Result{Verdict: Fail}},
		{"not met", Result{Verdict: Fail, Should: true}},
		{"missing", Result{Verdict: Missing, Needs: []quantity.Need{{Key: "part.a.mass"}}}},
		{"to do", *undone("a/b", "gap.a", "measure it again")},
		{"not applicable", Result{Verdict: NotApplicable}},
		{"unproven", Result{Verdict: Unproven, Should: true}},
	} {
		assert.Equal(t, c.want, c.r.Word())
	}
	waived := undone("a/b", "gap.a", "measure it again")
	waived.Verdict, waived.Underlying = Waived, Missing
	assert.Equal(t, [2]string{"waived", "to do"}, [2]string{waived.Word(), waived.UnderlyingWord()})
}

package report

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

func inch(t *testing.T, entry, key, text string) q.Quantity {
	t.Helper()
	r, err := q.Parse(text, q.Length, q.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return q.Leaf(r, &q.Source{Entry: entry, Key: key})
}

// A sum names the key where several terms are of one entry, and drops a zero
// that nobody wrote.
func TestTermsOfASum(t *testing.T) {
	none := q.SI(0, q.Length)
	sum := inch(t, "gap.a", "measured", "2 in").Sub(inch(t, "gap.a", "motion", "1/2 in")).Add(none).Add(inch(t, "gap.b", "measured", "3 in")).Add(none).As("left", "a sum")
	var out bytes.Buffer
	x := newText(&out, Options{})
	x.steps(sum, q.Style{}, Told{})
	x.w.Flush()
	assert.Contains(t, out.String(), "      + gap.a.measured    2 in\n      - gap.a.motion    0.5 in\n      + gap.b             3 in\n       = 4.5 ± 1.0 in\n")
}

// What counts as the same is said with what is allowed.
func TestSameSaysWithin(t *testing.T) {
	pulses := inch(t, "part.a", "length", "15 in")
	r := &lint.Result{Sense: lint.Same, Value: pulses, Limit: pulses, Within: q.Number(0.02), Margin: pulses}
	assert.Regexp(t, `^within 2 % of 15\.?0* `, NumbersOf(r, q.Style{}).Limit)
	r.Within = q.Number(0)
	assert.Regexp(t, "^asked 15", NumbersOf(r, q.Style{}).Limit)
}

// A value of an entry that is not there is asked for by the entry's heading, and
// one without a place has no empty brackets.
func TestNextPointsSomewhere(t *testing.T) {
	b := ledger.Phantoms()
	check := func(n q.Need) *lint.Result {
		return &lint.Result{Rule: &lint.Rule{Name: "trial/rule"}, Entry: "build", Verdict: lint.Missing, Needs: []q.Need{n}}
	}
	var out bytes.Buffer
	x := &screen{text: newText(&out, Options{})}
	results := []*lint.Result{check(q.Need{Key: "fuel.filler-label", Place: b.Main()}), check(q.Need{Key: "an answer"})}
	x.waits(lint.Waits(results), 2, "", &lint.Report{Build: b, Results: results})
	x.w.Flush()
	assert.Contains(t, out.String(), "  add [fuel] filler-label (1 check)\n")
	assert.Contains(t, out.String(), "  needs an answer (1 check)\n")
}

// A place is seen from the build's folder where there is one, and is whole where not,
// as in a comparison of two.
func TestWhere(t *testing.T) {
	x := newText(new(bytes.Buffer), Options{})
	at := q.Place{File: "/shop/builds/van/gaps.toml", Line: 7}
	assert.Equal(t, "/shop/builds/van/gaps.toml:7", x.where(at))
	x.folder = "/shop/builds/van"
	assert.Equal(t, "gaps.toml:7", x.where(at))
}

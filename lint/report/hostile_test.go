package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

// hostile holds what a terminal, or a reader of one, could be fooled by.
const hostile = "a\x1b[31mred\x1b[0m\x07\r\n\tb\u009b31m \u202egnp.exe\u202c \u2066x\u2069 \u200b\u200f \u2028 \ufeff \U000e0041 \x7f \xff é ± 車"

func TestCleanSpellsOut(t *testing.T) {
	for in, want := range map[string]string{
		"plain ± 5 °C, 車":  "plain ± 5 °C, 車",
		"\x1b[2J":          `\x1b[2J`,
		"a\nb\tc\r":        `a\nb\tc\r`,
		"\u202egnp":        `\u202egnp`,
		"\u009b31m":        `\u009b31m`,
		"\xff":             `\xff`,
		"\ufffd":           "\ufffd",
		"\U000e0041":       `\U000e0041`,
		"soft\u00adhyphen": `soft\u00adhyphen`,
	} {
		assert.Equal(t, want, Clean(in))
	}
	assert.True(t, safe(Clean(hostile)))
	assert.Equal(t, Clean(hostile), Clean(Clean(hostile)))
}

func safe(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return !unicode.IsGraphic(r) }) < 0
}

// hostileReport has the hostile text wherever a ledger's own words can stand.
func hostileReport() *lint.Report {
	place := q.Place{File: hostile, Line: 3, Column: 1}
	rule := &lint.Rule{Name: "toy/gap", Title: "a gap", Sources: []q.Citation{q.Practice}}
	leaf := q.Missing(q.Length, &q.Source{Entry: "gap." + hostile, Key: "measured", Place: place})
	value := q.Cited(hostile, "3 in", hostile)
	return &lint.Report{Folder: hostile, Title: hostile, AsOf: "2026-03-01", Build: ledger.Phantoms(),
		Results: []*lint.Result{
			{Rule: rule, Entry: hostile, Aspect: hostile, Place: place, Verdict: lint.Fail, Sense: lint.Holds, Reason: hostile, Counts: true},
			{Rule: rule, Entry: hostile, Place: place, Verdict: lint.Missing, Sense: lint.AtLeast, Value: leaf, Limit: value, Needs: leaf.Needs(), Counts: true},
			{Rule: rule, Entry: hostile, Place: place, Verdict: lint.Waived, Underlying: lint.Fail, Sense: lint.AtMost, Value: value, Limit: value.Times(0.5), Margin: value.Times(-0.5), Reason: hostile},
		},
		Notes: []ledger.Fault{{Place: place, Message: hostile}}}
}

func written(t *testing.T, kind func() *Writer) {
	t.Helper()
	w := kind()
	rep := hostileReport()
	var totals Totals
	totals.Add(rep)
	require.NoError(t, w.Build(rep))
	require.NoError(t, w.Close(&totals))
}

func TestTextIsSafe(t *testing.T) {
	var out bytes.Buffer
	written(t, func() *Writer { return Text(&out, Options{All: true}) })
	for _, line := range strings.Split(out.String(), "\n") {
		assert.True(t, safe(line), "%q", line)
	}
	assert.NoError(t, Worked(&out, Options{}, hostileReport(), hostileReport().Results[0].Rule, hostileReport().Results, func(*lint.Result) []lint.Proposal { return nil }))
	for _, line := range strings.Split(out.String(), "\n") {
		assert.True(t, safe(line), "%q", line)
	}
}

func TestJSONKeepsTheStringAndIsSafe(t *testing.T) {
	var out bytes.Buffer
	written(t, func() *Writer { return JSON(&out, Options{All: true}) })
	for _, line := range strings.Split(out.String(), "\n") {
		assert.True(t, safe(line), "%q", line)
	}
	var doc struct {
		Builds []struct {
			Title  string
			Checks []struct{ Entry, Reason string }
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	assert.Equal(t, strings.ToValidUTF8(hostile, "\ufffd"), doc.Builds[0].Title)
	assert.Equal(t, strings.ToValidUTF8(hostile, "\ufffd"), doc.Builds[0].Checks[0].Reason)
}

// TestJSONOfNothing: a run without a build is still a document.
func TestJSONOfNothing(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, JSON(&out, Options{}).Close(&Totals{}))
	assert.JSONEq(t, `{"fishplate": 2, "builds": [], "counts": {"pass": 0, "fail": 0, "unproven": 0, "missing": 0, "waived": 0}}`, out.String())
}

// TestColorIsNotTheOnlySign: with the colors taken away, the same is said.
func TestColorIsNotTheOnlySign(t *testing.T) {
	var plain, painted bytes.Buffer
	written(t, func() *Writer { return Text(&plain, Options{}) })
	written(t, func() *Writer { return Text(&painted, Options{Color: true}) })
	bare := painted.String()
	for _, code := range []string{bold, dim, red, yellow, green, "0"} {
		bare = strings.ReplaceAll(bare, "\x1b["+code+"m", "")
	}
	assert.NotEqual(t, plain.String(), painted.String())
	assert.Equal(t, plain.String(), bare)
}

package report

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report/shown"
)

// hostileComparison holds a text everywhere that a ledger can put one.
func hostileComparison(evil string) *compare.Comparison {
	rule := &lint.Rule{Name: "trial/rule"}
	at := q.Place{File: evil + ".toml", Line: 1, Column: 2}
	pass := &lint.Result{Rule: rule, Entry: "part." + evil, Aspect: evil, Place: at, Verdict: lint.Pass, Sense: lint.Holds}
	fail := &lint.Result{Rule: rule, Entry: "part." + evil, Aspect: evil, Place: at, Verdict: lint.Fail, Sense: lint.Holds, Reason: evil,
		Needs: []q.Need{{Key: evil, Place: at}}}
	nan := math.NaN()
	causes := []*compare.Cause{{Entry: evil, Place: at, Share: nan, Alone: true}}
	change := func(kind compare.ChangeKind, a, b *lint.Result) *compare.Change {
		return &compare.Change{Rule: rule, Entry: "part." + evil, Aspect: evil, Kind: kind, Before: a, After: b, Why: evil, Counts: kind == compare.Worse, Delta: nan, Together: nan, Causes: causes}
	}
	b := ledger.Phantoms()
	rep := &lint.Report{Folder: evil, Build: b, Title: evil, AsOf: evil}
	value := &compare.ValueEdit{Key: evil, Before: evil, After: evil}
	words := &compare.ValueEdit{Key: "note", Before: evil, After: evil, Words: []compare.Span{{Op: '=', Text: evil}, {Op: '-', Text: evil}, {Op: '+', Text: evil}}}
	var edits []*compare.Edit
	for _, kind := range []compare.EditKind{compare.Altered, compare.Added, compare.Removed, compare.Renamed, compare.Replaced} {
		edits = append(edits, &compare.Edit{Entry: evil, Kind: kind, Was: evil, From: evil, Name: evil, Place: at, Values: []*compare.ValueEdit{value, words}})
	}
	inch := q.SI(0.0254, q.Length)
	return &compare.Comparison{Before: rep, After: rep, Edits: edits,
		Changes: []*compare.Change{change(compare.Worse, pass, fail), change(compare.Better, fail, pass), change(compare.Drifted, fail, fail), change(compare.Gone, fail, nil),
			change(compare.New, nil, fail), change(compare.Lapsed, pass, fail)},
		Notices: []*compare.Notice{{Kind: "waiver added", Subject: evil, Before: evil, After: evil, Place: at, Loosens: true}},
		Moves:   []*compare.MovedAssembly{{Assembly: evil, Place: at, By: ledger.Point{X: inch, Y: inch, Z: inch}, Readings: []compare.Reading{{Entry: evil, Place: at}, {Entry: evil, Place: at, Follows: true}}}},
		Again:   []*compare.Again{{Entry: evil, Place: at, Moved: []compare.MovedEnd{{Entry: evil, By: ledger.Point{X: inch, Y: inch, Z: inch}}}, Swapped: []string{evil}, Back: []string{evil}, Gone: true, Unlikely: true}},
		Asks:    []*compare.Ask{{Entry: evil, Key: "fitted-on", Did: "went on", Weighing: evil, Place: at}},
		Parents: []string{evil, evil},
	}
}

// One line, in which nothing of a ledger breaks out, and no longer than a
// commit's first line is by common practice.
func TestCompareLine(t *testing.T) {
	for _, evil := range []string{"plain", "a\nb\r\x1b[31m", strings.Repeat("x", 300)} {
		line := write(t, "line", Options{}, hostileComparison(evil))
		require.Equal(t, 1, strings.Count(line, "\n"), "%q", line)
		require.NotContains(t, line, "\x1b")
		require.LessOrEqual(t, len([]rune(line)), mostLine+1)
	}
	lb := func(v float64) q.Quantity { return q.SI(v*0.45359237, q.Mass) }
	axle := func(value float64, verdict lint.Verdict) *lint.Result {
		return &lint.Result{Rule: &lint.Rule{Name: "weight/front-axle"}, Entry: "vehicle.front", Verdict: verdict, Sense: lint.AtMost,
			Value: lb(value), Limit: lb(4400), Margin: lb(4400).Sub(lb(value))}
	}
	rep := &lint.Report{Build: ledger.Phantoms()}
	x := &compare.Change{Rule: &lint.Rule{Name: "weight/front-axle"}, Entry: "vehicle.front", Kind: compare.Worse, Counts: true, Before: axle(4268, lint.Pass), After: axle(4575, lint.Fail)}
	c := &compare.Comparison{Before: rep, After: rep, Changes: []*compare.Change{x}}
	require.Equal(t, "front axle 4268 to 4575 lb: over by 175\n", write(t, "line", Options{}, c))
	x.Kind, x.Before, x.After = compare.Better, x.After, x.Before
	require.Equal(t, "front axle 4575 to 4268 lb: 132 to spare\n", write(t, "line", Options{}, c))
	require.Equal(t, "no check got worse\n", write(t, "line", Options{}, &compare.Comparison{Before: rep, After: rep}))
}

// What one edit did to three checks is told below it, once; two are told one by one. A
// remark stands at the edit, of what it made worse and not of what it made better.
func TestCompareByCause(t *testing.T) {
	rep := &lint.Report{Build: ledger.Phantoms()}
	at := func(line int) q.Place { return q.Place{File: "b/build.toml", Line: line, Column: 1} }
	worse := func(rule, entry string, causes ...*compare.Cause) *compare.Change {
		check := func(pounds float64, v lint.Verdict) *lint.Result {
			value, limit := q.SI(pounds*0.45359237, q.Mass), q.SI(4300*0.45359237, q.Mass)
			return &lint.Result{Rule: &lint.Rule{Name: rule}, Entry: entry, Verdict: v, Sense: lint.AtMost, Value: value, Limit: limit, Margin: limit.Sub(value), Place: at(15)}
		}
		a, b := check(4200, lint.Pass), check(4400, lint.Fail)
		return &compare.Change{Rule: a.Rule, Entry: entry, Kind: compare.Worse, Counts: true, Before: a, After: b, Delta: -200 * 0.45359237, Causes: causes}
	}
	stock := func() *compare.Cause {
		return &compare.Cause{Entry: "load.stock", Place: at(116), Share: -200 * 0.45359237, Undone: true}
	}
	rack := func(pounds float64) *compare.Cause {
		return &compare.Cause{Entry: "part.rack", Place: at(40), Share: pounds * 0.45359237}
	}
	c := &compare.Comparison{Before: rep, After: rep, Changes: []*compare.Change{worse("toy/a", "vehicle", stock()), worse("toy/b", "vehicle", rack(-200)),
		worse("toy/c", "vehicle", stock()), worse("toy/d", "vehicle", stock())}}
	out := write(t, "text", Options{}, c)
	require.Equal(t, 1, strings.Count(out, "load.stock"), out)
	require.Contains(t, out, "By load.stock alone (3) b/build.toml:116\nfail      toy/a  vehicle\n")
	require.Contains(t, out, "\n\nfail      toy/b  vehicle\n          before  b/build.toml:15  pass")
	require.Equal(t, 2, strings.Count(write(t, "markdown", Options{}, c), "| edit | where |")+strings.Count(write(t, "markdown", Options{}, c), "| margin | check |"))
	require.Equal(t, "::error file=b/build.toml,line=116,col=1,title=load.stock::this edit makes 3 checks worse: toy/a on vehicle (fail, margin -200 lb), toy/c on vehicle (fail, margin -200 lb), toy/d on vehicle (fail, margin -200 lb)\n"+
		"::error file=b/build.toml,line=40,col=1,title=part.rack::this edit makes 1 check worse: toy/b on vehicle (fail, margin -200 lb)\n", write(t, "ci-log", Options{}, c))
	c.Changes = append(c.Changes[:2:2], worse("toy/c", "vehicle", stock()))
	require.Equal(t, 2, strings.Count(write(t, "text", Options{}, c), "load.stock"))
	both := stock()
	both.Share = -250 * 0.45359237
	c.Changes = []*compare.Change{worse("toy/a", "vehicle", both, rack(50))}
	require.Equal(t, "::error file=b/build.toml,line=116,col=1,title=load.stock::this edit makes 1 check worse: toy/a on vehicle (fail, margin -250 lb)\n", write(t, "ci-log", Options{}, c))
	c.Changes = []*compare.Change{worse("toy/a", "vehicle")}
	require.Equal(t, "::error file=b/build.toml,line=15,col=1,title=vehicle::this edit makes 1 check worse: toy/a on vehicle (fail)\n", write(t, "ci-log", Options{}, c))
}

// What only moved, and by less than its printed figures show, is counted and not
// listed, in every output that lists what moved, unless all is asked for.
func TestCompareSlightMoves(t *testing.T) {
	axle := func(entry string, pounds float64) *lint.Result {
		value, limit := q.AssumedValue("front load", fmt.Sprintf("%v ± 100 lb", pounds), "of the test"), q.SI(4300*0.45359237, q.Mass)
		return &lint.Result{Rule: &lint.Rule{Name: "weight/front-axle"}, Entry: entry, Verdict: lint.Unproven, Sense: lint.AtMost,
			Value: value, Limit: limit, Margin: limit.Sub(value)}
	}
	moved := func(entry string, from, to float64) *compare.Change {
		a, b := axle(entry, from), axle(entry, to)
		return &compare.Change{Rule: a.Rule, Entry: entry, Kind: compare.Drifted, Before: a, After: b, Delta: (from - to) * 0.45359237}
	}
	rep := &lint.Report{Build: ledger.Phantoms()}
	one, two, far := moved("part.near-one", 4251, 4252), moved("part.near-two", 4253, 4251), moved("part.far", 4251, 4290)
	why := moved("part.reasoned", 4251, 4252)
	why.Why = "it is due now"
	for _, kind := range []string{"text", "markdown", "html"} {
		out := write(t, kind, Options{}, &compare.Comparison{Before: rep, After: rep, Changes: []*compare.Change{one, far, two, why}})
		require.Contains(t, out, "Moved (4)", kind)
		require.NotContains(t, out, "part.near", kind)
		require.Contains(t, out, "part.far", kind)
		require.Contains(t, out, "part.reasoned", kind)
		require.Contains(t, strings.ToLower(out), "and 2 more moved by less than their figures show: --all lists them", kind)
		require.Contains(t, write(t, kind, Options{}, &compare.Comparison{Before: rep, After: rep, Changes: []*compare.Change{one}}), "1 moved by less than its figures show: --all lists it", kind)
		all := write(t, kind, Options{All: true}, &compare.Comparison{Before: rep, After: rep, Changes: []*compare.Change{one, far, two}})
		require.NotContains(t, all, "figures show", kind)
		require.Contains(t, all, "part.near-one", kind)
		require.Contains(t, all, "part.near-two", kind)
	}
	require.Contains(t, write(t, "json", Options{}, &compare.Comparison{Before: rep, After: rep, Changes: []*compare.Change{one}}), "part.near-one")
}

func write(t *testing.T, kind string, opt Options, c *compare.Comparison) string {
	k, ok := KindNamed(CompareKinds, kind)
	require.True(t, ok)
	var out bytes.Buffer
	w := k.New(&out, opt)
	require.NoError(t, w.Compare(c))
	require.NoError(t, w.Close(&Totals{}))
	return out.String()
}

// literal is text that a Markdown page shows as it is: nothing in a code
// element but letters, digits, plain marks and numeric entities.
var literal = regexp.MustCompile("<code>(?:[^<>|`&\\\\@\\n]|&#[0-9]+;)*</code>")

// Nothing in a ledger breaks out of any output of a comparison.
func TestCompareHostile(t *testing.T) {
	for _, mark := range []string{"|", "`", "``", "<script>alert(1)</script>", "</code>", "</details>", "@everyone", "@org/team", "#1", "GH-1", "http://example.org", "www.example.org",
		"[a](http://x)", "![a](http://x)", "*a*", "_a_", "~~a~~", "\n\n# title", "\r\n", "\n::error::x", "::error file=a::x", "\x1b[31m", "\x1b]8;;http://x\x07", "\x9b31m", "\u202e", "\u2066", "\u200b",
		"&lt;", "&#124;", "\\|", "<!--", "-->", "$x$", "\xff", "\x00", ":smile:", "1. a", "- a", "---"} {
		evil := "EVIL" + mark + "EVIL"
		c := hostileComparison(evil)
		for _, all := range []bool{false, true} {
			text := write(t, "text", Options{All: all}, c)
			require.Contains(t, text, "EVIL")
			for line := range strings.Lines(text) {
				require.Equal(t, Clean(strings.TrimSuffix(line, "\n")), strings.TrimSuffix(line, "\n"))
				require.False(t, strings.HasPrefix(strings.TrimSpace(line), "::"), line)
			}
		}
		page := write(t, "markdown", Options{}, c)
		require.Contains(t, page, "EVIL")
		require.NotContains(t, literal.ReplaceAllString(page, ""), "EVIL", mark)
		for line := range strings.Lines(page) {
			if strings.HasPrefix(line, "|") {
				n := strings.Count(line, "|")
				require.True(t, n == 5 || n == 6, line)
			}
		}
		onlyText(t, write(t, "html", Options{}, c))
		data := write(t, "json", Options{}, c)
		var back struct {
			Entries []struct{ Entry string }
			Changes []struct{ Why string }
		}
		require.NoError(t, json.Unmarshal([]byte(data), &back))
		require.Equal(t, strings.ToValidUTF8(evil, "\ufffd"), back.Entries[0].Entry)
		for line := range strings.Lines(data) {
			require.Negative(t, strings.IndexFunc(strings.TrimSuffix(line, "\n"), shown.Hidden))
		}
	}
}

// onlyText reads a page: it has the elements and attributes of its template, and
// none that a ledger brought.
func onlyText(t *testing.T, page string) {
	t.Helper()
	require.Contains(t, page, "EVIL")
	for line := range strings.Lines(page) {
		require.Negative(t, strings.IndexFunc(strings.TrimSuffix(line, "\n"), shown.Hidden), line)
	}
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok {
			require.Contains(t, strings.Fields("html head meta title style body h1 h2 p b table thead tbody tr th td span br ul li del ins"), e.Name.Local)
			for _, a := range e.Attr {
				require.Contains(t, strings.Fields("lang charset http-equiv content name class scope data-is"), a.Name.Local)
			}
		}
	}
}

// A private value is told of, and not told.
func TestComparePrivate(t *testing.T) {
	c := hostileComparison("x")
	c.Edits = []*compare.Edit{{Entry: "owner", Kind: compare.Altered, Values: []*compare.ValueEdit{
		{Key: "contact", Before: "secret one", After: "secret two", Private: true, Words: []compare.Span{{Op: '-', Text: "secret"}}}}}}
	for _, k := range CompareKinds {
		out := write(t, k.Name, Options{All: true}, c)
		require.NotContains(t, out, "secret")
		quiet := k.Name == "line" || k.Name == "ci-log" // which name no entries, or only what made a check worse
		require.Equal(t, !quiet, strings.Contains(out, "contact"), k.Name)
	}
}

// Printed shares add up to the printed total, whatever they are, and none is
// more than one digit of the last place off.
func TestAddUp(t *testing.T) {
	lb, _ := q.UnitNamed("lb")
	percent, _ := q.UnitNamed("%")
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]*q.Unit{lb, percent}).Draw(t, "unit")
		shares := rapid.SliceOfN(rapid.Float64Range(-500, 500), 1, 12).Draw(t, "shares")
		scale := math.Pow(10, float64(rapid.IntRange(-5, 4).Draw(t, "scale")))
		total := 0.0
		for i := range shares {
			shares[i] *= scale * u.Factor
			total += shares[i]
		}
		printed, sum := addUp(shares, total, u)
		number := func(s string) float64 {
			v, err := strconv.ParseFloat(strings.ReplaceAll(strings.Fields(s)[0], ",", ""), 64)
			require.NoError(t, err)
			return v
		}
		got, decimals := 0.0, 0
		if _, tail, ok := strings.Cut(strings.Fields(sum)[0], "."); ok {
			decimals = len(tail)
		}
		last := math.Pow(10, float64(-decimals))
		for i, p := range printed {
			got += number(p)
			require.InDelta(t, shares[i]/u.Factor, number(p), 1.5001*last)
		}
		require.InDelta(t, number(sum), got, last/1000)
		require.InDelta(t, total/u.Factor, number(sum), 0.5001*last)
	})
	printed, sum := addUp([]float64{math.NaN(), 2}, 3, percent)
	require.Equal(t, []string{"", "+200 %"}, printed)
	require.Equal(t, "+300 %", sum)
}

// A limit that was not known before is not shown as nothing.
func TestLimitNow(t *testing.T) {
	require.Equal(t, "its limit is now max 3 lb", limitNow("", "max 3 lb"))
	require.Equal(t, "its limit was max 3 lb, and is no longer known", limitNow("max 3 lb", ""))
	require.Equal(t, "its limit max 3 lb -> max 2 lb", limitNow("max 3 lb", "max 2 lb"))
}

// What an edit does by itself, and what the check is without it, is said for what the
// check was and is: a check that did not hold before does not hold without the edit.
func TestCauseWords(t *testing.T) {
	is := func(v lint.Verdict) *lint.Result { return &lint.Result{Verdict: v} }
	says := func(kind compare.ChangeKind, from, to lint.Verdict, c compare.Cause) []string {
		return saysOf(&compare.Change{Kind: kind, Before: is(from), After: is(to)}, &c)
	}
	undone := compare.Cause{Undone: true}
	require.Equal(t, []string{"without it the check holds"}, says(compare.Worse, lint.Pass, lint.Fail, undone))
	require.Equal(t, []string{"without it the check holds"}, says(compare.Worse, lint.Waived, lint.Fail, undone))
	require.Equal(t, []string{"without it the check is no worse than before"}, says(compare.Worse, lint.Unproven, lint.Fail, undone))
	require.Equal(t, []string{"without it the check does not hold"}, says(compare.Better, lint.Missing, lint.Pass, undone))
	require.Equal(t, []string{"without it the check is no better than before"}, says(compare.Better, lint.Fail, lint.Unproven, undone))
	require.Equal(t, []string{"by itself it is too close to tell"}, says(compare.Worse, lint.Pass, lint.Fail, compare.Cause{Opens: true, Left: lint.Unproven}))
	require.Equal(t, []string{"by itself it leaves it open"}, says(compare.Worse, lint.Pass, lint.Missing, compare.Cause{Opens: true, Left: lint.Missing}))
}

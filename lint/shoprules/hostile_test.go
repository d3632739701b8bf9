package shoprules_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/lint/shoprules"
	"fishplate/rules"
)

// crowded is a build with enough entries for a loop in a loop in a loop to be long.
var crowded = func() string {
	var b strings.Builder
	b.WriteString(van)
	for i := range 60 {
		fmt.Fprintf(&b, "[part.p%d]\nrole = \"radiator\"\nmass = \"%d lb\"\n", i, i+1)
	}
	return b.String()
}()

// end is how an expression that is written to harm ends.
type end struct {
	text string
	told string // part of its one fault, or of the first; "" where it is judged
}

func many(n int, s string) string { return strings.Repeat(s, n) }

// hostile are expressions that nobody writes but to harm, and how each ends.
func hostile() (out []end) {
	add := func(told string, texts ...string) {
		for _, x := range texts {
			out = append(out, end{x, told})
		}
	}
	for _, n := range []int{61, 100, 500, 990} { // nested
		deep := "nested too deeply"
		add(deep, many(n, "(")+"true"+many(n, ")"))
		add(deep, many(n, "[")+many(n, "]")+" == []")
		if n > 400 {
			deep = "too long"
		}
		add(deep, many(n, "abs(")+"q('1 in')"+many(n, ")")+" > q('0 in')",
			many(n, "true ? true : (")+"true"+many(n, ")"))
	}
	add("nested too deeply", "q('1 in') > "+many(500, "-(")+"q('1 in')"+many(500, ")"))
	for _, n := range []int{501, 700, 990} { // wide
		add("too many parts", "["+many(n, "1,")+"].size()>0", "[["+many(n/2, "1,")+"],["+many(n/2, "1,")+"]].size()>0")
	}
	add("nested too deeply", "0 < "+many(200, "1 + ")+"1", "q('1 in') < q('1 in')"+many(80, " + q('1 in')"), "it"+many(100, ".at")+" > 1", "1 < 2"+many(100, " ? 1 < 2 : 1 < 2"))
	add("", many(900, "!")+"true", many(150, "true || ")+"true", "["+many(400, "1,")+"].size() > 0") // long, and soon judged
	for _, n := range []int{2001, 20_000, 120_000} {                                                 // long
		add("too long", "'"+many(n, "x")+"' == 'x'", many(n, " ")+"true", many(n, "a")+" > 1", "1"+many(n, "0")+" > 1", "true //"+many(n, "x"), "'"+many(n, "é")+"' == 'x'")
	}
	loops := func(list string, n int, inner string) string {
		x := inner
		for i := range n {
			x = fmt.Sprintf("%s.all(v%d, %s)", list, i, x)
		}
		return x
	}
	for n := 3; n <= 6; n++ { // loops in loops
		add("more than 100000 steps", loops("parts()", n, "true"), loops("parts().map(p, p.mass)", n, "true"), "!"+strings.ReplaceAll(loops("parts()", n, "false"), ".all(", ".exists("))
		sums := "p0.mass"
		for i := range n {
			sums = fmt.Sprintf("sum(parts().map(p%d, %s))", i, sums)
		}
		add("narrow down", sums+" > q('1 lb')")
	}
	bomb := "[1, 1, 1, 1, 1, 1, 1, 1, 1, 1]"
	add("more than 100000 steps", loops(bomb, 6, "true"), bomb+many(5, ".map(x, "+bomb+")")+".size() > 0 && "+loops(bomb, 5, bomb+".all(z, z > 0)"))
	add("there is no .matches()", "'aaaaaaaaaaaaaaaaaaaaaaaaaaaaab'.matches('(a+)+$')", "parts().all(p, p.role.matches('(.*)*x'))", "'x'.matches('"+many(300, "(")+many(300, ")")+"')")
	add("there is no function", "matches('aaaa', '(a|aa)+$')", "timestamp('2020-01-01T00:00:00Z') < timestamp('9999-12-31T23:59:59Z')", "duration('1000000h') > duration('1s')",
		"now() > 1", "getenv('HOME') == ''", "open('/etc/passwd') == ''", "system('true')", "bytes('x') == b'x'", "string(1) == '1'", "dyn(1) == 1", "type(1) == type(1)", "int('9') == 9")
	add("a finite number", "q('1e400 in') > q('1 in')")
	add("", "q('1e300 in') * q('1e300 in') > q('1 in2')", "9223372036854775807 + 1 > 0", "-9223372036854775808 - 1 < 0", "9223372036854775807 * 9223372036854775807 > 0", "1 / 0 > 0", "1.0 / 0.0 > 0.0", "q('1 in') / 0 > q('0 in')",
		"0.0 / 0.0 > 0.0", "sqrt(q('-1 in2')) > q('0 in')", "log(0.0) > 0", "exp(exp(exp(100.0))) > 0", "[1][99] > 0", "[1][-1] > 0", "parts()[1000000].mass > q('1 lb')", "min(parts().filter(p, false).map(p, p.mass)) > q('1 lb')",
		"pow(pow(pow(10.0, 12), 12), 12) > 1")
	add("invalid int literal", "99999999999999999999 > 1", "0xFFFFFFFFFFFFFFFFFF > 1")
	add("a dimension that nobody measures", "pow(pow(q('2 in'), 12), 12) > q('1 in')", "pow(q('2 in'), 12) * pow(q('2 in'), 12) > q('1 in')")
	add("pow takes a number", "pow(2, 1e9) > 1", "pow(2, parts().size()) > 1", "pow(2, 0.0/0.0) > 1")
	add("", "'\\U0001F600'.size() == 1", "'paypal' == 'p\u0430ypal'", "'it' == '\u0456t'") // letters that look alike, in texts
	add("cannot be read", "p\u0430rts().size() > 1", "\u0456t.wheelbase > q('1 in')", "vehicle\uff0ewheelbase > q('1 in')", "\u201cx\u201d == 'x'", "true \u2227 true", "q(\u20181 in\u2019) > q('1 in')")
	add("", "vehicle.wheelbase > q('1\u00a0in')")
	add("cannot be read", "vehicle.wh\u0435elbase > q('1 in')")
	add("no key", "it.__proto__ > 1", "it.run > 1", "it.view > 1")
	return out
}

// expression is a rule that holds what an expression says, on line 4 of shop.toml.
func expression(text string) string {
	quoted, _ := json.Marshal(text)
	return "[rule.x]\ntitle = \"x\"\nsource = \"s\"\nholds = " + string(quoted) + "\n"
}

// TestHostile: each ends at its limit with a fault at its place, or is judged; and
// what it takes is limited.
func TestHostile(t *testing.T) {
	all := hostile()
	assert.GreaterOrEqual(t, len(all), 100)
	for _, x := range all {
		rep := judgeBy(t, expression(x.text), crowded, ownPack)
		limited(t, x.text, rep)
		var told []string
		for _, f := range rep.Faults {
			told = append(told, f.Message)
		}
		if x.told == "" {
			assert.Empty(t, told, "%.80s", x.text)
			continue
		}
		if assert.NotEmpty(t, told, "%.80s: it is judged", x.text) {
			assert.Contains(t, strings.Join(told, "\n"), x.told, "%.80s", x.text)
		}
	}
}

// ownPack is a shop's rules alone; the figures of all packs are at hand.
var ownPack = []*lint.Pack{shoprules.Pack(rules.Packs())}

// limited holds a report on rule x, which expression wrote, to what must be so
// whatever the expression is.
func limited(t *testing.T, text string, rep *lint.Report) {
	t.Helper()
	for _, f := range rep.Faults {
		assert.NotEmpty(t, f.Message, "%.80q", text)
		assert.LessOrEqual(t, utf8.RuneCountInString(f.Message), 400, "%.80q", text)
		assert.True(t, strings.HasSuffix(f.Place.File, "shop.toml"), "%.80q: %v", text, f)
		assert.Equal(t, 4, f.Place.Line, "%.80q: %v", text, f)
		assert.Positive(t, f.Place.Column, "%.80q: %v", text, f)
		assert.LessOrEqual(t, f.Place.Column, utf8.RuneCountInString(expression(text)), "%.80q: %v", text, f)
	}
	if len(rep.Faults) == 0 {
		assert.Len(t, of(rep, "shop/x"), 1, "%.80q", text)
	}
	if rep.Build != nil { // the last step may be a long one
		steps, sums := shoprules.Spent(rep.Build)
		assert.LessOrEqual(t, steps, 2*shoprules.MostSteps, "%.80q", text)
		assert.LessOrEqual(t, sums, shoprules.MostSums+1, "%.80q", text)
	}
}

// FuzzRule: any text as an expression ends in faults at their place in it, or in a
// rule that judges; and never takes more than it may.
func FuzzRule(f *testing.F) {
	for i, x := range hostile() {
		if i%7 == 0 && len(x.text) < 4000 {
			f.Add(x.text)
		}
	}
	for _, x := range []string{
		"it.wheelbase > q('2 in')", "parts().filter(p, has(p.mass) && p.role == 'radiator').all(p, p.mass < q('70 lb'))",
		"sum(parts().map(p, p.mass * p.count)) < figure('weight/gross', 'vehicle', 'as stated')", "part('part.a').at.behind - vehicle.wheelbase / 2 <= q('1 m')",
		"tanks().exists_one(t, t.capacity > q('5 gal') ? true : false)", "below(part('part.a').mass, q('20 lb'), 1, 2) + min(1, 2.5) * -pow(3, 2) >= sqrt(4)",
		"entry_name(it) in ['vehicle', \"x\"] || 'abc'.startsWith('a') && size('abc') != 3", "figure('shop/x', it) < 3", "vehicle.\u0000", "{'a': 1}.a == 1", "it.front.tire.load_rating[0]",
	} {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsFunc(text, func(r rune) bool { return r == utf8.RuneError || r < ' ' || r >= 0x7f && r < 0xa0 }) {
			return // no file holds it: that is the ledger's own to tell
		}
		limited(t, text, judgeBy(t, expression(text), crowded, ownPack))
	})
}

// TestRunsOut: a rule that goes through too much says so, and all else is judged.
func TestRunsOut(t *testing.T) {
	rep := by(t, expression("parts().all(a, parts().all(b, parts().all(c, parts().all(d, true))))"), crowded)
	require.Len(t, rep.Faults, 1)
	assert.Contains(t, rep.Faults[0].Message, "narrow down what it goes through")
	assert.Equal(t, 4, rep.Faults[0].Place.Line)
	assert.NotEmpty(t, of(rep, "weight/gross"))
	assert.Empty(t, of(rep, "shop/x"))
}

package ledger_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/syntax"
)

// sayable is what a schema says of a kind of fault.
type sayable int

const (
	never  sayable = iota // it cannot be said of one file, or not by a schema
	partly                // of some values
	always                // wherever it is told, the schema refuses the same place
)

// faultKinds are all kinds of faults, as the source has their messages, with what
// the schema says of them. A new message has to be put here.
var faultKinds = map[string]sayable{
	// What a shop's own rules say: what belongs together, and how much there may be.
	"%s has %s, and %s as well: a value has one limit":                                                       never,
	"%s has a value and no limit: write %s":                                                                  never,
	"%s has holds, and %s as well: it is either holds alone, or a value with its limit":                      never,
	"%s says neither holds nor value: write holds = an expression that is true, or value and %s":             never,
	"%s says same-as and no within: within what share of it, such as within = \"q('2 %%')\"":                 never,
	"%s says within and no same-as: within belongs to that":                                                  never,
	"%s.trial.%s says no build: its folder beside shop.toml, such as trials/tank-low":                        never,
	"%s.trial.%s says no verdict: what the rule makes of the build, such as fail":                            never,
	"[%s] stands in shop.toml; the files in rules beside it hold [rule.ID] alone%s":                          never,
	"a shop may have %d KiB of rules in all its files; with this one it has more":                            never,
	"a shop may have %d files of rules; this one and %d more are too many":                                   never,
	"a shop may have %d rules, and %d KiB of expressions in all of them; this rule and %d more are too many": never,
	"a trial's build is a folder below trials, beside shop.toml, such as trials/tank-low; got %q":            partly,
	"between takes two expressions, the lower limit and the upper one; got %d":                               partly,
	"each takes a kind of entry, such as part or vehicle.front; got %q%s":                                    partly,
	"rule is a table: write [rule.ID]":                                                                       partly,

	// What a file holds.
	"unknown table %q%s%s":                           always,
	"%s is a table: write [%s]":                      always,
	"[%s] stands in shop.toml, not in a build":       always,
	"[%s] stands in a build, not in shop.toml":       always,
	"[%s] needs an id: write [%s.ID], as in [%s.%s]": always,
	"%s.%s is a table: write [%s.%s]":                always,
	"bad id %q: an id is lower-case words or digits joined by hyphens, as in %s.oil-cooler%s": always,
	"%s has no key %q; it is called %q":                            always,
	"unknown key %q in %s%s":                                       partly, // a key written the American and the British way
	"%s takes a table with %s; got %s":                             always,
	"%s takes a list, as in %s = [...]%s; got %s":                  always,
	"%s takes %d at most; this one and %d more are too many":       never, // it can, but of the whole list
	"%s takes a table, as in %s = { ... }; got %s":                 always,
	"%s takes the name of a %s in quotes, as in %s = { %q = ... }": always,
	"unknown key %q in a place%s; takes %s":                        always,
	"unknown key %q in a need%s; takes %s":                         always,
	"%s takes no %s: %s is there or not, and not measured":         partly, // of a shop's own kind
	"%s takes %s instead of %s, as %s is compared by %q":           partly, // of a shop's own kind
	"%s takes { least, exactly or takes, and from }; got %s":       always,
	"%s takes %s; got %s":                                          partly, // a whole float where a whole number may stand
	"%s takes one of %s; got %q%s":                                 always,
	" is empty; leave the key out where there is nothing to say":   always,
	"%s takes true or false; got %s":                               always,
	"%s takes a date, such as 2026-03-01; got %s":                  always,
	"%s says no %s: %s":                                            always,
	"word.%s does not say of: which list it is for, such as role":  always,
	"hookup.%s does not say compare: how what is fed is held against what is needed, by level, sum, equal or present": always,

	// What other entries or files decide.
	"%s is already at %s:%d:%d; an entry stands in one place":                           never,
	"unknown hookup %q%s; a shop adds kinds of its own in [hookup.%s]":                  never,
	"%s: a part cannot feed itself":                                                     never,
	"takes %s; got %q%s":                                                                always,
	"takes %s; got %q":                                                                  always,
	"%s does not say %s%s":                                                              never,
	"there is no %s%s":                                                                  partly, // a name that no entry can have
	"%s.%s leads back to itself through %s":                                             never,
	"%s.%s rests on more than %d others, one behind another":                            never,
	"there is no list of words %q; takes one of %s%s":                                   never,
	"word.%s does not say like: the known word that it is taken as":                     never,
	"%q is a known word for a %s already":                                               never,
	"%q is no known word for a %s%s":                                                    never,
	"unknown dimension %q; such as pressure, power or flow":                             never,
	"a hookup is of one dimension, such as pressure, power or flow; got %q":             never,
	"%s is compared by \"level\" or \"present\": it does not add up, and has no shares": never,
	"the hookup %q is known already":                                                    never,
	"no %s is called %q%s":                                                              never, // a shop's question; so is the next
	"a ledger may have %d entries; this one and %d more are too many":                   never,
	"a ledger may have %d TOML files; this one and %d more are too many":                never,
	"a ledger may have %d KiB of TOML in all its files; with this one it has more":      never,
	"a change of several files was cut short, and half of it may be read; the next attach or sign completes it": never,
	"too big to read: %s":                        never,
	"deeper than %d folders in the build folder": never,

	// References to pins, and sizes.
	"takes a pin of the plug, as in %q; got %q":                        always,
	"only a plug has pins; got %q":                                     always,
	"AWG sizes run from 40 to 1, then 1/0 to 4/0; got %q":              always,
	"a conductor size in mm2, such as 2.5 mm2; got %q":                 partly, // none, or a thousand
	"takes a conductor size, such as 12 AWG, 2/0 AWG or 3 mm2; got %q": always,

	// Quantities.
	"%s; got %s": partly, // what Limits say, of text
	"takes a quantity such as \"2 %%\"; got %s":              always,
	"a number without a unit; takes %s, written as a string": always,
	"takes %s; got %s": partly, // what Limits say, of text
	"must be finite":   partly,
	"empty; takes %s":  always,
	"an estimate by its ends takes no ± and no ~; write \"10 to 12 lb\"":                          always,
	"a rating, a limit or a count is exact: leave out the tolerance":                              always,
	"a temperature below absolute zero":                                                           never,
	"an absolute pressure below zero":                                                             partly,
	"both ends take the same dimension; got %q and %q":                                            never,
	"feet and inches at the upper end need a unit at the lower, as in \"60 in to 5 ft 2 in\"":     never,
	"the lower end comes first, as in \"0 to 2 lb\"":                                              never,
	"two ±; one is enough":                                                                        always,
	"a tolerance in % means nothing here; give it in the unit of the value":                       never,
	"an estimate of a zero, a temperature or a position must say its ±, as in \"~195 ± 10 degF\"": partly, // of a position
	"after the ± comes %w":                                                                        always,
	"a tolerance is not negative":                                                                 always,
	"say what the % is of: \"3.73 ± 0.04\", or \"2 % ± 0.5 %\"":                                   never,
	"a number without a unit; takes %s":                                                           partly, // a % where there is no unit
	"a tolerance in feet and inches needs a unit at the value too":                                never,
	"the tolerance takes %s; got %q":                                                              partly, // of compounds
	"the value and its ± take the same unit; got %s and %s":                                       never,
	"unknown unit %q; did you mean %q? It takes %s":                                               partly, // known words joined as no unit is
	"unknown unit %q; takes %s":                                                                   partly,
	"takes %s; got %s (%q)":                                                                       partly, // of compounds
	"more than %d characters":                                                                     always,
	"a number of more than %d digits":                                                             never,
	"feet and inches take whole feet and less than 12 in, as in \"5 ft 2 1/4 in\"":                never,
	"a number with a point for decimals and no commas, as in 1.5 or 1200; got %q":                 always,
	"a finite number":                                              partly, // 1e400
	"a number and a unit; got %q":                                  always,
	"a fraction such as 3 1/2":                                     always,
	"a fraction over zero means nothing":                           always,
	"the fraction %s/%s after a whole number is not less than one": never,
	"a whole number before the fraction":                           always,
}

// kindOfFault is the message in the source that a fault has, the most particular.
func kindOfFault(message string) string {
	best, long := "", -1
	for format, form := range faultForms {
		if n := len(verb.ReplaceAllString(format, "")); n > long && form.MatchString(message) {
			best, long = format, n
		}
	}
	return best
}

var verb = regexp.MustCompile(`%[sqdvw]`)

var faultForms = func() map[string]*regexp.Regexp {
	out := map[string]*regexp.Regexp{}
	for format := range faultKinds {
		text := strings.ReplaceAll(regexp.QuoteMeta(format), "%%", "%")
		out[format] = regexp.MustCompile(`(?s)(^|: |takes |\pL)` + verb.ReplaceAllString(text, ".*"))
	}
	return out
}()

// Every message of the source is in the list, and none that is not there.
func TestEveryFaultIsClassified(t *testing.T) {
	found := map[string]bool{}
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range append(names, "quantity/parse.go", "quantity/figure.go") {
		if strings.HasSuffix(name, "_test.go") || slices.Contains([]string{"with.go", "suppose.go", "move.go", "stage.go", "append.go"}, name) {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			fun := ""
			switch f := call.Fun.(type) {
			case *ast.Ident:
				fun = f.Name
			case *ast.SelectorExpr:
				fun = f.Sel.Name
			}
			if !slices.Contains([]string{"fault", "tell", "Errorf", "New", "Sprintf", "cannotRead"}, fun) {
				return true
			}
			for _, arg := range call.Args {
				if lit, ok := arg.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if text, err := strconv.Unquote(lit.Value); err == nil && strings.Contains(text, " ") {
						found[text] = true
					}
				}
			}
			return true
		})
	}
	for text := range found {
		if _, known := faultKinds[text]; !known && !slices.Contains(noFaults, text) {
			assert.Fail(t, "a message that is not classified", "%q", text)
		}
	}
	for text := range faultKinds {
		assert.True(t, found[text] || slices.Contains(ofOthers, text), "no longer a message: %q", text)
	}
}

// ofOthers are messages that are told of files before they are read, or put together.
var ofOthers = []string{" is empty; leave the key out where there is nothing to say", "too big to read: %s"}

// noFaults are texts of the source that are parts of messages, or told of no file.
var noFaults = []string{
	"a known word for %s; %q is none%s", "%s: %s", "%s:%d:%d: %s", "limits.%s: %v", "; did you mean %q?", "%s (%s is not a %s)", "%s: %v",
	"the string %q", ": did you mean %q?", "the ledger was not read from a folder, so its files cannot be looked at",
}

// agree holds the faults that loading tells of a file against what the schema
// refuses in it. It gives the faults of a kind that the schema says in part and
// did not say here, and how many places both refuse.
func agree(t *testing.T, name, text string, faults []ledger.Fault) (missed []string, both int) {
	t.Helper()
	v, err := decoded(text)
	if err != nil {
		require.NotEmpty(t, faults, "%s: %v", name, err)
		return nil, 0
	}
	s := schemas(t)[strings.HasSuffix(name, "shop.toml")]
	top, all := refusals(s, v)
	doc := syntax.Read([]byte(text))
	inSyntax := func(f ledger.Fault) bool {
		return slices.ContainsFunc(doc.Faults, func(g syntax.Fault) bool { return g.Message == f.Message })
	}
	var told []string
	for _, f := range faults {
		if inSyntax(f) {
			return nil, 0 // TOML decides before any schema
		}
		path := pathAt(text, f.Place.Line, f.Place.Column)
		told = append(told, path)
		kind := kindOfFault(f.Message)
		require.NotEmpty(t, kind, f.Message)
		switch refused := slices.Contains(all, path); {
		case ofOwnHookup(path): // a build's schema does not know how it is measured
		case refused:
			both++
			assert.NotEqual(t, never, faultKinds[kind], "%s can be said, of %s: %s", kind, path, f)
		case faultKinds[kind] == always:
			assert.Fail(t, "the schema lets a fault through", "%s at %s; it refuses %s", f, path, all)
		case faultKinds[kind] == partly:
			missed = append(missed, f.Message)
		}
	}
	for _, p := range top {
		below := func(q string) bool { return q == p || strings.HasPrefix(q, p+"/") }
		assert.True(t, slices.ContainsFunc(told, below), "%s: the schema refuses %s, which loads: %v", name, p, faults)
	}
	return missed, both
}

// ofOwnHookup tells that a path goes through a kind of hookup that a shop added.
func ofOwnHookup(path string) bool {
	keys := strings.Split(path, "/")
	if len(keys) < 4 || keys[2] != "needs" && keys[2] != "gives" {
		return false
	}
	return !slices.ContainsFunc(ledger.HookupDocs(), func(h ledger.HookupDoc) bool { return h.Kind == keys[3] })
}

var compiledSchemas map[bool]*jsonschema.Schema

// schemas are that of a build and, by true, that of a shop.
func schemas(t *testing.T) map[bool]*jsonschema.Schema {
	if compiledSchemas == nil {
		compiledSchemas = map[bool]*jsonschema.Schema{false: validator(t, false), true: validator(t, true)}
	}
	return compiledSchemas
}

// unsaid are the broken ledgers whose kind of fault the schema says of other
// values, but not of theirs.
var unsaid = []string{"too great", "bad reference", "fuller than full", "not a level of a tank"}

// Every broken ledger whose fault a schema can say is refused at the same place,
// and nothing is refused that loads.
func TestJSONSchemaRefusesWhatIsBroken(t *testing.T) {
	refused := 0
	for _, c := range brokenLedgers() {
		t.Run(c.name, func(t *testing.T) {
			files := c.files()
			write(t, files)
			_, faults := load(t, ".")
			var missed []string
			for name, text := range files {
				var mine []ledger.Fault
				for _, f := range faults {
					if f.Place.File == name {
						mine = append(mine, f)
					}
				}
				m, n := agree(t, name, text, mine)
				missed, refused = append(missed, m...), refused+n
			}
			assert.Equal(t, slices.Contains(unsaid, c.name), len(missed) > 0, "%v", missed)
		})
	}
	assert.Greater(t, refused, 50)
}

// slipValues are what stands in place of other values: right and wrong numbers, words,
// dates, names, tables and lists.
var slipValues = []string{
	`"12 lb"`, `"12 in"`, `"-3 in"`, `"~3 in"`, `"3 ± 1 in"`, `"0 to 2 lb"`, `"5 ft 2 in"`, `"12"`, `"1,200 lb"`, `"0 lb"`, `"195 degF"`, `"-40 degC"`, `"12 V"`, `"5 A"`,
	`"30 psi"`, `"18 inHg"`, `"4 lb-ft"`, `"2000 rpm"`, `"12 AWG"`, `"3 mm2"`, `"41 AWG"`, `"50 %"`, `"? lb"`, `"120 USD"`, `"95 USD/h"`, `"12 lb/gal"`, `"3 gpm"`,
	`3`, `-1`, `0`, `0.5`, `1.5`, `92`, `1994`, `2.0`, `true`, `false`, `2026-03-01`, `"2026-03-01"`, `"2026-02-30"`, `2026-03-01T10:00:00Z`, `"yesterday"`,
	`"diesel"`, `"original"`, `"aluminium"`, `"Grey"`, `"other"`, `""`, `" "`, `"part.engine"`, `"part.Engine"`, `"part"`, `"vehicle"`, `"vehicle.wheelbase"`, `"plug.x:1"`, `"plug.x"`, `"zone.bay"`,
	`[]`, `["part.engine"]`, `["3 in"]`, `[1, 2]`, `{}`, `{ from = "part.engine" }`, `{ behind = "3 in" }`, `{ least = "18 inHg" }`, `{ vacuum = true }`, `{ vacuum = { least = "3 psi", from = "part.x" } }`, `{ x = 1 }`,
}

// Examples with one value or one key put in the place of another: loading and the
// schema refuse the same places.
func TestJSONSchemaAgreesOnSlips(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute of one goroutine")
	}
	const many = 400
	random := rand.New(rand.NewPCG(20260302, 12))
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../examples/tamarack")))
	t.Chdir(dir)
	var names []string
	for _, build := range []string{"builds/marten", "builds/heron"} {
		files, err := filepath.Glob(build + "/*.toml")
		require.NoError(t, err)
		names = append(names, files...)
	}
	both, missed := 0, 0
	for range many {
		name := names[random.IntN(len(names))]
		old, err := os.ReadFile(name)
		require.NoError(t, err)
		var spots []*syntax.Node
		var walk func(n *syntax.Node)
		walk = func(n *syntax.Node) {
			for _, c := range n.Children {
				if c.ValueRange.To > c.ValueRange.From {
					spots = append(spots, c)
				}
				walk(c)
			}
		}
		walk(syntax.Read(old).Root)
		if len(spots) == 0 {
			continue
		}
		n := spots[random.IntN(len(spots))]
		text := string(old[:n.ValueRange.From]) + slipValues[random.IntN(len(slipValues))] + string(old[n.ValueRange.To:])
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
		_, faults := load(t, filepath.Dir(name))
		require.NoError(t, os.WriteFile(name, old, 0o644))
		var mine []ledger.Fault
		for _, f := range faults {
			if f.Place.File == name {
				mine = append(mine, f)
			}
		}
		m, k := agree(t, name, text, mine)
		both, missed = both+k, missed+len(m)
		if t.Failed() {
			return
		}
	}
	t.Log("refused by both", both, "said in part and missed", missed)
	assert.Greater(t, both, many/4)
	assert.Less(t, missed, many/10)
}

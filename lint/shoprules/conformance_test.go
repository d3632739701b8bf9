package shoprules

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	"cel.dev/cel-go/common/types/traits"
	expr "cel.dev/expr"
	_ "cel.dev/expr/conformance/proto2" // the messages that some tests name
	_ "cel.dev/expr/conformance/proto3"
	conformance "cel.dev/expr/conformance/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/encoding/prototext"

	"fishplate/ledger"
	"fishplate/ledger/golden"
	"fishplate/ledger/revision"
)

// leftOut says of what stands in the language and not in a rule why that is so, by
// what a rule is told of it.
var leftOut = []struct{ told, why string }{
	{`^a table written out is no part of a rule`, "maps and messages written out: a rule reads the ledger and lays out no table"},
	{`^a value of this kind is no part of a rule`, "bytes, unsigned numbers and null: no key of a ledger is of them"},
	{`^there is no (int|uint|double|bool|string|bytes|list|map|null_type|type|dyn) here`, "types as values: no rule asks for a type, for each key has one"},
	{`^there is no (a|x|y|msg|str_var|TestAllTypes|GlobalEnum|google) here`, "names that the suite declares: a rule has it and the kinds of entry"},
	{`^there is no (math|cel|optional|strings|proto|base64) here`, "extensions of the language: math, blocks and bindings, optional values, texts, messages, base64"},
	{`^there is no \.(format|indexOf|lastIndexOf|substring|replace|split|charAt|trim|join|upperAscii|lowerAscii)\(\)`, "extensions of texts: no text is made in a rule"},
	{`^there is no \.(existsOne|transformList)\(\)|^(all|exists) takes a name for each value`, "macros of two names: a list of a ledger is gone through by value"},
	{`^there is no \.matches\(\)`, "regular expressions"},
	{`^there is no function (timestamp|duration)`, "timestamps and durations: a time is a quantity, and a date is compared as text"},
	{`^there is no function (dyn|int|uint|double|bool|string|bytes|type)$`, "conversions of types: a quantity carries its dimension and its tolerance, and a conversion would drop them"},
	{`^there is no function (f_unknown|fn|f|GlobalEnum)`, "functions that the suite declares"},
	{`^there is no operator %`, "the remainder of a division: of a quantity with a tolerance it says nothing"},
	{`^\+ is between quantities; got text`, "texts added: no text is made in a rule"},
	{`^two lists are not compared|^a list is not compared`, "lists compared: they may hold quantities, and two quantities are not compared with =="},
	{`^a list of a number and text|^a choice of text and a number`, "values of mixed types in one place: each has one dimension"},
	{`^== does not go with \(double, int\)`, "a whole number compared with a fraction by ==: types are checked before anything runs"},
	{`^text is not compared with a number|^[-+*/] is between quantities; got (text|a yes or no)`, "what does not go together, compared or added: told before anything runs"},
	{`^takes a yes or no, such as`, "what is no yes or no in logic: told before anything runs"},
	{`^a yes or no is not compared with`, "yes ordered above no"},
	{`^unsupported syntax '(\.|\[)?\?'`, "the syntax of optional values"},
	{`^a control character \(`, "control characters: no file of a ledger holds any"},
	{`^a name is wanted here`, "blocks that an optimizer makes"},
}

// TestConformance runs the suite of the language's own specification, as it lies in
// the module cel.dev/expr that go.mod pins (https://github.com/google/cel-spec,
// tests/simple/testdata), in the language of rules. A test of it comes out as it
// says; or the rule is refused with a message that leftOut gives the reason for.
// testdata/conformance.txt counts both, file by file.
func TestConformance(t *testing.T) {
	found, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "cel.dev/expr").Output()
	require.NoError(t, err)
	names, err := filepath.Glob(filepath.Join(strings.TrimSpace(string(found)), "tests/simple/testdata/*.textproto"))
	require.NoError(t, err)
	require.NotEmpty(t, names, "the module cel.dev/expr holds no tests")
	var out strings.Builder
	out.WriteString("What the language's own tests make of the language of rules; TestConformance writes it.\n")
	used := map[string]bool{}
	all := 0
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		var file conformance.SimpleTestFile
		require.NoError(t, prototext.Unmarshal(text, &file), name)
		passed, left := 0, map[string]int{}
		for _, s := range file.Section {
			for _, x := range s.Test {
				id := file.Name + "/" + s.Name + "/" + x.Name
				why := conforms(t, id, x)
				if why == "" {
					passed++
				} else {
					left[why]++
					used[why] = true
				}
			}
		}
		all += passed
		fmt.Fprintf(&out, "\n%s: %d as the specification says\n", file.Name, passed)
		for _, why := range slices.SortedFunc(maps.Keys(left), func(a, b string) int { return cmp.Or(cmp.Compare(left[b], left[a]), cmp.Compare(a, b)) }) {
			fmt.Fprintf(&out, "  %d left out: %s\n", left[why], why)
		}
	}
	for _, l := range leftOut {
		assert.True(t, used[l.why], "nothing is left out for this any more: %s", l.why)
	}
	assert.Greater(t, all, 200, "nearly all is left out")
	golden.Check(t, "testdata/conformance.txt", out.String())
}

// conforms runs one test: "" where it comes out as it says, or why it is left out.
func conforms(t *testing.T, id string, x *conformance.SimpleTest) string {
	text, err := json.Marshal(x.Expr)
	require.NoError(t, err)
	b := ledger.NewLoader().OfShop(&revision.Shop{Name: "shop.toml", Content: []byte("[rule.x]\ntitle = \"x\"\nsource = \"s\"\nholds = " + string(text) + "\n")})
	var told []string
	for _, f := range b.Faults {
		told = append(told, f.Message)
	}
	if len(told) == 0 {
		c := &compiler{b: b, read: map[wording]*read{}}
		r := &rule{own: b.OwnRules()[0], it: fieldsOf(ledger.KindNamed("vehicle"))}
		c.rule, c.it = r, r.it
		if p := c.program("holds", 0); p != nil {
			run := &run{b: b, rule: r, spent: &spent{}}
			got, err := run.eval(p)
			require.NoError(t, err, id)
			if want, ok := same(got, x); !ok {
				t.Errorf("%s: %s\n\tis %v and should be %s", id, x.Expr, got, want)
			}
			return ""
		}
		for _, f := range c.faults {
			told = append(told, f.Message)
		}
	}
	require.NotEmpty(t, told, "%s: refused without a word", id)
	for _, l := range leftOut {
		for _, f := range told {
			if regexp.MustCompile(l.told).MatchString(f) {
				return l.why
			}
		}
	}
	t.Errorf("%s: %s\n\tis refused: %s", id, x.Expr, strings.Join(told, "\n\t"))
	return "?"
}

// same compares what came out with what the suite says.
func same(got ref.Val, x *conformance.SimpleTest) (want string, ok bool) {
	_, open := got.(*types.Unknown)
	switch {
	case x.GetEvalError() != nil || x.GetAnyEvalErrors() != nil:
		return "an error", open // which leaves the result open
	case x.GetTypedResult() != nil:
		return x.GetTypedResult().Result.String(), x.CheckOnly || equal(got, x.GetTypedResult().Result)
	case x.GetValue() == nil: // the suite's own default
		return "true", got == types.True
	}
	return x.GetValue().String(), equal(got, x.GetValue())
}

func equal(got ref.Val, want *expr.Value) bool {
	switch w := want.Kind.(type) {
	case *expr.Value_BoolValue:
		return got == types.Bool(w.BoolValue)
	case *expr.Value_Int64Value:
		return got == types.Int(w.Int64Value)
	case *expr.Value_DoubleValue:
		d, is := got.(types.Double)
		return is && (float64(d) == w.DoubleValue || math.IsNaN(float64(d)) && math.IsNaN(w.DoubleValue))
	case *expr.Value_StringValue:
		return got == types.String(w.StringValue)
	case *expr.Value_ListValue:
		l, is := got.(traits.Lister)
		if !is || l.Size() != types.Int(len(w.ListValue.Values)) {
			return false
		}
		for i, v := range w.ListValue.Values {
			if !equal(l.Get(types.Int(i)), v) {
				return false
			}
		}
		return true
	}
	return false
}

package shoprules

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	_ "cel.dev/expr/conformance/proto2" // the messages that the suite's files hold
	_ "cel.dev/expr/conformance/proto3"
	"cel.dev/expr/conformance/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/encoding/prototext"
)

// leftOut is what of the language is not kept, by what it says of an expression
// that uses it, and why.
var leftOut = map[string]string{
	"undeclared reference to 'TestAllTypes'":      "no messages: a ledger has entries",
	"undeclared reference to 'TestAllTypes.":      "no messages",
	"undeclared reference to 'GlobalEnum":         "no messages",
	"undeclared reference to 'NestedTestAllTypes": "no messages",
	"undeclared reference to 'Proto2":             "no messages",
	"undeclared reference to 'google.protobuf":    "no messages",
	"undeclared reference to 'proto":              "no messages",
	"undeclared reference to 'cel":                "no messages",
	"unable to resolve message":                   "no messages",
	"undeclared reference to '_%_'":               "no remainder: of a quantity it means nothing",
	"undeclared reference to 'matches'":           "no patterns: what they cost is not known before",
	"undeclared reference to 'type'":              "no types as values",
	"undeclared reference to 'null_type'":         "no types as values",
	"undeclared reference to 'list'":              "no types as values",
	"undeclared reference to 'map'":               "no types as values",
	"undeclared reference to 'int'":               "no conversions: a number has one form",
	"undeclared reference to 'uint'":              "no conversions",
	"undeclared reference to 'double'":            "no conversions",
	"undeclared reference to 'string'":            "no conversions",
	"undeclared reference to 'bytes'":             "no conversions",
	"undeclared reference to 'bool'":              "no conversions",
	"undeclared reference to 'duration'":          "no clock: a build is judged as of a day",
	"undeclared reference to 'timestamp'":         "no clock",
	"applied to '(bool, ":                         "yes and no have no order",
	"applied to '(dyn, bool)'":                    "yes and no have no order",
	"applied to '(bytes, ":                        "no bytes",
	"applied to '(dyn, bytes)'":                   "no bytes",
	"applied to '(uint, ":                         "one kind of whole number",
	"applied to '(dyn, uint)'":                    "one kind of whole number",
	"invalid qualifier type: types.Null":          "no null",
	"undeclared reference to 'exists'":            "the macros of two variables are an extension",
	"'_+_' applied to '(string, string)'":         "no text grows",
	"undeclared reference to '.":                  "no messages",
}

// other is what comes out otherwise than the suite has it, and why.
var other = map[string]string{
	"fields/map_has": "has asks of an entry whether a key is written; of a map it is refused before anything runs",
	"fields/quoted_map_fields/has_field_slash":                                  "has, likewise",
	"fields/quoted_map_fields/has_field_dash":                                   "has, likewise",
	"fields/quoted_map_fields/has_field_dot":                                    "has, likewise",
	"fields/qualified_identifier_resolution/map_key_float":                      "the library, too, takes what the suite wants refused",
	"fields/qualified_identifier_resolution/map_value_repeat_key":               "the library, likewise",
	"fields/qualified_identifier_resolution/map_value_repeat_key_heterogeneous": "the library, likewise",
}

// agreeing are the suite's files that are of what is kept of the language, and how many
// of their expressions come out as they should.
var agreeing = map[string]int{
	"basic":        43,
	"comparisons":  269,
	"fields":       50,
	"fp_math":      30,
	"integer_math": 39,
	"lists":        39,
	"logic":        30,
	"macros":       38,
	"namespace":    3,
	"parse":        192,
	"plumbing":     5,
	"string":       29,
}

// TestConformance runs the tests of the language's own suite (cel.dev/expr,
// tests/simple/testdata, at the version of go.mod): each comes out as it should, or
// is refused for what is left out.
func TestConformance(t *testing.T) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "cel.dev/expr").Output()
	require.NoError(t, err)
	for name, least := range agreeing {
		data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(out)), "tests", "simple", "testdata", name+".textproto"))
		require.NoError(t, err)
		var file test.SimpleTestFile
		require.NoError(t, prototext.Unmarshal(data, &file), name)
		agree := 0
		for _, s := range file.Section {
			for _, one := range s.Test {
				refused, wrong := conform(one)
				switch full := name + "/" + s.Name + "/" + one.Name; {
				case wrong != "":
					assert.True(t, other[full] != "" || other[name+"/"+s.Name] != "", "%s: %s\n%s", full, one.Expr, wrong)
				case refused != "":
					assert.True(t, known(refused), "%s: %s\n%s", full, one.Expr, refused)
				default:
					agree++
				}
			}
		}
		assert.Equal(t, least, agree, name)
	}
}

func known(refused string) bool {
	for told := range leftOut {
		if strings.Contains(refused, told) {
			return true
		}
	}
	return false
}

// conform runs a test of the suite in the language of rules, without "it", and with
// dyn, which the suite needs and rules do not: why it is refused, or what is
// wrong with its result.
func conform(one *test.SimpleTest) (refused, wrong string) {
	options := []cel.EnvOption{cel.Container(one.Container), cel.Function("dyn",
		cel.Overload("to_dyn", []*cel.Type{cel.TypeParamType("T")}, cel.DynType, cel.UnaryBinding(func(v ref.Val) ref.Val { return v })))}
	given := map[string]any{}
	for name, v := range one.Bindings {
		val, err := cel.ProtoAsValue(types.DefaultTypeAdapter, v.GetValue())
		if err != nil {
			return err.Error(), ""
		}
		given[name] = val
		options = append(options, cel.Variable(name, cel.DynType))
	}
	e, err := plain().Extend(options...)
	if err != nil {
		return err.Error(), ""
	}
	tree, issues := e.Parse(one.Expr)
	if issues.Err() == nil && !one.DisableCheck {
		tree, issues = e.Check(tree)
	}
	if issues.Err() != nil {
		return issues.Err().Error(), ""
	}
	p, err := e.Program(tree)
	if err != nil {
		return err.Error(), ""
	}
	got, _, err := p.Eval(given)
	want, is := one.ResultMatcher.(*test.SimpleTest_Value)
	switch {
	case one.ResultMatcher == nil: // the suite's word for true
		want, is = &test.SimpleTest_Value{}, true
	case !is && err == nil:
		return "", "no error"
	case !is:
		return "", ""
	}
	if err != nil {
		return "", err.Error()
	}
	v := ref.Val(types.True)
	if want.Value != nil {
		if v, err = cel.ProtoAsValue(types.DefaultTypeAdapter, want.Value); err != nil {
			return err.Error(), ""
		}
	}
	if !same(got, v) {
		return "", "another value"
	}
	return "", ""
}

func same(got, want ref.Val) bool {
	a, _ := got.(types.Double)
	if b, ok := want.(types.Double); ok && math.IsNaN(float64(a)) && math.IsNaN(float64(b)) {
		return true
	}
	return got.Type() == want.Type() && got.Equal(want) == types.True
}

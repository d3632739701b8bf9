package ledger_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// validator is an independent reader of JSON Schema with one of ours, formats
// asserted.
func validator(t testing.TB, shop bool) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(ledger.JSONSchema(shop)))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	require.NoError(t, c.AddResource("ours.json", doc))
	s, err := c.Compile("ours.json")
	require.NoError(t, err)
	return s
}

// The schemas are what the specification's own schema asks (it comes with the
// validator), name nothing outside themselves, and have a size that an editor
// reads at once.
func TestJSONSchemaIsOne(t *testing.T) {
	meta, err := jsonschema.NewCompiler().Compile(schema.Dialect)
	require.NoError(t, err)
	for _, shop := range []bool{false, true} {
		text := ledger.JSONSchema(shop)
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err)
		require.NoError(t, meta.Validate(doc))
		assert.Less(t, len(text), 220<<10)
		assert.Equal(t, 1, bytes.Count(text, []byte("http")), "the dialect alone")
		used := func(name string) bool { return bytes.Contains(text, []byte(`"#/$defs/`+name+`"`)) }
		for name := range doc.(map[string]any)["$defs"].(map[string]any) {
			assert.True(t, used(name), "%s is never used", name)
		}
		validator(t, shop)
	}
}

// decoded is what another decoder reads, as JSON has it: dates are text, and what
// JSON has not is text too.
func decoded(text string) (any, error) {
	var m map[string]any
	if _, err := toml.Decode(text, &m); err != nil {
		return nil, err
	}
	out, err := json.Marshal(asJSON(m))
	if err != nil {
		return nil, err
	}
	return jsonschema.UnmarshalJSON(bytes.NewReader(out))
}

func asJSON(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[k] = asJSON(x)
		}
		return out
	case []map[string]any:
		out := []any{}
		for _, x := range v {
			out = append(out, asJSON(x))
		}
		return out
	case []any:
		out := []any{}
		for _, x := range v {
			out = append(out, asJSON(x))
		}
		return out
	case float64:
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return strconv.FormatFloat(v, 'g', -1, 64)
		}
	case time.Time:
		if strings.Contains(v.Location().String(), "date-local") {
			return v.Format(time.DateOnly)
		}
		return v.Format(time.RFC3339)
	}
	return v
}

// refusals are where a value is refused, as paths of keys: at the top of each
// choice, and everywhere that one of the choices refuses it.
func refusals(s *jsonschema.Schema, v any) (top, all []string) {
	var bad *jsonschema.ValidationError
	if !errors.As(s.Validate(v), &bad) {
		return nil, nil
	}
	var walk func(e *jsonschema.ValidationError, chosen bool)
	walk = func(e *jsonschema.ValidationError, chosen bool) {
		at := [][]string{e.InstanceLocation}
		choice := false
		switch k := e.ErrorKind.(type) {
		case *kind.AdditionalProperties:
			at = nil
			for _, p := range k.Properties {
				at = append(at, append(slices.Clone(e.InstanceLocation), p))
			}
		case *kind.PropertyNames:
			at = [][]string{append(slices.Clone(e.InstanceLocation), k.Property)}
			e = &jsonschema.ValidationError{InstanceLocation: e.InstanceLocation}
		case *kind.AnyOf:
			choice = true
		}
		for _, p := range at {
			path := strings.Join(p, "/")
			if all = append(all, path); !chosen && (choice || len(e.Causes) == 0) {
				top = append(top, path)
			}
		}
		for _, c := range e.Causes {
			walk(c, chosen || choice)
		}
	}
	walk(bad, false)
	return top, all
}

// pathAt is the path of what stands at a place of a text.
func pathAt(text string, line, column int) string {
	found := ""
	var walk func(n *syntax.Node, path []string)
	walk = func(n *syntax.Node, path []string) {
		for i, c := range n.Children {
			key := c.Key
			if n.Kind == syntax.Array {
				key = strconv.Itoa(i)
			}
			p := append(slices.Clone(path), key)
			for _, at := range []syntax.Position{c.KeyAt, c.ValueAt} {
				if at.Line == line && at.Column == column {
					found = strings.Join(p, "/")
				}
			}
			walk(c, p)
		}
	}
	if doc := syntax.Read([]byte(text)); doc.Root != nil {
		walk(doc.Root, nil)
	}
	return found
}

// Every file of the examples and of the rules' own cases that loads is valid by
// itself.
func TestJSONSchemaTakesWhatLoads(t *testing.T) {
	build, shop, files := validator(t, false), validator(t, true), 0
	check := func(name, text string) {
		v, err := decoded(text)
		if err != nil {
			return // what is broken on purpose
		}
		files++
		s := build
		if strings.HasSuffix(name, "shop.toml") {
			s = shop
		}
		_, all := refusals(s, v)
		assert.Empty(t, all, name)
	}
	for _, root := range []string{"../examples", "../rules"} {
		require.NoError(t, filepath.WalkDir(root, func(name string, d os.DirEntry, err error) error {
			if err != nil || filepath.Ext(name) != ".toml" || filepath.Base(filepath.Dir(name)) == "refdata" || filepath.Base(name) == "symbols.toml" {
				return err
			}
			text, err := os.ReadFile(name)
			check(name, string(text))
			return err
		}))
	}
	require.Greater(t, files, 300)
}

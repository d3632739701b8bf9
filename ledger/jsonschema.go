package ledger

import (
	"bytes"
	"encoding/json"
	"slices"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// JSONSchema is the JSON Schema (draft 2020-12) of a file of a build, or of
// shop.toml, for editors that complete keys and mark what is wrong as it is
// typed. It refuses nothing that loads; what it cannot say, loading tells.
func JSONSchema(shop bool) []byte {
	f := schema.Format{
		Words: map[string][]string{}, Hookups: map[string]schema.JSONHook{}, IDs: idForm.String(), LongID: longestID,
		Size: sizePattern, British: britishFor,
		Required: map[string][]string{"hookup": {"compare"}, "word": {"of"}, "question": {"ask", "since"}, "rule": {"title", "source"}},
	}
	for _, l := range wordLists {
		f.Words[l.Name] = l.Words
	}
	for kind, rule := range hookups {
		f.Hookups[kind] = schema.JSONHook{Compare: rule.Compare, Dim: rule.Dim}
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(schema.JSON(kinds, shop, f)); err != nil {
		panic(err) // it holds nothing that JSON has not
	}
	var lines bytes.Buffer
	if err := json.Indent(&lines, out.Bytes(), "", ""); err != nil {
		panic(err)
	}
	return lines.Bytes()
}

// britishFor are the British parts of words that stand for an American one.
func britishFor(part string) (out []string) {
	for other, american := range british {
		if american == part {
			out = append(out, other)
		}
	}
	slices.Sort(out)
	return out
}

// sizePattern is what a regular expression can say of ConductorSize: it takes all
// that that takes, in plain decimals.
const sizePattern = "^" + q.Blanks + "(?:#?" + q.Blanks + "(?:0*(?:[1-9]|[123][0-9]|40)|[1-4]/0)" + q.Blanks + "[aA][wW][gG]|" +
	`\+?[0-9]*\.?[0-9]*(?:[eE][+\-]?[0-9]+)?` + q.Blanks + `mm(?:2|²|\^2)` + ")" + q.Blanks + "$"

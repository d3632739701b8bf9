package enter

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// pathOf is the way to a key in its entry, part by part, and what is known of
// it, or what is wrong with its name.
func pathOf(k *schema.Kind, key string) (path []string, f *schema.Field, wrong string) {
	top, rest, more := strings.Cut(key, ".")
	f = k.Field(top)
	switch {
	case f == nil && k.Inside[top] != nil:
		return nil, nil, fmt.Sprintf("%s.%s is an entry of its own: write it in the column entry", k.Name, top)
	case f == nil && k.Renamed(top) != "":
		return nil, nil, fmt.Sprintf("%s has no key %q; it is called %q", k.Name, top, k.Renamed(top))
	case f == nil:
		return nil, nil, fmt.Sprintf("unknown key %q in %s%s", top, k.Name, ledger.DidYouMeanKey(top, k.Keys()))
	}
	path = []string{top}
	for more {
		switch {
		case f.Many != schema.One:
			f = f.Below("")
			if f.Nested == nil { // a name may have dots of its own
				return append(path, rest), f, ""
			}
			top, rest, more = strings.Cut(rest, ".")
		case f.Nested != nil:
			top, rest, more = strings.Cut(rest, ".")
			below := f.Below(top)
			if below == nil {
				return nil, nil, fmt.Sprintf("unknown key %q in %s%s", top, strings.Join(path, "."), ledger.DidYouMeanKey(top, f.Nested.Keys()))
			}
			f = below
		default:
			return nil, nil, fmt.Sprintf("%s has no keys of its own", strings.Join(path, "."))
		}
		path = append(path, top)
	}
	return path, f, ""
}

var plainNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// valueOf is a cell's text as the ledger spells it; number tells that one
// without quotes stands there now. What it cannot be the loader tells, save
// what the loader would not be given or would say less plainly.
func valueOf(f *schema.Field, text string, number bool) (v edit.Value, wrong string) {
	if f.Many == schema.List && text != f.Alone {
		var list []edit.Value
		for _, one := range strings.Split(text, ";") {
			if one = strings.TrimSpace(one); one == "" {
				continue
			}
			item, wrong := valueOf(f.Below(""), one, false)
			if wrong != "" {
				return v, wrong
			}
			list = append(list, item)
		}
		return edit.List(list...), ""
	}
	low := strings.ToLower(text)
	switch {
	case f.TakesQuantity() && strings.ContainsAny(text, "\"'"): // inch marks would have to be escaped
		if r, err := q.Parse(text, f.Dim, q.Options{Position: f.Position}); err == nil {
			return edit.Text(r.Spelling), ""
		}
	case f.Type == schema.Hookup && low == "true":
		return edit.Literal(low), ""
	case f.TakesQuantity() && plainNumber.MatchString(text) && (number || f.Exact && f.Dim == q.Ratio):
		return edit.Literal(text), ""
	case f.Type == schema.Truth && (low == "true" || low == "false"):
		return edit.Literal(low), ""
	case f.Type == schema.Truth:
		return v, fmt.Sprintf("takes true or false; got %q", text)
	case f.Type == schema.Date:
		if _, err := time.Parse(time.DateOnly, text); err != nil {
			return v, fmt.Sprintf("takes a date, such as 2026-03-01; got %q", text)
		}
		return edit.Literal(text), ""
	case f.Whole && plainNumber.MatchString(text) && number:
		return edit.Literal(text), ""
	case f.Nested != nil && f.Type != schema.Place && f.Type != schema.Hookup:
		return v, fmt.Sprintf("is a table: give a column or a row to each key in it, such as %s.%s", f.Key, f.Nested.Keys()[0])
	}
	return edit.Text(text), ""
}

// isNumber tells of a value that is written without quotes.
func isNumber(k syntax.Kind) bool { return k == syntax.Integer || k == syntax.Float }

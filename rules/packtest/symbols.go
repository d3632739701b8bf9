package packtest

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
)

// Text is the text of a formula and what a pack declares of it, in
// symbols.toml: for each symbol the operand that it stands for, or, for a
// text that nobody can work out, why it is in words.
//
//	"W_f / W" = { W_f = "front curb *", W = "total curb *" }
//	"by the table" = "a look-up in a table"
//
// An operand is named as a worked solution names it, with * for whatever stands
// there. Of several with | between them the first that the sum has counts; a value
// such as "1" or "0 in" stands for one that the sum leaves out. Where more than
// one bears the name, "sum of", "mean of", "greatest of" or "least of" before it
// takes all of them, and "first", "second" and so on one, in the order of the
// sum. A part of the text that is no symbol, such as "p/p_max", can be declared too.
// The symbol of an equation that is not declared is the result.
type Text struct {
	*Formula
	Plain    string // the text with a symbol for each part that is declared
	Words    string // why it is in words
	operands map[string][]operand
}

type operand struct {
	take  string // sum of, first; or nothing
	name  *regexp.Regexp
	value float64 // where it has no name
}

// takes are the words before an operand's name.
var takes = []string{"sum of ", "mean of ", "greatest of ", "least of ", "first ", "second ", "third ", "fourth "}

// Texts reads what the packs below a folder declare.
func Texts(t testing.TB, dir string) map[string]*Text {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*", "symbols.toml"))
	require.NoError(t, err)
	out := map[string]*Text{}
	for _, file := range files {
		var all map[string]any
		_, err := toml.DecodeFile(file, &all)
		require.NoError(t, err)
		for text, is := range all {
			assert.Nil(t, out[text], "%s: %q is declared twice", file, text)
			x, err := declared(text, is)
			if assert.NoError(t, err, "%s: %q", file, text) {
				out[text] = x
			}
		}
	}
	return out
}

func declared(text string, is any) (*Text, error) {
	if words, ok := is.(string); ok {
		return &Text{Words: words}, nil
	}
	x := &Text{Plain: text, operands: map[string][]operand{}}
	all := is.(map[string]any)
	was, _ := ParseFormula(text)
	keys := slices.SortedFunc(maps.Keys(all), func(a, b string) int { return cmp.Or(len(b)-len(a), strings.Compare(a, b)) })
	for i, symbol := range keys { // the longest first: one may stand in another
		var operands []operand
		for _, one := range strings.Split(all[symbol].(string), "|") {
			operands = append(operands, operandOf(one))
		}
		if was == nil || !slices.Contains(was.Symbols, symbol) {
			part := symbol
			symbol = fmt.Sprintf("q_%d", i)
			x.Plain = strings.ReplaceAll(x.Plain, part, symbol)
		}
		x.operands[symbol] = operands
	}
	f, err := ParseFormula(x.Plain)
	if err != nil {
		return nil, err
	}
	x.Formula = f
	for symbol := range x.operands {
		if !slices.Contains(f.Symbols, symbol) {
			return nil, fmt.Errorf("no symbol %q; %q has %q", symbol, x.Plain, f.Symbols)
		}
	}
	for _, s := range f.Symbols {
		switch {
		case x.operands[s] != nil:
		case f.Equation() && f.Result == "":
			f.Result = s
		default:
			return nil, fmt.Errorf("it is not declared what %q stands for", s)
		}
	}
	return x, nil
}

func operandOf(name string) operand {
	if r, err := q.Parse(name, q.Any, q.Options{}); err == nil {
		return operand{value: r.Value}
	}
	var o operand
	for _, take := range takes {
		if rest, ok := strings.CutPrefix(name, take); ok {
			o.take, name = take, rest
			break
		}
	}
	o.name = regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(name), `\*`, ".*") + "$")
	return o
}

// ErrFewer says that a step has fewer operands of a name than the text speaks of,
// as where two entries are one and the same: it tells nothing of the text.
var ErrFewer = errors.New("fewer operands than the text has symbols")

// Operands are the values of the text's symbols in a step.
func (x *Text) Operands(result float64, parts []q.Quantity) (map[string]float64, error) {
	out := map[string]float64{}
	for _, s := range x.Symbols {
		all := x.operands[s]
		if all == nil {
			out[s] = result
			continue
		}
		v, err := pick(all, parts)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s, err)
		}
		out[s] = v
	}
	return out, nil
}

// pick is the value of the first operand that is there.
func pick(all []operand, parts []q.Quantity) (float64, error) {
	var names []string
	var fewer error
	for _, o := range all {
		if o.name == nil {
			return o.value, nil
		}
		var found []float64
		for _, p := range parts {
			if p.Name() != "" && o.name.MatchString(p.Name()) {
				found = append(found, p.Value())
			}
		}
		if len(found) > 0 || o.nth() >= 0 {
			v, err := o.of(found)
			if !errors.Is(err, ErrFewer) {
				return v, err
			}
			fewer = err
		}
		names = append(names, o.name.String())
	}
	if fewer != nil {
		return 0, fewer
	}
	have := map[string]bool{}
	for _, p := range parts {
		have[p.Name()] = true
	}
	return 0, fmt.Errorf("no operand matches %q; there are %q", names, slices.Sorted(maps.Keys(have)))
}

func (o operand) of(found []float64) (float64, error) {
	switch o.take {
	case "sum of ", "mean of ":
		sum := 0.0
		for _, v := range found {
			sum += v
		}
		if o.take == "mean of " {
			sum /= float64(len(found))
		}
		return sum, nil
	case "greatest of ":
		return slices.Max(found), nil
	case "least of ":
		return slices.Min(found), nil
	case "":
		if slices.Min(found) != slices.Max(found) {
			return 0, fmt.Errorf("several operands match %q", o.name)
		}
		return found[0], nil
	}
	if o.nth() >= len(found) {
		return 0, ErrFewer
	}
	return found[o.nth()], nil
}

// nth is which of several operands of one name it is, counted from 0; less than
// that where it is no single one.
func (o operand) nth() int { return slices.Index(takes, o.take) - slices.Index(takes, "first ") }

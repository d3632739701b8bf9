package edit

import (
	"slices"
	"strings"
	"unicode/utf8"

	"fishplate/ledger"
	"fishplate/ledger/schema"
)

// layout is a file that is being written line by line.
type layout struct {
	strings.Builder
	end  string // of a line
	open bool   // something stands above that wants a blank line before what is next
}

// apart asks for a blank line before what comes next.
func (w *layout) apart() { w.open = w.Len() > 0 }

func (w *layout) lines(lines ...string) {
	for _, l := range lines {
		if w.open {
			w.WriteString(w.end)
		}
		w.open = false
		w.WriteString(l + w.end)
	}
}

func (w *layout) block(b block) {
	w.lines(b.alone...)
	w.lines(b.above...)
	switch {
	case b.header:
		w.lines(b.key + b.behind)
	case b.alone == nil:
		w.lines(b.key + " = " + b.value + b.behind)
	}
	w.lines(b.below...)
	if b.alone != nil || b.below != nil {
		w.apart()
	}
}

// section writes a header and what is below it, or what stands before the first.
func (w *layout) section(all []block) {
	var table []string
	if all[0].header {
		table = all[0].path
		w.apart()
		w.block(all[0])
		all = all[1:]
	}
	kind, _ := schemaAt(table)
	for len(all) > 0 {
		if all[0].alone != nil {
			w.apart()
			w.block(all[0])
			all = all[1:]
			continue
		}
		n := slices.IndexFunc(all, func(b block) bool { return b.alone != nil })
		if n < 0 {
			n = len(all)
		}
		run := all[:n]
		if kind != nil {
			run = inOrder(run, table, func(b block) []string { return b.path })
		} else {
			run = inColumns(run)
		}
		for i, b := range run {
			if kind == nil && i > 0 && b.spaced {
				w.apart()
			}
			w.block(b)
		}
		all = all[n:]
	}
}

// inOrder sorts things that are said in a table by the order of its keys and,
// where the keys are dotted, of those below. Keys that have no order keep
// theirs.
func inOrder[T any](things []T, table []string, path func(T) []string) []T {
	seen := map[string]int{}
	for i, x := range things {
		for n := len(table); n < len(path(x)); n++ {
			if name := strings.Join(path(x)[:n+1], "\x00"); seen[name] == 0 {
				seen[name] = i + 1
			}
		}
	}
	out := slices.Clone(things)
	slices.SortStableFunc(out, func(x, y T) int {
		a, b := path(x), path(y)
		for n := len(table); n < min(len(a), len(b)); n++ {
			if a[n] == b[n] {
				continue
			}
			kind, _ := schemaAt(a[:n])
			if by := kind.Rank(a[n]) - kind.Rank(b[n]); by != 0 {
				return by
			}
			return seen[strings.Join(a[:n+1], "\x00")] - seen[strings.Join(b[:n+1], "\x00")]
		}
		return 0
	})
	return out
}

// inColumns keeps the columns of rows that were set in some, such as the pins
// of a plug: those of the equals signs, and those of what is behind them.
func inColumns(rows []block) []block {
	out := slices.Clone(rows)
	lined, widest := true, 0
	set := slices.ContainsFunc(rows, func(b block) bool { return inSteps(b.set) })
	for _, b := range rows {
		lined = lined && b.equals == rows[0].equals
		widest = max(widest, utf8.RuneCountInString(b.key))
	}
	for i, b := range rows {
		if lined {
			out[i].key += strings.Repeat(" ", widest-utf8.RuneCountInString(b.key))
		}
		if set {
			out[i].value = b.set
		}
	}
	return out
}

// inSteps tells that something on a line stands more than one blank from what
// is before it.
func inSteps(value string) bool {
	var quote byte
	for i := 0; i < len(value)-1; i++ {
		switch c := value[i]; {
		case c == '\n':
			return false
		case quote == '"' && c == '\\':
			i++
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == ' ' && value[i+1] == ' ':
			return true
		}
	}
	return false
}

// schemaAt is what the schema knows of a place in a file: the kind whose keys
// stand there, where it is a table that has an order, and the field of the
// value; nil where it knows nothing.
func schemaAt(path []string) (table *schema.Kind, field *schema.Field) {
	if len(path) == 0 {
		return nil, nil
	}
	kind := ledger.KindNamed(path[0])
	switch {
	case kind == nil:
		return nil, nil
	case kind.Single:
		path = path[1:]
		if len(path) > 0 && kind.Inside[path[0]] != nil {
			kind, path = kind.Inside[path[0]], path[1:]
		}
	case len(path) == 1:
		return nil, nil
	default:
		path = path[2:]
	}
	if len(path) == 0 {
		return kind, nil
	}
	field = kind.Field(path[0])
	for _, key := range path[1:] {
		field = field.Below(key)
	}
	if field == nil || field.Many != schema.One {
		return nil, field
	}
	return field.Nested, field
}

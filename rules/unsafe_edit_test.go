package rules_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"fishplate/ledger/syntax"
)

// edit changes the text of a ledger. One that changes nothing fails the test.
type edit func(*testing.T, *ledgerText)

// ledgerText is a build's files and its shop's, by name.
type ledgerText struct{ files map[string]string }

// set gives a key of an entry a value, as TOML: set("test.stop", "date",
// "2024-01-01"), set("shaft.rear", "wall", `"0.01 in"`). A key within another
// has dots: "readings.held". A key that the entry lacks is added to it.
func set(entry, key, value string) edit {
	return func(t *testing.T, l *ledgerText) {
		t.Helper()
		file, table := l.find(t, entry)
		keys := strings.Split(key, ".")
		for i, k := range keys {
			next := table.Child(k)
			if next == nil {
				added := strings.Join(keys[i:], ".") + " = " + value
				if table.Inline {
					comma := ", "
					if len(table.Children) == 0 {
						comma = ""
					}
					l.replace(file, table.ValueAt, "{", "{ "+added+comma)
					return
				}
				lines := strings.Split(l.files[file], "\n")
				l.files[file] = strings.Join(slices.Insert(lines, table.KeyAt.Line, added), "\n")
				return
			}
			table = next
		}
		require.NotEmpty(t, table.Text, "%s.%s is no value", entry, key)
		require.NotEqual(t, table.Text, value, "%s.%s is that already", entry, key)
		l.replace(file, table.ValueAt, table.Text, value)
	}
}

// unset takes a key out of an entry, with its value.
func unset(entry, key string) edit {
	return func(t *testing.T, l *ledgerText) {
		t.Helper()
		file, parent := l.find(t, entry)
		node := parent
		for _, k := range strings.Split(key, ".") {
			parent, node = node, node.Child(k)
			require.NotNil(t, node, "%s has no %s", entry, key)
		}
		text := l.files[file]
		from, to := offset(text, node.KeyAt), offset(text, node.ValueAt)+len(node.Text)
		if parent.Inline {
			rest := strings.TrimLeft(text[to:], " ")
			if after, comma := strings.CutPrefix(rest, ","); comma {
				l.files[file] = text[:from] + strings.TrimLeft(after, " ")
			} else {
				l.files[file] = strings.TrimRight(text[:from], " ,") + " " + rest
			}
			return
		}
		l.files[file] = text[:from] + text[to:]
	}
}

// without takes an entry out, with all that is below it.
func without(entry string) edit {
	return func(t *testing.T, l *ledgerText) {
		t.Helper()
		file, _ := l.find(t, entry)
		var kept []string
		inside := false
		for _, line := range strings.Split(l.files[file], "\n") {
			if name, ok := strings.CutPrefix(line, "["); ok {
				name, _, _ = strings.Cut(name, "]")
				inside = name == entry || strings.HasPrefix(name, entry+".")
			}
			if !inside {
				kept = append(kept, line)
			}
		}
		l.files[file] = strings.Join(kept, "\n")
	}
}

// with adds entries, as TOML.
func with(text string) edit {
	return func(t *testing.T, l *ledgerText) { l.files[build+"/added.toml"] += text + "\n" }
}

// find is an entry's table and the file that it stands in.
func (l *ledgerText) find(t *testing.T, entry string) (string, *syntax.Node) {
	t.Helper()
	for _, file := range slices.Sorted(maps.Keys(l.files)) {
		if !strings.HasSuffix(file, ".toml") {
			continue
		}
		doc := syntax.Read([]byte(l.files[file]))
		require.Empty(t, doc.Faults, file)
		node := doc.Root
		for _, k := range strings.Split(entry, ".") {
			if node = node.Child(k); node == nil {
				break
			}
		}
		if node != nil {
			return file, node
		}
	}
	require.Fail(t, "no entry "+entry)
	return "", nil
}

// replace puts other text in the place of what stands somewhere.
func (l *ledgerText) replace(file string, at syntax.Position, old, now string) {
	text := l.files[file]
	from := offset(text, at)
	l.files[file] = text[:from] + now + strings.TrimPrefix(text[from:], old)
}

// offset is where a place is in the text, in bytes.
func offset(text string, at syntax.Position) int {
	out := 0
	for range at.Line - 1 {
		out += strings.IndexByte(text[out:], '\n') + 1
	}
	for range at.Column - 1 {
		_, size := utf8.DecodeRuneInString(text[out:])
		out += size
	}
	return out
}

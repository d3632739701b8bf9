package edit

import (
	"fmt"
	"strconv"

	"fishplate/ledger/syntax"
)

// A tree is what a file says, without how it is laid out: a table is a
// map[string]any, an array an []any, any other value a word with its kind.
// Tables that hold nothing are left out of a table: a header or none makes no
// difference to what an edit asked for.

// leaf is a value that is neither table nor array.
type leaf struct {
	kind syntax.Kind
	text string
}

func treeOf(n *syntax.Node) any {
	switch n.Kind {
	case syntax.Table:
		out := map[string]any{}
		for _, c := range n.Children {
			out[c.Key] = treeOf(c)
		}
		return out
	case syntax.Array:
		out := []any{}
		for _, c := range n.Children {
			out = append(out, treeOf(c))
		}
		return out
	case syntax.Date:
		return leaf{n.Kind, n.Text}
	}
	return leaf{n.Kind, fmt.Sprint(n.Value)}
}

// pruned is a tree without the tables that hold nothing.
func pruned(t any) any {
	switch t := t.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, v := range t {
			v = pruned(v)
			if m, ok := v.(map[string]any); !ok || len(m) > 0 {
				out[k] = v
			}
		}
		return out
	case []any:
		out := make([]any, len(t))
		for i, v := range t {
			out[i] = pruned(v)
		}
		return out
	}
	return t
}

// putTree is the tree with a value at a path. Tables on the way are made; the
// place behind the last of an array adds to it.
func putTree(t any, path []string, value any) (any, error) {
	if len(path) == 0 {
		return value, nil
	}
	switch t := t.(type) {
	case nil:
		return putTree(map[string]any{}, path, value)
	case map[string]any:
		out := map[string]any{}
		for k, v := range t {
			out[k] = v
		}
		v, err := putTree(t[path[0]], path[1:], value)
		out[path[0]] = v
		return out, err
	case []any:
		i, err := strconv.Atoi(path[0])
		if err != nil || i < 0 || i > len(t) {
			return nil, fmt.Errorf("a list of %d has no place %s", len(t), path[0])
		}
		out := append([]any{}, t...)
		if i == len(t) {
			out = append(out, nil)
		}
		out[i], err = putTree(out[i], path[1:], value)
		return out, err
	}
	return nil, fmt.Errorf("what stands before %s is no table", path[0])
}

// dropTree is the tree without what is at a path.
func dropTree(t any, path []string) any {
	switch t := t.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, v := range t {
			switch {
			case k != path[0]:
				out[k] = v
			case len(path) > 1:
				out[k] = dropTree(v, path[1:])
			}
		}
		return out
	case []any:
		out := []any{}
		for i, v := range t {
			switch {
			case strconv.Itoa(i) != path[0]:
				out = append(out, v)
			case len(path) > 1:
				out = append(out, dropTree(v, path[1:]))
			}
		}
		return out
	}
	return t
}

package syntax

import (
	"maps"
	"slices"
	"strconv"
)

// With gives a copy of the tree in which the value at the path of keys, or of
// places in a list, is the given string; false where there is no such value.
// What is not on the path is shared with the tree, which stays as it is.
func (n *Node) With(path []string, text string) (*Node, bool) {
	c := *n
	if len(path) == 0 {
		c.Kind, c.Value, c.Text, c.Children, c.index = String, text, strconv.Quote(text), nil, nil
		return &c, n.Kind != Table && n.Kind != Array
	}
	i := slices.IndexFunc(n.Children, func(c *Node) bool { return c.Key == path[0] })
	if n.Kind == Array {
		var err error
		if i, err = strconv.Atoi(path[0]); err != nil || i >= len(n.Children) {
			i = -1
		}
	}
	if i < 0 {
		return nil, false
	}
	child, ok := n.Children[i].With(path[1:], text)
	if !ok {
		return nil, false
	}
	c.Children = slices.Clone(n.Children)
	c.Children[i] = child
	if n.index != nil {
		c.index = maps.Clone(n.index)
		c.index[child.Key] = child
	}
	return &c, true
}

// WithChildren gives a copy of a table or an array that holds other nodes.
func (n *Node) WithChildren(children []*Node) *Node {
	c := *n
	c.Children, c.index = make([]*Node, 0, len(children)), nil
	for _, child := range children {
		c.add(child)
	}
	return &c
}

// WithNew gives a copy of a table with one more value, a string, under a key
// that it does not have.
func (n *Node) WithNew(key, text string) *Node {
	c := *n
	c.Children, c.index = slices.Clone(n.Children), maps.Clone(n.index)
	c.add(&Node{Key: key, Kind: String, Value: text, Text: strconv.Quote(text), KeyAt: n.KeyAt, ValueAt: n.KeyAt})
	return &c
}

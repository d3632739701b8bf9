package layout

// Branch is one node of a tree, laid out as one line under another.
type Branch struct {
	Node   int // which one it is
	Depth  int
	Parent int // the line of its parent; -1 for a root
}

// Tree lays nodes out in lines, each under its parent and those of one parent in
// their order. A node's parent is another's index, or -1. Nodes that are their own
// ancestors hang on nothing: the first of them is taken as a root.
func Tree(parents []int) []Branch {
	children := make(map[int][]int)
	for i, p := range parents {
		if p < 0 || p >= len(parents) {
			p = -1
		}
		children[p] = append(children[p], i)
	}
	t := tree{children: children, seen: make([]bool, len(parents))}
	for _, root := range children[-1] {
		t.add(root, 0, -1)
	}
	for i := range parents {
		t.add(i, 0, -1)
	}
	return t.lines
}

type tree struct {
	children map[int][]int
	seen     []bool
	lines    []Branch
}

func (t *tree) add(node, depth, parent int) {
	if t.seen[node] {
		return
	}
	t.seen[node] = true
	t.lines = append(t.lines, Branch{node, depth, parent})
	at := len(t.lines) - 1
	for _, c := range t.children[node] {
		t.add(c, depth+1, at)
	}
}

// Package again copies a build for another vehicle: the design comes along, and
// what was read, tested, signed or paid on the first one does not.
//
// Files are edited where they stand, so that order, layout and comments stay.
// What is of the first vehicle is known by the schema (of-this-vehicle), never
// by the name of a key:
//
//   - an entry of it is left out: weighings, tests, answers, documents, visits,
//     waivers, signatures, donors, the owner;
//   - a reading becomes an estimate, with the old spelling in a comment; so does
//     every value that has the ± of a reading, save of a place: places are
//     design;
//   - an exact value, as a rating, becomes a comment, and so does the fuse of a
//     circuit that came with the vehicle;
//   - a date, what was paid, and any other value of it are left out, as are
//     names of entries that are left out.
package again

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// File is a TOML file of a build, by its name in the build folder.
type File struct {
	Name string
	Text []byte
}

// Origin is what a copy remembers of the build that it was begun from.
type Origin struct {
	Called string // for people, such as heron
	From   string // [build] from, such as 1f0c2b7:builds/heron
	Title  string // of the new build
}

// Copied is the new build's files and what became of the old one's values.
type Copied struct {
	Files []File
	// Estimates are the values that were read on the first vehicle, in the
	// order of the files; Commented the exact ones, which stand as comments.
	Estimates, Commented []string
	Left                 []string // entries that are left out
}

// Copy copies the files of a build that loads without faults.
func Copy(files []File, o Origin) (*Copied, error) {
	out := &Copied{}
	left, own := map[string]bool{}, map[string]bool{}
	docs := make([]*syntax.Document, len(files))
	for i, f := range files {
		docs[i] = syntax.Read(f.Text)
		if docs[i].Root == nil || len(docs[i].Faults) > 0 {
			return nil, fmt.Errorf("%s cannot be read", f.Name)
		}
		entries(docs[i].Root, func(path string, k *schema.Kind, n *syntax.Node) {
			if stays(k) {
				left[path] = true
			}
			if o := n.Child("origin"); k.Name == "part" && o != nil && o.Value == "original" {
				own[path] = true
			}
		})
	}
	for i, f := range files {
		c := &copier{origin: o, left: left, own: own, out: out, text: docs[i].Text}
		entries(docs[i].Root, c.entry)
		if f.Name == ledger.MainFile {
			c.info(docs[i].Root)
		}
		if text := c.apply(); holds(text) || f.Name == ledger.MainFile {
			out.Files = append(out.Files, File{f.Name, []byte(text)})
		}
	}
	return out, nil
}

// stays tells that entries of the kind stay with the first vehicle. What its
// driver is told rests on what was read on it.
func stays(k *schema.Kind) bool { return k.OfVehicle || k.Name == "instruction" }

// entries visits the entries of a file.
func entries(root *syntax.Node, visit func(path string, k *schema.Kind, n *syntax.Node)) {
	for _, top := range root.Children {
		k := ledger.KindNamed(top.Key)
		switch {
		case k == nil:
		case k.Single:
			visit(top.Key, k, top)
			for _, c := range top.Children {
				if in := k.Inside[c.Key]; in != nil {
					visit(in.Name, in, c)
				}
			}
		default:
			for _, c := range top.Children {
				visit(top.Key+"."+c.Key, k, c)
			}
		}
	}
}

// holds tells whether a file still says anything.
func holds(text string) bool {
	root := syntax.Read([]byte(text)).Root
	return root != nil && slices.ContainsFunc(root.Children, func(n *syntax.Node) bool { return len(n.Children) > 0 || !n.Whole.Empty() })
}

// info makes [build] that of a new build.
func (c *copier) info(root *syntax.Node) {
	said := map[string]string{"title": quoted(c.origin.Title), "stage": quoted(ledger.AtIntake.String()), "from": quoted(c.origin.From)}
	order := []string{"title", "stage", "from"}
	n := root.Child("build")
	var add strings.Builder
	for _, key := range order {
		if old := child(n, key); old != nil {
			c.put(old.ValueRange, said[key])
			continue
		}
		fmt.Fprintf(&add, "%s = %s\n", key, said[key])
	}
	top := fmt.Sprintf("# Begun from %s. What was read there is an estimate here (~), with the old reading behind it,\n# and what is certified of one vehicle is a comment: read it on this one.\n\n", c.origin.Called)
	switch {
	case n == nil:
		top += "[build]\n" + add.String() + "\n"
	case n.Whole.Empty() || n.Inline:
		for line := range strings.Lines(add.String()) {
			top += "build." + line
		}
	default:
		c.insert(c.lineEnd(int(n.Whole.To)), add.String())
	}
	at := 0
	if strings.HasPrefix(c.text, "#:") { // what editors read stays the first line
		at = c.lineEnd(0)
	}
	c.insert(at, top)
}

// entry copies an entry, or leaves it out.
func (c *copier) entry(path string, k *schema.Kind, n *syntax.Node) {
	if c.left[path] {
		c.out.Left = append(c.out.Left, path)
		c.remove(n)
		return
	}
	kept := k.Name == "circuit" && c.cameWith(n)
	for _, key := range n.Children {
		if f := k.Field(key.Key); kept && f != nil && f.Exact && f.Dim == q.Current {
			c.comment(at{path + "." + key.Key, key}, key) // the fuse that it came with
			continue
		}
		if k.Inside[key.Key] != nil {
			continue
		}
		c.value(at{path + "." + key.Key, key}, k.Field(key.Key), key)
	}
}

// cameWith tells whether a circuit came with the vehicle: so did what feeds it
// and all that it feeds.
func (c *copier) cameWith(n *syntax.Node) bool {
	from, to := n.Child("from"), n.Child("to")
	if from == nil {
		return false
	}
	name, _ := from.Value.(string)
	return c.own[name] && to != nil && len(to.Children) > 0 && !slices.ContainsFunc(to.Children, func(m *syntax.Node) bool {
		name, _ := m.Value.(string)
		return !c.own[name]
	})
}

// at is the whole name of a value and the statement that it stands in.
type at struct {
	name string
	stmt *syntax.Node
}

func (a at) below(key string, n *syntax.Node) at {
	if !n.Whole.Empty() && !a.stmt.Inline {
		a.stmt = n
	}
	a.name += "." + key
	return a
}

// value copies a value, or what stands below it.
func (c *copier) value(a at, f *schema.Field, n *syntax.Node) {
	switch {
	case f == nil, a.name == "build.title", a.name == "build.stage", a.name == "build.from":
	case f.Type == schema.Date && !f.Ends, f.TakesQuantity() && f.Dim.Money != 0, a.name == "build.delivered", f.OfVehicle && (f.Commercial || !f.TakesQuantity()):
		c.drop(a, n)
	case f.Type == schema.Ref:
		c.reference(a, n)
	case f.Type == schema.Place:
	case n.Kind == syntax.Table || n.Kind == syntax.Array:
		for i, m := range n.Children {
			key := m.Key
			if n.Kind == syntax.Array {
				key = fmt.Sprint(i)
			}
			c.value(a.below(key, m), f.Below(key), m)
		}
	case f.TakesQuantity():
		c.quantity(a, f, n)
	}
}

func child(n *syntax.Node, key string) *syntax.Node {
	if n == nil {
		return nil
	}
	return n.Child(key)
}

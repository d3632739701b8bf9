package layout

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Whatever is to be labelled, no label lies on another or on what is taken, all
// are on the sheet, and the sheet keeps its width.
func TestPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sheet := Box{0, 0, rapid.Float64Range(200, 800).Draw(t, "width"), rapid.Float64Range(60, 400).Draw(t, "height")}
		taken := []Box{{10, 10, 60, 20}}
		labels := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Label {
			return Label{
				At: Point{rapid.Float64Range(0, sheet.W).Draw(t, "x"), rapid.Float64Range(0, sheet.H).Draw(t, "y")},
				R:  rapid.Float64Range(1, 26).Draw(t, "r"), W: rapid.Float64Range(6, 80).Draw(t, "w"), H: 12, In: rapid.Bool().Draw(t, "in"),
			}
		}), 0, 60).Draw(t, "labels")
		placed, grown := Place(labels, sheet, Avoid{taken, []Ring{{Point{100, 30}, 40}}, [][2]Point{{{0, 0}, {200, 60}}}})
		assert.Equal(t, sheet.W, grown.W)
		assert.Len(t, placed, len(labels))
		for i, p := range placed {
			assert.True(t, p.Box.Within(grown), "%v in %v", p.Box, grown)
			assert.Equal(t, labels[i].W, p.Box.W)
			assert.False(t, p.Box.Overlaps(taken[0]))
			for _, o := range placed[:i] {
				assert.False(t, p.Box.Overlaps(o.Box), "%v and %v", p.Box, o.Box)
			}
		}
	})
}

// All of a text is there after it is broken into lines, and no line is too wide.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		most := rapid.Float64Range(30, 300).Draw(t, "most")
		lines := Wrap(text, 12, most)
		assert.Equal(t, strings.Join(strings.Fields(text), ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
		for _, l := range lines {
			assert.LessOrEqual(t, Width(l, 12), most)
		}
		assert.LessOrEqual(t, Width(Cut(text, 12, most), 12), most)
		count := rapid.IntRange(1, 4).Draw(t, "count")
		few := Lines(text, 12, most, count)
		assert.LessOrEqual(t, len(few), count)
		if len(lines) <= count {
			assert.Equal(t, lines, few)
			return
		}
		assert.Equal(t, lines[:count-1], few[:count-1])
		assert.LessOrEqual(t, Width(few[count-1], 12), most)
	})
}

// The widths are those of DejaVu Sans 2.37 as its table of advances has them: an
// em of 2048 units, in which a digit is 1303, W 2025 and a space 651 wide.
func TestWidth(t *testing.T) {
	assert.InDelta(t, 1303.0/2048, Width("0", 1), 6e-4)
	assert.InDelta(t, 2025.0/2048, Width("W", 1), 6e-4)
	assert.InDelta(t, 651.0/2048, Width(" ", 1), 6e-4)
	assert.InDelta(t, Width("a", 12)+Width("±", 12), Width("a±", 12), 1e-12)
	assert.Greater(t, Width("漢", 1), 1.0)
}

// Every node of a tree has one line, under its parent's, one deeper, and those of
// one parent keep their order; a ring of parents ends.
func TestTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 60).Draw(t, "n")
		parents := make([]int, n)
		for i := range parents {
			parents[i] = rapid.IntRange(-1, n-1).Draw(t, "parent")
		}
		lines := Tree(parents)
		assert.Len(t, lines, n)
		seen, last := map[int]bool{}, map[int]int{}
		for i, l := range lines {
			assert.False(t, seen[l.Node])
			seen[l.Node] = true
			if l.Parent < 0 {
				assert.Zero(t, l.Depth)
				continue
			}
			assert.Less(t, l.Parent, i)
			assert.Equal(t, parents[l.Node], lines[l.Parent].Node)
			assert.Equal(t, lines[l.Parent].Depth+1, l.Depth)
			if before, ok := last[l.Parent]; ok {
				assert.Less(t, before, l.Node)
			}
			last[l.Parent] = l.Node
		}
	})
}

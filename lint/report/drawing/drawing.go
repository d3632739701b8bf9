package drawing

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/drawing/layout"
	"fishplate/lint/report/shown"
)

// Drawing is one subject drawn.
type Drawing struct {
	Kind   string
	ID     string // for links, and apart from other drawings' on a page
	Title  string
	Text   string // what it shows, for those who cannot see it
	Panels []Panel
	Tables []Table
	Beside []string // what has no place on it, and why
}

// Panel is a part of a drawing that is not torn apart between two pages.
type Panel struct {
	Caption      string
	Wide, Narrow Sheet
}

// Table goes with a drawing: its key, its fuses, its pins.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Numbers []bool // the columns of figures, which stand to the right
	Key     bool   // it is a key of a drawing: a number, a name, a figure
}

// Right tells that a column stands to the right.
func (t Table) Right(column int) bool { return column < len(t.Numbers) && t.Numbers[column] }

// Whole tells of each column whether none of its words is broken: those of the
// shortest words, as many as leave room on a phone for the others.
func (t Table) Whole() []bool {
	longest := map[int]int{}
	for _, row := range t.Rows {
		for i, cell := range row {
			longest[i] = max(longest[i], 0)
			for _, word := range strings.Fields(cell) {
				longest[i] = max(longest[i], len(word))
			}
		}
	}
	columns := slices.Collect(maps.Keys(longest))
	slices.SortFunc(columns, func(a, b int) int { return cmp.Or(cmp.Compare(longest[a], longest[b]), cmp.Compare(a, b)) })
	whole, room := make([]bool, len(longest)), phoneRoom
	for _, i := range columns {
		if room -= longest[i]; room < 0 {
			break
		}
		whole[i] = true
	}
	return whole
}

// phoneRoom is how many letters of words that are not broken stand side by side on a
// phone, with some left for a column of sentences.
const phoneRoom = 52

// Empty tells that there was nothing to draw.
func (d Drawing) Empty() bool { return len(d.Panels) == 0 && len(d.Tables) == 0 }

// Figures are what the rules reckon of a build and drawings show. All may be
// missing.
type Figures struct {
	Aboard      func(*ledger.Part) q.Truth    // the finished vehicle carries it
	Diameter    func(*ledger.Tire) q.Quantity // of the tire, not loaded
	Front, Rear AxleLoads
	HeightWas   q.Quantity                    // of the center of gravity above ground, as received
	HeightNow   q.Quantity                    // at curb now
	Density     func(fluid q.Word) q.Quantity // kg/m3
	Wire        func(*ledger.Circuit) Wire
	Reader      Reader // nil where all may be seen
}

// Reader keeps a drawing to what some may see of a ledger.
type Reader interface {
	// Hides tells that an entry says something under a key that is not to be seen.
	Hides(path, key string) bool
	// Name is what an entry is called where its own name may not be said.
	Name(path string) string
}

// AxleLoads are what stands on an axle, in kg.
type AxleLoads struct{ Received, Predicted, Built, Curb, Loaded q.Quantity }

// Wire is what a circuit's wire carries and loses.
type Wire struct {
	Current q.Quantity // its own load and that of all that it feeds
	Drop    q.Quantity // from the source to its end, and back
	Fuse    q.Quantity // its own or the nearest upstream
}

// subject is what is drawn.
type subject struct {
	*lint.Report
	Figures
	style q.Style
}

// hides tells that something of an entry under one of some keys is not to be seen.
func (s *subject) hides(path string, keys ...string) bool {
	return s.Reader != nil && slices.ContainsFunc(keys, func(key string) bool { return s.Reader.Hides(path, key) })
}

// called is what people call an entry: its name, else other words; to a reader who
// may not see all, what he may call it.
func (s *subject) called(path, name string) string {
	if s.Reader != nil {
		return shown.Clean(s.Reader.Name(path))
	}
	return shown.Clean(name)
}

// Kind is a kind of drawing.
type Kind struct {
	Name, About string
	Wants       string // what a ledger has to have for there to be something to draw
	draw        func(*subject) Drawing
	kept        bool // it keeps to what a reader may see
}

// Kinds are the drawings that there are, in the order of a book.
func Kinds() []Kind {
	return []Kind{
		{"side", "the vehicle from its left side: wheels, parts, loads, tanks, centers of gravity", "parts with a place, or a wheelbase and tires", side, true},
		{"plan", "the same from above", "parts with a place, or a wheelbase, track and tires", plan, true},
		{"front", "the same from ahead", "parts with a place, or a track and tires", front, true},
		{"axle-loads", "what stands on each axle against its rating: as received, predicted, weighed, loaded", "a weighing as received", axleLoads, true},
		{"closeness", "how close everything is: every check that compares figures, the nearest to its limit first", "a check with its figures", closeness, true},
		{"gaps", "what is left of each gap in use, against the least", "a gap with what was measured and its motion", gaps, true},
		{"driveline", "each shaft with its joints, angles, length and slip, from the side and from above", "a shaft with its length and its angles", driveline, true},
		{"loops", "what coolant, fuel, charge air and other fluids pass, in order", "a loop, or hoses with from and to", loops, true},
		{"wiring", "the circuits as a tree from their sources, with a table of fuses", "a circuit", wiring, false},
		{"plugs", "the faces of the plugs by their ways, with a table of pins", "a plug with its ways or its pins", plugs, false},
	}
}

// Names are the names of the kinds.
func Names() []string {
	var out []string
	for _, k := range Kinds() {
		out = append(out, k.Name)
	}
	return out
}

// Named is the kind of a name; false where there is none.
func Named(name string) (Kind, bool) {
	for _, k := range Kinds() {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// Of makes one drawing of a build.
func Of(kind string, r *lint.Report, f Figures) (Drawing, error) {
	k, ok := Named(kind)
	if !ok {
		return Drawing{}, fmt.Errorf("there is no drawing %q", kind)
	}
	return k.of(&subject{r, f, r.Build.Style()}), nil
}

// All makes every drawing of a build that has something to show, and that keeps to
// what its reader may see. The views have one key, that of the first.
func All(r *lint.Report, f Figures) []Drawing {
	var out []Drawing
	key := ""
	for _, k := range Kinds() {
		if f.Reader != nil && !k.kept {
			continue
		}
		d := k.of(&subject{r, f, r.Build.Style()})
		if d.Empty() {
			continue
		}
		if len(d.Tables) == 1 && d.Tables[0].Key {
			if key != "" {
				d.Panels[0].Caption, d.Tables, d.Beside = "Numbers as in the key of the view "+key+".", nil, nil
			}
			key = cmp.Or(key, strings.ToLower(d.Title[:1])+d.Title[1:])
		}
		out = append(out, d)
	}
	return out
}

func (k Kind) of(s *subject) Drawing {
	d := k.draw(s)
	d.Kind, d.ID = k.Name, "drawing-"+k.Name
	return d
}

// The widths of the two layouts.
const (
	wide   = 760
	narrow = 360
)

// both lays a panel out twice.
func both(caption string, lay func(width float64) Sheet) Panel {
	return Panel{caption, lay(wide), lay(narrow)}
}

// The sizes of letters, in units of a sheet.
const (
	plain = 12.0
	small = 10.5
)

// Sheet is a layout: marks on an area.
type Sheet struct {
	Width, Height float64
	Marks         []Mark
}

// Mark is one thing on a sheet: a line through points, a disc, a box or a text.
type Mark struct {
	Form   Form
	Look   Look
	Points []layout.Point // of a line; the first is the place of a disc or a text
	R      float64        // of a disc
	Box    layout.Box     // of a box; of a text, what it takes up
	Text   string         // of a text; else what people are told who point at it
	Size   float64        // of a text
	End    Anchor
}

// Form is what kind of mark it is.
type Form uint8

// The forms.
const (
	Line Form = iota
	Area      // a line that comes back to its start, and is filled
	Disc
	Rect
	Words
)

// Look is how a mark looks: a class of the style sheet, and nothing that comes
// from a ledger.
type Look string

// Anchor is which end of a text its place is.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// at is a point.
func at(x, y float64) layout.Point { return layout.Point{X: x, Y: y} }

func (s *Sheet) line(look Look, points ...layout.Point) {
	s.Marks = append(s.Marks, Mark{Form: Line, Look: look, Points: points})
}

func (s *Sheet) area(look Look, points ...layout.Point) {
	s.Marks = append(s.Marks, Mark{Form: Area, Look: look, Points: points})
}

func (s *Sheet) disc(look Look, at layout.Point, r float64, told string) {
	s.Marks = append(s.Marks, Mark{Form: Disc, Look: look, Points: []layout.Point{at}, R: r, Text: told})
}

func (s *Sheet) rect(look Look, b layout.Box, told string) {
	s.Marks = append(s.Marks, Mark{Form: Rect, Look: look, Box: b, Text: told})
}

// words puts a text with its foot at a height, and tells what room it takes.
func (s *Sheet) words(look Look, size float64, end Anchor, x, y float64, text string) layout.Box {
	b := boxOf(size, end, x, y, text)
	s.Marks = append(s.Marks, Mark{Form: Words, Look: look, Points: []layout.Point{{X: x, Y: y}}, Box: b, Text: text, Size: size, End: end})
	return b
}

// boxOf is the room of a text: an ascent of nine tenths of its size and a descent
// of a quarter, as common fonts have.
func boxOf(size float64, end Anchor, x, y float64, text string) layout.Box {
	w := layout.Width(text, size)
	switch end {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return layout.Box{X: x, Y: y - 0.9*size, W: w, H: lineOf(size)}
}

// labelOf is a text of a size that wants a place.
func labelOf(at layout.Point, r, size float64, text string) layout.Label {
	return layout.Label{At: at, R: r, W: layout.Width(text, size), H: lineOf(size)}
}

// lineOf is how high a line of letters is.
func lineOf(size float64) float64 { return 1.15 * size }

// inBox puts a text in the middle of a box that was made for it.
func (s *Sheet) inBox(look Look, size float64, b layout.Box, text string) {
	s.words(look, size, Middle, b.X+b.W/2, b.Y+0.9*size, text)
}

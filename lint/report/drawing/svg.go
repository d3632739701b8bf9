package drawing

import (
	_ "embed"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"

	"fishplate/lint/report/drawing/layout"
	"fishplate/lint/report/shown"
)

//go:embed drawing.html
var drawingPage string

//go:embed drawing.css
var drawingStyle string

// Style is the style sheet that drawings on a page need, once.
func Style() template.CSS { return template.CSS(drawingStyle) }

// The templates escape what is put into them; they are parsed when the first
// drawing is written.
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"n": number, "points": pointList, "clean": shown.Clean, "style": Style,
	}).Parse(drawingPage))
})

// HTML is the drawing for a page that has Style: both layouts, of which one is
// seen, the tables, and what is listed beside.
func (d Drawing) HTML() (template.HTML, error) {
	var b strings.Builder
	err := pages().ExecuteTemplate(&b, "figure", d)
	return template.HTML(b.String()), err
}

// SVG writes the drawing as a file of its own, with its tables and what is listed
// beside drawn below it.
func (d Drawing) SVG(to io.Writer) error {
	return pages().ExecuteTemplate(to, "file", struct {
		Drawing
		Sheet Sheet
	}{d, d.whole()})
}

// number prints a length to a tenth of a unit.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64)
}

func pointList(points []layout.Point) string {
	var b strings.Builder
	for i, p := range points {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(number(p.X) + "," + number(p.Y))
	}
	return b.String()
}

// IsLine, IsArea, IsDisc, IsRect and IsWords tell the template the form.
func (m Mark) IsLine() bool  { return m.Form == Line }
func (m Mark) IsArea() bool  { return m.Form == Area }
func (m Mark) IsDisc() bool  { return m.Form == Disc }
func (m Mark) IsRect() bool  { return m.Form == Rect }
func (m Mark) IsWords() bool { return m.Form == Words }

// At is the place of a disc or a text.
func (m Mark) At() layout.Point { return m.Points[0] }

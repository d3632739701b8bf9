package book

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/color"
	_ "image/gif" // pictures that a page may be given
	"image/jpeg"
	_ "image/png" // the same
	"path"
	"slices"
	"strings"

	"golang.org/x/image/draw"
	_ "golang.org/x/image/webp" // the same

	"fishplate/ledger"
)

// What a picture may be, and what a page needs of it. Common practice, no source.
const (
	maxPhoto    = 32 << 20 // bytes of a file
	maxPixels   = 40e6     // of a picture that is opened
	maxPhotos   = 120      // of a book
	photoAcross = 1100     // pixels on the page, the longer side
	photoGrade  = 80       // of JPEG, 1 to 100
)

// photo is a picture on the page.
type photo struct {
	ID            string
	Source        template.URL
	Width, Height int
	Says          cell // what it shows
	Alt           string
	About         cell
	Fault         string // why it cannot be shown

	proves []string
	placed bool
}

// photos are the documents that are pictures, each opened, scaled and written anew,
// so that nothing of the file but the picture is left.
func (r *reader) photos(beside func([]byte) (string, error)) (out []photo, err error) {
	for _, d := range r.Documents() {
		e := d.Entry()
		if !r.has(e) || !isPicture(d.File.String()) {
			continue
		}
		p := photo{ID: "photo-" + fmt.Sprint(len(out)+1), About: r.cell(e, "proves")}
		for _, ref := range d.Proves {
			p.proves = append(p.proves, ref.String())
		}
		p.Says, p.Alt = r.captionOf(d, e)
		picture, err := r.picture(d)
		switch {
		case len(out) >= maxPhotos:
			p.Fault = fmt.Sprintf("left out: the book shows %d pictures at most", maxPhotos)
		case err != nil:
			p.Fault = err.Error()
		default:
			if err := p.put(picture, beside); err != nil {
				return nil, err
			}
		}
		if r.ed == Public && p.Fault != "" {
			continue
		}
		out = append(out, p)
	}
	return out, nil
}

// isPicture tells by its name that a file is a picture.
func isPicture(file string) bool {
	return slices.Contains([]string{".jpg", ".jpeg", ".png", ".gif", ".webp"}, strings.ToLower(path.Ext(file)))
}

// captionOf is what a picture shows, and the same for those who cannot see it.
func (r *reader) captionOf(d *ledger.Document, e *ledger.Entry) (says cell, alt string) {
	var names []string
	for _, ref := range d.Proves {
		if s := r.link(ref.String()); s.Text != "" {
			says = joined(", ", says, cell{s})
			names = append(names, s.Text)
		}
	}
	alt = "Picture"
	if len(names) > 0 {
		alt += " of " + strings.Join(names, ", ")
	}
	if r.ed.paths() {
		says = joined("; ", says, joined(", ", cell{{Text: e.Path(), To: r.anchor(e), Weak: true}}, r.cell(e, "date"), r.cell(e, "by")))
	}
	return says, alt
}

// picture opens a document that is a picture, upright and scaled to what a page
// needs. An error says in words what is wrong with it.
func (r *reader) picture(d *ledger.Document) (image.Image, error) {
	content, err := r.Build.FileContent(d.File.String(), maxPhoto)
	if err != nil {
		return nil, err
	}
	if sum, err := r.FileDigest(d.File.String()); err != nil || d.SHA256.Is(sum).Fails() {
		return nil, fmt.Errorf("left out: the file was altered since it was attached")
	}
	return openPicture(content)
}

// openPicture opens a picture after a look at how large it says to be.
func openPicture(content []byte) (image.Image, error) {
	head, kind, err := image.DecodeConfig(bytes.NewReader(content))
	if err != nil {
		return nil, fmt.Errorf("left out: it is no picture that can be read (JPEG, PNG, GIF or WebP)")
	}
	if head.Width <= 0 || head.Height <= 0 || float64(head.Width)*float64(head.Height) > maxPixels {
		return nil, fmt.Errorf("left out: %d by %d pixels are more than %d million", head.Width, head.Height, int(maxPixels/1e6))
	}
	full, _, err := image.Decode(bytes.NewReader(content))
	if err != nil {
		return nil, fmt.Errorf("left out: the picture is damaged")
	}
	way := 1
	if kind == "jpeg" {
		way = orientation(content)
	}
	return upright(scaled(full), way), nil
}

// scaled is a picture on white, no larger than a page needs.
func scaled(full image.Image) *image.RGBA {
	b := full.Bounds()
	w, h := b.Dx(), b.Dy()
	if most := max(w, h); most > photoAcross {
		w, h = max(1, w*photoAcross/most), max(1, h*photoAcross/most)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	by := draw.Scaler(draw.CatmullRom)
	if w*3 < b.Dx() { // first to twice the size, quickly
		by = draw.ApproxBiLinear
		mid := image.NewRGBA(image.Rect(0, 0, 2*w, 2*h))
		draw.Draw(mid, mid.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
		by.Scale(mid, mid.Bounds(), full, b, draw.Over, nil)
		full, b, by = mid, mid.Bounds(), draw.CatmullRom
	}
	by.Scale(out, out.Bounds(), full, b, draw.Over, nil)
	return out
}

// put writes the picture into the page, or beside it.
func (p *photo) put(picture image.Image, beside func([]byte) (string, error)) error {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, picture, &jpeg.Options{Quality: photoGrade}); err != nil {
		return err
	}
	p.Width, p.Height = picture.Bounds().Dx(), picture.Bounds().Dy()
	if beside == nil {
		p.Source = template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(out.Bytes()))
		return nil
	}
	name, err := beside(out.Bytes())
	p.Source = template.URL(name)
	return err
}

// photosOf are the photos that prove something of some entries, each where it is
// told of first.
func photosOf(photos []photo, list []*ledger.Entry) (out []photo) {
	of := map[string]bool{}
	for _, e := range list {
		of[e.Path()] = true
	}
	for i := range photos {
		p := &photos[i]
		if p.placed || !slices.ContainsFunc(p.proves, func(name string) bool { return proves(of, name) }) {
			continue
		}
		p.placed = true
		out = append(out, *p)
	}
	return out
}

// proves tells that a name is of an entry, or of a value of one.
func proves(of map[string]bool, name string) bool {
	for name := range ledger.Outward(name) {
		if of[name] {
			return true
		}
	}
	return false
}

package book

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"io"
	"strings"
	"sync"

	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/lint/report/drawing"
)

//go:embed book.html
var bookPage string

//go:embed book.css
var bookStyle string

//go:embed book.js
var bookScript string

// Options says which book is wanted.
type Options struct {
	Edition Edition
	Figures drawing.Figures // what the rules reckon, for the drawings
	History *History        // nil where there is none to tell
	// Photo takes a picture that is to stand beside the page, and gives the
	// name by which the page finds it; nil puts pictures into the page.
	Photo func(jpeg []byte) (name string, err error)
}

// page is what the template is given.
type page struct {
	Title, Edition string
	Style          template.CSS
	Script         template.JS
	Policy         string
	Front          front
	Custom         custom
	Living         living
	Chapters       []chapter
	Sums           sums
	Asked          asked
	Papers         papers
	Costs          costs
	History        *told
	Index          []indexed
	Chosen         bool // only what was chosen stands in the chapters
	Stands         string
}

// Write writes the book of a build.
func Write(to io.Writer, rep *lint.Report, opt Options) error {
	r := newReader(rep, opt.Edition)
	photos, err := r.photos(opt.Photo)
	if err != nil {
		return err
	}
	past, err := r.history(opt.History)
	if err != nil {
		return err
	}
	drawn := drawingsOf(r, opt.Figures)
	p := page{
		Title: r.title(), Edition: opt.Edition.title(), Style: template.CSS(bookStyle) + drawing.Style(), Script: template.JS(bookScript),
		Policy: policy(opt.Photo != nil), Chosen: opt.Edition == Public, Stands: stands(r),
		Front: r.front(drawn), Custom: r.custom(), Chapters: r.chapters(drawn, photos), Sums: r.sums(drawn), History: past,
	}
	if opt.Edition.upkeep() {
		p.Living = r.living()
	}
	p.Asked, p.Costs = r.asked(), r.costs()
	if opt.Edition != Public {
		p.Papers, p.Index = r.papers(photos), r.index()
	}
	return pages().Execute(to, p)
}

// stands says of which ledger the book is.
func stands(r *reader) string {
	say := r.rep.Stage.String() + ", as of " + r.rep.AsOf
	if id := r.rep.Digest(); id != "" && r.ed != Public {
		say += ", ledger " + short(id)
	}
	return say
}

// short is the beginning of a digest, enough to tell two ledgers apart by eye.
func short(digest string) string {
	version, sum, _ := strings.Cut(digest, ":")
	return version + ":" + sum[:min(12, len(sum))]
}

// policy is what the page may do: show what is in it, and run its own few lines.
// Pictures that stand beside it are files, or of the place that it is from.
func policy(beside bool) string {
	sum := sha256.Sum256([]byte(bookScript))
	pictures := "data:"
	if beside {
		pictures = "data: file: 'self'"
	}
	return "default-src 'none'; style-src 'unsafe-inline'; img-src " + pictures + "; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"
}

// pages is the template, parsed when the first book is written. It escapes every
// word, each cleaned of what has no shape.
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("book").Funcs(template.FuncMap{
		"clean": report.Clean, "plural": report.Plural, "upper": report.Upper, "inc": func(i int) int { return i + 1 },
		"tab": func(t table, class string) classed { return classed{t, class} },
	}).Parse(bookPage))
})

// classed is a table with the class that says how it looks.
type classed struct {
	T     table
	Class string
}

// drawings are a book's drawings by kind, as they stand on the page.
type drawings map[string]template.HTML

func drawingsOf(r *reader, f drawing.Figures) drawings {
	out := drawings{}
	for _, d := range drawing.All(r.rep, f) {
		if r.ed == Public && !public[d.Kind] {
			continue
		}
		if h, err := d.HTML(); err == nil {
			out[d.Kind] = h
		}
	}
	return out
}

// public are the drawings of the public edition: the others name entries, by ids
// and by words that are not public.
var public = map[string]bool{"axle-loads": true}

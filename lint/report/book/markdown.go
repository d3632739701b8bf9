package book

import (
	"bytes"
	"html/template"
	"strings"
	"sync"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"fishplate/lint/report"
)

// notes turns the Markdown of notes into HTML: raw HTML is left out, pictures are
// left to their words, links lead to pages and mail alone, and headings are bold
// lines, as the book has its own.
var notes = sync.OnceValue(func() goldmark.Markdown {
	return goldmark.New(goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(tame{}, 100))))
})

// markdown is a note as HTML. What has no shape is spelt out, line by line.
func markdown(source string) template.HTML {
	lines := strings.Split(strings.ReplaceAll(source, "\t", "    "), "\n")
	for i, l := range lines {
		lines[i] = report.Clean(strings.TrimSuffix(l, "\r"))
	}
	text := strings.Join(lines, "\n")
	var out bytes.Buffer
	if len(text) > longestNote || notes().Convert([]byte(text), &out) != nil {
		return paragraphs(text)
	}
	return template.HTML(out.String())
}

// longestNote is how many bytes of a note are read as Markdown: quotes in quotes and
// links in links take the square of their number. Practice, without a source.
const longestNote = 8 << 10

// paragraphs are a text as it is written, but for its line breaks.
func paragraphs(text string) template.HTML {
	var out strings.Builder
	for part := range strings.SplitSeq(text, "\n\n") {
		if part = plain(part); part != "" {
			out.WriteString("<p>" + template.HTMLEscapeString(part) + "</p>\n")
		}
	}
	return template.HTML(out.String())
}

// tame takes out of a note whatever would load, run or lead astray.
type tame struct{}

func (tame) Transform(doc *ast.Document, reader text.Reader, _ parser.Context) {
	var found []ast.Node
	ast.Walk(doc, func(n ast.Node, in bool) (ast.WalkStatus, error) {
		if in {
			found = append(found, n)
		}
		return ast.WalkContinue, nil
	})
	for _, n := range found {
		switch n := n.(type) {
		case *ast.Image:
			unwrap(n)
		case *ast.Link:
			if !leads(n.Destination) {
				unwrap(n)
			}
		case *ast.AutoLink:
			if u := n.URL(reader.Source()); n.AutoLinkType != ast.AutoLinkEmail && !leads(u) {
				n.Parent().ReplaceChild(n.Parent(), n, ast.NewString(u))
			}
		case *ast.Heading:
			strong, p := ast.NewEmphasis(2), ast.NewParagraph()
			for c := n.FirstChild(); c != nil; c = n.FirstChild() {
				strong.AppendChild(strong, c)
			}
			p.AppendChild(p, strong)
			n.Parent().ReplaceChild(n.Parent(), n, p)
		case *ast.RawHTML, *ast.HTMLBlock:
			n.Parent().RemoveChild(n.Parent(), n)
		}
	}
}

// leads tells that a link leads to a page or to a letter.
func leads(destination []byte) bool {
	d := strings.ToLower(string(destination))
	return strings.HasPrefix(d, "https://") || strings.HasPrefix(d, "http://") || strings.HasPrefix(d, "mailto:")
}

// unwrap puts what stands in a node in the node's place.
func unwrap(n ast.Node) {
	for c := n.FirstChild(); c != nil; c = n.FirstChild() {
		n.Parent().InsertBefore(n.Parent(), n, c)
	}
	n.Parent().RemoveChild(n.Parent(), n)
}

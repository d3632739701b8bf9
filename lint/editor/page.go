package editor

import (
	"strings"
	"unicode/utf8"
)

// page is what a hover shows: sentences of the program's own, and blocks with what
// stands in ledgers. The blocks are fenced, so that nothing in them is a link, a
// picture or a heading to any editor.
type page struct {
	paragraphs []paragraph
}

type paragraph struct {
	block bool
	text  string
}

func (p *page) say(text string) {
	if text != "" {
		p.paragraphs = append(p.paragraphs, paragraph{false, plain(text)})
	}
}

// show puts lines into a block, each laid out over as many as it needs.
func (p *page) show(lines ...string) {
	var out []string
	for _, l := range lines {
		out = append(out, folded(plain(l)))
	}
	if len(out) > 0 {
		p.paragraphs = append(p.paragraphs, paragraph{true, strings.Join(out, "\n")})
	}
}

// blockWidth is how wide a block is laid out, in characters.
const blockWidth = 84

// folded is a line laid out over several, those below the first set in.
func folded(line string) string {
	var out strings.Builder
	width := 0
	for i, word := range strings.Fields(line) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case width+1+n > blockWidth:
			out.WriteString("\n    ")
			width = 4
		default:
			out.WriteByte(' ')
			width++
		}
		out.WriteString(word)
		width += n
	}
	return out.String()
}

func (p *page) markup(markdown bool) markup {
	var out []string
	for _, x := range p.paragraphs {
		switch {
		case !markdown:
			out = append(out, x.text)
		case x.block:
			fence := "```"
			for strings.Contains(x.text, fence) {
				fence += "`"
			}
			out = append(out, fence+"text\n"+x.text+"\n"+fence)
		default:
			out = append(out, unmarked.Replace(x.text))
		}
	}
	if markdown {
		return markup{"markdown", strings.Join(out, "\n\n")}
	}
	return markup{"plaintext", strings.Join(out, "\n\n")}
}

// unmarked keeps a sentence from meaning anything to Markdown (CommonMark 0.31,
// section 2.4: any ASCII punctuation may be escaped).
var unmarked = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", `\<`, ">", `\>`, "#", `\#`, "|", `\|`, "~", `\~`, "&", `\&`)

package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"fishplate/lint"
)

const hang = "          " // under the verdict's column

// text writes lines for a person, folded to the width of the screen.
type text struct {
	w      *bufio.Writer
	opt    Options
	folder string // of the build that is told of; its files are named without
	begun  bool   // a build has been told of
}

func newText(to io.Writer, opt Options) *text {
	if opt.Width == 0 {
		opt.Width = usualWidth
	}
	opt.Width = max(opt.Width, leastWidth)
	return &text{w: bufio.NewWriter(to), opt: opt}
}

func (t *text) line(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	for _, one := range strings.Split(s, "\n") {
		below := strings.Repeat(" ", len(one)-len(strings.TrimLeft(one, " "))+4)
		t.put(one, below)
	}
}

// wrap prints a start and words behind it, folded under one another where they
// are long.
func (t *text) wrap(margin, below, start, words string) {
	t.put(margin+start+strings.Join(strings.Fields(words), " "), below)
}

func (t *text) put(line, below string) {
	for _, one := range fold(line, t.opt.Width, below) {
		t.w.WriteString(one + "\n")
	}
}

// paint colors a word. What it says it also says without.
func (t *text) paint(color, s string) string {
	if !t.opt.Color || s == "" {
		return s
	}
	return "\x1b[" + color + "m" + s + "\x1b[0m"
}

const (
	bold   = "1"
	dim    = "2"
	red    = "1;31"
	yellow = "33"
	green  = "32"
)

var colors = map[lint.Verdict]string{lint.Fail: red, lint.Missing: yellow, lint.Unproven: yellow, lint.Waived: dim, lint.Pass: green, lint.NotApplicable: dim}

// colorOf is red for what fails, and for advice never.
func colorOf(r *lint.Result) string {
	if r.Should && r.Verdict == lint.Fail {
		return yellow
	}
	return colors[r.Verdict]
}

// word is a verdict in the width of its column.
func word(r *lint.Result) string {
	if r.Verdict == lint.NotApplicable {
		return "n/a"
	}
	return r.Word()
}

// fit pads text to a width, and leaves two blanks at least.
func fit(s string, width int) string {
	return s + strings.Repeat(" ", max(2, width-utf8.RuneCountInString(s)))
}

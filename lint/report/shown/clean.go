package shown

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean makes text that came from a ledger, a file's name or a command line
// safe to show: control characters, marks that turn the direction of writing,
// everything else without a shape and bytes that are no text are spelt out.
//
// CI hosts take a log line that begins with :: for a command, and ## with a
// bracket behind, or a word and a bracket, wherever in a line it stands: these
// are broken up, wherever our own line breaks fall.
func Clean(s string) string {
	s = strings.ReplaceAll(s, "::", `:\x3a`)
	if strings.Contains(s, "##") {
		s = Commands.ReplaceAllString(s, `#\x23$1[`)
	}
	if strings.IndexFunc(s, Hidden) < 0 && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == utf8.RuneError && invalidAt(s, i):
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\r':
			b.WriteString(`\r`)
		case !Hidden(r):
			b.WriteRune(r)
		case r < 0x80:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	return b.String()
}

// Commands are what CI hosts take for commands in the middle of a line.
var Commands = regexp.MustCompile(`##([A-Za-z]*)\[`)

// Hidden tells that a character has no shape of its own.
func Hidden(r rune) bool { return !unicode.IsGraphic(r) }

func invalidAt(s string, i int) bool {
	_, size := utf8.DecodeRuneInString(s[i:])
	return size == 1
}

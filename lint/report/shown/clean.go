package shown

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean makes text that came from a ledger, a file's name or a command line
// safe to show: control characters, marks that turn the direction of writing,
// everything else without a shape and bytes that are no text are spelt out.
//
// CI hosts take a log line that begins with :: or ##[ for a command, wherever
// our own line breaks fall: these are broken up.
func Clean(s string) string {
	s = commands.Replace(s)
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

var commands = strings.NewReplacer("::", `:\x3a`, "##[", `#\x23[`)

// Hidden tells that a character has no shape of its own.
func Hidden(r rune) bool { return !unicode.IsGraphic(r) }

func invalidAt(s string, i int) bool {
	_, size := utf8.DecodeRuneInString(s[i:])
	return size == 1
}

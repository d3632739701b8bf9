package syntax

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"fishplate/ledger/spelling"
)

// syntaxError tells a syntax error and reports whether reading can go on, and
// then sets base to where.
func (r *reader) syntaxError(err error) (again bool) {
	var parse *unstable.ParserError
	if !errors.As(err, &parse) {
		r.refuse(r.at(r.done), "%v", err)
		return r.resume(skipSpace(r.src, r.done))
	}
	offset := r.runeStart(r.base + int(r.parser.Range(parse.Highlight).Offset))
	start := skipSpace(r.src, r.done)
	if offset >= len(r.src)-1 && r.open >= start {
		r.refuse(r.at(r.open), "the %s that begins here is not closed", r.openKind)
		return r.resume(start)
	}
	end := lineEnd(r.src, offset)
	message := r.syntaxMessage(parse, start, offset)
	if strings.Contains(message, ", but found ") {
		message += r.hint(start, offset)
	}
	if strings.HasPrefix(message, "expected '=' after the key") || strings.Contains(message, "after the table's name") {
		c, _ := utf8.DecodeRuneInString(r.src[offset:])
		if f := spelling.Foreign(string(c)); f != "" {
			message += "; " + f + "; a name with other letters stands in quotes"
		}
	}
	r.refuse(r.at(offset), "%s", message)
	if r.lookUp(start) != r.lookUp(offset) || !selfContained(r.src[start:end]) || !startsEntry(r.src[end:]) {
		return r.resume(start)
	}
	r.base, r.done = end, end
	r.aboveLine = 0
	return true
}

// syntaxMessage words the error at offset, in the expression that begins at
// start. Of the two parsers BurntSushi/toml says more of what it found; it is
// asked about this expression alone, and heard if it means the same line.
func (r *reader) syntaxMessage(parse *unstable.ParserError, start, offset int) string {
	const mark = "\ufeff"
	if strings.HasPrefix(r.src[offset:], mark) {
		return "a byte order mark (U+FEFF) is allowed only at the very start of a file"
	}
	if strings.HasPrefix(r.src[start:], mark) {
		return plainMessage(parse.Message)
	}
	if _, err := decode(r.src[start:lineEnd(r.src, offset)] + "\n"); err != nil {
		other, message := r.decodeError(err, start)
		if r.lookUp(other) == r.lookUp(offset) {
			return message
		}
	}
	return plainMessage(parse.Message)
}

// usDate is how a date is written where the month comes first, or the day.
var usDate = regexp.MustCompile(`^\d{1,2}[/.]\d{1,2}[/.]\d{2,4}\b`)

// hint adds what people who write by hand most often meant.
func (r *reader) hint(start, offset int) string {
	line := r.src[start:lineEnd(r.src, start)]
	value := strings.IndexByte(line, '=')
	if value < 0 || start+value >= offset {
		return joined(line)
	}
	if offset >= len(r.src) || lineEnd(r.src, start) <= offset {
		return ""
	}
	before, rest := r.src[start+value+1:offset], r.src[offset:]
	first, _ := utf8.DecodeRuneInString(rest)
	whole := strings.TrimSpace(line[value+1:])
	switch word := leadingWord(rest); {
	case usDate.MatchString(whole):
		return " (a date is written year first, as in 2026-03-01)"
	case rest[0] == ',' && before != "" && '0' <= before[len(before)-1] && before[len(before)-1] <= '9':
		return " (decimals are written with a point)"
	case strings.TrimSpace(before) == "" && (strings.EqualFold(word, "true") || strings.EqualFold(word, "false")):
		return " (true and false are written in small letters)"
	case strings.TrimSpace(before) == "" && (strings.EqualFold(word, "yes") || strings.EqualFold(word, "no")):
		return " (yes and no are written true and false; text is written in quotes)"
	case strings.ContainsRune("\u201c\u201d\u201e\u2018\u2019", first):
		return " (text is written in plain quotes: \")"
	case strings.ContainsAny(whole, `[{`):
		return ""
	case closed(before) && rest[0] == ',':
		return " (more than one is written in brackets: [\"a\", \"b\"])"
	case closed(before) && afterDigit(before):
		return " (the text ended at the mark before it: inches are written in, and feet ft)"
	case strings.ContainsAny(before, `"'`):
		return ""
	case word != "" || rest[0] == '"' || rest[0] == '\'' || rest[0] >= 0x80 || rest[0] == '%' || '0' <= rest[0] && rest[0] <= '9':
		return " (text is written in quotes" + inQuotes(whole) + ")"
	}
	return ""
}

// closed tells that a text in quotes ends where something else follows.
func closed(before string) bool {
	s := strings.TrimSpace(before)
	return len(s) > 1 && (s[0] == '"' || s[0] == '\'') && s[len(s)-1] == s[0]
}

// afterDigit tells that the mark at the end of a text follows a figure, as that of
// inches or feet does.
func afterDigit(before string) bool {
	s := strings.TrimSpace(before)
	c := s[len(s)-2]
	return '0' <= c && c <= '9'
}

// inQuotes shows a value as it is written in quotes, where it is short and plain.
func inQuotes(value string) string {
	value, _, _ = strings.Cut(value, "#")
	value = strings.TrimSpace(strings.Trim(strings.TrimSpace(value), `"'`))
	if value == "" || len(value) > 30 || strings.ContainsAny(value, "\"'\\") || value != visible(value) {
		return ""
	}
	return ": \"" + value + "\""
}

// joined tells that a name of several words takes hyphens, as in before-move.
func joined(line string) string {
	end := strings.IndexAny(line, "]=")
	if end < 0 {
		return ""
	}
	words := strings.Fields(strings.Trim(line[:end], "[ \t"))
	for _, w := range words {
		if strings.ContainsFunc(w, func(c rune) bool { return c > 0x7f || !isBare(byte(c)) && c != '.' }) {
			return ""
		}
	}
	if len(words) < 2 || len(words) > 6 {
		return ""
	}
	return " (a name has no spaces: " + strings.Join(words, "-") + ")"
}

func leadingWord(s string) string {
	i := 0
	for i < len(s) && (s[i]|0x20 >= 'a' && s[i]|0x20 <= 'z') {
		i++
	}
	return s[:i]
}

// selfContained reports whether a wrong line surely ends with itself: an entry
// without brackets, with its quotes in pairs. Anything else might be half of
// something longer, and the lines after it would be blamed in vain.
func selfContained(line string) bool {
	return strings.Contains(line, "=") &&
		!strings.ContainsAny(line, `[]{}\`) &&
		!strings.Contains(line, `"""`) && !strings.Contains(line, "'''") &&
		strings.Count(line, `"`)%2 == 0 && strings.Count(line, "'")%2 == 0
}

// startsEntry reports whether the first line of s that is neither blank nor a
// comment looks like a header or a key with a value.
func startsEntry(s string) bool {
	for i := skipSpace(s, 0); i < len(s); i = skipSpace(s, i) {
		line := s[i:lineEnd(s, i)]
		switch {
		case line[0] == '#':
			i += len(line)
			continue
		case line[0] == '[':
			return strings.Contains(line, "]") && !strings.ContainsAny(line, ",=")
		}
		key, _, found := strings.Cut(line, "=")
		for j := 0; j < len(key); j++ {
			if c := key[j]; !isBare(c) && c != '.' && c != ' ' && c != '\t' && c != '"' {
				return false
			}
		}
		return found && key != "" && len(strings.Fields(key)) == 1
	}
	return false
}

func skipSpace(s string, i int) int {
	for i < len(s) && (s[i] == ' ' || s[i] == '\t' || s[i] == '\n' || s[i] == '\r') {
		i++
	}
	return i
}

// plainWords rewords BurntSushi/toml's messages.
var plainWords = strings.NewReplacer(
	"expected a top-level item to end with a newline, comment, or EOF, but got ", "expected the end of the line, but found ",
	"expected value but found ", "expected a value, but found ",
	"strings cannot contain newlines", "the string is not closed before the end of its line: a quotation mark is missing",
	"expected '.' or '=', but got ", "expected '=' after the key, but found ",
	"unexpected '=': key name appears blank", "there is no key before '='",
	"expected '.' or ']' to end table name, but got ", "expected ']' after the table's name, but found ",
	"expected end of table array name delimiter ']', but got ", "expected ']]' after the table's name, but found ",
	"unexpected EOF; expected value", "expected a value, but the file ends",
	"unexpected comma", "there is no value before the comma",
	"invalid datetime: ", "invalid date or time ",
	"expected a comma (',') or array terminator (']'), but got ", "expected a comma or ']' in the array, but found ",
	"expected a comma or an inline table terminator '}', but got ", "expected a comma or '}' in the inline table, but found ",
)

// plainMessage puts a parser's message into plainer words.
func plainMessage(m string) string {
	m = strings.TrimSuffix(strings.TrimPrefix(m, "toml: "), ".")
	m = strings.TrimSuffix(plainWords.Replace(m), " instead")
	for _, end := range []string{`'\n'`, `'\r'`, `'\x00'`} {
		m = strings.ReplaceAll(m, "found "+end, "found the end of the line")
	}
	if strings.HasPrefix(m, "Invalid ") || strings.HasPrefix(m, "Escaped ") || strings.HasPrefix(m, "Key ") {
		m = strings.ToLower(m[:1]) + m[1:]
	}
	if strings.HasPrefix(m, "invalid date or time") {
		m += "; a date is year, month and day, as in 2026-03-01"
	}
	if strings.Contains(m, "hexadecimal digits after") || strings.Contains(m, "invalid escape") {
		m += " (in single quotes a backslash stands for itself)"
	}
	return visible(m)
}

// visible spells out the control characters that a message quotes from the file.
func visible(m string) string {
	for bad := controlCharacter(m); bad >= 0; bad = controlCharacter(m) {
		m = strings.ReplaceAll(m, string(bad), fmt.Sprintf("U+%04X", bad))
	}
	return strings.ReplaceAll(strings.ReplaceAll(m, "\n", `\n`), "\r", `\r`)
}

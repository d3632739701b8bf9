package syntax

import (
	"math"
	"strconv"
	"strings"
	"sync"
	"time"
)

// scalar sets a node's value from its text, where it is in one of the forms
// that every reader takes alike. All else is left to BurntSushi/toml.
func (r *reader) scalar(n *Node, text string, data []byte) {
	switch n.Kind {
	case String:
		n.Value = r.stringValue(text, data)
	case Bool:
		n.Value = text == "true"
	case Integer:
		if v, err := strconv.ParseInt(text, 10, 64); err == nil && plainDigits(text) {
			n.Value = v
		}
	case Float:
		if whole, rest, ok := strings.Cut(text, "."); ok && plainDigits(whole) && onlyDigits(rest) {
			if v, err := strconv.ParseFloat(text, 64); err == nil && !math.IsInf(v, 0) {
				n.Value = v
			}
		}
	case Date:
		if len(text) == len(time.DateOnly) {
			if v, err := time.ParseInLocation(time.DateOnly, text, localDate()); err == nil {
				n.Value = v
			}
		}
	}
	if n.Value == nil {
		r.unsure++
	}
}

// localDate is the location by which BurntSushi/toml tells a date without a time
// from one with.
var localDate = sync.OnceValue(func() *time.Location {
	values, err := decode("v = 2000-01-01\n")
	if err != nil {
		panic(err)
	}
	return values["v"].(time.Time).Location()
})

// stringValue shares the file's memory where the string stands in it as it is.
func (r *reader) stringValue(text string, data []byte) string {
	if last := len(text) - 1; last-1 == len(data) && (text[0] == '\'' || strings.IndexByte(text, '\\') < 0) {
		return text[1:last]
	}
	return string(data)
}

// plainDigits tells a decimal whole number without underscores or noughts in
// front, with or without a sign.
func plainDigits(s string) bool {
	if s != "" && (s[0] == '-' || s[0] == '+') {
		s = s[1:]
	}
	return onlyDigits(s) && (s[0] != '0' || len(s) == 1)
}

func onlyDigits(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

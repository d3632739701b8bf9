package spelling

import (
	"fmt"
	"unicode"
)

// alike are letters of other alphabets that look like a Latin one (Unicode
// Technical Standard 39, confusables.txt; those that keyboards have).
var alike = map[rune]string{
	'а': "a", 'в': "b", 'с': "c", 'ԁ': "d", 'е': "e", 'һ': "h", 'і': "i", 'ј': "j", 'к': "k", 'ӏ': "l", 'м': "m", 'о': "o", 'р': "p", 'ѕ': "s", 'т': "t", 'у': "y", 'х': "x",
	'α': "a", 'ι': "i", 'κ': "k", 'ν': "v", 'ο': "o", 'ρ': "p", 'τ': "t", 'υ': "u", 'χ': "x",
	'ı': "i", 'ɡ': "g", '‐': "-", '‑': "-", '–': "-", '—': "-", '−': "-",
}

// Foreign names the first character of a word that is not among those of ids
// and keys, and what it looks like; "" where there is none.
func Foreign(word string) string {
	for _, c := range word {
		if c < 0x80 {
			continue
		}
		name := fmt.Sprintf("'%c' (U+%04X)", c, c)
		if !unicode.IsPrint(c) {
			name = fmt.Sprintf("U+%04X", c)
		}
		if like := alike[unicode.ToLower(c)]; like != "" {
			return fmt.Sprintf("%s only looks like '%s'", name, like)
		}
		return name + " is not one of a to z"
	}
	return ""
}

package vehicle

import (
	"strings"
	"unicode"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Substance is how much an answer has to say.
type Substance int

// An answer of any kind, one that settles a must, and one that says what was
// tried.
const (
	Any Substance = iota
	Must
	Tried
)

var (
	nonAnswers = data.Table("non-answers")
	pointers   = data.Table("pointers")
	quiet      = readQuiet()
	mustSay    = int(data.Value("words-of-a-must").Value())
)

// readQuiet has the sort of each word that says nothing.
func readQuiet() map[string]string {
	t, out := data.Table("quiet-words"), map[string]string{}
	for _, sort := range t.Rows() {
		for _, w := range strings.Fields(t.Word(sort, "are")) {
			out[w] = sort
		}
	}
	return out
}

// Says tells whether an answer says something: it does not put off, where it sends
// the reader elsewhere it names its entries, and of a must enough of its words are
// neither of grammar, nor such as approve or put off, nor the names of people.
func Says(b *ledger.Build, a *ledger.Answer, least Substance) bool {
	named, enough := len(a.Entries) > 0, mustSay
	switch {
	case least == Any:
		enough = 0
	case named:
		enough--
	}
	return says(b, a.Says.String(), named, least == Tried, enough)
}

// Describes tells whether a free word says something: one word of it does.
func Describes(b *ledger.Build, w q.Word) bool { return says(b, w.String(), false, false, 1) }

// says goes by the words of a text. What is written in other letters than Latin
// ones is taken to say something.
func says(b *ledger.Build, text string, named, tried bool, enough int) bool {
	text = strings.ToLower(strings.Trim(text, " .!"))
	begins := text
	if i := strings.IndexAny(text, ",;:.("); i >= 0 {
		begins = strings.TrimSpace(text[:i])
	}
	of := nonAnswers.Word(text, "of")
	if text == "" || of == "any" || nonAnswers.Word(begins, "of") == "any" || of == "tried" && tried {
		return false
	}
	if strings.ContainsFunc(text, func(r rune) bool { return unicode.IsLetter(r) && !unicode.Is(unicode.Latin, r) }) {
		return true
	}
	words := wordsIn(text)
	if len(words) == 0 || pointers.Word(words[0], "sort") != "" && !named {
		return false
	}
	people := peopleIn(b)
	seen, putsOff := map[string]bool{}, true
	for _, w := range words {
		putsOff = putsOff && quiet[w] == "later"
		if quiet[w] == "" && !people[w] {
			seen[w] = true
		}
	}
	return !putsOff && len(seen) >= enough
}

func wordsIn(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '\'' }) {
		if w = strings.Trim(w, "-'"); w != "" {
			out = append(out, w)
		}
	}
	return out
}

type peopleKey struct{}

// peopleIn are the names, in small letters, of who did the work and the tests:
// the words of by that begin with a capital.
func peopleIn(b *ledger.Build) map[string]bool {
	return ledger.Memo(b, peopleKey{}, func() map[string]bool {
		out := map[string]bool{}
		note := func(by q.Word) {
			for _, w := range wordsIn(by.String()) {
				if unicode.IsUpper([]rune(w)[0]) {
					out[strings.ToLower(w)] = true
				}
			}
		}
		for _, w := range b.Works() {
			note(w.By)
		}
		for _, t := range b.Tests() {
			note(t.By)
		}
		for p := range b.Fitted() {
			note(p.Made.By)
		}
		return out
	})
}

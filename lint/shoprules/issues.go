package shoprules

import (
	"regexp"
	"strings"
	"sync"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/operators"
)

type phrase struct {
	is *regexp.Regexp
	as string
}

// said are messages of the language, and how a person is told them: laid out when
// the first is told, for a start of the program waits for nothing of it.
var said = sync.OnceValue(func() []phrase {
	return []phrase{
		{regexp.MustCompile(`^Syntax error: token recognition error at: '(.*)'$`), "this cannot be read: $1"},
		{regexp.MustCompile(`^Syntax error: (?:mismatched|extraneous) input '<EOF>'.*`), "the expression ends too early"},
		{regexp.MustCompile(`^Syntax error: (?:mismatched|extraneous) input '(.*)' expecting .*`), "$1 does not belong here"},
		{regexp.MustCompile(`^Syntax error: no viable alternative at input '(.*)'`), "this cannot be read: $1"},
		{regexp.MustCompile(`^Syntax error: (.*)`), "this cannot be read: $1"},
		{regexp.MustCompile(`^reserved identifier: (.*)`), "$1 is a word of the language, and no name"},
		{regexp.MustCompile(`.*(?:recursion|nesting|depth).*`), "the expression is nested too deeply"},
		{regexp.MustCompile(`.*size.*exceed.*|.*exceed.*size.*|.*code point.*limit.*`), "the expression is too long"},
		{regexp.MustCompile(`.*node.*limit.*|.*limit.*node.*`), "the expression has too many parts"},
		{regexp.MustCompile(`^argument (?:must be a simple name|is not an identifier)`), "a name is wanted here, such as the p in parts().all(p, p.fitted)"},
		{regexp.MustCompile(`^found no matching overload for '([^']*)' applied to '([^']*)'.*`), "$1 does not go with $2"},
		{regexp.MustCompile(`^undeclared reference to '([^']*)'.*`), "there is no $1 here"},
	}
})

// issues tells what the language found wrong with an expression.
func (c *compiler) issues(p *program, issues *cel.Issues) {
	lines := strings.Split(p.Text, "\n")
	for _, e := range issues.Errors() {
		at := 0
		if line := e.Location.Line(); line > 0 && line <= len(lines) {
			for _, l := range lines[:line-1] {
				at += len([]rune(l)) + 1
			}
			at += e.Location.Column()
		}
		c.fault(p.At(max(at, 0)), "%s", plainly(e.Message))
	}
}

func plainly(message string) string {
	message = strings.ReplaceAll(message, "@", "")
	message = operatorName().ReplaceAllStringFunc(message, func(name string) string {
		if sign, is := operators.FindReverse(name); is && sign != "" {
			return sign
		}
		return name
	})
	for _, s := range said() {
		if s.is.MatchString(message) {
			return s.is.ReplaceAllString(message, s.as)
		}
	}
	return message
}

// operatorName finds the names that the language gives its operators, such as _<=_.
var operatorName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`_[^\w\s']+_|[!-]_`) })

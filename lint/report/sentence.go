package report

import (
	"fmt"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Sentence says in one line what a check came to, for outputs that show one
// finding at a time. It is clean of control characters.
func Sentence(c *lint.Result, s quantity.Style) string {
	var say []string
	if n := NumbersOf(c, s); n.Off != "" {
		say = append(say, fmt.Sprintf("%s, %s: %s", n.Value, n.Limit, n.Off))
	}
	if c.Reason != "" {
		say = append(say, c.Reason)
	}
	if len(c.Needs) > 0 && !undone(c) {
		say = append(say, "needs "+needs(c.Needs, 4))
	}
	if c.Verdict == lint.Waived {
		say = append(say, "would be "+c.Underlying.String())
	}
	if open(c) && !c.Counts && !c.Should {
		say = append(say, "due at "+c.Due.String())
	}
	head := fmt.Sprintf("%s, %s", c.Subject(), c.Verdict)
	if len(say) == 0 {
		return Clean(head + ": " + c.Rule.Title)
	}
	return Clean(head + ": " + strings.Join(say, "; "))
}

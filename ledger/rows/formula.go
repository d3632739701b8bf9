package rows

import (
	"strings"

	q "fishplate/ledger/quantity"
)

// Inert is a text as it stands in a csv that we write: what a spreadsheet might
// take for a formula gets an apostrophe in front. Text takes it off again.
func Inert(text string) string {
	if formula(text) {
		return "'" + text
	}
	return text
}

// Text is what a cell says, without such an apostrophe.
func Text(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && formula(rest) {
		return rest
	}
	return cell
}

// formula tells a text that begins as a formula does, after blanks or after
// apostrophes of its own, and is no quantity such as -1 1/2 in.
func formula(text string) bool {
	s := strings.TrimLeft(text, "' \t")
	for _, sign := range []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(s, sign) {
			_, err := q.Parse(s, q.Any, q.Options{})
			return err != nil
		}
	}
	return false
}

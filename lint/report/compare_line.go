package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// mostLine is how long the line of a commit's message may be, in characters:
// common practice, no source.
const mostLine = 72

// CompareLine writes a comparison in one line: what got worse most, with its
// figures, or else better, and as much of the rest as fits.
func CompareLine(to io.Writer, _ Options) *Writer {
	return &Writer{
		Compare: func(c *compare.Comparison) error { _, err := fmt.Fprintln(to, inALine(c)); return err },
		Close:   func(*Totals) error { return nil },
	}
}

func inALine(c *compare.Comparison) string {
	s := c.After.Build.Style()
	counts := slices.DeleteFunc(ofKind(c, compare.Worse), func(x *compare.Change) bool { return !x.Counts })
	better := ofKind(c, compare.Better)
	var say []string
	switch {
	case len(counts) > 0:
		say = append(say, changeLine(telling(counts), s))
	case len(c.Again)+len(c.Asks) == 0 && len(better) > 0:
		say = append(say, changeLine(telling(better), s))
		if n := len(better) - 1; n > 0 {
			say = append(say, fmt.Sprintf("%d more better", n))
		}
	case len(c.Again)+len(c.Asks) == 0:
		say = append(say, "no check got worse")
	}
	if n := len(c.Again); n > 0 {
		say = append(say, Plural(n, "reading")+" to take again")
	}
	if n := len(c.Asks); n > 0 {
		say = append(say, Plural(n, "date")+" asked for")
	}
	if n := len(counts) - 1; n > 0 {
		say = append(say, fmt.Sprintf("%d more worse", n))
	}
	if n := len(c.Edits); n > 0 {
		say = append(say, map[bool]string{true: "1 entry differs", false: fmt.Sprintf("%d entries differ", n)}[n == 1])
	}
	line := cutShort(say[0], mostLine)
	for _, more := range say[1:] {
		if longer := line + "; " + more; utf8.RuneCountInString(longer) <= mostLine {
			line = longer
		}
	}
	return line
}

// telling is the first of some changes that has figures before and now, else the
// first of all.
func telling(xs []*compare.Change) *compare.Change {
	for _, x := range xs {
		if x.Before != nil && x.After != nil && x.Before.Value.Known() && x.After.Value.Known() {
			return x
		}
	}
	return xs[0]
}

func cutShort(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return string(r[:most-3]) + "..."
	}
	return text
}

// changeLine is a check that changed: "front axle 4268 to 4575 lb: over by 175".
func changeLine(x *compare.Change, s quantity.Style) string {
	name := subjectLine(x)
	switch {
	case x.After == nil:
		return name + ": no longer checked"
	case x.After.Verdict == lint.NotApplicable:
		return name + ": no longer applies"
	case !x.After.Value.Known():
		return name + ": " + x.After.Word()
	}
	now := NumbersOf(x.After, s)
	number, unit := split(now.Value)
	if x.Before != nil && x.Before.Value.Known() {
		was, u := split(NumbersOf(x.Before, s).Value)
		if u != unit {
			was += " " + u
		}
		if was != number {
			number = was + " to " + number
		}
	}
	if unit != "" {
		number += " " + unit
	}
	line := name + " " + number
	if off, _ := split(now.Off); off != "" {
		for _, word := range []string{"over", "short"} {
			if strings.HasSuffix(now.Off, word) {
				return line + ": " + word + " by " + off
			}
		}
		return line + ": " + off + " to spare"
	}
	return line + ": " + x.After.Word()
}

// split is the figure of a number as it is printed, and its unit.
func split(printed string) (figure, unit string) {
	for _, word := range []string{" over", " short", " to spare"} {
		printed = strings.TrimSuffix(printed, word)
	}
	fields := strings.Fields(printed)
	if len(fields) == 0 {
		return "", ""
	}
	if last := fields[len(fields)-1]; strings.Trim(last, "0123456789.,") != "" {
		unit = last
	}
	return fields[0], unit
}

// subjectLine is what a check is about, in few words.
func subjectLine(x *compare.Change) string {
	_, rule, _ := strings.Cut(x.Rule.Name, "/")
	words := strings.ReplaceAll(rule, "-", " ")
	if _, id, ok := strings.Cut(x.Entry, "."); ok && !strings.Contains(words, id) {
		words += " " + id
	}
	if x.Aspect != "" {
		words += " (" + x.Aspect + ")"
	}
	return Clean(words)
}

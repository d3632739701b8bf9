package report

import (
	"fmt"
	"io"
	"path"
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
// figures, or else better, and as much of the rest as fits. Of several builds it is
// the line of the first that got worse, or else of the first that differs.
func CompareLine(to io.Writer, opt Options) *Writer {
	if opt.Tree {
		k := &kinLine{to: to}
		return &Writer{Compare: k.compare, Lone: k.lone, Close: k.close}
	}
	return &Writer{
		Compare: func(c *compare.Comparison) error { _, err := fmt.Fprintln(to, inALine(c, mostLine)); return err },
		Close:   func(*Totals) error { return nil },
	}
}

// kinLine makes a line of the builds of a tree that differ.
type kinLine struct {
	to   io.Writer
	told func(most int) string // of one of them
	bad  bool                  // that one got worse
	n    [5]int                // by kinWords
}

// kinWords are what a line says of several builds.
var kinWords = [...]string{"worse", "not worse", "added", "gone", "unread"}

func (k *kinLine) take(what string, told func(most int) string) error {
	k.n[slices.Index(kinWords[:], what)]++
	if bad := what == kinWords[0]; k.told == nil || bad && !k.bad {
		k.told, k.bad = told, bad
	}
	return nil
}

func (k *kinLine) compare(c *compare.Comparison) error {
	name := Clean(path.Base(c.After.Folder)) + ": "
	return k.take(map[bool]string{true: "worse", false: "not worse"}[c.Failed()], func(most int) string {
		return name + inALine(c, max(most-utf8.RuneCountInString(name), 3))
	})
}

func (k *kinLine) lone(l *compare.Lone) error {
	what, say := loneWord(l), loneWord(l)
	if len(l.Before) > 0 {
		what, say = map[bool]string{true: "worse", false: "not worse"}[l.Failed()], "not compared, unread before"
	}
	return k.take(what, func(int) string { return Clean(path.Base(l.Folder)) + ": " + say })
}

func (k *kinLine) close(t *Totals) error {
	k.n[4] = t.Unread
	all, say := 0, []string{}
	for i, n := range k.n {
		if all += n; n > 0 {
			say = append(say, fmt.Sprint(n, " ", kinWords[i]))
		}
	}
	line, more := "no build differs", []string{""}
	if k.told == nil && all > 0 {
		line = Plural(all, "build") + ": " + strings.Join(say, ", ")
	} else if all > 1 {
		more = []string{"; " + Plural(all, "build") + ": " + strings.Join(say, ", "), "; " + Plural(all, "build")}
	}
	for _, m := range more {
		if k.told != nil {
			room := mostLine - utf8.RuneCountInString(m)
			line = cutShort(k.told(room), room)
			cut := strings.HasSuffix(line, "...")
			if line += m; !cut {
				break
			}
		}
	}
	_, err := fmt.Fprintln(k.to, line)
	return err
}

func inALine(c *compare.Comparison, most int) string {
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
	line := cutShort(say[0], most)
	for _, more := range say[1:] {
		if longer := line + "; " + more; utf8.RuneCountInString(longer) <= most {
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

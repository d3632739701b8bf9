package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report/shown"
)

// CompareKinds are the outputs of a comparison.
var CompareKinds = []Kind{
	{"text", "for a person at a bench", CompareText},
	{"json", "everything, for a program, in SI", CompareJSON},
	{"markdown", "for a pull request", CompareMarkdown},
	{"html", "one page with drawings of both over each other", CompareHTML},
	{"line", "one line, for a commit's message", CompareLine},
	{"ci-log", "remarks at the edits that made checks worse, for a CI host", CompareCILog},
}

// TreeKinds are those of a comparison of all builds of a tree: a page with
// drawings is of one.
var TreeKinds = slices.DeleteFunc(slices.Clone(CompareKinds), func(k Kind) bool { return k.Name == "html" })

// changeTitles head the changes of a kind.
var changeTitles = []struct {
	kind  compare.ChangeKind
	title string
}{
	{compare.Worse, "Got worse"}, {compare.Better, "Got better"}, {compare.Drifted, "Moved"}, {compare.Gone, "No longer checked"},
	{compare.New, "Checked for the first time"}, {compare.Lapsed, "No longer applies"},
}

// ofKind are the changes of one kind, in their order.
func ofKind(c *compare.Comparison, kind compare.ChangeKind) []*compare.Change {
	var out []*compare.Change
	for _, x := range c.Changes {
		if x.Kind == kind {
			out = append(out, x)
		}
	}
	return out
}

// toTell parts changes into those that are told one by one and the number of those
// that only moved, and by less than their printed figures show; all tells them all.
func toTell(xs []*compare.Change, s quantity.Style, all bool) (told []*compare.Change, slight int) {
	if all {
		return xs, 0
	}
	for _, x := range xs {
		if x.Kind == compare.Drifted && x.Why == "" && stateBut(x.Before, s) == stateBut(x.After, s) {
			slight++
		} else {
			told = append(told, x)
		}
	}
	return told, slight
}

// slightly is the line for changes that are not told one by one, below those that are.
func slightly(n, told int) string {
	count := fmt.Sprint(n)
	if told > 0 {
		count = "and " + count + " more"
	}
	if n == 1 {
		return count + " moved by less than its figures show: --all lists it"
	}
	return count + " moved by less than their figures show: --all lists them"
}

// CompareSummary says in plain words what a comparison comes to.
func CompareSummary(c *compare.Comparison) string {
	worse, advice := 0, 0
	for _, x := range ofKind(c, compare.Worse) {
		if x.Counts {
			worse++
		} else {
			advice++
		}
	}
	say := []string{"No check got worse"}
	if worse > 0 {
		say[0] = Plural(worse, "check") + " got worse"
	}
	if advice > 0 {
		say = append(say, Plural(advice, "piece")+" of advice did")
	}
	for _, t := range []struct {
		kind      compare.ChangeKind
		one, many string
	}{
		{compare.Better, "1 got better", "%d got better"},
		{compare.Drifted, "1 moved", "%d moved"}, {compare.Gone, "1 is gone", "%d are gone"},
		{compare.New, "1 is new", "%d are new"}, {compare.Lapsed, "1 no longer applies", "%d no longer apply"},
	} {
		switch n := len(ofKind(c, t.kind)); {
		case n == 1:
			say = append(say, t.one)
		case n > 1:
			say = append(say, fmt.Sprintf(t.many, n))
		}
	}
	if n := len(c.Again); n > 0 {
		say = append(say, Plural(n, "reading")+" to take again")
	}
	if n := len(c.Asks); n > 0 {
		say = append(say, Plural(n, "date")+" asked for")
	}
	n := len(c.Edits)
	entries := fmt.Sprintf("%d entries differ", n)
	if n == 1 {
		entries = "1 entry differs"
	}
	return strings.Join(append(say, entries), "; ") + "."
}

// noneDiffers is said of two trees whose builds are the same.
const noneDiffers = "No build differs."

// foldersOf names the build of a comparison, and where it was before if that
// is another folder.
func foldersOf(c *compare.Comparison) string {
	if c.Elsewhere {
		return Clean(c.After.Folder) + " (before " + Clean(c.Before.Folder) + ")"
	}
	return Clean(c.After.Folder)
}

// loneWord says what became of a build that there is nothing to hold against.
func loneWord(l *compare.Lone) string {
	switch {
	case l.Failed():
		return "worse"
	case len(l.Before) > 0:
		return "read now"
	case l.Added:
		return "added"
	}
	return "gone"
}

// loneState says what a build that there is now comes to, and why there is nothing to
// hold it against. Quoted makes what a ledger says safe for the report.
func loneState(l *compare.Lone, quoted func(string) string) string {
	if !l.Added {
		return ""
	}
	if n := len(l.Before); n > 0 {
		say := ": not compared, as what was before cannot be read: " + quoted(l.Before[0].String())
		if n > 1 {
			say += fmt.Sprintf(" (and %d more)", n-1)
		}
		return say + ". At stage " + l.Stage.String() + ". " + Summary(l.Report)
	}
	return ": at stage " + l.Stage.String() + ". " + Summary(l.Report)
}

// stateOf says in one line what a check comes to: the verdict, and the numbers
// or words that it rests on.
func stateOf(r *lint.Result, s quantity.Style) string { return stateWith(r, s, true) }

// stateBut is that without how far off its limit it is.
func stateBut(r *lint.Result, s quantity.Style) string { return stateWith(r, s, false) }

func stateWith(r *lint.Result, s quantity.Style, off bool) string {
	if r == nil {
		return "not checked"
	}
	verdict := r.Word()
	if r.Verdict == lint.Waived {
		verdict += " (would be " + r.UnderlyingWord() + ")"
	}
	var say []string
	if n := NumbersOf(r, s); r.Value.Known() {
		if !off {
			n.Off = ""
		}
		for _, part := range []string{n.Value, n.Limit, n.Off} {
			if part != "" {
				say = append(say, part)
			}
		}
	}
	if r.Reason != "" && r.Verdict != lint.Pass {
		say = append(say, Clean(r.Reason))
	}
	if len(r.Needs) > 0 && !r.ToDo() {
		say = append(say, "needs "+needs(r.Needs, 4))
	}
	if len(say) == 0 {
		return verdict
	}
	return verdict + ": " + strings.Join(say, ", ")
}

// driftOf is in one line how a check's numbers changed: the value's name, the
// value before and after, and its limit.
func driftOf(x *compare.Change, s quantity.Style) string {
	var say []string
	a, b := NumbersOf(x.Before, s), NumbersOf(x.After, s)
	name := Clean(x.After.Value.Name())
	switch {
	case a.Value != b.Value && a.Limit != b.Limit:
		say = append(say, name+" "+a.Value+" -> "+b.Value, limitNow(a.Limit, b.Limit))
	case a.Value != b.Value && b.Limit != "":
		say = append(say, name+" "+a.Value+" -> "+b.Value+" ("+b.Limit+")")
	case a.Value != b.Value:
		say = append(say, name+" "+a.Value+" -> "+b.Value)
	case a.Limit != b.Limit:
		say = append(say, name+" "+b.Value, limitNow(a.Limit, b.Limit))
	}
	if !math.IsNaN(x.Delta) && x.Delta != 0 {
		_, total := addUp(nil, x.Delta, shown.UnitOf(x.After.Margin, x.After, s))
		say = append(say, "margin "+total)
	}
	if x.Delta == 0 && x.Why == "" {
		low, high := x.Before.Margin.Forward()
		l, h := x.After.Margin.Forward()
		if word := knownTo((h - l) - (high - low)); word != "" {
			say = append(say, word)
		}
	}
	if x.Why != "" {
		say = append(say, Clean(x.Why))
	}
	return strings.Join(say, ", ")
}

// limitNow says how a check's limit changed; what was or is not known is not shown.
func limitNow(before, now string) string {
	switch {
	case before == "":
		return "its limit is now " + now
	case now == "":
		return "its limit was " + before + ", and is no longer known"
	}
	return "its limit " + before + " -> " + now
}

// settingOf is what else an edit of an entry says: its older name, the entry that
// it was copied from, what it is called, and whether it is the shop's.
func settingOf(e *compare.Edit) string {
	var say []string
	if e.Was != "" {
		say = append(say, "was "+Clean(e.Was))
	}
	if e.From != "" {
		say = append(say, "from "+Clean(e.From))
	}
	if e.Kind == compare.Added || e.Kind == compare.Removed {
		if e.Name != "" {
			say = append(say, Clean(e.Name))
		}
		if e.Shop {
			say = append(say, map[compare.EditKind]string{compare.Added: "the shop's, named now", compare.Removed: "the shop's, no longer named"}[e.Kind])
		}
	}
	return strings.Join(say, "; ")
}

// part is a line about a cause of a change. A share that is not known is "".
type part struct {
	share, entry, say string
	place             quantity.Place
}

// mostCauses is how many causes are told one by one.
const mostCauses = 12

// causesOf are the lines about the causes of a change. The shares add up as they
// are printed; total is their sum.
func causesOf(x *compare.Change, s quantity.Style) (total string, parts []part) {
	var shares []float64
	add := func(share float64, p part) {
		shares, parts = append(shares, share), append(parts, p)
	}
	rest, n := 0.0, 0
	for i, c := range x.Causes {
		if i >= mostCauses && len(x.Causes) > mostCauses+1 && !c.Alone && !c.Opens && !c.Undone {
			if n++; !math.IsNaN(c.Share) {
				rest += c.Share
			}
			continue
		}
		add(c.Share, part{entry: c.Entry, place: c.Place, say: strings.Join(saysOf(x, c), "; ")})
	}
	if n > 0 {
		add(rest, part{entry: Plural(n, "more edit")})
	}
	if math.IsNaN(x.Delta) {
		return "", parts
	}
	if x.Together != 0 {
		add(x.Together, part{entry: "together", say: "what no edit accounts for alone"})
	}
	printed, total := addUp(shares, x.Delta, shown.UnitOf(x.After.Margin, x.After, s))
	for i := range parts {
		parts[i].share = printed[i]
	}
	for i, c := range x.Causes[:min(len(x.Causes), len(parts))] {
		if word := knownTo(c.Wider); c.Share == 0 && word != "" && parts[i].entry == c.Entry {
			parts[i].share = word
		}
	}
	if last := len(parts) - 1; x.Together != 0 && !strings.ContainsAny(printed[last], "123456789") {
		parts = parts[:last]
	}
	return total, parts
}

// knownTo is what a change of the interval's width means, in words; "" where there
// is none.
func knownTo(wider float64) string {
	switch {
	case wider < 0:
		return "better known"
	case wider > 0:
		return "less well known"
	}
	return ""
}

// saysOf is what an edit does by itself, and what the check is without it.
func saysOf(x *compare.Change, c *compare.Cause) []string {
	alone, undone, opens := "by itself it does this", "without it, all is as before", "by itself it leaves it open"
	if c.Left == lint.Unproven {
		opens = "by itself it is too close to tell"
	}
	switch x.Kind {
	case compare.Worse:
		alone = "by itself it breaks the check"
		if undone = "without it the check holds"; !holds(x.Before) {
			undone = "without it the check is no worse than before"
		}
	case compare.Better:
		if undone = "without it the check does not hold"; holds(x.After) {
			alone = "by itself it mends the check"
		} else {
			undone = "without it the check is no better than before"
		}
	}
	var say []string
	if c.Alone {
		say = append(say, alone)
	}
	if c.Opens {
		say = append(say, opens)
	}
	if c.Undone {
		say = append(say, undone)
	}
	return say
}

// holds tells that a check is passed or waived.
func holds(r *lint.Result) bool {
	return r != nil && (r.Verdict == lint.Pass || r.Verdict == lint.Waived)
}

// noticeOf is a change in how a build is judged, in words, without the place of
// its subject.
func noticeOf(n *compare.Notice) string {
	say := n.Kind
	if n.Subject != "" {
		say += ": " + Clean(n.Subject)
	}
	switch {
	case n.Before != "" && n.After != "":
		return say + ", " + Clean(n.Before) + " before, " + Clean(n.After) + " now"
	case n.Before != "":
		return say + ", " + Clean(n.Before) + " before"
	case n.After != "":
		return say + ", " + Clean(n.After)
	}
	return say
}

// valueOf is a value as an edit shows it.
func valueOf(v *compare.ValueEdit, text string) string {
	switch {
	case text == "":
		return ""
	case v.Private:
		return "(private)"
	}
	return Clean(text)
}

package report

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// How much a screen shows at most of what it need not show whole.
const (
	mostWhole    = 12 // checks to fix that are told whole; more that lack something go by cause
	mostAlike    = 3  // checks to fix that one cause may stand behind, told whole
	mostCausesOf = 11 // causes of the next stage
	mostReadings = 3
	mostMends    = 6 // checks for which a mend is worked out
	mostNames    = 4 // entries of a cause
)

const lastWord = "Every figure is an aid: local codes and licensed people have the last word. Cautions: fishplate explain RULE."

// Text writes for a person at a bench: what fails or is due, whole; then the
// next stage by what its checks wait for; then counts, and how to list them.
// Of several builds it writes a line each, then what is to fix, and of the notes those
// that hold of every build.
func Text(to io.Writer, opt Options) *Writer {
	s := &screen{text: newText(to, opt), noted: map[ledger.Fault]int{}}
	return &Writer{Build: s.build, Partial: s.build, Close: s.close}
}

type screen struct {
	*text
	below bytes.Buffer         // of several builds: what comes after their lines
	noted map[ledger.Fault]int // in how many of them
	told  int                  // how many there were
}

func (s *screen) build(r *lint.Report) error {
	s.folder = r.Folder
	if s.opt.Builds > 1 {
		if len(r.Faults) == 0 {
			s.line("%s", oneLine(r))
		}
		rest := &screen{text: newText(&s.below, s.opt)}
		rest.folder = r.Folder
		rest.among(r)
		for _, n := range r.Notes {
			s.noted[n]++
		}
		s.told++
		if err := rest.w.Flush(); err != nil {
			return err
		}
		return s.w.Flush()
	}
	s.wrap("", "  ", "", s.paint(bold, Clean(r.Title)))
	s.wrap("", "  ", "", stageLine(r))
	s.wrap("", "  ", "", Summary(r))
	if s.opt.selects() {
		s.selected(r)
	} else {
		s.day(r)
	}
	s.notes(r.Notes)
	if len(r.Results) > 0 {
		s.line("")
		s.wrap("", "  ", "", lastWord)
	}
	return s.w.Flush()
}

// stageLine is a build's stage and date, and the revision that it is of.
func stageLine(r *lint.Report) string {
	out := r.Stage.String() + ", as of " + Clean(r.AsOf)
	if strings.Contains(r.Folder, ":") {
		out += ", " + Clean(r.Folder)
	}
	return out
}

// among tells of one build of several what is to fix, or what is asked for.
func (s *screen) among(r *lint.Report) {
	t := tallyOf(r)
	if !s.opt.selects() && len(t.fix) == 0 {
		return
	}
	s.line("")
	s.wrap("", "  ", "", s.paint(bold, Clean(r.Title))+", "+Clean(r.Folder))
	if s.opt.selects() {
		s.selected(r)
	} else {
		s.fixes(t, r)
	}
}

// day is the screen of one build: the day's work first.
func (s *screen) day(r *lint.Report) {
	t := tallyOf(r)
	s.fixes(t, r)
	if len(t.next) > 0 {
		s.line("\n%s", s.paint(bold, "Next, for "+t.stage.String())+", most checks first (fishplate next has the order of the work)")
		s.waits(lint.Waits(InOrderOfHarm(t.next)), mostCausesOf, "--due "+t.stage.String(), r)
	}
	s.line("")
	if len(t.later) > 0 {
		stages, n := byStage(t.later)
		var say []string
		for _, stage := range stages {
			say = append(say, fmt.Sprintf("%s %d", stage, n[stage]))
		}
		s.wrap("", "  ", "Later: ", strings.Join(say, ", ")+". --due "+stages[0].String()+" lists them")
	}
	if len(t.advice) > 0 {
		s.wrap("", "  ", "Advice: ", byWord(t.advice)+". --advice lists them")
	}
	if len(t.waived) > 0 {
		s.wrap("", "  ", "Waived: ", fmt.Sprintf("%s. --all says by whom, why and until when; a waiver stops a failure from counting, it makes nothing safe", few(waivedOn(t.waived), 3)))
	}
	s.readings(r)
}

// waivedOn names the checks that are waived.
func waivedOn(rs []*lint.Result) []string {
	var out []string
	for _, c := range rs {
		out = append(out, c.Rule.Name+" on "+Clean(c.Subject()))
	}
	return out
}

// byWord counts checks by their verdicts: "9 not met, 13 missing".
func byWord(rs []*lint.Result) string {
	var say []string
	for _, w := range []string{"not met", "fail", "missing", "to do", "unproven", "waived", "pass"} {
		if n := count(rs, func(r *lint.Result) bool { return r.Word() == w }); n > 0 {
			say = append(say, fmt.Sprintf("%d %s", n, w))
		}
	}
	return strings.Join(say, ", ")
}

// fixes tells what fails or is due, whole; where that is too much, or few causes
// stand behind many checks, work that is not done and what lacks a value go by cause.
func (s *screen) fixes(t *tally, r *lint.Report) {
	if len(t.fix) == 0 {
		return
	}
	s.line("\n%s", s.paint(bold, fmt.Sprintf("To fix now (%d)", len(t.fix))))
	whole, rest := InOrderOfHarm(t.fix), []*lint.Result(nil)
	for _, c := range whole {
		if byCause(c) {
			rest = append(rest, c)
		}
	}
	waits := lint.Waits(rest)
	if len(whole) > mostWhole || len(rest) > mostAlike && 3*len(waits) <= len(rest) {
		whole = slices.DeleteFunc(whole, byCause)
	} else {
		rest = nil
	}
	s.rows(whole, r, true)
	if len(rest) == 0 {
		return
	}
	if len(whole) > 0 {
		s.line("")
	}
	s.line("%s", s.paint(bold, fmt.Sprintf("Due, and not done, not written or left open (%d)", len(rest))))
	stages, _ := byStage(rest)
	s.waits(waits, len(rest), "", r)
	var flags []string
	for _, stage := range stages {
		flags = append(flags, "--due "+stage.String())
	}
	s.wrap("  ", "  ", "", "One by one: "+strings.Join(flags, ", "))
}

// byCause tells that a check that is due waits for work or for a value.
func byCause(r *lint.Result) bool { return r.Verdict != lint.Fail || r.Undone() }

// readings names what is written and, known better, would settle most.
func (s *screen) readings(r *lint.Report) {
	var say []string
	for _, w := range lint.Next(r.Results) {
		if w.Leaf.Known() && w.Half > 0 && w.Alone > 0 && len(say) < mostReadings {
			say = append(say, fmt.Sprintf("%s to %s settles %d", Clean(w.Key), Tolerance(w.Leaf, w.Half, r.Build.Style()), w.Alone))
		}
	}
	if len(say) > 0 {
		s.wrap("", "  ", "Readings that settle most: ", strings.Join(say, "; "))
	}
}

// waits lists what checks wait for, at most so many.
func (s *screen) waits(list []*lint.Wait, most int, flag string, r *lint.Report) {
	shown := list
	if len(list) > most+1 {
		shown = list[:most]
	}
	for _, w := range shown {
		s.wrap("  ", "      ", "", s.waitWords(w, r))
	}
	if n := len(list) - len(shown); n > 0 {
		s.wrap("  ", "      ", "", fmt.Sprintf("and %s more: %s lists them", Plural(n, "thing"), flag))
	}
}

// judged is what is judged, with its figure and its limit.
func judged(c *lint.Result, style quantity.Style) string {
	n := NumbersOf(c, style)
	return fmt.Sprintf("%s on %s is %s, %s", c.Rule.Name, Clean(c.Subject()), n.Value, n.Limit)
}

func (s *screen) waitWords(w *lint.Wait, r *lint.Report) string {
	names := mostNames
	if s.opt.selects() {
		names = max(len(w.Of), len(w.Also))
	}
	checks, at := "("+Plural(len(w.Checks), "check")+")", s.at(w.Place)
	also := ""
	if len(w.Also) > 0 {
		also = "; also " + few(cleaned(w.Also), names)
	}
	switch {
	case w.Act != "":
		return fmt.Sprintf("%s %s: %s", Clean(w.Act), checks, few(cleaned(w.Of), names))
	case w.Leaf.Known():
		now := " now " + Clean(w.Leaf.Spelling())
		if w.Leaf.Grade() == quantity.Assumed {
			now = " now taken as " + Clean(w.Leaf.Spelling())
		}
		if w.Leaf.Source().Entry == "" {
			return fmt.Sprintf("%s is known no better,%s: no reading settles it, so bring the figure away from its limit %s", Clean(w.Key), strings.Replace(now, " now", " and", 1), checks)
		}
		if w.Half == 0 && len(w.With) == 0 {
			return fmt.Sprintf("%s: no shop's gauge reads %s finely enough,%s, so bring the figure away from its limit %s%s", judged(w.Checks[0], r.Build.Style()), Clean(w.Key), now, checks, at)
		}
		if w.Half == 0 {
			return fmt.Sprintf("read %s better,%s; %s %s%s", Clean(w.Key), now, with(w.With), checks, at)
		}
		return fmt.Sprintf("read %s to %s,%s %s%s", Clean(w.Key), Tolerance(w.Leaf, w.Half, r.Build.Style()), now, checks, at)
	case strings.Contains(w.Key, ".pins.*"):
		plug, rest, _ := strings.Cut(w.Key, ".pins.*")
		return fmt.Sprintf("write %s of pins %s%s %s%s", Clean(plug), few(w.Of, 3*names), pinKey(rest), checks, at) + also
	case len(w.Of) > 0 && strings.Contains(w.Key, ".*."):
		_, key, _ := strings.Cut(w.Key, ".*.")
		return fmt.Sprintf("write %s of %s %s%s", Clean(key), few(cleaned(w.Of), names), checks, at) + also
	case len(w.Of) > 0:
		return fmt.Sprintf("needs %s %s %s%s", Clean(w.Key), few(cleaned(w.Of), names), checks, at) + also
	}
	if heading, key, ok := unwritten(r.Build, w.Key, w.Place); ok {
		return fmt.Sprintf("add [%s] %s %s", heading, Clean(key), checks) + also
	}
	verb := "write"
	if strings.Contains(w.Key, " ") {
		verb = "needs"
	}
	return fmt.Sprintf("%s %s %s%s", verb, Clean(w.Key), checks, at) + also
}

// with says what else has to be read for a check to be settled.
func with(others []*quantity.Source) string {
	var keys []string
	for _, o := range others {
		keys = append(keys, Clean(o.Path()))
	}
	return "and read " + few(keys, 3)
}

func pinKey(rest string) string {
	if rest == "" {
		return ""
	}
	return ": " + Clean(strings.TrimPrefix(rest, "."))
}

func cleaned(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = Clean(w)
	}
	return out
}

// unwritten tells that a value is wanted of a single entry that the ledger
// lacks: its heading has to be added, and there is no place to point at.
func unwritten(b *ledger.Build, path string, at quantity.Place) (heading, key string, ok bool) {
	heading, key, ok = strings.Cut(path, ".")
	if !ok || at != b.Main() || !ledger.Single(heading) || strings.ContainsAny(key, " .") {
		return "", "", false
	}
	_, there := b.Entry(heading)
	return heading, key, !there
}

// at is a place within the build, as words to stand behind others.
func (t *text) at(p quantity.Place) string {
	if p.File == "" {
		return ""
	}
	return " " + t.where(p)
}

// where is a place as file and line, the file seen from the build's folder.
func (t *text) where(p quantity.Place) string {
	file := p.File
	if t.folder != "" {
		file = strings.TrimPrefix(file, t.folder+"/")
	}
	if p.Line == 0 {
		return Clean(file)
	}
	return Clean(fmt.Sprintf("%s:%d", file, p.Line))
}

func (t *text) notes(notes []ledger.Fault) {
	if len(notes) > 0 {
		t.line("")
	}
	for _, n := range notes {
		t.wrap("", "      ", "note: ", Fault(n))
	}
}

func (s *screen) close(n *Totals) error {
	if s.opt.Builds > 1 {
		s.w.Write(s.below.Bytes())
		maps.DeleteFunc(s.noted, func(_ ledger.Fault, n int) bool { return n < s.told })
		s.notes(ledger.SortFaults(slices.Collect(maps.Keys(s.noted))))
	}
	if n.Builds+n.Unread > 1 {
		s.line("\n%s", n.Sentence())
		s.wrap("", "  ", "", lastWord)
	}
	for _, say := range n.Rest() {
		s.wrap("", "  ", "", say)
	}
	return s.w.Flush()
}

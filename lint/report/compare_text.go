package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// CompareText writes a comparison for a person at a bench: what got worse and
// what did it, then the rest a line each, then the entries. Of several builds it
// writes a line each, then each in full.
func CompareText(to io.Writer, opt Options) *Writer {
	t := newText(to, opt)
	if !opt.Tree {
		return &Writer{Compare: t.compare, Close: func(*Totals) error { return t.w.Flush() }}
	}
	k := &kin{text: t}
	return &Writer{Compare: k.compare, Lone: k.lone, Close: k.close}
}

// kin tells of the builds of a tree that differ.
type kin struct {
	*text
	below bytes.Buffer // what comes after their lines
	n     int
}

func (k *kin) compare(c *compare.Comparison) error {
	k.n++
	word, color := "differs", dim
	if c.Failed() {
		word, color = "worse", red
	}
	k.put(k.paint(color, fit(word, len(hang)))+foldersOf(c)+": "+CompareSummary(c), hang)
	t := newText(&k.below, k.opt)
	t.line("")
	return t.compare(c)
}

func (k *kin) lone(l *compare.Lone) error {
	k.n++
	word := fit(loneWord(l), len(hang))
	if l.Failed() {
		word = k.paint(red, word)
	}
	k.put(word+Clean(l.Folder)+loneState(l, Clean), hang)
	return nil
}

func (k *kin) close(t *Totals) error {
	k.w.Write(k.below.Bytes())
	if k.n+t.Unread == 0 {
		k.line("%s", noneDiffers)
	}
	return k.w.Flush()
}

func (t *text) compare(c *compare.Comparison) error {
	t.line("%s", t.paint(bold, Clean(c.After.Title)))
	t.line("before  %s, stage %s", Clean(c.Before.Folder), c.Before.Stage)
	t.line("after   %s, stage %s; both as of %s", Clean(c.After.Folder), c.After.Stage, Clean(c.After.AsOf))
	if len(c.Parents) > 0 {
		t.wrap("", "        ", "", "told is what none of "+Clean(strings.Join(c.Parents, ", "))+" has: it comes of bringing them together")
	}
	s := c.After.Build.Style()
	for _, h := range changeTitles {
		if xs := ofKind(c, h.kind); len(xs) > 0 {
			t.line("\n%s (%d)", t.paint(bold, h.title), len(xs))
			told, slight := toTell(xs, s, t.opt.All)
			t.changes(told, s)
			if slight > 0 {
				t.wrap("", hang, "", slightly(slight, len(told)))
			}
		}
		if h.kind == compare.Worse {
			t.again(c, s)
		}
	}
	t.notices(c.Notices)
	t.moves(c.Moves, s)
	t.edits(c.Edits)
	t.line("")
	t.wrap("", "  ", "", CompareSummary(c))
	return t.w.Flush()
}

// changes lists those of one kind. What got worse or better is told in full,
// with its causes, or below the one edit that did it; what only moved is, where all
// is asked for.
func (t *text) changes(xs []*compare.Change, s quantity.Style) {
	list := bunches(xs, s)
	for i, b := range list {
		if i > 0 && (b.by.entry != "" || list[i-1].by.entry != "") {
			t.line("")
		}
		if b.by.entry != "" {
			t.wrap("  ", hang, "", fmt.Sprintf("By %s alone (%d)  %s", Clean(b.by.entry), len(b.list), t.where(b.by.place)))
		}
		for _, x := range b.list {
			t.change(x, s, b.by.entry != "")
		}
	}
}

// change tells of one check; told says that its cause is.
func (t *text) change(x *compare.Change, s quantity.Style, told bool) {
	word, r := "gone", lastOf(x)
	if x.After != nil {
		word = r.Word()
	}
	advice := ""
	if r.Should {
		advice = "  (advice)"
	}
	t.line("%s%s  %s%s", t.paint(colorOf(r), fit(word, len(hang))), x.Rule.Name, Clean(r.Subject()), advice)
	switch {
	case told:
		t.wrap(hang, hang, t.where(r.Place)+"  ", Clean(stepOf(x, s)))
		return
	case x.Kind == compare.Drifted && !t.opt.All:
		t.wrap(hang, hang, "", driftOf(x, s))
		return
	}
	if x.Why != "" {
		t.wrap(hang, hang, "", Clean(x.Why))
	}
	if x.Kind == compare.Gone || x.Kind == compare.New {
		t.wrap(hang, hang, t.where(r.Place)+"  ", stateOf(r, s))
		return
	}
	t.side("before", x.Before, s)
	t.side("now", x.After, s)
	t.causes(x, s)
}

// side is a check before or now.
func (t *text) side(word string, r *lint.Result, s quantity.Style) {
	if r == nil {
		return
	}
	margin := hang + fit(word, 8)
	t.wrap(margin, strings.Repeat(" ", len(margin)), t.where(r.Place)+"  ", stateOf(r, s))
}

func (t *text) causes(x *compare.Change, s quantity.Style) {
	total, parts := causesOf(x, s)
	if len(parts) == 0 {
		return
	}
	head := "by"
	if total != "" {
		head = "margin " + total + ", by"
		switch {
		case x.Kind == compare.Better && x.Delta < 0:
			head = "known better now, though the " + head
		case x.Kind == compare.Worse && x.Delta > 0:
			head = "known less well now, though the " + head
		}
	}
	t.line("%s%s", hang, head)
	wide, entry := 0, 0
	for _, p := range parts {
		wide, entry = max(wide, utf8.RuneCountInString(p.share)), max(entry, utf8.RuneCountInString(Clean(p.entry)))
	}
	for _, p := range parts {
		var b strings.Builder
		b.WriteString(hang + "  " + strings.Repeat(" ", wide-utf8.RuneCountInString(p.share)) + p.share)
		if wide > 0 {
			b.WriteString("  ")
		}
		b.WriteString(fit(Clean(p.entry), min(entry, 40)+2))
		if p.place.File != "" {
			b.WriteString(t.where(p.place) + "  ")
		}
		b.WriteString(p.say)
		t.line("%s", strings.TrimRight(b.String(), " "))
	}
}

// again lists the readings to take again, and the dates that are asked for.
func (t *text) again(c *compare.Comparison, s quantity.Style) {
	if len(c.Again) > 0 {
		t.line("\n%s (%d)", t.paint(bold, "Read these again"), len(c.Again))
	}
	for _, a := range c.Again {
		t.line("  %s  %s", Clean(a.Entry), t.where(a.Place))
		t.wrap("    ", "    ", "", againOf(a, s))
	}
	if len(c.Asks) > 0 {
		t.line("\n%s (%d)", t.paint(bold, "Before or after the weighing?"), len(c.Asks))
	}
	for _, a := range c.Asks {
		t.line("  %s  %s", Clean(a.Entry), t.where(a.Place))
		t.wrap("    ", "    ", "", askOf(a))
	}
}

func (t *text) notices(ns []*compare.Notice) {
	if len(ns) == 0 {
		return
	}
	t.line("\n%s (%d)", t.paint(bold, "How it is judged"), len(ns))
	for _, n := range ns {
		mark := "  "
		if n.Loosens {
			mark = t.paint(yellow, "! ")
		}
		t.line("%s%s  %s", mark, noticeOf(n), t.where(n.Place))
	}
}

func (t *text) moves(ms []*compare.MovedAssembly, s quantity.Style) {
	if len(ms) == 0 {
		return
	}
	t.line("\n%s (%d)", t.paint(bold, "Assemblies that moved"), len(ms))
	for _, m := range ms {
		t.line("  %s  %s  %s", Clean(m.Assembly), moveOf(m.By, s), t.where(m.Place))
		for _, r := range m.Readings {
			if r.Follows {
				t.line("    %s  read at the old place, and carried over by the move  %s", Clean(r.Entry), t.where(r.Place))
			}
		}
	}
}

func (t *text) edits(es []*compare.Edit) {
	if len(es) == 0 {
		return
	}
	t.line("\n%s (%d)", t.paint(bold, "Entries"), len(es))
	for _, e := range es {
		line := "  " + fit(string(e.Kind), 9) + Clean(e.Entry)
		if more := settingOf(e); more != "" {
			line += "  " + more
		}
		t.line("%s  %s", line, t.where(e.Place))
		if e.Kind == compare.Altered {
			for _, v := range e.Values {
				t.line("             %s", valueLine(v))
			}
		}
	}
}

func valueLine(v *compare.ValueEdit) string {
	key := Clean(v.Key)
	switch {
	case v.Private:
		return key + "  (private)"
	case v.Before == "":
		return key + "  " + Clean(v.After) + ", was not said"
	case v.After == "":
		return key + "  " + Clean(v.Before) + " before, is no longer said"
	case len(v.Words) > 0:
		return key + "  " + wordsLine(v.Words)
	}
	return key + "  " + Clean(v.Before) + " -> " + Clean(v.After)
}

// wordsLine shows a text with what was [-taken out-] and {+put in+}.
func wordsLine(spans []compare.Span) string {
	var b strings.Builder
	for _, s := range spans {
		text := strings.TrimRight(s.Text, " \t\r\n")
		space := ""
		if len(text) < len(s.Text) {
			space = " "
		}
		switch s.Op {
		case '-':
			b.WriteString("[-" + Clean(text) + "-]" + space)
		case '+':
			b.WriteString("{+" + Clean(text) + "+}" + space)
		default:
			b.WriteString(Clean(text) + space)
		}
	}
	return strings.TrimSpace(b.String())
}

package report

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/lint/compare"
)

// mostRows bounds the tables of a page: a host cuts off what is too long, and
// with it what would close the folds.
const mostRows = 200

// mostPage bounds in bytes what a page tells in full of the builds of a tree:
// hosts take comments of 65,536 characters (GitHub's own limit; common knowledge,
// no source), and their lines come to half of that at most.
const mostPage = 30_000

// CompareMarkdown writes a comparison for a pull request: what it comes to, what
// got worse and better with its causes, and the rest folded away. Everything
// from a ledger is literal. Of several builds it writes a table with a line each,
// then each in full, as far as a page goes.
func CompareMarkdown(to io.Writer, opt Options) *Writer {
	m := markdown{bufio.NewWriter(to), opt.All}
	if !opt.Tree {
		return &Writer{Compare: m.compare, Close: func(*Totals) error { return m.w.Flush() }}
	}
	k := &kinPage{markdown: m}
	return &Writer{Compare: k.compare, Lone: k.lone, Close: k.close}
}

// kinPage is a page of the builds of a tree that differ.
type kinPage struct {
	markdown
	lines []string
	below bytes.Buffer
	left  int // builds that are not told in full
}

func (k *kinPage) compare(c *compare.Comparison) error {
	mark := ""
	if c.Failed() {
		mark = "**worse**"
	}
	k.lines = append(k.lines, fmt.Sprintf("| %s | %s | %s |\n", mark, Literal(foldersOf(c)), CompareSummary(c)))
	var whole bytes.Buffer
	if err := (markdown{bufio.NewWriter(&whole), k.all}).compare(c); err != nil {
		return err
	}
	if k.below.Len()+whole.Len() > mostPage {
		k.left++
		return nil
	}
	k.below.Write(whole.Bytes())
	return nil
}

func (k *kinPage) lone(l *compare.Lone) error {
	word := loneWord(l)
	if l.Failed() {
		word = "**" + word + "**"
	}
	k.lines = append(k.lines, fmt.Sprintf("| %s | %s | %s |\n", word, Literal(l.Folder), strings.TrimPrefix(loneState(l, Literal), ": ")))
	return nil
}

func (k *kinPage) close(t *Totals) error {
	if len(k.lines)+t.Unread == 0 {
		k.print("%s\n", noneDiffers)
		return k.w.Flush()
	}
	if len(k.lines) > 0 {
		k.print("| | build | |\n|---|---|---|\n%s", strings.Join(cut(k.lines), ""))
		if n := len(k.lines); n > mostRows {
			k.print("| | and %d more | |\n", n-mostRows)
		}
		k.print("\n")
	}
	unreadPage(k.w, t.Left)
	k.w.Write(k.below.Bytes())
	if k.left > 0 {
		k.print("%s more: too long for a page; compare them by themselves.\n", Plural(k.left, "build"))
	}
	return k.w.Flush()
}

type markdown struct {
	w   *bufio.Writer
	all bool // every change is listed, however slight
}

func (m markdown) print(format string, args ...any) { fmt.Fprintf(m.w, format, args...) }

func (m markdown) compare(c *compare.Comparison) error {
	s := c.After.Build.Style()
	m.print("### %s\n\n", Literal(c.After.Title))
	m.print("**%s**\n\n", CompareSummary(c))
	m.print("%s at stage %s, against %s at stage %s, both as of %s.\n\n", Literal(c.After.Folder), c.After.Stage, Literal(c.Before.Folder), c.Before.Stage, Literal(c.After.AsOf))
	if len(c.Parents) > 0 {
		m.print("Told is what none of %s has: it comes of bringing them together.\n\n", Literal(strings.Join(c.Parents, ", ")))
	}
	m.table(ofKind(c, compare.Worse), ofKind(c, compare.Better), s)
	m.again(c, s)
	m.notices(c.Notices)
	m.moves(c.Moves, s)
	for _, h := range changeTitles[2:] {
		if xs := ofKind(c, h.kind); len(xs) > 0 {
			m.fold(h.title, len(xs), func() { m.rows(xs, s) })
		}
	}
	if len(c.Edits) > 0 {
		m.fold("Entries", len(c.Edits), func() { m.edits(c.Edits) })
	}
	return m.w.Flush()
}

// table shows what got worse and better, and below it why.
func (m markdown) table(worse, better []*compare.Change, s quantity.Style) {
	if len(worse)+len(better) == 0 {
		return
	}
	m.print("| | check | on | before | now |\n|---|---|---|---|---|\n")
	for _, xs := range [][]*compare.Change{worse, better} {
		for _, x := range cut(xs) {
			word := "**" + string(x.Kind) + "**"
			if x.Kind == compare.Worse && !x.Counts {
				word = "worse, advice"
			}
			m.row(word, x, s)
		}
		m.more(len(xs))
	}
	m.print("\n")
	for _, xs := range [][]*compare.Change{worse, better} {
		for _, b := range bunches(cut(xs), s) {
			if b.by.entry != "" {
				m.bunch(b, s)
				continue
			}
			m.causes(b.list[0], s)
		}
	}
}

// cut is as much of a list as a page holds.
func cut[T any](list []T) []T { return list[:min(len(list), mostRows)] }

func (m markdown) more(n int) {
	if n > mostRows {
		m.print("| | and %d more | | | |\n", n-mostRows)
	}
}

func (m markdown) row(first string, x *compare.Change, s quantity.Style) {
	now := stateOf(x.After, s)
	if x.Why != "" {
		now += "; " + x.Why
	}
	m.print("| %s | %s | %s | %s | %s |\n", first, Literal(x.Rule.Name), Literal(subjectOf(x)), Literal(stateOf(x.Before, s)), Literal(now))
}

func subjectOf(x *compare.Change) string { return lastOf(x).Subject() }

// bunch tells of the one edit that did several changes, once.
func (m markdown) bunch(b bunch, s quantity.Style) {
	m.print("By %s alone (%d)", Literal(b.by.entry), len(b.list))
	if at := whereAt(b.by.place); at != "" {
		m.print(" at %s", Literal(at))
	}
	m.print("\n\n| margin | check | on | |\n|---:|---|---|---|\n")
	for _, x := range b.list {
		total, parts := causesOf(x, s)
		m.print("| %s | %s | %s | %s |\n", Literal(total), Literal(x.Rule.Name), Literal(subjectOf(x)), parts[0].say)
	}
	m.print("\n")
}

func (m markdown) causes(x *compare.Change, s quantity.Style) {
	total, parts := causesOf(x, s)
	if len(parts) == 0 {
		return
	}
	m.print("%s on %s", Literal(x.Rule.Name), Literal(subjectOf(x)))
	if total != "" {
		m.print(": margin %s, by", Literal(total))
	} else {
		m.print(": by")
	}
	m.print("\n\n| share | edit | where | |\n|---:|---|---|---|\n")
	for _, p := range parts {
		m.print("| %s | %s | %s | %s |\n", Literal(p.share), Literal(p.entry), Literal(whereAt(p.place)), p.say)
	}
	m.print("\n")
}

func whereAt(p quantity.Place) string {
	if p.File == "" {
		return ""
	}
	return Where(p)
}

func (m markdown) rows(xs []*compare.Change, s quantity.Style) {
	m.print("| now | check | on | before | now |\n|---|---|---|---|---|\n")
	told, slight := toTell(xs, s, m.all)
	for _, x := range cut(told) {
		word := "gone"
		if x.After != nil {
			word = x.After.Word()
			if x.After.Should {
				word += ", advice"
			}
		}
		m.row(word, x, s)
	}
	m.more(len(told))
	if slight > 0 {
		m.print("| | %s | | | |\n", slightly(slight, len(told)))
	}
}

// again lists the readings to take again, and the dates that are asked for.
func (m markdown) again(c *compare.Comparison, s quantity.Style) {
	list := func(title string, n int, line func(i int) string) {
		if n == 0 {
			return
		}
		m.print("**%s (%d)**\n\n", title, n)
		for i := range min(n, mostRows) {
			m.print("- %s\n", line(i))
		}
		m.print("\n")
	}
	list("Read these again", len(c.Again), func(i int) string {
		return Literal(c.Again[i].Entry) + ": " + Literal(againOf(c.Again[i], s)) + " at " + Literal(Where(c.Again[i].Place))
	})
	list("Before or after the weighing?", len(c.Asks), func(i int) string {
		return Literal(c.Asks[i].Entry) + " " + Literal(askOf(c.Asks[i])) + " at " + Literal(Where(c.Asks[i].Place))
	})
}

func (m markdown) notices(ns []*compare.Notice) {
	if len(ns) == 0 {
		return
	}
	m.print("**How it is judged (%d)**\n\n", len(ns))
	for _, n := range cut(ns) {
		mark := ""
		if n.Loosens {
			mark = "**!** "
		}
		m.print("- %s%s at %s\n", mark, Literal(noticeOf(n)), Literal(Where(n.Place)))
	}
	m.print("\n")
}

func (m markdown) moves(ms []*compare.MovedAssembly, s quantity.Style) {
	for _, v := range cut(ms) {
		m.print("%s moved %s.", Literal(v.Assembly), moveOf(v.By, s))
		var along []string
		for _, r := range v.Readings {
			if r.Follows {
				along = append(along, Literal(r.Entry))
			}
		}
		if len(along) > 0 {
			m.print(" Read at the old place, and carried over by the move: %s.", strings.Join(cut(along), ", "))
		}
		m.print("\n\n")
	}
}

func (m markdown) fold(title string, n int, body func()) {
	m.print("<details><summary>%s (%d)</summary>\n\n", title, n)
	body()
	m.print("\n</details>\n\n")
}

func (m markdown) edits(es []*compare.Edit) {
	m.print("| | entry | key | before | now |\n|---|---|---|---|---|\n")
	for _, e := range cut(es) {
		name := Literal(e.Entry)
		if e.Kind != compare.Altered {
			m.print("| %s | %s | | %s | |\n", e.Kind, name, Literal(settingOf(e)))
			continue
		}
		for i, v := range cut(e.Values) {
			kind := string(e.Kind)
			if i > 0 {
				kind, name = "", ""
			}
			before, now := Literal(valueOf(v, v.Before)), Literal(valueOf(v, v.After))
			if len(v.Words) > 0 && !v.Private {
				before, now = words(v.Words, '-'), words(v.Words, '+')
			}
			m.print("| %s | %s | %s | %s | %s |\n", kind, name, Literal(v.Key), before, now)
		}
	}
	m.more(len(es))
}

// words shows one side of a text compared word by word, with what the other
// has not set off.
func words(spans []compare.Span, side byte) string {
	var b strings.Builder
	tag := map[byte]string{'-': "del", '+': "ins"}[side]
	for _, s := range spans {
		switch s.Op {
		case '=':
			b.WriteString(Literal(s.Text))
		case side:
			fmt.Fprintf(&b, "<%s>%s</%s>", tag, Literal(s.Text), tag)
		}
	}
	return b.String()
}

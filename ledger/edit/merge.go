package edit

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
)

// Merged is what comes of two versions of a file that go back to a third.
type Merged struct {
	Text      []byte
	Conflicts []Conflict
}

// Conflict is a key, or a whole table, that both sides changed to different things.
type Conflict struct {
	Path         string // "part.fan.mass"; "" for the whole file
	Line         int    // of its first mark in the merged file
	Ours, Theirs string // what each side has, in one line; "" where it took it away
}

// The marks around what both sides changed are git's.
const (
	markOurs   = "<<<<<<< ours\n"
	markMiddle = "=======\n"
	markTheirs = ">>>>>>> theirs\n"
)

// Merge brings two versions of a file together, key by key: what one side
// changed is taken, and what both changed alike. What both changed to different
// things stands between marks, and so does what one changed and the other took
// away. Entries stay in the order of ours, with what theirs adds behind what
// it stands behind there. A comment that either side has is kept, unless the other took it
// away. A version that is no TOML is an error.
func Merge(base, ours, theirs []byte) (Merged, error) {
	end, bom := lineEndOf(string(ours)), ""
	if strings.HasPrefix(string(ours), byteOrderMark) {
		bom = byteOrderMark
	}
	var parts [3]*parts
	var errs []error
	for i, data := range [][]byte{base, ours, theirs} {
		p, err := partsOf(data)
		if err != nil {
			errs = append(errs, fmt.Errorf("%s:%w", [...]string{"base", "ours", "theirs"}[i], err))
		}
		parts[i] = p
	}
	if len(errs) > 0 {
		return Merged{}, errors.Join(errs...)
	}
	m := newMerger(parts)
	m.file()
	if !m.sound() {
		m = newMerger(parts)
		m.clash("", "", m.ours.text, m.theirs.text)
	}
	text, conflicts := m.marked()
	if end != "\n" {
		text = strings.ReplaceAll(text, "\n", end)
	}
	return Merged{[]byte(bom + text), conflicts}, nil
}

// merger puts a merged file together from pieces of the three versions.
type merger struct {
	base, ours, theirs *parts
	out                []chunk
	whole              map[string]bool // the tables of which one side took all away, and the other changed something
	told               map[string]int  // how often a comment is in it already
	top                bool            // nothing is in it yet, and no blank line comes first
}

func newMerger(p [3]*parts) *merger {
	return &merger{base: p[0], ours: p[1], theirs: p[2], told: map[string]int{}, whole: map[string]bool{}}
}

// chunk is a run of the merged file: a text, or what each side has.
type chunk struct {
	text         string
	clash        bool
	path         string
	ours, theirs string
}

func (m *merger) say(text string) {
	if m.top {
		text = strings.TrimPrefix(text, "\n")
	}
	if text != "" {
		m.top = false
		m.put(chunk{text: text})
	}
}

func (m *merger) put(c chunk) {
	m.out = append(m.out, c)
	for _, r := range remarks(c.text + c.ours + c.theirs) {
		m.told[r]++
	}
}

func (m *merger) clash(above, path, ours, theirs string) {
	m.say(above)
	m.put(chunk{clash: true, path: path, ours: ours, theirs: theirs})
}

// text is the merged file, with what a side has in the place of what both changed.
func (m *merger) text(side func(chunk) string) string {
	var b strings.Builder
	for _, c := range m.out {
		if c.clash {
			b.WriteString(side(c))
		} else {
			b.WriteString(c.text)
		}
	}
	return b.String()
}

func oursOf(c chunk) string   { return c.ours }
func theirsOf(c chunk) string { return c.theirs }

// marked is the merged file as it is written, with its conflicts.
func (m *merger) marked() (string, []Conflict) {
	var conflicts []Conflict
	line := 1
	text := m.text(func(c chunk) string { return markOurs + c.ours + markMiddle + c.theirs + markTheirs })
	for _, c := range m.out {
		lines := strings.Count(c.text, "\n")
		if c.clash {
			conflicts = append(conflicts, Conflict{c.path, line, inLine(c.ours), inLine(c.theirs)})
			lines = 3 + strings.Count(c.ours, "\n") + strings.Count(c.theirs, "\n")
		}
		line += lines
	}
	return text, conflicts
}

// inLine is the first line of a text that says something.
func inLine(text string) string {
	for _, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			return line
		}
	}
	return ""
}

// file merges all tables, and what stands behind the last.
func (m *merger) file() {
	ids := ordered(m.ours.tables(), m.theirs.tables(), func(id string) bool { return m.base.table(id) != nil })
	m.say(mergedLines(m.base.head, m.ours.head, m.theirs.head))
	m.top = len(m.out) == 0
	for _, id := range ids {
		m.table(m.base.table(id), m.ours.table(id), m.theirs.table(id))
	}
	m.say(m.untold(mergedLines(m.base.tail, m.ours.tail, m.theirs.tail)))
}

// untold are lines without the comments that are in the merged file as often as they
// have to be: what stood at the end of a file stands above what a side added there.
func (m *merger) untold(text string) string {
	var out strings.Builder
	for _, line := range lines(text) {
		c := strings.TrimSpace(line)
		b, o, t := m.base.all[c], m.ours.all[c], m.theirs.all[c]
		if c == "" || m.told[c] < max(o, b)+max(t, b)-b {
			out.WriteString(line)
		}
	}
	return out.String()
}

// ordered are all names of two lists in the order of the first. One that only
// the second has comes behind the one that it is behind there, and behind those
// that the first added at the same place.
func ordered(ours, theirs []string, before func(string) bool) []string {
	have, has := setOf(ours), setOf(theirs)
	behind := map[string][]string{} // what only theirs has, by what it stands behind
	at := "\x00"                    // the start; no name is that
	for _, id := range theirs {
		if have[id] {
			at = id
		} else {
			behind[at] = append(behind[at], id)
		}
	}
	var out []string
	next := behind["\x00"]
	for _, id := range ours {
		if before(id) || has[id] {
			out, next = append(out, next...), nil
		}
		out, next = append(out, id), append(next, behind[id]...)
	}
	return append(out, next...)
}

func setOf(list []string) map[string]bool {
	out := map[string]bool{}
	for _, s := range list {
		out[s] = true
	}
	return out
}

// table merges a table: its header, its keys and the comments in it. Any of
// the three may be nil.
func (m *merger) table(b, o, t *table) {
	switch {
	case o == nil && t == nil:
	case o == nil:
		m.oneSided(b, t, func(text string) { m.clash("", t.name(), "", text) }, m.theirsAdds)
	case t == nil:
		m.oneSided(b, o, func(text string) { m.clash("", o.name(), text, "") }, func(p *stretch) { m.say(p.full()) })
	default:
		if b == nil {
			b = &table{}
		}
		ids := ordered(o.keys(), t.keys(), func(id string) bool { return b.piece(id) != nil })
		for _, id := range ids {
			m.piece(b.piece(id), o.piece(id), t.piece(id))
		}
	}
}

// oneSided is a table that one side lacks: it was added, or it is gone, or it
// was changed where the other took it away.
func (m *merger) oneSided(b, has *table, clash func(string), add func(*stretch)) {
	switch {
	case b == nil:
		for _, p := range has.pieces {
			add(p)
		}
	case b.same(has):
		for _, p := range has.pieces {
			m.stays(p)
		}
	default:
		m.whole[has.id] = true
		m.say(has.pieces[0].loose)
		clash(has.text())
	}
}

// theirsAdds is a piece that only theirs has. A comment above its place that
// stood there before does not come twice.
func (m *merger) theirsAdds(p *stretch) {
	loose := m.untold(p.loose)
	if p.header && loose == "" && len(m.out) > 0 {
		loose = "\n"
	}
	m.say(loose + p.lead + p.line)
}

// stays says what stays of the lines above a piece that is gone: the comments
// that no side took away.
func (m *merger) stays(p *stretch) {
	var out strings.Builder
	some := false
	for _, line := range lines(p.loose) {
		c := strings.TrimSpace(line)
		says := c != "" && m.kept(c) && m.told[c] == 0
		if some = some || says; says || c == "" {
			out.WriteString(line)
		}
	}
	if some {
		m.say(out.String())
	}
}

// piece merges a key or a header.
func (m *merger) piece(b, o, t *stretch) {
	switch {
	case o == nil && t == nil:
	case o == nil && b == nil:
		m.theirsAdds(t)
	case t == nil && b == nil:
		m.say(o.full())
	case o == nil && b.same(t):
		m.stays(t)
	case t == nil && b.same(o):
		m.stays(o)
	case o == nil:
		m.clash(t.loose, t.name(), "", t.lead+t.line)
	case t == nil:
		m.clash(o.loose, o.name(), o.lead+o.line, "")
	default:
		if b == nil {
			b = &stretch{}
		}
		m.both(b, o, t)
	}
}

// both merges a piece that both sides have.
func (m *merger) both(b, o, t *stretch) {
	above := mergedLines(b.loose, o.loose, t.loose)
	lead := mergedLines(b.lead, o.lead, t.lead)
	switch {
	case o.line == t.line, t.line == b.line:
		m.say(above + lead + o.line)
	case o.line == b.line:
		m.say(above + lead + t.line)
	case reflect.DeepEqual(o.value, t.value), reflect.DeepEqual(t.value, b.value):
		m.say(above + lead + setAside(t, b, o) + o.line)
	case reflect.DeepEqual(o.value, b.value):
		m.say(above + lead + setAside(o, b, t) + t.line)
	default:
		m.clash(above, o.name(), lead+o.line, lead+t.line)
	}
}

// setAside are the comments in a statement that gives way to another, which neither
// the base nor the other has.
func setAside(gives, base, to *stretch) string {
	var out strings.Builder
	was, have := setOf(remarks(base.line)), setOf(remarks(to.line))
	for _, c := range remarks(gives.line) {
		if !was[c] && !have[c] {
			out.WriteString(indentOf(to.line) + c + "\n")
		}
	}
	return out.String()
}

func indentOf(line string) string { return line[:len(line)-len(strings.TrimLeft(line, " \t"))] }

package report

import (
	"bufio"
	"bytes"
	"fmt"
	"io"

	"fishplate/lint"
)

// NextKinds are the outputs of next.
var NextKinds = []Kind{
	{"text", "for a person in the morning, a screen at most", nextText},
	{"markdown", "a list for a page", nextMarkdown},
	{"json", "for a program", nextJSON},
}

const (
	screenful   = 50 // lines
	leastOfMany = 12 // lines of one build among several
)

const nextWord = "In the order of the work: start at the top of each list."

// nextText writes what is to be done, at most a screen.
func nextText(to io.Writer, opt Options) *Writer {
	s := &screen{text: newText(to, opt)}
	return &Writer{Build: s.next, Partial: s.next, Close: func(n *Totals) error {
		if n.Builds+n.Unread > 1 {
			s.line("")
			s.wrap("", "  ", "", lastWord)
		}
		return s.leftOut(n, true)
	}}
}

func (s *screen) next(r *lint.Report) error {
	var head, foot bytes.Buffer
	at := func(b *bytes.Buffer, say ...string) {
		t := newText(b, s.opt)
		for _, line := range say {
			t.wrap("", "  ", "", line)
		}
		t.w.Flush()
	}
	s.folder = r.Folder
	at(&head, s.paint(bold, Clean(r.Title)), stageLine(r)+". "+nextWord)
	room := screenful
	if s.opt.Builds > 1 {
		room = max(leastOfMany, screenful/s.opt.Builds)
	} else {
		at(&foot, lastWord)
		room-- // and a blank line
	}
	room -= bytes.Count(head.Bytes(), []byte("\n")) + bytes.Count(foot.Bytes(), []byte("\n"))
	if s.opt.All {
		room = int(^uint(0) >> 1)
	}
	if s.begun {
		s.line("")
	}
	s.begun = true
	s.w.Write(head.Bytes())
	parts := s.agendaOf(r)
	if !s.parts(parts, room) {
		say := "Nothing is to be done now."
		if s.opt.selects() {
			say = "Nothing to list here."
		}
		s.line("%s", say)
	}
	if foot.Len() > 0 {
		s.line("")
		s.w.Write(foot.Bytes())
	}
	return s.w.Flush()
}

// parts writes what fits into so many lines: of every part its first item, then
// of every part the next, as long as there is room.
func (s *screen) parts(parts []chapter, room int) (any bool) {
	lines := make([][][]string, len(parts))
	shown := make([]int, len(parts))
	for i, p := range parts {
		for _, it := range p.items {
			lines[i] = append(lines[i], fold("  "+it.say+s.at(it.place), s.opt.Width, "      "))
		}
		if len(p.items) > 0 {
			any = true
			room -= 2 + len(fold(p.heading(), s.opt.Width, "  ")) // a blank line, the heading, and how many more there are
		}
	}
	for more := true; more; {
		more = false
		for i := range parts {
			n := shown[i]
			must := n == 0 && (i == 0 || s.opt.Builds > 1) // what fails is never left out, nor all of a part among several builds
			if n == len(lines[i]) || len(lines[i][n]) > room && !must {
				continue
			}
			room -= len(lines[i][n])
			shown[i]++
			more = true
		}
	}
	for i, p := range parts {
		if len(p.items) == 0 {
			continue
		}
		s.line("")
		s.wrap("", "  ", "", s.paint(bold, p.heading()))
		for _, item := range lines[i][:shown[i]] {
			for _, l := range item {
				s.w.WriteString(l + "\n")
			}
		}
		if n := len(p.items) - shown[i]; n > 0 {
			s.line("  and %d more: --all lists them", n)
		}
	}
	return any
}

func (p chapter) heading() string { return fmt.Sprintf("%s (%d)", p.title, len(p.items)) }

// nextMarkdown writes all that is to be done.
func nextMarkdown(to io.Writer, opt Options) *Writer {
	w := bufio.NewWriter(to)
	build := func(r *lint.Report) error {
		s := &screen{text: newText(io.Discard, opt)}
		s.folder = r.Folder
		fmt.Fprintf(w, "### %s\n\n%s %s\n", Literal(r.Title), stageAndDate(r), nextWord)
		for _, p := range s.agendaOf(r) {
			if len(p.items) > 0 {
				fmt.Fprintf(w, "\n**%s**\n\n", p.heading())
			}
			for _, it := range p.items {
				fmt.Fprintf(w, "- %s\n", Literal(it.say+s.at(it.place)))
			}
		}
		fmt.Fprintln(w)
		return w.Flush()
	}
	return &Writer{Build: build, Partial: build, Close: func(t *Totals) error {
		if say := leftOut(t, true); say != "" {
			fmt.Fprintf(w, "%s\n", say)
		}
		return w.Flush()
	}}
}

// nextJSON writes all that is to be done, for a program.
func nextJSON(to io.Writer, opt Options) *Writer {
	type thing struct {
		Say  string `json:"say"`
		File string `json:"file,omitempty"`
		Line int    `json:"line,omitempty"`
	}
	type build struct {
		Folder string             `json:"folder"`
		Title  string             `json:"title"`
		Stage  string             `json:"stage"`
		AsOf   string             `json:"as-of"`
		Next   map[string][]thing `json:"next"`
	}
	all := []build{}
	return &Writer{
		Build: func(r *lint.Report) error {
			s := &screen{text: newText(io.Discard, opt)}
			s.folder = r.Folder
			b := build{r.Folder, r.Title, r.Stage.String(), r.AsOf, map[string][]thing{}}
			for _, p := range s.agendaOf(r) {
				b.Next[p.name] = []thing{}
				for _, it := range p.items {
					b.Next[p.name] = append(b.Next[p.name], thing{it.say, it.place.File, it.place.Line})
				}
			}
			all = append(all, b)
			return nil
		},
		Close: func(*Totals) error {
			_, err := fmt.Fprintf(to, "%s\n", encode(map[string]any{"fishplate": 2, "order": []string{"mend", "read", "start", "wait", "write", "order"}, "builds": all}))
			return err
		},
	}
}

package report

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/ledger/spelling"
	"fishplate/lint"
)

// selects tells that a part of the checks is asked for by name.
func (o Options) selects() bool {
	return o.All || o.Advice || o.Due != nil || o.Pack != "" || o.About != ""
}

// lists tells whether a check is among those that are asked for. What is
// settled is listed where all is asked for, and of a single entry.
func (o Options) lists(r *lint.Result) bool {
	pack, _, _ := strings.Cut(r.Rule.Name, "/")
	switch {
	case o.Due != nil && (r.Due != *o.Due || r.Should && !o.Advice),
		o.Advice && !r.Should,
		o.Pack != "" && pack != o.Pack,
		o.About != "" && !touches(r, o.About):
		return false
	}
	return o.All || o.About != "" || !settled(r)
}

// touches tells that a check is on an entry, reads it, or lacks something of
// it.
func touches(r *lint.Result, entry string) bool {
	if r.Entry == entry {
		return true
	}
	of := func(key string) bool { return key == entry || strings.HasPrefix(key, entry+".") }
	if slices.ContainsFunc(r.Needs, func(n quantity.Need) bool { return of(n.Key) }) {
		return true
	}
	return r.Numeric() && slices.ContainsFunc(r.Margin.Leaves(), func(q quantity.Quantity) bool {
		return q.Source() != nil && q.Source().Entry == entry
	})
}

// selected lists the checks that are asked for, then all that they wait for.
func (s *screen) selected(r *lint.Report) {
	var left []*lint.Result
	for _, c := range r.Results {
		if s.opt.lists(c) {
			left = append(left, c)
		}
	}
	if len(left) == 0 {
		say := "Nothing to list here."
		if s.opt.About != "" {
			say = "No check touches " + Clean(s.opt.About) + "." + Clean(nearEntry(r, s.opt.About))
		}
		s.line("\n%s", say)
		return
	}
	all := left
	for _, sec := range sections {
		var in, rest []*lint.Result
		for _, c := range left {
			if sec.takes(c) {
				in = append(in, c)
			} else {
				rest = append(rest, c)
			}
		}
		if left = rest; len(in) > 0 {
			s.line("\n%s", s.paint(bold, fmt.Sprintf("%s (%d)", sec.title, len(in))))
			if sec.title == adviceTitle {
				s.wrap("", "  ", "", "Only advice: a benchmark, a limit that nobody has looked up or common practice, or what no vehicle is unfit without. It never fails a run; explain RULE says which.")
			}
			s.rows(InOrderOfHarm(in), r, sec.title == "To fix now")
		}
	}
	if waits := lint.Waits(InOrderOfHarm(all)); len(waits) > 0 {
		s.line("\n%s", s.paint(bold, "What they wait for"))
		s.waits(waits, len(waits), "", r)
	}
}

func nearEntry(r *lint.Report, name string) string {
	var names []string
	for _, e := range r.Build.Entries() {
		names = append(names, e.Path())
	}
	if slices.Contains(names, name) {
		return ""
	}
	if n := spelling.Nearest(name, names); n != "" {
		return fmt.Sprintf(" There is no such entry; did you mean %s?", n)
	}
	return " There is no such entry."
}

package editor

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger/edit"
	"fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
	"fishplate/lint"
	"fishplate/lint/report"
)

// The kinds of actions, of those that the protocol has.
const (
	quickFix = "quickfix"
	refactor = "refactor"
)

// How many actions of a sort are offered, and for how many findings.
const (
	mostMissing  = 8
	mostMends    = 3
	mostFindings = 3
	mostMoves    = 5
)

// asked is what an editor asks the actions for.
type asked struct {
	*spot
	r        Range
	findings []*lint.Result // that the range touches, of the present state
}

// codeActions are the changes that are offered where the cursor stands.
func (s *server) codeActions(p *codeActionParams) (any, error) {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []codeAction{}
	a := asked{s.spotOf(d, tokenAt(d.text.s, d.text.offset(p.Range.Start, s.encoding))), p.Range, nil}
	if a.build == nil {
		return out, nil
	}
	if j := s.judged(a.build); j.of == a.build.b {
		for _, f := range j.findings {
			if f.at.file == d.path && touches(a.build.rangeOf(f.at, s.encoding), p.Range) {
				a.findings = append(a.findings, f.check)
			}
		}
	}
	wants := func(kind string) bool {
		return len(p.Context.Only) == 0 || slices.ContainsFunc(p.Context.Only, func(o string) bool { return o == kind || strings.HasPrefix(kind, o+".") })
	}
	if wants(quickFix) {
		out = append(out, s.meant(a)...)
		out = append(out, s.mends(a)...)
		out = append(out, s.missing(a)...)
		out = append(out, s.waivers(a)...)
	}
	if wants(refactor) {
		out = append(out, s.otherUnits(a)...)
		out = append(out, s.moves(a)...)
	}
	return out, nil
}

// touches tells that two ranges have a place in common, be it an end.
func touches(a, b Range) bool { return !before(a.End, b.Start) && !before(b.End, a.Start) }

func before(a, b Position) bool {
	return a.Line < b.Line || a.Line == b.Line && a.Character < b.Character
}

// action is a change under a title; nothing where it cannot be made.
func (s *server) action(kind, title string, edit *workspaceEdit, err error) []codeAction {
	if err != nil || edit == nil || len(edit.DocumentChanges)+len(edit.Changes) == 0 {
		return nil
	}
	return []codeAction{{Title: plain(title), Kind: kind, Edit: edit}}
}

// replaced is a text in the place of a range of the document that is asked about.
func (s *server) replaced(a asked, from, to int, text string) (*workspaceEdit, error) {
	var c changes
	c.add(&file{path: a.doc.path, text: a.doc.text}, from, to, text)
	return s.workspaceEdit(c)
}

// drafted is what a change of the build comes to. One that is not checked may leave
// something to be written.
func (s *server) drafted(b *build, check bool, change func(*edit.Draft) error) (*workspaceEdit, error) {
	d, err := edit.Begin(b.src)
	if err == nil {
		err = change(d)
	}
	plan := edit.Plan{}
	if err == nil && check {
		plan, err = d.Plan()
	} else if err == nil {
		plan = d.Changes()
	}
	if err != nil {
		return nil, err
	}
	return s.editOf(b, plan)
}

var (
	meantWord = pattern(`(?:did you mean|it is called) "([^"]+)"`)
	quotedOne = pattern(`"([^"]*)"`)
	lacksOne  = pattern(`(?:there is no|does not say) ([^\s;]+)`)
)

// meant puts the word that was meant in the place of one that is misspelt.
func (s *server) meant(a asked) []codeAction {
	var out []codeAction
	var faults []remark
	for _, f := range a.build.b.Faults {
		faults = append(faults, remark{f.Message, a.build.markOf(f.Place)})
	}
	faults = append(faults, a.build.last.faults...)
	for _, e := range a.build.b.Entries() {
		for _, u := range e.Unheard() {
			faults = append(faults, remark{u.Need.Key, a.build.markOf(u.Need.Place)})
		}
	}
	for _, f := range faults {
		m := meantWord().FindStringSubmatchIndex(f.says)
		at := a.build.rangeOf(f.at, s.encoding)
		if m == nil || f.at.file != a.doc.path || !touches(at, a.r) {
			continue
		}
		word, head := f.says[m[2]:m[3]], f.says[:m[0]]
		t := tokenAt(a.src, a.doc.text.offset(at.Start, s.encoding)+1)
		from, to := t.from, t.to
		for _, q := range slices.Concat(quotedOne().FindAllStringSubmatch(head, -1), lacksOne().FindAllStringSubmatch(head, -1)) {
			if i := strings.LastIndex(t.text(a.src), q[1]); i >= 0 && q[1] != "" {
				from, to = t.from+i, t.from+i+len(q[1])
			}
		}
		e, err := s.replaced(a, from, to, word)
		for _, x := range s.action(quickFix, fmt.Sprintf("Write %q in place of %q", word, a.src[from:to]), e, err) {
			x.Preferred = true
			out = append(out, x)
		}
	}
	return out
}

// mends are the levers that make a check pass, as changes.
func (s *server) mends(a asked) []codeAction {
	var out []codeAction
	for _, r := range a.findings[:min(len(a.findings), mostFindings)] {
		if !r.Numeric() || !r.Margin.Known() {
			continue
		}
		for _, p := range s.proposals(a.build, r) {
			e, err := s.drafted(a.build, true, func(d *edit.Draft) error { return set(d, p.Source.Entry, p.Source.Key, p.Text) })
			out = append(out, s.action(quickFix, "Mend "+r.Rule.Name+": "+report.Mend(p), e, err)...)
		}
	}
	return out
}

// proposals are the levers of a check, worked out once: each runs all checks.
func (s *server) proposals(b *build, r *lint.Result) []lint.Proposal {
	j := b.last
	if j.mends == nil {
		j.mends = map[*lint.Result][]lint.Proposal{}
	}
	list, known := j.mends[r]
	if !known {
		list = lint.Propose(b.b, s.opt.Packs, j.rep, r, mostMends)
		j.mends[r] = list
	}
	return list
}

// set writes a value as it was written: as a number where one stood there, else as
// text.
func set(d *edit.Draft, entry, key, text string) error {
	path, v := strings.Split(key, "."), edit.Text(text)
	if old, ok := d.Stand(entry, path); ok && (old.Kind() == syntax.Integer || old.Kind() == syntax.Float) {
		if r, err := quantity.Parse(text, quantity.Ratio, quantity.Options{}); err == nil && r.Grade == quantity.Stated {
			v = edit.Literal(text)
		}
	}
	return d.Set(entry, path, v)
}

// missing puts in keys that checks wait for, to be filled in.
func (s *server) missing(a asked) []codeAction {
	var out []codeAction
	for _, w := range a.build.last.waits() {
		asks := slices.ContainsFunc(w.Checks, func(r *lint.Result) bool { return slices.Contains(a.findings, r) })
		if len(out) == mostMissing || w.Path != a.entry && !asks {
			continue
		}
		e, err := s.drafted(a.build, false, func(d *edit.Draft) error {
			if w.Entry == nil {
				return d.Add(w.Path, []edit.Pair{{Key: w.Key, Value: edit.Text("")}}, "")
			}
			return d.Set(w.Path, strings.Split(w.Key, "."), edit.Text(""))
		})
		out = append(out, s.action(quickFix, fmt.Sprintf("Put in %s.%s, to be filled in: %s", w.Path, w.Key, checksWait(w.Checks)), e, err)...)
	}
	return out
}

// waiverComment stands below a waiver that is begun.
const waiverComment = "# Still to be written: because, by (who answers for it) and until (the last day). It waives nothing without.\n"

// waivers begin the waiver of a check that makes a run fail.
func (s *server) waivers(a asked) []codeAction {
	var out []codeAction
	for _, r := range a.findings {
		if !r.Counts || len(out) == mostFindings || slices.Contains(lint.Own.Rules, r.Rule) {
			continue
		}
		_, rule, _ := strings.Cut(r.Rule.Name, "/")
		pairs := []edit.Pair{{Key: "rule", Value: edit.Text(r.Rule.Name)}, {Key: "entry", Value: edit.Text(r.Entry)}}
		if r.Aspect != "" {
			pairs = append(pairs, edit.Pair{Key: "aspect", Value: edit.Text(r.Aspect)})
		}
		e, err := s.drafted(a.build, true, func(d *edit.Draft) error {
			return d.Add("waiver."+a.build.freeID("waiver", rule), pairs, "")
		})
		for _, x := range s.action(quickFix, fmt.Sprintf("Begin a waiver of %s on %s: someone answers for it", r.Rule.Name, r.Subject()), e, err) {
			x.Edit.append("[waiver.", waiverComment)
			out = append(out, x)
		}
	}
	return out
}

// freeID is the id, or with a number behind it, that no entry of the kind has.
func (b *build) freeID(kind, id string) string {
	for n := 1; ; n++ {
		try := id
		if n > 1 {
			try = fmt.Sprintf("%s-%d", id, n)
		}
		if _, taken := b.b.Entry(kind + "." + try); !taken {
			return try
		}
	}
}

// append puts a line below what an edit writes, if that has a mark in it.
func (w *workspaceEdit) append(mark, line string) {
	all := []([]TextEdit){}
	for _, d := range w.DocumentChanges {
		all = append(all, d.Edits)
	}
	for _, list := range w.Changes {
		all = append(all, list)
	}
	for _, list := range all {
		for i := range list {
			if text := list[i].NewText; strings.Contains(text, mark) {
				if strings.Contains(text, "\r\n") {
					line = strings.ReplaceAll(line, "\n", "\r\n")
				}
				list[i].NewText = text + line
			}
		}
	}
}

// otherUnits spell a quantity in the units that the build could show it in.
func (s *server) otherUnits(a asked) []codeAction {
	if a.part != inValue || a.field == nil || !a.field.TakesQuantity() || a.quote == "" {
		return nil
	}
	r, err := quantity.Parse(a.text(a.src), a.field.Dim, quantity.Options{Exact: a.field.Exact, Position: a.field.Position})
	if err != nil {
		return nil
	}
	var out []codeAction
	leaf := quantity.Leaf(r, &quantity.Source{})
	for i, style := range []quantity.Style{{}, {SI: true}} {
		text := inUnit(r, style.Unit(leaf))
		if text == "" || i == 1 && (quantity.Style{}).Unit(leaf).Symbol == style.Unit(leaf).Symbol {
			continue
		}
		e, err := s.replaced(a, a.from, a.to, text)
		out = append(out, s.action(refactor, "Write it as "+text, e, err)...)
	}
	return out
}

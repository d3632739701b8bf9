package book

import (
	"cmp"
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/job"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/lint"
	"fishplate/lint/report"
)

// reader reads a build as one edition shows it. Nothing of an entry gets onto a
// page but through it.
type reader struct {
	*job.Job
	rep    *lint.Report
	ed     Edition
	values map[*ledger.Entry][]ledger.Value
}

func newReader(rep *lint.Report, ed Edition) *reader {
	return &reader{job.Of(rep.Build, rep.AsOf), rep, ed, map[*ledger.Entry][]ledger.Value{}}
}

// entries are those that the edition tells of, by path.
func (r *reader) entries() (out []*ledger.Entry) {
	for _, e := range r.Entries() {
		if r.has(e) {
			out = append(out, e)
		}
	}
	return out
}

func (r *reader) has(e *ledger.Entry) bool { return e != nil && r.ed.has(e, r.View(e)) }

// shown are the values of an entry that the edition shows, with those that it takes
// from another that it is like.
func (r *reader) shown(e *ledger.Entry) []ledger.Value {
	if vs, ok := r.values[e]; ok {
		return vs
	}
	var out []ledger.Value
	if r.has(e) {
		for _, v := range r.all(e, 0) {
			if r.ed.shows(e, v) {
				out = append(out, v)
			}
		}
	}
	r.values[e] = out
	return out
}

// furthest is how many entries are followed that are like one another.
const furthest = 8

func (r *reader) all(e *ledger.Entry, depth int) []ledger.Value {
	own := e.Values()
	like := e.Schema().Like
	if like == nil || depth > furthest {
		return own
	}
	says := map[string]bool{}
	var model *ledger.Entry
	for _, v := range own {
		top, _, _ := strings.Cut(v.Key, ".")
		says[top] = true
		if v.Key == like.Key {
			model, _ = r.Entry(v.Text)
		}
	}
	if model == nil || model.Schema() != e.Schema() {
		return own
	}
	for _, v := range r.all(model, depth+1) {
		top, _, _ := strings.Cut(v.Key, ".")
		if f := e.Schema().Field(top); !says[top] && !(f != nil && f.Unless != "" && says[f.Unless]) {
			own = append(own, v)
		}
	}
	return own
}

// cell is what an entry says under keys, each with all below it, with commas
// between. A name of an entry leads there.
func (r *reader) cell(e *ledger.Entry, keys ...string) cell {
	var parts []cell
	for _, key := range keys {
		parts = append(parts, r.one(e, key))
	}
	return joined(", ", parts...)
}

func (r *reader) one(e *ledger.Entry, key string) cell {
	if e == nil {
		return nil
	}
	var parts []cell
	var at []ledger.Value
	for _, v := range r.shown(e) {
		switch {
		case v.Key != key && !strings.HasPrefix(v.Key, key+"."):
		case v.Field != nil && v.Field.Position:
			at = append(at, v)
		case strings.HasSuffix(v.Key, ".from") && e.Schema().Field(key) != nil && e.Schema().Field(key).Type == schema.Place:
			parts = append(parts, joined(" ", words("from"), r.value(v)))
		default:
			parts = append(parts, r.value(v))
		}
	}
	if len(at) > 0 {
		parts = append([]cell{words(placed(at))}, parts...)
	}
	return joined(", ", parts...)
}

// ways are how the distances of a place are said.
var ways = map[string][2]string{"behind": {"back", "ahead"}, "right": {"right", "left"}, "above": {"up", "down"}}

// placed says a place in the order back, right, up.
func placed(at []ledger.Value) string {
	var say []string
	for _, way := range []string{"behind", "right", "above"} {
		for _, v := range at {
			if !strings.HasSuffix(v.Key, "."+way) {
				continue
			}
			text, name := v.Text, ways[way][0]
			if rest, minus := strings.CutPrefix(text, "-"); minus {
				text, name = rest, ways[way][1]
			}
			say = append(say, text+" "+name)
		}
	}
	return strings.Join(say, ", ")
}

// value is one value in words.
func (r *reader) value(v ledger.Value) cell {
	f := v.Field
	switch {
	case v.Type == "nothing":
		return nil
	case v.Type == "truth":
		return words(map[string]string{"true": "yes", "false": "no"}[v.Text])
	case f != nil && f.Type == schema.Ref:
		return cell{r.link(v.Text)}
	}
	return words(plain(v.Text))
}

// link leads to the entry that a text names, by what people call it; a text that
// names none is words.
func (r *reader) link(text string) span {
	path, pin, pinned := strings.Cut(text, ":")
	e := r.EntryOf(path)
	if e == nil {
		kind, _, dotted := strings.Cut(path, ".")
		if r.ed == Public && dotted && ledger.KindNamed(kind) != nil {
			return span{}
		}
		return span{Text: plain(text)}
	}
	if !r.has(e) {
		if r.ed == Public {
			return span{}
		}
		return span{Text: "a private " + e.Schema().Called}
	}
	out := span{Text: r.name(e), To: r.anchor(e)}
	if pinned {
		out.Text += ":" + pin
	}
	return out
}

// Hides tells that an entry says something under a key that the edition does not
// show.
func (r *reader) Hides(path, key string) bool {
	e := r.EntryOf(path)
	if e == nil || !r.has(e) {
		return true
	}
	for _, v := range r.all(e, 0) {
		if (v.Key == key || strings.HasPrefix(v.Key, key+".")) && !r.ed.shows(e, v) {
			return true
		}
	}
	return false
}

// Name is what the edition calls an entry.
func (r *reader) Name(path string) string {
	e := r.EntryOf(path)
	if e == nil || !r.has(e) {
		return "a thing that is not shown"
	}
	return r.name(e)
}

// name is what people call an entry among others: what it says of itself, else its
// kind and its id; in an edition without paths, else its role or its kind.
func (r *reader) name(e *ledger.Entry) string {
	own := r.own(e)
	switch {
	case own != "":
		return own
	case !r.ed.paths():
		return cmp.Or(strings.ReplaceAll(r.says(e, "role"), "-", " "), e.Schema().Called)
	case e.ID == "":
		return e.Schema().Called
	}
	return e.Schema().Called + " " + strings.ReplaceAll(e.ID, "-", " ")
}

// own is the name that an entry gives itself.
func (r *reader) own(e *ledger.Entry) string {
	for _, key := range []string{"name", "title", "size"} {
		if s := r.says(e, key); s != "" {
			return s
		}
	}
	return ""
}

// entry is an entry as the head of its row, among others of its kind.
func (r *reader) entry(e *ledger.Entry) cell {
	name := r.own(e)
	if name == "" && r.ed.paths() {
		name = strings.ReplaceAll(e.ID, "-", " ")
	}
	return cell{{Text: cmp.Or(name, r.name(e)), To: r.anchor(e)}}
}

// among is an entry as the head of its row, among others of other kinds.
func (r *reader) among(e *ledger.Entry) cell {
	return cell{{Text: report.Upper(r.name(e)), To: r.anchor(e)}}
}

// anchor is where on the page an entry is told of in full; "" where it is not.
func (r *reader) anchor(e *ledger.Entry) string {
	if !r.ed.paths() || !r.has(e) {
		return ""
	}
	return "e." + e.Path()
}

// says is what an entry says under one key, in one line; "" where it is not shown.
func (r *reader) says(e *ledger.Entry, key string) string {
	if e == nil {
		return ""
	}
	for _, v := range r.shown(e) {
		if v.Key == key {
			return plain(v.Text)
		}
	}
	return ""
}

// note is an entry's note.
func (r *reader) note(e *ledger.Entry) template.HTML {
	for _, v := range r.shown(e) {
		if v.Key == schema.Note.Key {
			return markdown(v.Text)
		}
	}
	return ""
}

// where is a place as file and line, the file seen from the build's folder; one
// that stands outside it by its own name, for a path is of the machine that it was
// made on.
func (r *reader) where(p q.Place) string {
	file, in := strings.CutPrefix(p.File, r.rep.Folder+"/")
	if !in && file != "" && r.ed != Shop {
		file = path.Base(file)
	}
	if p.Line == 0 {
		return file
	}
	return file + ":" + strconv.Itoa(p.Line)
}

// ofKind are the entries of a kind that the edition shows something of, sorted.
func (r *reader) ofKind(kind string, list []*ledger.Entry) (out []*ledger.Entry) {
	for _, e := range list {
		if e.Kind == kind && len(r.shown(e)) > 0 {
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b *ledger.Entry) int { return ledger.Natural(a.Path(), b.Path()) })
	return out
}

// single is the entry of a kind that has one; nil where it is not there.
func (r *reader) single(kind string) *ledger.Entry {
	if e, ok := r.Entry(kind); ok && r.has(e) {
		return e
	}
	return nil
}

// systemTitle is what a system's chapter is called.
func systemTitle(name string) string {
	if name == "" {
		return "Of no system by itself"
	}
	return report.Upper(report.SystemName(name))
}

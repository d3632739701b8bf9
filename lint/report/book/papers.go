package book

import (
	"html/template"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/lint"
)

// papers are documents and signatures.
type papers struct {
	Documents  table
	Signatures table
	Digest     string
	Photos     []photo // that stand by no part
}

func (r *reader) papers(photos []photo) papers {
	out := papers{Documents: r.documents()}
	for _, p := range photos {
		if !p.placed {
			out.Photos = append(out.Photos, p)
		}
	}
	if r.ed == Owner {
		return out
	}
	out.Signatures, out.Digest = r.signatures(), r.rep.Digest()
	return out
}

// documents is the list of documents; the owner's is without files and digests.
func (r *reader) documents() table {
	t := table{Caption: "Documents", Heads: []string{"Document", "What", "Date", "By", "Proves", "File", "SHA-256"}}
	for _, e := range r.ofKind("document", r.entries()) {
		cells := []cell{r.entry(e), spaced(r.cell(e, "kind")), r.cell(e, "date"), r.cell(e, "by"), r.cell(e, "proves"), nil, nil}
		if r.ed != Owner {
			cells[5], cells[6] = r.cell(e, "file"), r.cell(e, "sha256")
		}
		t.add("", row{Cells: cells})
	}
	return t.trim()
}

// signatures are those of every stage; of the stage that is told of, whether they
// are over the ledger as it is.
func (r *reader) signatures() table {
	t := table{Caption: "Signatures", Heads: []string{"Signature", "Stage", "By", "Date", "Over this ledger", "Digest"}}
	state := map[string]string{}
	for _, c := range r.rep.Results {
		if c.OfSignature() {
			state[c.Entry] = map[bool]string{true: "yes", false: c.Word()}[c.Verdict == lint.Pass]
			if c.Reason != "" && c.Verdict != lint.Pass {
				state[c.Entry] = c.Reason
			}
		}
	}
	for _, e := range r.ofKind("signature", r.entries()) {
		t.add("", row{Cells: []cell{r.entry(e), r.cell(e, "stage"), r.cell(e, "by"), r.cell(e, "date"), words(state[e.Path()]), r.cell(e, "digest")}})
	}
	return t
}

// asked are questions and answers, and what came back after delivery.
type asked struct {
	Faqs   []faq
	Visits table
}

type faq struct {
	ID, Ask, Say string
	About        cell
	Note         template.HTML
}

func (r *reader) asked() (out asked) {
	for _, e := range r.ofKind("faq", r.entries()) {
		f := faq{r.anchor(e), r.says(e, "ask"), r.says(e, "say"), r.cell(e, "about"), r.note(e)}
		if f.Ask+f.Say != "" {
			out.Faqs = append(out.Faqs, f)
		}
	}
	t := table{Caption: "After delivery", Heads: []string{"Visit", "Date", "Odometer", "Complaint", "Cause", "Cure", "About"}}
	for _, e := range r.ofKind("visit", r.entries()) {
		t.add("", row{Cells: []cell{r.entry(e), r.cell(e, "date"), r.cell(e, "odometer"), r.cell(e, "complaint"), r.cell(e, "cause"), r.cell(e, "cure"), r.cell(e, "about")}})
	}
	out.Visits = t.trim()
	return out
}

// indexed is an entry with all that the edition shows of it.
type indexed struct {
	ID, Path, Name string
	Where          string
	Values         []indexedValue
}

type indexedValue struct {
	Key  string
	Says cell
	Line string // where another file or a far line has it; "" where it follows
}

// index is every entry, by path, with file and line.
func (r *reader) index() (out []indexed) {
	for _, e := range r.entries() {
		i := indexed{ID: r.anchor(e), Path: e.Path(), Where: r.where(e.Place)}
		if n := r.name(e); n != i.Path {
			i.Name = n
		}
		values := slices.Clone(r.shown(e))
		slices.SortStableFunc(values, func(a, b ledger.Value) int {
			if a.Place.File != b.Place.File {
				return strings.Compare(a.Place.File, b.Place.File)
			}
			return a.Place.Line - b.Place.Line
		})
		i.Values = r.indexedValues(values, e)
		out = append(out, i)
	}
	return out
}

// indexedValues are the values with those of one list or one place together.
func (r *reader) indexedValues(values []ledger.Value, e *ledger.Entry) (out []indexedValue) {
	for _, v := range values {
		key, at := v.Key, v.Place
		if outer, last, below := cutLast(key); below && v.Place.Line == lineOf(values, outer) && (digits(last) || v.Field != nil && v.Field.Position) {
			key = outer
		}
		if n := len(out); n > 0 && out[n-1].Key == key {
			if v.Field == nil || !v.Field.Position {
				out[n-1].Says = joined(", ", out[n-1].Says, r.value(v))
			}
			continue
		}
		says := r.value(v)
		if v.Field != nil && v.Field.Position {
			says = r.one(e, key)
		}
		line := ""
		if at.File != e.Place.File {
			line = r.where(at)
		}
		out = append(out, indexedValue{key, says, line})
	}
	return out
}

// lineOf is the line of the first value below a key.
func lineOf(values []ledger.Value, outer string) int {
	for _, v := range values {
		if strings.HasPrefix(v.Key, outer+".") {
			return v.Place.Line
		}
	}
	return 0
}

func cutLast(key string) (outer, last string, ok bool) {
	i := strings.LastIndexByte(key, '.')
	return key[:max(i, 0)], key[i+1:], i > 0
}

func digits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

package editor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fishplate/lint"
	"fishplate/lint/report"
)

// mostMargins is how many margins stand beside an entry, the tightest first.
const mostMargins = 2

// codeLenses are the margins beside the entries that they judge: "front axle 132 lb
// to spare".
func (s *server) codeLenses(p *placeParams) (any, error) {
	d, err := s.file(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []codeLens{}
	b := s.buildOf(d)
	if b == nil {
		return out, nil
	}
	j := s.judged(b)
	on := map[string][]*lint.Result{}
	for _, r := range j.rep.Results {
		if r.Numeric() && r.Margin.Known() && r.Verdict != lint.NotApplicable && r.Verdict != lint.Missing {
			on[r.Entry] = append(on[r.Entry], r)
		}
	}
	for _, e := range s.entriesOf(b, d.path) {
		if title := margins(b, on[e.Name]); title != "" {
			if b.stale() {
				title = "before: " + title
			}
			out = append(out, codeLens{e.SelectionRange, command{Title: title}})
		}
	}
	return out, nil
}

// margins words the tightest of some margins.
func margins(b *build, rs []*lint.Result) string {
	slices.SortStableFunc(rs, func(x, y *lint.Result) int {
		return cmp.Or(-lint.CompareBools(x.Verdict == lint.Fail, y.Verdict == lint.Fail), cmp.Compare(tightness(x), tightness(y)))
	})
	var say []string
	for _, r := range rs[:min(len(rs), mostMargins)] {
		_, name, _ := strings.Cut(r.Rule.Name, "/")
		text := strings.ReplaceAll(name, "-", " ")
		if r.Aspect != "" {
			text += " (" + r.Aspect + ")"
		}
		text += " " + report.NumbersOf(r, b.b.Style()).Off
		if r.Verdict != lint.Pass {
			text += ", " + r.Word()
		}
		say = append(say, plain(text))
	}
	if n := len(rs) - len(say); n > 0 {
		say = append(say, fmt.Sprintf("%d more", n))
	}
	return strings.Join(say, "; ")
}

// tightness is how far a margin goes as a share of its limit.
func tightness(r *lint.Result) float64 {
	span, ok := r.Span()
	if !ok {
		span = 1
	}
	return r.Margin.Value() / span
}

package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// Entry says what an entry is, and lists every check that reads it, with what
// it weighs in each.
func Entry(to io.Writer, opt Options, rep *lint.Report, e *ledger.Entry) error {
	t := newText(to, opt)
	t.folder = rep.Folder
	t.wrap("", "    ", "", Clean(rep.Title)+", "+Clean(rep.Folder))
	values := e.Values()
	at := ""
	if len(values) > 0 {
		first := values[0].Place
		for _, v := range values {
			if v.Place.File == first.File && v.Place.Line < first.Line {
				first = v.Place
			}
		}
		at = "  from " + t.where(first)
	}
	t.line("%s%s", t.paint(bold, Clean(e.Path())), at)
	about := aboutKeys(e.Path())
	for _, v := range values {
		text := Clean(v.Text)
		if v.Private {
			text = "(private)"
		}
		words := text
		if a := about[v.Key]; a != "" {
			words += "; " + a
		}
		t.wrap("  ", "      ", Clean(v.Key)+"  ", words)
	}
	var mine []*lint.Result
	for _, r := range rep.Results {
		if touches(r, e.Path()) && r.Verdict != lint.NotApplicable {
			mine = append(mine, r)
		}
	}
	if len(mine) == 0 {
		t.line("\nNo check reads it.")
		return t.w.Flush()
	}
	t.line("\n%s", t.paint(bold, fmt.Sprintf("Checks that read it (%d)", len(mine))))
	mine = InOrderOfHarm(mine)
	for i := range sections {
		for _, r := range mine {
			if firstSection(r) == i {
				t.reader(r, e.Path(), rep)
			}
		}
	}
	t.line("\nThe sum of one: fishplate explain RULE %s", Clean(rep.Folder))
	return t.w.Flush()
}

// aboutKeys is what each key of an entry's kind is.
func aboutKeys(path string) map[string]string {
	out := map[string]string{}
	for _, f := range ledger.KindOf(path).Fields {
		out[f.Key] = f.About
	}
	return out
}

// reader is a check that reads an entry: its verdict, its figures, and what the
// entry weighs in it.
func (t *text) reader(r *lint.Result, entry string, rep *lint.Report) {
	s := rep.Build.Style()
	t.wrap("", hang, t.paint(colorOf(r), fit(word(r), len(hang))), r.Rule.Name+" on "+Clean(r.Subject()))
	say := append(Says(r, s), weighs(r, entry, s)...)
	if len(say) > 0 {
		t.wrap(hang, hang, "", strings.Join(say, "; "))
	}
}

// weighs says what an entry gives to a check's margin, and to its doubt.
func weighs(r *lint.Result, entry string, s quantity.Style) []string {
	if !r.Numeric() || !r.Margin.Known() {
		return nil
	}
	return Weighs(r, r.Analysis(r.Margin).Shares(), entry, s)
}

// Weighs says it of one entry among the shares of the check's margin.
func Weighs(r *lint.Result, shares []quantity.Share, entry string, s quantity.Style) []string {
	var say []string
	doubt, mine := 0.0, 0.0
	for _, share := range shares {
		doubt += share.OfDoubt
		if share.Entry != entry {
			continue
		}
		mine = share.OfDoubt
		if v := share.OfValue; v != 0 && !math.IsNaN(v) {
			u := shown.UnitOf(r.Margin, r, s)
			way := "adds %s to the margin"
			if v < 0 {
				way = "takes %s from the margin"
			}
			say = append(say, fmt.Sprintf("it "+way, u.Join(u.Number(math.Abs(v), 3))))
		}
	}
	if mine > 0 && doubt > 0 && !math.IsInf(doubt, 0) {
		say = append(say, fmt.Sprintf("it brings %s of the doubt", Percent(mine/doubt)))
	}
	return say
}

// Percent is a share in whole percent.
func Percent(share float64) string {
	if share < 0.01 {
		return "less than 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

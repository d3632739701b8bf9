package book

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/lint/report"
)

// front is the first page.
type front struct {
	Lead     []cell // sentences
	Block    []fact // the block that says what the sheet is of
	Side     template.HTML
	Views    []template.HTML
	Axles    template.HTML
	Facts    []table
	Cautions []caution
	State    string
}

// fact is a value under its name.
type fact struct {
	Name string
	Says cell
}

// caution is what can hurt someone, and the checks that it stands by.
type caution struct {
	Says, Of string
	To       string
	State    string // how its checks stand that do not pass: 1 unproven, 2 missing
	stand    []*lint.Result
}

// title is what the book is of: what the shop calls the build, else what it is.
func (r *reader) title() string {
	if b := r.single("build"); b != nil {
		if t := r.says(b, "title"); t != "" {
			return t
		}
	}
	if r.ed != Public {
		return r.rep.Title
	}
	v := r.single("vehicle")
	var say []string
	for _, key := range []string{"year", "make", "model"} {
		if s := r.says(v, key); s != "" {
			say = append(say, s)
		}
	}
	if say == nil {
		return "A conversion"
	}
	return strings.Join(say, " ")
}

func (r *reader) front(drawn drawings) front {
	f := front{Lead: r.lead(), Block: r.block(), Side: drawn["side"], Axles: drawn["axle-loads"], Facts: r.facts(), State: report.Summary(r.rep)}
	for _, kind := range []string{"plan", "front"} {
		if d := drawn[kind]; d != "" {
			f.Views = append(f.Views, d)
		}
	}
	if r.ed == Public {
		f.State = counted(r.rep)
	}
	f.Cautions = r.cautions()
	return f
}

// counted says how many checks came to what: advice that does not hold apart, which
// fails nothing.
func counted(rep *lint.Report) string {
	var musts, advice []*lint.Result
	for _, r := range rep.Results {
		switch {
		case r.Verdict == lint.NotApplicable:
		case r.Should && r.Verdict != lint.Pass:
			advice = append(advice, r)
		default:
			musts = append(musts, r)
		}
	}
	best := func(a, b *lint.Result) int { return cmp.Compare(a.Verdict, b.Verdict) }
	say := "Checks: " + tally(musts, best) + "."
	if len(advice) > 0 {
		say += " Of what is only advised: " + tally(advice, best) + "."
	}
	return say
}

// tally counts checks by how they stand, in an order.
func tally(checks []*lint.Result, order func(a, b *lint.Result) int) string {
	var words []string
	count := map[string]int{}
	for _, c := range slices.SortedStableFunc(slices.Values(checks), order) {
		if count[c.Word()]++; count[c.Word()] == 1 {
			words = append(words, c.Word())
		}
	}
	for i, w := range words {
		words[i] = fmt.Sprint(count[w]) + " " + w
	}
	return strings.Join(words, ", ")
}

// figure is a value of an entry, which leads there.
func (r *reader) figure(e *ledger.Entry, key string) cell {
	c := r.cell(e, key)
	for i := range c {
		if c[i].To == "" && c[i].Text != ", " {
			c[i].To = r.anchor(e)
		}
	}
	return c
}

// sentence puts what is known into one sentence: words stand for themselves, and a
// run of words and figures is left out where one of its figures is not there.
func sentence(runs ...[]any) (out cell) {
	for _, run := range runs {
		var c cell
		whole := true
		for _, part := range run {
			switch p := part.(type) {
			case string:
				c = append(c, span{Text: p})
			case cell:
				whole = whole && !p.empty()
				c = append(c, p...)
			}
		}
		if whole {
			out = append(out, c...)
		}
	}
	if len(out) == 0 {
		return nil
	}
	out[0].Text = report.Upper(out[0].Text)
	return append(out, span{Text: "."})
}

func run(parts ...any) []any { return parts }

// lead is the paragraph that says what the vehicle is, made of facts.
func (r *reader) lead() (out []cell) {
	v, now, was := r.single("vehicle"), r.single("engine"), r.single("engine-was")
	add := func(c cell) {
		if len(c) > 2 || len(c) == 2 && c[1].Text == "." {
			out = append(out, c)
		}
	}
	of := func(e *ledger.Entry) func(string) cell {
		return func(key string) cell { return spaced(r.figure(e, key)) }
	}
	vv := of(v)
	if !vv("make").empty() || !vv("model").empty() {
		add(sentence(run(vv("year"), " "), run(vv("make"), " "), run(vv("model")), run(", ", vv("body")), run(", ", vv("drive"), " drive"), run(", built for ", vv("fuel"))))
	}
	engine := func(lead string, e *ledger.Entry) {
		ee := of(e)
		if e == nil {
			return
		}
		add(sentence(run(lead), run(ee("part"), ": "), run(ee("year"), " "), run(ee("fuel")), run(", ", ee("displacement")), run(", ", ee("cylinders"), " cylinders"),
			run(", ", ee("rated-power"), " at ", ee("rated-power-at")), run(", ", ee("peak-torque"), " at ", ee("peak-torque-at"))))
	}
	engine("engine now, ", now)
	engine("engine as received, ", was)
	for _, e := range r.ofKind("donor", r.Entries()) {
		d := of(e)
		add(sentence(run("parts came from a "), run(d("year"), " "), run(d("make"), " "), run(d("model"))))
	}
	return out
}

// spaced writes the words of a value with spaces in place of hyphens.
func spaced(c cell) cell {
	c = slices.Clone(c)
	for i := range c {
		if !strings.ContainsAny(c[i].Text, " 0123456789") {
			c[i].Text = strings.ReplaceAll(c[i].Text, "-", " ")
		}
	}
	return c
}

// block is the title block.
func (r *reader) block() (out []fact) {
	add := func(name string, c cell) {
		if !c.empty() {
			out = append(out, fact{name, c})
		}
	}
	shop := r.single("shop")
	add("Shop", r.cell(shop, "name"))
	add("Edition", words(r.ed.title()))
	add("Stage", words(r.rep.Stage.String()))
	add("As of", words(r.rep.AsOf))
	if r.ed != Public {
		v := r.single("vehicle")
		add("Owner", r.figure(r.single("owner"), "name"))
		add("VIN", r.figure(v, "vin"))
		add("Delivered", r.cell(r.single("build"), "delivered"))
		if r.ed == Owner || r.ed == Shop {
			add("Quoted", r.cell(r.single("build"), "quoted"))
		}
		add("Signed", r.signers())
		if id := r.rep.Digest(); id != "" {
			add("Ledger", words(short(id)))
		}
	}
	return out
}

// signers are who signed the stage that is told of, as far as their signatures
// hold.
func (r *reader) signers() (out cell) {
	for _, c := range r.rep.Results {
		if !c.OfSignature() || c.Verdict != lint.Pass {
			continue
		}
		if e := r.EntryOf(c.Entry); r.has(e) {
			out = joined("; ", out, joined(", ", cell{{Text: r.says(e, "by"), To: r.anchor(e)}}, r.cell(e, "date")))
		}
	}
	if out.empty() && r.ed != Public {
		return words("by nobody at this stage")
	}
	return out
}

// factsOf are the keys of the tables of facts, entry by entry.
var factsOf = []struct {
	entry, name string
	keys        string
}{
	{"vehicle", "Vehicle", "wheelbase height cg-height seats duty gross-rating combined-rating roof-rating top-speed"},
	{"engine", "Engine", "displacement cylinders idle governed cruise-limit peak-torque peak-torque-at rated-power rated-power-at"},
	{"vehicle.front", "Front axle", "rating track tire wheel spring-rate final-drive"},
	{"vehicle.rear", "Rear axle", "rating track tire wheel tires spring-rate final-drive"},
	{"transmission", "Transmission", "part kind gears torque-rating"},
	{"transfer", "Transfer case", "part high low"},
	{"supply", "Electrical", "voltage battery-cca alternator-cruise starter-current"},
	{"trailer", "Trailer", "mass tongue"},
}

// facts are the tables of what the vehicle is.
func (r *reader) facts() (out []table) {
	for _, f := range factsOf {
		if t := r.listed(r.single(f.entry), f.name, strings.Fields(f.keys)); t.Rows() > 0 {
			out = append(out, t)
		}
	}
	tanks := table{Caption: "Tanks", Heads: pairHeads}
	for _, e := range r.ofKind("tank", r.Entries()) {
		if c := joined(", ", r.cell(e, "capacity"), r.cell(e, "fluid")); !c.empty() {
			tanks.add("", row{Cells: []cell{r.entry(e), c}})
		}
	}
	if tanks.Rows() > 0 {
		out = append(out, tanks)
	}
	return out
}

var pairHeads = []string{"What", "Says"}

// listed is a table of what an entry says under some keys, a row a key; the value
// leads to the entry.
func (r *reader) listed(e *ledger.Entry, caption string, keys []string) table {
	t := table{Caption: caption, Heads: pairHeads}
	if e == nil {
		return t
	}
	for _, key := range keys {
		if c := r.figure(e, key); !c.empty() {
			t.add("", row{Cells: []cell{words(keyWords(key)), spacedKeys(c)}})
		}
	}
	return t
}

// keyWords is a key as words, short ones of letters as the trade writes them.
func keyWords(key string) string {
	words := strings.Split(key, "-")
	for i, w := range words {
		if slices.Contains([]string{"cca", "cg", "vin"}, w) {
			words[i] = strings.ToUpper(w)
		}
	}
	return report.Upper(strings.Join(words, " "))
}

// cautions are those of rules that judge something here, what is not settled
// first. An edition for everyone has those alone that are not settled.
func (r *reader) cautions() (out []caution) {
	at := map[string]int{}
	for _, c := range r.rep.Results {
		if c.Rule.Caution == "" || c.Verdict == lint.NotApplicable {
			continue
		}
		i, there := at[c.Rule.Name]
		if !there {
			i = len(out)
			at[c.Rule.Name] = i
			out = append(out, caution{Says: c.Rule.Caution, Of: c.Rule.Title, To: ruleAnchor(c.Rule)})
		}
		if c.Verdict != lint.Pass && !c.Should {
			out[i].stand = append(out[i].stand, c)
		}
	}
	worst := func(a, b *lint.Result) int { return cmp.Compare(b.Verdict, a.Verdict) }
	out = slices.DeleteFunc(out, func(c caution) bool { return len(c.stand) == 0 })
	for i := range out {
		if out[i].State = tally(out[i].stand, worst); r.ed == Public {
			out[i].To, out[i].State = "", ""
		}
	}
	return out
}

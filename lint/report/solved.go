package report

import (
	"slices"
	"strings"
	"unicode/utf8"

	"fishplate/ledger/quantity"
)

// Solved is one step of a worked solution, in words.
type Solved struct {
	Name, Formula string
	PutIn         string       // the formula with the numbers put in; "" where that says no more than the result
	Terms         []SolvedTerm // of a long sum, in place of PutIn
	Result        string       // with its tolerance, and its grade where that calls for care
	Again         bool         // told before: only the name and the result are of use
}

// SolvedTerm is one term of a long sum.
type SolvedTerm struct {
	Sign, Name  string
	Entry       string // that it is about; "" where it is about none
	Value, Made string // what it comes to, and of what, unless that is a step of its own
}

// Told are the steps that have been told, by what they say.
type Told map[string]bool

// Key tells a step from others.
func (s Solved) Key() string {
	out := []string{s.Name, s.Formula, s.PutIn, s.Result}
	for _, t := range s.Terms {
		out = append(out, t.Sign, t.Name, t.Value, t.Made)
	}
	return strings.Join(out, "\x00")
}

// Solve lists the named values that a quantity is made of, in an order in which
// each can be worked out from those before it. What an earlier solution has told
// already stands only where a new step starts from it, by its result.
func Solve(q quantity.Quantity, s quantity.Style, before Told) (out []Solved) {
	all := q.Steps()
	tabled := map[quantity.Quantity]bool{}
	for _, st := range all {
		for _, term := range st.Terms {
			tabled[term.Value] = true
		}
	}
	apart, Says := map[quantity.Quantity]bool{}, map[quantity.Quantity]Solved{}
	started := map[quantity.Quantity]bool{q: true}
	for _, st := range all {
		if apart[st.Result] = !tabled[st.Result] || len(st.Terms) > 0 || len(st.PutIn(s)) > inTable; !apart[st.Result] {
			continue
		}
		Says[st.Result] = solved(st, s, apart)
		if !before[Says[st.Result].Key()] {
			for _, part := range st.Parts() {
				started[part] = true
			}
		}
	}
	now := Told{}
	for _, st := range all {
		step, ok := Says[st.Result]
		key := step.Key()
		if !ok || now[key] {
			continue
		}
		if step.Again = before[key]; step.Again && (!started[st.Result] || now["as above "+key]) {
			now[key] = true
			continue
		}
		out = append(out, step)
		if step.Again {
			now["as above "+key] = true
		} else {
			now[key] = true
		}
	}
	for key := range now {
		before[key] = true
	}
	return out
}

// inTable is how long a term's working may be to stand in the table of its sum
// and not as a step of its own.
const inTable = 56

// solved is a step in words.
func solved(st quantity.Step, s quantity.Style, apart map[quantity.Quantity]bool) Solved {
	out := Solved{Name: Clean(st.Name), Formula: st.Formula, Result: result(st.Result, s)}
	if len(st.Terms) > 0 {
		out.Terms = solvedTerms(st, s, apart)
	} else if in := st.PutIn(s); in != s.Plain(st.Result) {
		out.PutIn = Clean(in)
	}
	return out
}

// solvedTerms are the terms of a long sum, each with what it is made of, unless
// that is a step of its own. They add up in the units of display.
func solvedTerms(st quantity.Step, s quantity.Style, apart map[quantity.Quantity]bool) (out []SolvedTerm) {
	terms := slices.DeleteFunc(slices.Clone(st.Terms), nothing)
	for i, name := range termNames(terms) {
		t := SolvedTerm{Sign: "+", Name: name, Entry: terms[i].Entry, Value: s.Plain(terms[i].Value)}
		if terms[i].Minus {
			t.Sign = "-"
		}
		if t.Value == "" {
			t.Value = "not known"
		}
		if in := Clean(terms[i].PutIn(s)); !apart[terms[i].Value] && in != t.Value && in != "("+t.Value+")" {
			t.Made = in
		}
		out = append(out, t)
	}
	return out
}

// steps writes the steps of a solution.
func (t *text) steps(q quantity.Quantity, s quantity.Style, before Told) {
	for _, st := range Solve(q, s, before) {
		if st.Again {
			t.wrap("  ", "      ", "", st.Name+" = "+st.Result+", as above")
			continue
		}
		t.wrap("  ", "      ", "", st.Name+" = "+st.Formula)
		lead := strings.Repeat(" ", min(utf8.RuneCountInString(st.Name), 20)) + " = "
		t.terms(st.Terms)
		if st.PutIn != "" {
			t.wrap("  "+lead, "      ", "", st.PutIn)
		}
		t.line("  %s%s", lead, st.Result)
	}
}

// terms lists a long sum term by term.
func (t *text) terms(terms []SolvedTerm) {
	var wide, across int
	for _, term := range terms {
		wide = max(wide, min(utf8.RuneCountInString(term.Name), 40))
		across = max(across, utf8.RuneCountInString(term.Value))
	}
	for _, term := range terms {
		pad := strings.Repeat(" ", across-utf8.RuneCountInString(term.Value))
		made := term.Made
		if made != "" {
			made = "= " + made
		}
		t.wrap("      ", "            ", term.Sign+" "+fit(term.Name, wide+2)+pad+term.Value+"  ", made)
	}
}

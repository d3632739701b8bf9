package vehicle

import (
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

var (
	otherNames = data.Table("names")
	metalWords = readMetals()
	noClamps   = data.Table("no-clamps").Rows()
)

// OtherNames are the trade's other words for a material of the tables of
// materials, in the order of their list.
func OtherNames(material string) []string {
	var out []string
	for _, name := range otherNames.Rows() {
		if otherNames.Word(name, "row") == material {
			out = append(out, name)
		}
	}
	return out
}

// MaterialNames has, for each word that the trade has for a material, the row of
// a table of materials that it is judged by. Every material has a row there.
func MaterialNames(rows []string) map[string]string {
	out := map[string]string{}
	for _, m := range rows {
		out[m] = m
	}
	for _, name := range otherNames.Rows() {
		row := otherNames.Word(name, "row")
		if _, taken := out[name]; taken || out[row] != row {
			panic("vehicle: material " + name + " is twice there, or there is no row " + row)
		}
		out[name] = row
	}
	return out
}

func readMetals() []string {
	var out []string
	for _, m := range data.Table("metals").Rows() {
		out = append(append(out, m), OtherNames(m)...)
	}
	return out
}

// IsMetal tells whether a material is a metal: what is made of it is tube and no
// hose.
func IsMetal(material q.Word) q.Truth { return material.Is(metalWords...) }

// Clamped tells that what holds a hose is not one of the things that hold none.
func Clamped(h *ledger.Hose) q.Truth {
	out := q.Is(true)
	for _, words := range noClamps {
		out = out.And(h.Clamps.Contains(words).Not())
	}
	return out
}

// Held tells that a hose says how it is held: its clamps, or its joints.
func Held(h *ledger.Hose) q.Truth {
	if slices.ContainsFunc([]q.Word{h.Clamps, h.Joined}, q.Word.Known) {
		return q.Is(true)
	}
	return h.Clamps.Required()
}

// EndsAboard tells that no end of a hose hangs on a part that came off, which does
// where one does, and whether any end is a part.
func EndsAboard(b *ledger.Build, h *ledger.Hose) (on q.Truth, off string, parts bool) {
	on = q.Is(true)
	for _, end := range []ledger.Ref{h.From, h.To} {
		if !end.Names("part").Holds() {
			continue
		}
		parts = true
		if is := Aboard(b.Part(end)); !is.Holds() {
			on, off = on.And(is), end.String()
		}
	}
	return on, off, parts
}

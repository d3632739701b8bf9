package quantity

import (
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"fishplate/ledger/spelling"
)

// UnitNamed finds a unit by any of its spellings, or as a product and quotient
// of such ("lb/gal", "ohm/km", "W/K", "A2·s"). The canonical spelling of a
// compound joins the canonical parts.
func UnitNamed(s string) (*Unit, bool) {
	if u, ok := atomic(s); ok {
		return u, true
	}
	s = strings.Join(strings.Fields(s), " ")
	if u, ok := unitBySymbol[s]; ok {
		return u, true
	}
	var out Unit
	for i := 0; ; i++ {
		p, rest, more := strings.Cut(s, "/")
		u, ok := product(strings.TrimSpace(p), i == 0 && more)
		if !ok || i > 3 {
			return nil, false
		}
		if i == 0 {
			out = u
		} else {
			out.Dim = out.Dim.mul(u.Dim, -1)
			out.Factor /= u.Factor
			out.Symbol += "/" + u.Symbol
		}
		if !out.sane() {
			return nil, false
		}
		if !more {
			return &out, true
		}
		s = rest
	}
}

// sane refuses towers of powers that no one measures in and that would run
// over.
func (u Unit) sane() bool {
	for _, e := range [...]int8{u.Dim.Length, u.Dim.Mass, u.Dim.Time, u.Dim.Current, u.Dim.Temperature, u.Dim.Angle, u.Dim.Money} {
		if e < -20 || e > 20 {
			return false
		}
	}
	return u.Factor > 1e-99 && u.Factor < 1e99
}

// product reads units joined by a dot; before a stroke it may be 1 or nothing.
func product(s string, unity bool) (Unit, bool) {
	out := Unit{Factor: 1}
	if unity && (s == "1" || s == "") {
		out.Symbol = "1"
		return out, true
	}
	for s != "" {
		i, size := strings.IndexByte(s, '*'), 1
		if j := strings.Index(s, "·"); j >= 0 && (i < 0 || j < i) {
			i, size = j, len("·")
		}
		atom, rest := s, ""
		if i >= 0 {
			if atom, rest = s[:i], s[i+size:]; rest == "" {
				return out, false
			}
		}
		u, k, ok := powered(strings.TrimSpace(atom))
		if !ok || u.Dim.Point {
			return out, false
		}
		out.Dim = out.Dim.mul(u.Dim.times(int8(k)), 1)
		if out.Symbol != "" {
			out.Symbol += "·"
		}
		out.Symbol += u.Symbol
		for range k {
			out.Factor *= u.Factor
		}
		if k != 1 {
			out.Symbol += string(rune('0' + k))
		}
		if !out.sane() {
			return out, false
		}
		s = rest
	}
	return out, out.Symbol != ""
}

// powers are the endings that raise a unit.
var powers = []struct {
	suffix string
	k      int
}{{"^2", 2}, {"^3", 3}, {"^4", 4}, {"2", 2}, {"3", 3}, {"4", 4}, {"²", 2}, {"³", 3}}

func powered(s string) (*Unit, int, bool) {
	if s == "" {
		return nil, 0, false
	}
	if u, ok := atomic(s); ok {
		return u, 1, true
	}
	for _, p := range powers {
		if base, ok := strings.CutSuffix(s, p.suffix); ok && base != "" {
			u, ok := unitBySymbol[base]
			if !ok || strings.ContainsAny(u.Symbol, "%234/") {
				return nil, 0, false
			}
			return u, p.k, true
		}
	}
	return nil, 0, false
}

// slips are signs that people write for a unit and that are no unit: too short
// to be near one, or another trade's.
var slips = map[string]string{"F": "degF", "f": "degF", "C": "degC", "c": "degC", "#": "lb", "CCA": "A", "cca": "A", "amperes": "A"}

// unitNames are all spellings of all units, in order.
var unitNames = slices.DeleteFunc(slices.Sorted(maps.Keys(unitBySymbol)), func(s string) bool { return s == "" })

// nearUnit suggests a unit of the dimension that is wanted before any other.
// Of a word of two letters a change of one says nothing, except among those.
func nearUnit(s string, dim Dim) string {
	letters := utf8.RuneCountInString(s)
	if letters > 20 {
		return ""
	}
	if u := unitBySymbol[slips[s]]; u != nil && u.Symbol != "" && (dim.any || u.Dim.diff() == dim.diff()) {
		return u.Symbol
	}
	var fit []string
	for _, name := range unitNames {
		if u := unitBySymbol[name]; dim.any || u.Dim == dim {
			if strings.EqualFold(name, s) {
				return u.Symbol
			}
			fit = append(fit, name)
		}
	}
	near := ""
	if letters > 2 || letters == 2 && !dim.any {
		near = spelling.Nearest(s, fit)
	}
	if near == "" && letters > 2 {
		near = spelling.Nearest(s, unitNames)
	}
	if near == "" {
		return ""
	}
	return unitBySymbol[near].Symbol
}

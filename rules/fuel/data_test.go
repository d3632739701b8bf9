package fuel

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/packtest"
)

func word(s string) quantity.Word { return quantity.Written(s, &quantity.Source{Key: s}) }

func grades(materials []string, fuel string) map[string]bool {
	out := map[string]bool{}
	for _, m := range materials {
		out[matrix()[pair(rowNames[m], fuel)].grade] = true
	}
	return out
}

// Every cell of the matrix against the lists in the publications. Each list is
// as printed there, less what has no row (cork, leather, fibreglass, glass).
func TestMatrixAgainstLists(t *testing.T) {
	only := func(g ...string) map[string]bool {
		out := map[string]bool{}
		for _, s := range g {
			out[s] = true
		}
		return out
	}
	// Biodiesel guidance, of B100: what speeds oxidation, what to put in its
	// place, polymers that suffer, those with little reaction. Type A FKM, nylon
	// 12 and plain polyethylene are taken more cautiously than the list.
	assert.Equal(t, only("not-recommended"), grades([]string{"brass", "bronze", "copper", "lead", "tin", "zinc"}, "b100"))
	assert.Equal(t, only("ok"), grades([]string{"stainless-steel", "carbon-steel", "aluminum"}, "b100"))
	assert.Equal(t, only("not-recommended"), grades([]string{"natural-rubber", "nitrile", "polypropylene", "pvc"}, "b100"))
	assert.Equal(t, only("ok"), grades([]string{"ptfe", "fkm-peroxide-cured", "nylon-66"}, "b100"))
	assert.Equal(t, only("ok", "caution"), grades([]string{"fkm", "nylon-12", "ptfe"}, "b100"))
	// Of B20 the effect is much smaller: nothing in those lists is refused for
	// it, save zinc and natural rubber, which are for any diesel (from memory).
	assert.Equal(t, only("caution"), grades([]string{"brass", "bronze", "copper", "lead", "tin", "nitrile", "polypropylene", "pvc"}, "b20"))
	assert.Equal(t, only("ok"), grades([]string{"stainless-steel", "carbon-steel", "aluminum", "ptfe", "fkm", "nylon-66"}, "b20"))
	// E85 handbook: non-metals that degrade, those that resist. Nitrile and
	// chloroprene resist by the list and swell or decompose by the laboratory.
	assert.Equal(t, only("not-recommended"), grades([]string{"natural-rubber", "polyurethane", "pvc", "nylon-66", "nylon-12"}, "e85"))
	assert.Equal(t, only("ok"), grades([]string{"polypropylene", "fkm", "fkm-peroxide-cured", "ptfe"}, "e85"))
	assert.Equal(t, only("caution"), grades([]string{"nitrile", "chloroprene"}, "e85"))
	// The handbook's metals, from memory: to avoid, and accepted.
	assert.Equal(t, only("not-recommended"), grades([]string{"zinc", "brass", "lead", "aluminum"}, "e85"))
	assert.Equal(t, only("ok"), grades([]string{"steel", "stainless", "bronze"}, "e85"))
	// Laboratory: from E5 to E10 chloroprene and nitrile, and nylon 66, suffer;
	// polypropylene swells in plain diesel; silicone does well in biodiesel.
	assert.Equal(t, only("caution"), grades([]string{"chloroprene", "nitrile", "nylon-66"}, "e10"))
	assert.Equal(t, only("caution"), grades([]string{"polypropylene"}, "d975"))
	assert.Equal(t, only("caution"), grades([]string{"silicone"}, "b100"))
}

// Plain diesel is judged as B5, which is no milder than the column of ASTM D975
// itself; B20 is no milder than B5. B100 is not held to that: silicone does
// better in it.
func TestBlendsGetNoMilder(t *testing.T) {
	rank := map[string]int{"ok": 0, "caution": 1, "not-recommended": 2}
	assert.Equal(t, "b5", columns["diesel"])
	rows := data.Table("matrix").Rows()
	for _, m := range rows {
		d, b5, b20 := matrix()[pair(m, "d975")].grade, matrix()[pair(m, "b5")].grade, matrix()[pair(m, "b20")].grade
		assert.LessOrEqual(t, rank[d], rank[b5], m)
		assert.LessOrEqual(t, rank[b5], rank[b20], m)
	}
	t.Logf("%d materials", len(rows))
}

// Whoever uses a word that no table has is told where they are listed, and they
// are listed there, every one.
func TestKnownWordsAreListed(t *testing.T) {
	for _, needs := range [][]quantity.Need{rowOf(word("terne")).Needs(), columnOf(word("kerosene")).Needs()} {
		require.Len(t, needs, 1)
		assert.Contains(t, needs[0].Key, "fishplate explain fuel/material lists")
	}
	for name := range rowNames {
		assert.Contains(t, material.Note, name)
	}
	for name := range columns {
		assert.Contains(t, material.Note, name)
	}
}

// Where SAE J30's scope is silent, it is the maker's word that is asked for.
func TestTheMakersWordIsAskedFor(t *testing.T) {
	b := packtest.Build(t, "[fuel]\ncarries = [\"diesel\"]\n[hose.return]\ncarries = \"fuel\"\nclass = \"SAE 30R7\"\nmaterial = \"nbr\"\nimmersed = false\n")
	for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{}).Results {
		if r.Subject() == "hose.return (diesel)" && r.Rule == hoseClass {
			require.Len(t, r.Needs, 1)
			assert.Equal(t, "hose.return.rated-for, the maker's word: SAE J30's scope does not say that 30R7 carries diesel", r.Needs[0].Key)
			return
		}
	}
	assert.Fail(t, "no check of the hose's type")
}

// ASTM D975 covers up to 5 % biodiesel, D7467 6 to 20 %.
func TestBlendStandards(t *testing.T) {
	for fuel, column := range map[string]string{"diesel": "b5", "B5": "b5", "B7": "b20", "b20": "b20", "B100": "b100", "gasoline": "e10", "E10": "e10", "E85": "e85"} {
		assert.Equal(t, column, columnOf(word(fuel)).String(), fuel)
	}
	for _, fuel := range []string{"E15", "B30", "kerosene"} {
		assert.False(t, columnOf(word(fuel)).Known(), fuel)
	}
}

func TestWords(t *testing.T) {
	for name, row := range map[string]string{"Nitrile": "nbr", "FKM": "fkm-bisphenol-cured", "carbon steel": "carbon-steel", "nylon_12": "nylon-12", "Aluminum": "aluminum-bare", "Nitrile Rubber": "nbr", "polyamide 12": "nylon-12"} {
		assert.Equal(t, row, rowOf(word(name)).String(), name)
	}
	for _, name := range []string{"rubber", "nylon", "plastic", "polyethylene", "terne", "cast iron"} {
		assert.False(t, rowOf(word(name)).Known(), name)
	}
	for _, s := range []string{"30R9", "SAE 30R9", "r9", "SAE J30 R9", " J30R9 "} {
		assert.Equal(t, "30R9", typeOf(s), s)
	}
	// A word for several compounds takes the one that fares worse.
	for f := range columns {
		c := columns[f]
		if matrix()[pair("fkm-bisphenol-cured", c)].grade == "ok" {
			assert.Equal(t, "ok", matrix()[pair("fkm-peroxide-cured", c)].grade, c)
		}
	}
}

// Every cell's words say where it is from, and whether that is from memory.
func TestCellsAreCited(t *testing.T) {
	confirmed, memory := 0, 0
	for _, m := range data.Table("matrix").Rows() {
		for _, f := range data.Table("matrix").Columns()[1:] {
			j := matrix()[pair(m, f)]
			mark := strings.Contains(j.after, "(from memory)")
			assert.Equal(t, data.Table("confirmed").Word(m, f) == "", mark, "%s %s", m, f)
			if mark {
				memory++
			} else {
				confirmed++
			}
		}
	}
	t.Logf("%d cells confirmed, %d from memory", confirmed, memory)
	for _, u := range data.Unused() {
		t.Errorf("source %s is not used", u)
	}
}

// SAE J30's scope: type 13 is the one for diesel and biodiesel; the scope
// names diesel for the standard as a whole, and no other type for biodiesel.
func TestJ30Scope(t *testing.T) {
	require.Len(t, types.Rows(), 11)
	for _, r := range types.Rows() {
		thirteen := r == "30R13"
		assert.Equal(t, thirteen, inScope(word(r), word("B20")).Holds(), r)
		assert.True(t, inScope(word(r), word("B100")).Known(), r)
		assert.Equal(t, thirteen, inScope(word(r), word("diesel")).Known(), r)
		assert.Equal(t, !thirteen, inScope(word(r), word("gasoline")).Holds(), r)
		assert.Equal(t, r == "30R10", strings.Contains(types.Word(r, "service"), "in the tank"), r)
	}
	assert.False(t, inScope(word("30R99"), word("B20")).Known())
}

// DOE AFDC: No. 2 diesel 7.079 lb/gal and specific gravity 0.85, ethanol 6.61 lb/gal
// and 0.794, gasoline 0.72 to 0.78; NREL: B100 7.3 lb/gal and 0.88. The two
// columns agree to the digits printed (water at 60 °F is 0.999 kg/L).
func TestDensities(t *testing.T) {
	kgL := func(text string) float64 { return quantity.Cited("density", text, "").Value() / 1000 }
	assert.InDelta(t, 0.85, kgL("7.079 lb/gal")/0.999, 0.005)
	assert.InDelta(t, 0.794, kgL("6.61 lb/gal")/0.999, 0.002)
	assert.InDelta(t, 0.88, kgL("7.3 lb/gal")/0.999, 0.005)
	for column, ends := range map[string][2]float64{
		"e0": {0.72, 0.78}, "e10": {0.72, 0.794}, "e85": {0.72, 0.794}, "b5": {0.848, 0.875}, "b20": {0.848, 0.875}, "b100": {0.875, 0.875},
	} {
		lo, hi := densities[column].Forward()
		assert.InDelta(t, ends[0]*1000, lo, 0.5, column)
		assert.InDelta(t, ends[1]*1000, hi, 0.5, column)
	}
	require.Len(t, densities, 6)
}

// SAE J285: the gasoline spout goes into a neck for the light diesel spout and
// not the other way; a truck's spout goes into neither.
func TestSpouts(t *testing.T) {
	size := func(k string) float64 { return data.Value(k).Value() }
	assert.Less(t, size("unleaded-spout-largest"), size("diesel-spout-least"))
	assert.Less(t, size("diesel-spout-least"), size("diesel-spout-largest"))
	assert.Less(t, size("diesel-spout-largest"), size("truck-spout-least"))
}

// What a verdict counts for: not recommended is a must also from memory,
// caution a should, a type's figures from memory a should.
func TestLevels(t *testing.T) {
	for folder, want := range map[string]struct {
		should bool
		says   string
	}{
		"material/fail":                   {false, "epdm is not recommended with diesel (taken as B5) [General elastomer chemistry and metal practice, the cautious side taken (from memory)]"},
		"material/fail-e85":               {false, "(from memory)"},
		"material/fail-advice-caution":    {true, "nbr is to be watched with B20 [Biodiesel trade-board guidance"},
		"hose-class/fail-advice-pressure": {true, "(from memory)"},
		"hose-class/fail-type":            {false, "30R13 is the one"},
	} {
		rule, _, _ := strings.Cut(folder, "/")
		found := false
		for _, r := range lint.Check(packtest.Load(t, "testdata/"+folder), []*lint.Pack{Pack}, lint.Options{}).Results {
			if r.Rule.Name == "fuel/"+rule && r.Verdict == lint.Fail {
				found = true
				assert.Equal(t, want.should, r.Should, folder)
				assert.Contains(t, r.Reason, want.says, folder)
			}
		}
		assert.True(t, found, folder)
	}
}

// One check a wetted thing and fuel, the fuel being its aspect.
func TestOneCheckAFuel(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range lint.Check(packtest.Load(t, "testdata/material/pass"), []*lint.Pack{Pack}, lint.Options{}).Results {
		if r.Rule == material {
			seen[r.Subject()] = true
		}
	}
	assert.Equal(t, map[string]bool{"hose.feed (diesel)": true, "hose.feed (B20)": true, "wetted.tank (diesel)": true, "wetted.tank (B20)": true}, seen)
}

// The symbolic side: a supply line on the ledger of phantoms reaches a formula.
func TestPhantomFormula(t *testing.T) {
	loss := supplyLoss(ledger.Phantoms())
	assert.False(t, loss.Known())
	assert.Equal(t, quantity.Pressure, loss.Dim())
	assert.NotEmpty(t, loss.Steps())
}

package weight

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

// Where only the load index gives a tire's rating, tire-load advises and
// tires-cover-rating still demands.
func TestMemoryMakesAShould(t *testing.T) {
	for folder, should := range map[string]bool{"testdata/tire-load/fail": false, "testdata/tire-load/fail-index": true, "testdata/tires-cover-rating/pass-index": true} {
		rep := lint.Check(packtest.Load(t, folder), []*lint.Pack{Pack}, lint.Options{})
		for _, r := range rep.Results {
			switch r.Rule {
			case tireLoad:
				assert.Equal(t, should, r.Should, folder)
			case tiresCoverRating:
				assert.False(t, r.Should, folder)
			}
		}
	}
}

func TestRiskBands(t *testing.T) {
	assert.Contains(t, rollover.Note, "less than 10 % from 1.45, 10 to 20 % from 1.25, ")
	assert.Contains(t, rollover.Note, "30 to 40 % from 1.04, more than 40 % below 1.04.")
}

// Where scale and ledger disagree the row says by how much, and which entries
// are least certain: by hand 2500 + 660 - 550 = 2610 lb expected, 2800 found.
func TestScaleSaysByHowMuch(t *testing.T) {
	b := packtest.Build(t, `
[build]
title = "x"
stage = "delivery"
[vehicle]
wheelbase = "100.0 in"
[weighing.as-received]
when = "as-received"
front = "2500 ± 5 lb"
rear = "2000 ± 5 lb"
[weighing.as-built]
when = "as-built"
front = "2800 ± 5 lb"
rear = "1940 ± 5 lb"
[part.engine-was]
origin = "original"
fitted = false
mass = "550 ± 1 lb"
at = { behind = "0.0 in", above = "30 in" }
[part.engine]
origin = "donor"
mass = "600 ± 30 lb"
at = { behind = "-10.0 in", above = "30 in" }
`)
	for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-04-20"}).Results {
		if r.Rule == scaleAgrees && r.Entry == "vehicle.front" {
			assert.Contains(t, r.Reason, "the ledger has 190 ± ")
			assert.Contains(t, r.Reason, "less on it than the scale found; most of what is uncertain is in part.engine.mass, ")
		}
	}
}

// 235/85R16 120/116S, the example of the page that the speeds were read on: S is
// 180 km/h. The symbols do not stand in the order of the alphabet, H lies between
// U and V; N and U were not on that page, and say so.
func TestSpeedSymbols(t *testing.T) {
	assert.InDelta(t, 180, in(t, fastest(q.Written("S", nil)), "km/h"), 1e-9)
	last := 0.0
	for _, symbol := range strings.Split("L M N P Q R S T U H V W Y", " ") {
		v := in(t, fastest(q.Written(symbol, nil)), "km/h")
		assert.Greater(t, v, last, symbol)
		assert.Equal(t, symbol == "N" || symbol == "U", strings.Contains(fastest(q.Written(symbol, nil)).Source().Cite, "from memory"), symbol)
		last = v
	}
	assert.False(t, fastest(q.Written("X", nil)).Known())
}

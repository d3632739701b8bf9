package weight

import (
	"testing"

	"github.com/stretchr/testify/assert"

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

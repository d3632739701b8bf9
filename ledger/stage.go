package ledger

import (
	"fmt"

	"fishplate/ledger/schema"
)

// Stage is how far a build has come.
type Stage int

// The stages, in order. AtNever is after them all.
const (
	AtIntake Stage = iota
	AtPlan
	AtMockUp
	AtAssembly
	AtFirstStart
	AtRoadTest
	AtDelivery
	AtNever
)

// StageNames are the stages' words, in order.
var StageNames = []string{"intake", "plan", "mock-up", "assembly", "first-start", "road-test", "delivery"}

// String is the stage's word.
func (s Stage) String() string {
	if s >= 0 && int(s) < len(StageNames) {
		return StageNames[s]
	}
	return "never"
}

// StageNamed finds a stage by its word.
func StageNamed(word string) (Stage, error) {
	for i, n := range StageNames {
		if n == word {
			return Stage(i), nil
		}
	}
	return 0, fmt.Errorf("unknown stage %q; the stages are, in order, %s%s", word, schema.Or(StageNames), didYouMean(word, StageNames))
}

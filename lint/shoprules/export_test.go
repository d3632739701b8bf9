package shoprules

import "fishplate/ledger"

// What one expression may take, for tests.
const (
	MostSteps = mostSteps
	MostSums  = mostSums
)

// Spent is what the rules of a shop took on a build.
func Spent(b *ledger.Build) (steps, sums int) {
	s := spentOn(b)
	return s.steps, s.sums
}

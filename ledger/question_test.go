package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A shop's question says what it asks and since when, and its facts are known
// ones: a misspelled one would be asked of nobody.
func TestQuestionFaults(t *testing.T) {
	write(t, map[string]string{
		"build.toml": "[build]\n",
		"shop.toml":  "[question.a]\nask = \"?\"\nsince = 2026-01-01\napplies-when = [\"role turbocharger\", \"fuel diesl\", \"kept radiatr\", \"colour red\"]\nsettled-by = [\"entry instruction\", \"entry test.oil\", \"entry tset\"]\n\n[question.b]\n",
	})
	_, faults := load(t, ".")
	assert.Equal(t, []string{
		`shop.toml:4:38: no fuel is called "diesl"; did you mean "diesel"?`,
		`shop.toml:4:52: no role is called "radiatr"; did you mean "radiator"?`,
		`shop.toml:4:68: applies-when takes a fact that begins with role, kept, removed or fuel, such as "role turbocharger"`,
		`shop.toml:5:54: no kind of entry is called "tset"; did you mean "test"?`,
		`shop.toml:7:11: question.b says no ask: the question`,
		`shop.toml:7:11: question.b says no since: the day from which it is asked: a build delivered before it is not`,
	}, faultLines(faults))
}

// A question is part of what is signed where it is asked, and only there.
func TestQuestionInDigest(t *testing.T) {
	digest := func(build, question string) string {
		write(t, map[string]string{"build.toml": build, "shop.toml": question})
		b, faults := load(t, ".")
		require.Empty(t, faultLines(faults))
		return b.Digest()
	}
	q := "[question.a]\nask = \"downhill?\"\nsince = 2026-09-01\napplies-when = [\"role turbocharger\"]\n"
	turbo := "[part.t]\nrole = \"turbocharger\"\n"
	assert.NotEqual(t, digest(turbo, ""), digest(turbo, q))
	assert.Equal(t, digest("[part.t]\n", ""), digest("[part.t]\n", q))
	delivered := "[build]\ndelivered = 2026-08-31\n" + turbo
	assert.Equal(t, digest(delivered, ""), digest(delivered, q), "learned later")
}

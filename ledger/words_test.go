package ledger_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A word that no list has is missing where a rule would read it, whatever
// absence would have meant, and is told with the word it may have been.
func TestUnknownWordsAreMissing(t *testing.T) {
	write(t, map[string]string{"build.toml": "[part.a]\nrole = \"strater\"\nmounted-on = \"rof\"\n[hose.a]\ncarries = \"Diesle\"\n[part.b]\nrole = \"Brake Booster\"\n[fuel]\ncarries = [\"b20\", \"kerosine\"]\n"})
	b, faults := load(t, ".")
	require.Empty(t, faultLines(faults))
	a := b.Parts()[0]
	for name, truth := range map[string]bool{
		"role":                   a.Role.Is("starter").Known(),
		"role, or else no":       a.Role.Is("starter").OrElse(false).Known(),
		"one of two is no":       a.Role.Is("starter").Or(a.Fitted.Not()).OrElse(false).Known(),
		"what absence would say": a.MountedOn.Is("inside").Known(),
		"another default":        a.Role.Or("engine").Is("engine").Known(),
	} {
		assert.False(t, truth, name)
	}
	assert.Equal(t, "brake-booster", b.Parts()[1].Role.String(), "as the list spells it")
	assert.Equal(t, "B20", b.Fuel().Carries[0].String())
	var told []string
	for _, e := range b.Entries() {
		for _, w := range e.Unheard() {
			told = append(told, w.Need.Key)
		}
	}
	assert.Equal(t, []string{
		`a known word for fuel.carries.1; "kerosine" is none: did you mean "kerosene"?`,
		`a known word for hose.a.carries; "Diesle" is none: did you mean "diesel"?`,
		`a known word for part.a.role; "strater" is none: did you mean "starter"?`,
		`a known word for part.a.mounted-on; "rof" is none: did you mean "roof"?`,
	}, told)
}

// A shop's own word is taken as the known one that it is like, and is under
// the digest of the builds that use it.
func TestOwnWords(t *testing.T) {
	own := "[word.crank-motor]\nof = \"role\"\nlike = \"starter\"\n[word.unused]\nof = \"fluid\"\nlike = \"%\"\n"
	lay := func(like string) string {
		write(t, map[string]string{
			".git/HEAD": "", "shop.toml": own[:len(own)-3] + like + "\"\n",
			"van/build.toml": "[part.a]\nrole = \"crank motor\"\n",
		})
		b, faults := load(t, "van")
		require.Empty(t, faultLines(faults))
		assert.Equal(t, "starter", b.Parts()[0].Role.String())
		assert.Empty(t, b.Entries()[0].Unheard())
		return b.Digest()
	}
	assert.Equal(t, lay("water"), lay("coolant"), "a word that the build does not use is not under its digest")

	write(t, map[string]string{"shop.toml": "[word.a]\nlike = \"starter\"\n[word.b]\nof = \"roll\"\nlike = \"starter\"\n[word.c]\nof = \"role\"\nlike = \"strater\"\n[word.starter]\nof = \"role\"\nlike = \"starter\"\n[word.d]\nof = \"role\"\n", "van/build.toml": "[build]\n[word.x]\nof = \"role\"\n"})
	_, faults := load(t, "van")
	assert.Equal(t, []string{
		`shop.toml:1:7: word.a does not say of: which list it is for, such as role`,
		`shop.toml:4:6: there is no list of words "roll"; takes one of body, fluid, hose role, material, mounting, pin function, role or system; did you mean "role"?`,
		`shop.toml:8:8: "strater" is no known word for a role; did you mean "starter"?`,
		`shop.toml:9:7: "starter" is a known word for a role already`,
		`shop.toml:12:7: word.d does not say like: the known word that it is taken as`,
		`van/build.toml:2:2: [word.ID] stands in shop.toml, not in a build`,
	}, faultLines(faults))
}

// A word that is on no list is told with what it may have been meant for: the one that is
// spelled nearest, those that have its parts, or all of a short list.
func TestWordsMeant(t *testing.T) {
	for entry, says := range map[string]string{
		"[vehicle]\nbody = \"pikup\"\n":               `; "pikup" is none: did you mean "pickup"?`,
		"[vehicle]\nbody = \"crew pickup\"\n":         `; "crew pickup" is none: is crew-cab-pickup meant?`,
		"[part.a]\nmounted-on = \"bonnet\"\n":         `; "bonnet" is none: it takes axle, bed, frame, hitch, hood, inside, rack, roof, tongue or wheel`,
		"[part.a]\nrole = \"manual things\"\n":        `; "manual things" is none: is manual-brakes meant?`,
		"[part.a]\nrole = \"whatsit\"\n":              `; "whatsit" is none`,
		"[part.a]\nrole = \"brake whatsit of one\"\n": `; "brake whatsit of one" is none`,
	} {
		write(t, map[string]string{"van/build.toml": entry})
		b, faults := load(t, "van")
		require.Empty(t, faultLines(faults))
		require.Len(t, b.Entries()[0].Unheard(), 1, entry)
		assert.True(t, strings.HasSuffix(b.Entries()[0].Unheard()[0].Need.Key, says), b.Entries()[0].Unheard()[0].Need.Key)
	}
}

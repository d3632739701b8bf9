package main

import (
	"encoding/base64"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// canaries is a build in which every word that is not public is one.
const canaries = `
[build]
title = "CANARY"
note = "CANARY"
quoted = "47110815 USD"
[owner]
name = "CANARY"
contact = "CANARY"
[vehicle]
make = "Pellwick"
model = "Forwarder 122"
vin = "CANARY"
wheelbase = "122 in"
note = "CANARY"
[vehicle.front]
rating = "4300 lb"
[vehicle.rear]
rating = "5980 lb"
[donor.canary]
make = "Drummel"
vin = "CANARY"
[load.canary]
mass = "205 lb"
at = { behind = "58 in", right = "0 in", above = "44 in" }
note = "CANARY"
[part.canary]
name = "Engine"
origin = "donor"
donor = "donor.canary"
supplier = "CANARY"
change = "CANARY"
why = "CANARY"
made = { by = "CANARY", material = "steel" }
fate = "kept"
price = "33445566 USD"
at = { behind = "5 in", right = "0 in", above = "30 in" }
mass = "700 lb"
note = "CANARY"
[part.shown]
name = "Radiator"
origin = "bought"
why = "Chosen words"
public = true
note = "Chosen note"
supplier = "CANARY"
made = { by = "CANARY" }
[part.bare-canary]
mass = "12 lb"
at = { from = "assembly.canary", behind = "1 in", right = "2 in", above = "3 in" }
[assembly.canary]
at = { behind = "9 in", right = "0 in", above = "30 in" }
was-at = { behind = "12 in", right = "0 in", above = "30 in" }
note = "CANARY"
[tank.canary]
fluid = "diesel"
capacity = "20 gal"
at = { behind = "80 in", right = "0 in", above = "20 in" }
[weighing.canary]
when = "as-received"
front = "3300 lb"
rear = "2900 lb"
note = "CANARY"
[gap.shown]
between = ["part.canary", "part.bare-canary"]
kind = "belt-to-fixed"
measured = "1.5 in"
motion = "0.25 in"
least = "0.5 in"
public = true
[shaft.shown]
from = "part.canary"
to = "part.bare-canary"
length = "50 in"
joints = 2
slopes = { from = "3 deg", shaft = "6 deg", to = "3 deg" }
public = true
[shaft.canary]
from = "part.canary"
to = "part.bare-canary"
length = "51 in"
slopes = { from = "3 deg", shaft = "6 deg", to = "3 deg" }
[loop.shown]
carries = "coolant"
through = ["part.canary", "hose.canary", "part.bare-canary"]
public = true
[loop.canary]
carries = "coolant"
through = ["part.bare-canary", "hose.canary", "part.canary"]
[hose.canary]
from = "part.canary"
to = "part.bare-canary"
bore = "1 in"
length = "77 in"
[circuit.shown]
from = "part.canary"
to = ["part.bare-canary"]
gauge = "10 AWG"
color = "red"
length = "10 ft"
public = true
[decision.canary]
question = "CANARY"
chose = "CANARY"
because = "CANARY"
[decision.shown]
question = "Chosen question"
chose = "Chosen answer"
public = true
about = ["part.canary", "document.canary"]
[faq.canary]
ask = "CANARY"
say = "CANARY"
[faq.shown]
ask = "Chosen ask"
say = "Chosen say"
public = true
[instruction.canary]
when = "CANARY"
do = "CANARY"
[visit.canary]
complaint = "CANARY"
public = true
[answer.canary]
says = "CANARY"
[gap.canary]
between = ["part.canary", "CANARY"]
measured = "1 in"
note = "CANARY"
[circuit.canary]
from = "part.canary"
insulation = "CANARY"
note = "CANARY"
[plug.canary]
mounted-on = "CANARY"
[work.canary]
hours = "62342 h"
title = "CANARY"
by = "CANARY"
[document.canary]
kind = "CANARY"
file = "canary.txt"
by = "CANARY"
public = true
private = true
[waiver.canary]
rule = "weight/gross"
entry = "vehicle"
because = "CANARY"
by = "CANARY"
until = 2027-01-01
[signature.canary]
stage = "intake"
by = "CANARY"
date = 2026-01-01
digest = "CANARY"
`

// TestPublicBook: of a ledger whose every other word is a canary, and whose folder,
// file and ids are, none is on the public edition's page; what is public, is.
func TestPublicBook(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "canary")
	require.NoError(t, os.Mkdir(dir, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte("[build]\n"+strings.TrimPrefix(canaries, "\n[build]\n")), 0o644))
	page := read(t, bookOf(t, dir, "public"))
	for _, word := range []string{"canary", "47110815", "47,110,815", "33445566", "62342", "62,342", "build.toml"} {
		assert.NotContains(t, strings.ToLower(page), word)
	}
	for _, word := range []string{"Pellwick", "Forwarder 122", "Radiator", "Chosen words", "Chosen note", "Chosen question", "Chosen answer", "Chosen ask", "Chosen say", "4300 lb"} {
		assert.Contains(t, page, word)
	}
	for _, kind := range []string{"side", "plan", "front", "closeness", "gaps", "driveline", "loops"} {
		assert.Equal(t, 1, strings.Count(page, `id="drawing-`+kind+`"`), kind)
	}
	for _, kind := range []string{"wiring", "plugs"} { // they show keys that nobody may choose
		assert.NotContains(t, page, "drawing-"+kind)
	}
	assert.NotContains(t, page, "51 in", "of a shaft that was not chosen")
	for _, data := range regexp.MustCompile(`base64,([A-Za-z0-9+/=]+)`).FindAllStringSubmatch(page, -1) {
		raw, err := base64.StdEncoding.DecodeString(data[1])
		require.NoError(t, err)
		assert.NotContains(t, strings.ToLower(string(raw)), "canary")
	}
	owner, inspector, shop := read(t, bookOf(t, dir, "owner")), read(t, bookOf(t, dir, "inspector")), read(t, bookOf(t, dir, "shop"))
	for _, private := range []string{"33445566", "33,445,566", "62342", "62,342", `id="costs"`} {
		assert.NotContains(t, owner, private, "prices, hours and their sums are the shop's alone")
		assert.NotContains(t, inspector, private)
	}
	assert.Contains(t, shop, `id="costs"`)
	assert.True(t, strings.Contains(shop, "33,445,566 USD"), "the sum of the prices")
	assert.True(t, strings.Contains(shop, "62,342 ± 0.5 h"), "and that of the hours")
	assert.Contains(t, owner, "47110815", "what was quoted is the owner's to see")
	assert.NotContains(t, inspector, "47110815")
	assert.NotContains(t, owner, "canary.txt", "a private document")
	assert.NotContains(t, inspector, "canary.txt")
	assert.Contains(t, shop, "canary.txt")
}

func read(t *testing.T, file string) string {
	t.Helper()
	content, err := os.ReadFile(file)
	require.NoError(t, err)
	return string(content)
}

// TestBookIsSafe: no markup of a ledger is any on the page,
// in no edition, and nothing of it loads or runs.
func TestBookIsSafe(t *testing.T) {
	hostile := strings.ReplaceAll(canaries, `"CANARY"`, `"\"></title></style><img src=x onerror=alert(1)><script>alert(1)</script>"`)
	hostile = strings.Replace(hostile, `note = "Chosen note"`, `note = "<b onclick=x>![p](http://example.org/p.png) [l](javascript:alert(1)) <javascript:alert(2)>"`, 1)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(hostile), 0o644))
	for _, edition := range []string{"shop", "owner", "inspector", "public"} {
		page := read(t, bookOf(t, dir, edition))
		assert.NotContains(t, page, "<img", edition)
		assert.NotRegexp(t, `(?i)<[^>]*\s(onerror|onclick)=`, page, edition)
		assert.NotRegexp(t, `(?i)(href|src)="(javascript|http)`, page, edition)
		assert.Equal(t, 1, strings.Count(page, "<script>"), edition)
		assert.Equal(t, 1, strings.Count(page, "<style>"), edition)
	}
}

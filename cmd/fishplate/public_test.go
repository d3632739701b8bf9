package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
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

// hostile are texts that would be markup, script or a request, were they not
// escaped.
var hostile = []string{
	`"></title></style></script><img src=x onerror=alert(1)><script>alert(1)</script>`,
	`</svg></desc><svg onload=alert(2)><script href="data:,alert(2)"/>`, `]]><!--<iframe srcdoc="<script>alert(3)</script>">`,
	`' onmouseover='alert(4)' style='background:url(http://example.org/4.png)`, `url(http://example.org/5.png);@import "http://example.org/5.css";}`,
	`javascript:alert(6)`, `{{.}}{{template "table"}}`, `&lt;script&gt;alert(8)&lt;/script&gt;`, `<base href=http://example.org><meta http-equiv=refresh content="0;url=http://example.org/9">`,
	`<link rel=prefetch href=http://example.org/10><object data=http://example.org/10>`, `&#x202e;<b>&#0;%00&NewLine;`, `<form action=http://example.org><button formaction=javascript:alert(12)>`,
	`${alert(13)}`, `![p](http://example.org/14.png) [l](javascript:alert(14)) <javascript:alert(14)> <b onclick=alert(14)>`, `<math><mtext></form><mglyph><style></math><img src onerror=alert(15)>`,
}

// hostileBuild is the ledger of canaries with a hostile text in each one's place.
func hostileBuild(t *testing.T, turn int) string {
	t.Helper()
	n := turn
	text := regexp.MustCompile(`"(CANARY|Chosen [a-z]+|Radiator|Engine)"`).ReplaceAllStringFunc(canaries, func(string) string {
		n++
		return strconv.Quote(hostile[n%len(hostile)])
	})
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o644))
	return dir
}

// TestBookIsSafe: no markup of a ledger is any on the page, in no edition.
func TestBookIsSafe(t *testing.T) {
	for turn := 0; turn < len(hostile); turn += 4 { // each text has many places at each turn
		dir := hostileBuild(t, turn)
		for _, edition := range []string{"shop", "owner", "inspector", "public"} {
			page := read(t, bookOf(t, dir, edition))
			assert.NotRegexp(t, `(?i)<(img|iframe|object|link|base|form|math)[\s>]`, page, edition)
			assert.NotRegexp(t, `(?i)<[a-z][^<>"]*\s(on[a-z]+)=`, page, edition)
			assert.NotRegexp(t, `(?i)(href|src)="\s*(javascript|http)`, page, edition)
			assert.Equal(t, 1, strings.Count(page, "<script>"), edition)
			assert.Equal(t, 1, strings.Count(page, "<style>"), edition)
		}
	}
}

// TestHostileInBrowser: of hostile texts nothing runs and nothing loads, nor does
// the page's policy have to stop any: the browser has nothing to say.
func TestHostileInBrowser(t *testing.T) {
	for _, turn := range []int{0, 7} {
		dir := hostileBuild(t, turn)
		for _, edition := range []string{"shop", "public"} {
			p := open(t, bookOf(t, dir, edition), 1280)
			ask[bool](t, p, `(document.querySelectorAll("details").forEach(d => { d.open = true; }), document.querySelectorAll("a, button, summary").forEach(e => e.dispatchEvent(new MouseEvent("mouseover", {bubbles: true}))), true)`)
			assert.Equal(t, 1, ask[int](t, p, `document.scripts.length`))
			assert.Zero(t, ask[int](t, p, `document.querySelectorAll("img, iframe, object, embed, link, base, form, foreignObject").length`))
			assert.Empty(t, ask[[]string](t, p, `[...document.querySelectorAll("*")].flatMap(e => [...e.attributes].filter(a => /^on/i.test(a.name) || /^\s*javascript:/i.test(a.value) && a.name !== "alt").map(a => e.tagName + " " + a.name))`))
			assert.Empty(t, ask[[]string](t, p, deadLinks))
			assert.Empty(t, p.told(), edition)
		}
	}
}

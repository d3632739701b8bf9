package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/rules"
)

const tamarack = "../../examples/tamarack/"

// manyParts is a build of so many parts, in a folder: the finished example's other
// files, and parts of every origin all over it.
func manyParts(t testing.TB, n int) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS(tamarack+"builds/heron")))
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "signatures")))
	shop, err := os.ReadFile(tamarack + "shop.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.toml"), shop, 0o644))
	var b strings.Builder
	origins := []string{`origin = "original"`, "origin = \"original\"\nchange = \"cut back 1 in at the rear and welded\"", "origin = \"made\"\nmade = { material = \"3/16 in mild steel\", process = \"plasma cut and welded\" }",
		"origin = \"bought\"\norder-as = \"Threlbane TX 4711 with the long fitting\"\nwears = true"}
	for i := range n {
		x, y := float64(i%60)*3.1-30, 30*math.Sin(float64(i))
		fmt.Fprintf(&b, "[part.extra-%d]\nname = \"Bracket number %d, left of the second crossmember\"\nmass = \"%d ± 0.5 lb\"\n%s\nat = { behind = \"%.1f in\", right = \"%.1f in\", above = \"%d in\" }\n\n",
			i, i, 1+i%23, origins[i%len(origins)], x, y, 12+i*7%50)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "extra.toml"), []byte(b.String()), 0o644))
	return dir
}

// bookOf makes the book of a build in a file.
func bookOf(t testing.TB, build, edition string, more ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "book.html")
	var out, told bytes.Buffer
	status := run(append([]string{"fishplate", "book", "--as-of", "2026-11-20", "--edition", edition, "--out", file, build}, more...), &program{out: &out, err: &told, packs: rules.Packs(), today: "2026-11-20"})
	require.Zero(t, status, told.String())
	return file
}

// TestBookInBrowser: a book opens from the disk without a network and without a
// word on the console; labels keep apart and in their drawings, links lead
// somewhere, nothing stands out of the page, and axe-core finds nothing against it,
// on a screen and on a phone.
func TestBookInBrowser(t *testing.T) {
	both := []int64{1280, 390}
	for _, c := range []struct {
		name, build, edition string
		widths               []int64
	}{
		{"heron", tamarack + "builds/heron", "owner", both},
		{"marten", tamarack + "builds/marten", "shop", both[1:]},
		{"winch", tamarack + "changes/winch/after", "inspector", both},
		{"public", tamarack + "builds/heron", "public", both},
		{"dunlin", tamarack + "builds/dunlin", "shop", both[:1]},
		{"300 parts", manyParts(t, 300), "shop", both[1:]},
	} {
		file := bookOf(t, c.build, c.edition)
		for _, width := range c.widths {
			t.Run(fmt.Sprintf("%s at %d", c.name, width), func(t *testing.T) {
				p := open(t, file, width)
				assert.Empty(t, ask[[]string](t, p, overlaps))
				assert.Empty(t, ask[[]string](t, p, deadLinks))
				assert.Empty(t, ask[[]string](t, p, tooWide))
				assert.Empty(t, ask[[]string](t, p, `performance.getEntriesByType("resource").map(e => e.name).filter(n => !n.startsWith("data:"))`))
				assert.Empty(t, p.told())
				assert.Empty(t, violations(t, p))
			})
		}
	}
}

// TestBookFolds: the page's few lines of script unfold every working, and keep to
// the entries that carry a word.
func TestBookFolds(t *testing.T) {
	p := open(t, bookOf(t, tamarack+"builds/heron", "shop"), 1280)
	ask[bool](t, p, `(document.getElementById("unfold").click(), true)`)
	assert.Zero(t, ask[int](t, p, `document.querySelectorAll("details.check:not([open])").length`))
	assert.Positive(t, ask[int](t, p, `document.querySelectorAll("details.check[open]").length`))
	ask[bool](t, p, `(f => { f.value = "turbocharger"; return f.dispatchEvent(new Event("input")); })(document.getElementById("find"))`)
	seen := ask[[]string](t, p, `[...document.querySelectorAll("article.entry:not([hidden])")].map(e => e.textContent.toLowerCase())`)
	require.NotEmpty(t, seen)
	for _, s := range seen {
		assert.Contains(t, s, "turbocharger")
	}
	assert.Empty(t, p.told())
}

// marks puts a word at the start and at the end of whatever must not be cut by the
// end of a page, and of a heading and what it stands over.
const marks = `(() => {
  let n = 0;
  const put = (at, word, first) => { const s = document.createElement("i"); s.style.cssText = "font:1px Arial;letter-spacing:0"; s.textContent = " " + word + " "; first ? at.prepend(s) : at.append(s); };
  const whole = (what, ends) => { n++; put(what, "qq" + n + "a", true); for (const e of ends) put(e, "qq" + n + "b", false); };
  for (const r of document.querySelectorAll("tbody tr:not(.group)")) whole(r.cells[0], r.cells);
  for (const r of document.querySelectorAll(".said, div.line, summary.line, .photos figcaption, .caution li")) if (r.textContent.trim()) whole(r, [r.lastElementChild || r]);
  for (const h of document.querySelectorAll("h2, h3, h4, caption, tr.group")) {
    let next = h.tagName === "CAPTION" ? h.parentElement.querySelector("tbody tr:not(.group)") : h.nextElementSibling;
    if (next && next.matches(".state")) next = next.nextElementSibling || next;
    if (h.closest("article, .said, nav") || !next) continue;
    if (next.tagName === "TABLE") next = next.querySelector("caption") || next.querySelector("tbody tr");
    if (next.tagName === "TR") next = next.cells[0];
    while (next.firstElementChild && !["P", "TD", "TH", "CAPTION", "SPAN", "A"].includes(next.tagName)) next = next.firstElementChild;
    if (next.closest("svg")) continue;
    n++; put(h.tagName === "TR" ? h.cells[0] : h, "qq" + n + "a", false); put(next, "qq" + n + "b", true);
  }
  return n;
})()`

var mark = regexp.MustCompile(`qq(\d+)([ab])`)

// TestBookPrints: on letter and on A4 no row, no line and no answer is cut by the
// end of a page, and no heading stands at the foot of one alone.
func TestBookPrints(t *testing.T) {
	reader := needs(t, "pdftotext", "poppler-utils")
	for _, c := range []struct{ build, edition string }{
		{tamarack + "builds/heron", "owner"},
		{tamarack + "builds/marten", "inspector"},
		{tamarack + "changes/winch/after", "shop"},
	} {
		p := open(t, bookOf(t, c.build, c.edition), 1280)
		n := ask[int](t, p, marks)
		for _, paper := range []struct {
			name string
			size chromedp.PaperSize
		}{{"letter", chromedp.PaperLetter}, {"A4", chromedp.PaperA4}} {
			t.Run(filepath.Base(c.build)+" on "+paper.name, func(t *testing.T) {
				pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper.size), chromedp.PDFPreferCSSPageSize()))
				require.NoError(t, err)
				file := filepath.Join(t.TempDir(), "book.pdf")
				require.NoError(t, os.WriteFile(file, pdf, 0o644))
				out, err := exec.Command(reader, "-raw", file, "-").Output()
				require.NoError(t, err)
				begins, cut := map[string]int{}, []string(nil)
				pages := strings.Split(string(out), "\f")
				for at, page := range pages {
					for _, m := range mark.FindAllStringSubmatch(page, -1) {
						if m[2] == "a" {
							begins[m[1]] = at + 1
						}
					}
				}
				for at, page := range pages {
					for _, m := range mark.FindAllStringSubmatch(page, -1) {
						if from := begins[m[1]]; m[2] == "b" && from != at+1 {
							cut = append(cut, fmt.Sprintf("%s from page %d to %d: %s", m[1], from, at+1, ask[string](t, p, `[...document.querySelectorAll("i")].find(i => i.textContent.includes("qq`+m[1]+`b")).parentElement.textContent.slice(0, 80)`)))
						}
					}
				}
				assert.Empty(t, cut)
				assert.Greater(t, len(begins), n/2, "the marks are on the pages")
				assert.Greater(t, len(pages), 3)
			})
		}
	}
}

// TestBookHazards: each thing that can hurt someone says how the checks stand that it is
// about, and that what it asks is not shown to hold; for everyone it says no verdicts.
// A wire's nearest limit is one that there is a share of, where it has one.
func TestBookHazards(t *testing.T) {
	text := func(edition string) string {
		page, err := os.ReadFile(bookOf(t, tamarack+"builds/marten", edition))
		require.NoError(t, err)
		return string(page)
	}
	inspector, public := text("inspector"), text("public")
	const asks = "What each of these asks is not shown to hold."
	has := func(page, words string) bool { return strings.Contains(page, words) } // a page is too long to be printed
	assert.True(t, has(inspector, asks))
	assert.True(t, has(inspector, "<li><strong>2 missing, 1 unproven:</strong> <a href=\"#r.clearance.gap\">in use the two do not touch"))
	assert.True(t, has(public, asks))
	assert.False(t, has(public, "<li><strong>"))
	wire := regexp.MustCompile(`<tr><th scope="row"><a href="#e.circuit.fuel-heater">.*?</tr>`).FindString(inspector)
	assert.Contains(t, wire, "7.5 A to spare")
}

package main

import (
	"context"
	_ "embed"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
)

// browsers are the names that a browser goes by; Debian's first.
var browsers = []string{"chromium", "chromium-browser", "google-chrome"}

// browserPath finds a browser. Where CI says so there has to be one; elsewhere the
// test is left out.
func browserPath(t *testing.T) string {
	t.Helper()
	for _, name := range browsers {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("no browser: .ci/run installs chromium")
	}
	t.Skip("no browser here; apt-get install chromium")
	return ""
}

// needs finds a program, as browserPath does.
func needs(t *testing.T, program, from string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	switch {
	case err == nil:
	case os.Getenv("CI") == "true":
		t.Fatalf("no %s: .ci/run installs %s", program, from)
	default:
		t.Skipf("no %s here; apt-get install %s", program, from)
	}
	return path
}

// aBrowser is the one browser of all tests, without a network. It is started by
// the first that needs it, and ends with the tests.
var aBrowser = struct {
	sync.Once
	ctx  context.Context
	end  func()
	fail error
}{end: func() {}}

// browserTests runs the tests, and ends the browser that they used.
type browserTests struct{ golden.Tests }

// Run runs the tests.
func (b browserTests) Run() int {
	defer func() { aBrowser.end() }()
	return b.Tests.Run()
}

// theBrowser is the browser, or leaves the test out where there is none.
func theBrowser(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	path := browserPath(t)
	aBrowser.Do(func() {
		data, err := os.MkdirTemp("", "browser")
		if err != nil {
			aBrowser.fail = err
			return
		}
		ctx, cancel := chromedp.NewExecAllocator(context.Background(),
			append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.UserDataDir(data), chromedp.NoSandbox, chromedp.DisableGPU,
				chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
				chromedp.Flag("proxy-server", "127.0.0.1:9"))...)
		tab, close := chromedp.NewContext(ctx)
		aBrowser.ctx, aBrowser.end = tab, func() { close(); cancel(); os.RemoveAll(data) }
		aBrowser.fail = chromedp.Do(tab)
	})
	require.NoError(t, aBrowser.fail)
	return aBrowser.ctx
}

// tab is a page in a browser, and what was heard of it.
type tab struct {
	ctx   context.Context
	mu    sync.Mutex
	heard []string // messages of the console, and what was asked of the network
}

// open opens a file from the disk in a tab of its own, with the network off.
func open(t *testing.T, file string, width int64) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(theBrowser(t))
	ctx, stop := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(func() { stop(); cancel() })
	p := &tab{ctx: ctx}
	full, err := filepath.Abs(file)
	require.NoError(t, err)
	at := (&url.URL{Scheme: "file", Path: full}).String()
	require.NoError(t, chromedp.Listen(ctx, func(ev any) {
		switch e := ev.(type) {
		case *runtime.EventConsoleAPICalled:
			p.hear("console: %s", e.Type)
		case *runtime.EventExceptionThrown:
			p.hear("exception: %s", e.ExceptionDetails.Text)
		case *log.EventEntryAdded:
			p.hear("log: %s %s", e.Entry.Text, e.Entry.URL)
		case *network.EventRequestWillBeSent:
			if u := e.Request.URL; u != at && !strings.HasPrefix(u, "data:") {
				p.hear("request: %s", u)
			}
		}
	}))
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, 900), chromedp.Navigate(at)))
	return p
}

func (p *tab) hear(format string, args ...any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.heard = append(p.heard, fmt.Sprintf(format, args...))
}

// told is what was heard of the page so far.
func (p *tab) told() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.heard...)
}

// ask evaluates an expression on the page, and waits for it.
func ask[T any](t *testing.T, p *tab, expression string) T {
	t.Helper()
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	return out
}

// Overlaps lists the labels of a page's drawings that lie on one another, and those
// that leave their drawing. A label's box is taken a sixth smaller above and below,
// as its letters are.
const overlaps = `(() => {
  const out = [];
  for (const svg of document.querySelectorAll("svg")) {
    const frame = svg.getBoundingClientRect();
    if (!frame.width) continue;
    const boxes = [...svg.querySelectorAll("text")].map(t => { const b = t.getBoundingClientRect(); const h = b.height / 6; return {w: t.textContent, l: b.left, r: b.right, t: b.top + h, b: b.bottom - h}; }).filter(b => b.r > b.l);
    for (const [i, a] of boxes.entries()) {
      if (a.l < frame.left - 1 || a.r > frame.right + 1 || a.t < frame.top - 1 || a.b > frame.bottom + 1) out.push("leaves its drawing: " + a.w);
      for (const b of boxes.slice(i + 1))
        if (Math.min(a.r, b.r) - Math.max(a.l, b.l) > 0.5 && Math.min(a.b, b.b) - Math.max(a.t, b.t) > 0.5) out.push("on one another: " + a.w + " / " + b.w);
    }
  }
  return out;
})()`

// deadLinks lists the links of a page that lead nowhere on it, and ids that are
// there twice.
const deadLinks = `(() => {
  const out = [], ids = new Set();
  for (const e of document.querySelectorAll("[id]")) { if (ids.has(e.id)) out.push("twice: " + e.id); ids.add(e.id); }
  for (const a of document.querySelectorAll("a[href^='#']")) if (!ids.has(decodeURIComponent(a.getAttribute("href").slice(1)))) out.push("dead: " + a.getAttribute("href"));
  return out;
})()`

// tooWide lists what stands out of a page to the right.
const tooWide = `(() => {
  const wide = document.documentElement.clientWidth, out = [];
  for (const e of document.querySelectorAll("main *, nav *")) { const b = e.getBoundingClientRect(); if (b.width > 1 && b.right > wide + 1 && b.left >= 0) out.push(e.tagName + "." + e.getAttribute("class") + ": " + e.textContent.slice(0, 60)); }
  return out.slice(0, 10);
})()`

//go:embed testdata/axe/axe.min.js
var axe string

// thinned takes from a page what is there again and again: of children that look
// alike all but the first few. Axe takes a minute for the 35,000 elements of a whole
// book; what is left has every kind of piece.
const thinned = `(() => {
  for (const e of document.querySelectorAll("main *, nav *")) {
    const seen = new Map();
    for (const c of [...e.children]) {
      const like = c.tagName + "." + (c.getAttribute("class") || "");
      seen.set(like, (seen.get(like) || 0) + 1);
      if (seen.get(like) > 3) c.remove();
    }
  }
  return document.querySelectorAll("*").length;
})()`

// violations are what axe-core finds against a page.
func violations(t *testing.T, p *tab) []string {
	t.Helper()
	assert.Positive(t, ask[int](t, p, thinned))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Evaluate[chromedp.Void](axe)))
	return ask[[]string](t, p, `axe.run(document, {resultTypes: ["violations"], preload: false}).then(r => r.violations.flatMap(v => v.nodes.slice(0, 3).map(n => v.id + ": " + n.html.slice(0, 200) + " " + (n.failureSummary || ""))))`)
}

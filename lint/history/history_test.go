package history_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/history"
	"fishplate/rules"
)

// limit is a made-up rule: the engine weighs no more than the front's rating.
var limit = &lint.Rule{Name: "toy/engine", Title: "the engine weighs no more than the rating", Due: ledger.AtIntake,
	Sources: []quantity.Citation{quantity.Practice},
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			s.On(p, "").AtMost(p.Mass, b.Front().Rating)
		}
	}}

var packs = []*lint.Pack{{Name: "toy", Title: "made-up rules", Rules: []*lint.Rule{limit}}}

func unit(rep *lint.Report, r *lint.Result) *quantity.Unit { return rep.Build.Style().Unit(r.Value) }

func nothing() {}

// repository makes one by git's own import: a commit a text of build.toml, a day
// apart from 2026-01-01 on.
func repository(t testing.TB, builds ...string) {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil && os.Getenv("CI") == "" {
		t.Skip("git is not installed")
	}
	dir := t.TempDir()
	t.Setenv("GIT_CONFIG_GLOBAL", os.DevNull)
	t.Setenv("GIT_CONFIG_SYSTEM", os.DevNull)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(t.TempDir(), "cache"))
	var in bytes.Buffer
	for i, text := range builds {
		fmt.Fprintf(&in, "commit refs/heads/main\ncommitter June Farrow <june@example.org> %d +0000\ndata <<END\ncommit %d\n\nmore of it\nEND\n", 1767261600+86400*i, i)
		if text == "" {
			fmt.Fprint(&in, "D van/build.toml\nM 100644 inline other.txt\ndata 1\nx\n\n")
			continue
		}
		fmt.Fprintf(&in, "M 100644 inline van/build.toml\ndata %d\n%s\n", len(text), text)
	}
	for _, args := range [][]string{{"init", "-q", "-b", "main"}, {"fast-import", "--quiet"}} {
		cmd := exec.Command("git", args...)
		cmd.Dir, cmd.Stdin = dir, &in
		if args[0] == "init" {
			cmd.Stdin = nil
		}
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	t.Chdir(dir)
}

// van is a build with an engine and a rating.
func van(engine, more string) string {
	return "[build]\ntitle = \"Van\"\n\n[vehicle.front]\nrating = \"1000 lb\"\n\n[part.engine]\nmass = \"" + engine + "\"\n" + more
}

func past(t testing.TB, opt lint.Options, cache *history.Cache) *history.Past {
	t.Helper()
	place, err := revision.Glance("HEAD:van")
	require.NoError(t, err)
	t.Cleanup(func() { place.Close() })
	p, err := history.Of(place, packs, opt, cache)
	require.NoError(t, err)
	return p
}

// words are the events in short, the oldest first.
func words(events []*history.Event) (out []string) {
	for _, e := range events {
		say := e.About
		switch {
		case e.Gone:
			say += " gone"
		case e.Unread != "":
			say += " unread"
		case e.Again:
			say += " again"
		case e.First:
			say += " first"
		}
		for _, c := range e.Changes {
			if c.Rule == limit.Name {
				say += fmt.Sprintf("; %s %s -> %s by %s", c.Entry, c.Before, c.After, strings.Join(c.By, "+"))
			}
		}
		out = append(out, say)
	}
	return out
}

var course = []string{
	van("800 lb", ""),
	van("800 lb", "\n[part.winch]\nmass = \"100 lb\"\n"),
	van("1200 lb", "\n[part.winch]\nmass = \"100 lb\"\n"),
	van("1200 lb", "\n[part.winch]\nmass = \"120 lb\"\n"),
	"[build\n",
	"[build]]\n",
	van("1200 lb", ""),
	van("900 lb", ""),
	"",
	van("1300 lb", ""),
}

var courseWords = []string{
	"commit 0 first",
	"commit 2; part.engine pass -> fail by part.engine",
	"commit 4 unread",
	"commit 6 again",
	"commit 7; part.engine fail -> pass by part.engine",
	"commit 8 gone",
	"commit 9; part.engine pass -> fail by part.engine",
}

func TestVerdicts(t *testing.T) {
	repository(t, course...)
	events, err := past(t, lint.Options{}, nil).Verdicts(nothing)
	require.NoError(t, err)
	assert.Equal(t, courseWords, words(events))
	assert.Equal(t, "June Farrow", events[1].Author)
	assert.Equal(t, "2026-01-03", events[1].Date.Format("2006-01-02"))
	assert.Contains(t, events[2].Unread, "van/build.toml:1:")
}

// TestVerdictsByTheOneBefore: over a hundred commits of random edits, which are judged
// by what the one before came to, the verdicts that changed are those that checks of
// each commit by itself differ in; a cache of an earlier day makes no difference.
func TestVerdictsByTheOneBefore(t *testing.T) {
	const n = 100
	rnd := rand.New(rand.NewPCG(13, 2026))
	values := map[string][]string{
		"[build]\ntitle = \"Van\"\nstage = ": {`"plan"`, `"assembly"`, `"plan"`},
		"[vehicle]\nseats = 2\nfront.rating = \"3400 lb\"\nrear.rating = \"3200 lb\"\nrear.tires = 2\ngross-rating = \"9900 lb\"\nwheelbase = ": {
			`"122 in"`, `"100 in"`},
		"[weighing.as-received]\nwhen = \"as-received\"\nrear = \"2900 lb\"\ndate = 2026-01-01\nfront = ": {
			`"2500 lb"`, `"2700 lb +/- 20 lb"`, `"3400 lb"`},
		"[part.engine]\norigin = \"bought\"\nat = { behind = \"3 in\", right = \"0 in\", above = \"20 in\" }\nmass = ": {
			`"300 lb"`, `"450 lb"`, `"700 lb +/- 20 lb"`},
		"[load.driver]\ncount = 2\nat = { behind = \"40 in\", right = \"0 in\", above = \"40 in\" }\nmass = ": {
			`"150 lb"`, `"260 lb"`},
		"[waiver.axle]\nrule = \"weight/front-axle\"\nentry = \"vehicle.front\"\nbecause = \"x\"\nby = \"y\"\nuntil = ": {
			"2026-01-10", "2026-02-01", "2026-02-20", "2026-03-20"},
	}
	heads := slices.Sorted(maps.Keys(values))
	at := map[string]string{}
	for _, h := range heads {
		at[h] = values[h][0]
	}
	var texts []string
	for i := range n {
		head := heads[rnd.IntN(len(heads))]
		at[head] = values[head][rnd.IntN(len(values[head]))]
		sound := at[head]
		if i%31 == 0 && i > 0 {
			at[head] = "]"
		}
		text := ""
		for _, h := range heads {
			if v, ok := at[h]; ok {
				text += h + v + "\n\n"
			}
		}
		texts = append(texts, text+fmt.Sprint("# ", i, "\n"))
		at[head] = sound
	}
	repository(t, texts...)
	verdicts := func(rev string, cache *history.Cache) []string {
		place, err := revision.Glance(rev + ":van")
		require.NoError(t, err)
		defer place.Close()
		p, err := history.Of(place, rules.All(), lint.Options{}, cache)
		require.NoError(t, err)
		events, err := p.Verdicts(nothing)
		require.NoError(t, err)
		var out []string
		for _, e := range events {
			for _, c := range e.Changes {
				if c.Before != "not checked" && !c.Lapsed() && c.Before != lint.NotApplicable.String() {
					out = append(out, fmt.Sprintln(e.About, c.Rule, c.Entry, c.Aspect, c.Before, c.After))
				}
			}
		}
		slices.Sort(out)
		return out
	}
	var want []string
	var before map[string]*lint.Result
	unread := 0
	for i := range n {
		place, err := revision.Open(fmt.Sprintf("HEAD~%d:van", n-1-i))
		require.NoError(t, err)
		builds, err := place.Builds()
		require.NoError(t, err)
		rep := lint.CheckOne(ledger.NewLoader(), builds[0], rules.All(), lint.Options{})
		place.Close()
		if len(rep.Faults) > 0 {
			unread++
			continue
		}
		now := map[string]*lint.Result{}
		for _, r := range rep.Results {
			now[r.Key()] = r
			if o := before[r.Key()]; o != nil && o.Verdict != r.Verdict && o.Verdict != lint.NotApplicable && r.Verdict != lint.NotApplicable {
				want = append(want, fmt.Sprintln("commit", i, r.Rule.Name, r.Entry, r.Aspect, o.Word(), r.Word()))
			}
		}
		before = now
	}
	slices.Sort(want)
	assert.Greater(t, unread, 2)
	assert.Greater(t, len(want), 10)
	assert.Equal(t, want, verdicts("HEAD", nil))
	cache := history.OpenCache(rules.All())
	verdicts("HEAD~45", cache)
	assert.Equal(t, want, verdicts("HEAD", cache))
}

// TestFigures: each point is what check says of that commit by itself.
func TestFigures(t *testing.T) {
	repository(t, course...)
	lines, err := past(t, lint.Options{}, nil).Figures(limit, unit, nothing)
	require.NoError(t, err)
	require.Len(t, lines, 2)
	var got []string
	for _, p := range lines[0].Points {
		got = append(got, p.About)
		place, err := revision.Open(p.ID + ":van")
		require.NoError(t, err)
		builds, err := place.Builds()
		require.NoError(t, err)
		lint.Run(builds, packs, lint.Options{}, func(r *lint.Report) {
			for _, c := range r.Results {
				if c.Rule == limit && c.Entry == "part.engine" {
					low, high := c.Value.Bounds()
					assert.Equal(t, c.Word(), p.Verdict)
					assert.Equal(t, []float64{c.Value.Value(), low, high, c.Limit.Value()}, []float64{p.Value.Value, *p.Value.Low, *p.Value.High, p.Limit.Value})
				}
			}
		})
		place.Close()
	}
	assert.Equal(t, []string{"commit 0", "commit 2", "commit 7", "commit 9"}, got)
	assert.True(t, lines[0].Last)
	assert.Equal(t, "part.winch", lines[1].Entry)
	assert.False(t, lines[1].Last)
}

func TestFailedSince(t *testing.T) {
	repository(t, course[:7]...)
	for _, rule := range []*lint.Rule{nil, limit} {
		failing, err := past(t, lint.Options{}, nil).FailedSince(rule, func(*lint.Report, *lint.Result) string { return "so" }, nothing)
		require.NoError(t, err)
		require.Len(t, failing, 1)
		assert.Equal(t, "commit 2", failing[0].Since.About, "what cannot be read in between tells nothing")
		assert.Equal(t, "pass", failing[0].Change.Before)
		assert.Equal(t, []string{"part.engine"}, failing[0].Change.By)
	}
}

// TestDay: a waiver that runs out changes a verdict though nothing of it was
// edited; as of one day it makes no difference when a commit was made.
func TestDay(t *testing.T) {
	waived := "\n[waiver.heavy]\nrule = \"toy/engine\"\nentry = \"part.engine\"\nbecause = \"on loan\"\nby = \"Ada\"\nuntil = \"2026-01-01\"\n"
	repository(t, van("1200 lb", waived), van("1200 lb", waived+"# a remark\n"))
	events, err := past(t, lint.Options{}, nil).Verdicts(nothing)
	require.NoError(t, err)
	assert.Equal(t, []string{"commit 0 first", "commit 1; part.engine waived -> fail by "}, words(events))
	for _, c := range events[1].Changes {
		assert.True(t, c.DayOnly)
	}
}

// TestEvents: a stage, a weighing and a move are marked at the commit that brings
// them, whether or not it changes the figure; other edits are none.
func TestEvents(t *testing.T) {
	hung := func(stage, at, more string) string {
		return strings.Replace(van("800 lb", "\n[assembly.engine]\nat = { behind = \""+at+"\" }\n"+more), "Van\"\n", "Van\"\nstage = \""+stage+"\"\n", 1)
	}
	weighed := "\n[weighing.first]\nwhen = \"as-received\"\nfront = \"900 lb\"\n"
	repository(t,
		hung("intake", "10 in", ""),
		hung("intake", "254 mm", "\n[weighing.first]\nwhen = \"as-received\"\n"), // the same place, and no reading yet
		hung("plan", "10 in", ""),
		hung("plan", "12 in", weighed),
		"]",
		hung("plan", "12 in", weighed+"\n[part.fan]\nmoved = 2026-01-02\n"),
		hung("plan", "12 in", weighed+"note = \"by the old scale\"\n\n[part.fan]\nmoved = 2026-01-02\n"),
	)
	for range 2 { // the second time from what was kept
		lines, err := past(t, lint.Options{}, history.OpenCache(packs)).Figures(limit, unit, nothing)
		require.NoError(t, err)
		var got []string
		for _, p := range lines[0].Points {
			got = append(got, p.About+": "+strings.Join(p.Events, "; "))
		}
		assert.Equal(t, []string{
			"commit 0: ",
			"commit 2: stage plan, before intake",
			"commit 3: weighing.first; assembly.engine moved",
			"commit 5: part.fan moved",
		}, got)
	}
}

// TestCacheOfRules: a commit that touches the rules beside the shop's file is judged
// anew, one that touches what tries them is not, and what a rule brings is told.
func TestCacheOfRules(t *testing.T) {
	repository(t, van("800 lb", ""))
	rule := func(most string) string {
		return "[rule.engine]\ntitle = \"no heavy engines\"\neach = \"part\"\nvalue = \"it.mass\"\nat-most = \"q('" + most + "')\"\n" +
			"due = \"intake\"\nlevel = \"must\"\nbecause = \"the hoist\"\nsource = \"common practice, no source\"\n"
	}
	put := func(files map[string]string) (events []string, judged int) {
		dir, err := os.Getwd()
		require.NoError(t, err)
		git := func(args ...string) {
			out, err := exec.Command("git", append([]string{"-c", "user.name=June Farrow", "-c", "user.email=june@example.org"}, args...)...).CombinedOutput()
			require.NoError(t, err, string(out))
		}
		git("reset", "-q", "--hard")
		for name, text := range files {
			require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
			if text == "" {
				require.NoError(t, os.Remove(name))
				continue
			}
			require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
		}
		git("add", "-A")
		git("commit", "-q", "-m", strings.Join(slices.Sorted(maps.Keys(files)), " "))
		place, err := revision.Glance("HEAD:van")
		require.NoError(t, err)
		defer place.Close()
		p, err := history.Of(place, rules.All(), lint.Options{AsOf: "2026-11-20"}, history.OpenCache(rules.All()))
		require.NoError(t, err)
		all, err := p.Verdicts(func() { judged++ })
		require.NoError(t, err)
		for _, e := range all[1:] {
			say := e.About
			for _, c := range e.Changes {
				say += fmt.Sprintf("; %s %s -> %s by %s%s", c.Rule, c.Before, c.After, strings.Join(c.By, "+"), c.Why)
				assert.False(t, c.DayOnly)
			}
			events = append(events, say)
		}
		return events, judged
	}
	events, judged := put(map[string]string{"shop.toml": "[shop]\nname = \"Tamarack\"\n"})
	assert.Empty(t, events)
	assert.Equal(t, 2, judged)
	want := []string{"rules/axles.toml; shop/engine not checked -> fail by the shop's rule is new"}
	events, judged = put(map[string]string{"rules/axles.toml": rule("700 lb")})
	assert.Equal(t, want, events)
	assert.Equal(t, 1, judged)
	events, judged = put(map[string]string{"trials/near/build.toml": "[build]\n"})
	assert.Equal(t, want, events)
	assert.Zero(t, judged)
	want = append(want, "rules/axles.toml; shop/engine fail -> pass by rule.engine")
	events, judged = put(map[string]string{"rules/axles.toml": rule("900 lb")})
	assert.Equal(t, want, events)
	assert.Equal(t, 1, judged)
	want = append(want, "rules/axles.toml; shop/engine pass -> not checked by the shop's rule is gone")
	events, judged = put(map[string]string{"rules/axles.toml": ""})
	assert.Equal(t, want, events)
	assert.Equal(t, 1, judged)
}

// TestCache: what is kept gives the same answers without judging anything; what
// was cut short, is of another program or was put there by others is worked out
// anew.
func TestCache(t *testing.T) {
	repository(t, course...)
	told := func() (string, int) {
		judged := 0
		step := func() { judged++ }
		p := past(t, lint.Options{}, history.OpenCache(packs))
		events, err := p.Verdicts(step)
		require.NoError(t, err)
		lines, err := p.Figures(limit, unit, step)
		require.NoError(t, err)
		failing, err := p.FailedSince(nil, func(*lint.Report, *lint.Result) string { return "so" }, step)
		require.NoError(t, err)
		all := []any{events, failing}
		for _, l := range lines {
			all = append(all, l.Entry, l.Points)
		}
		text, err := json.Marshal(all)
		require.NoError(t, err)
		return string(text), judged
	}
	want, cold := told()
	assert.Greater(t, cold, 15)
	got, warm := told()
	assert.Equal(t, want, got)
	assert.Zero(t, warm, "nothing is judged again")

	dir := filepath.Join(os.Getenv("XDG_CACHE_HOME"), "fishplate", "history")
	info, err := os.Stat(dir)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o700), info.Mode().Perm())
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	require.Len(t, files, 3)
	for name, spoil := range map[string]func([]byte) []byte{
		"cut short":       func(b []byte) []byte { return b[:len(b)*2/3] },
		"empty":           func([]byte) []byte { return nil },
		"other program":   func(b []byte) []byte { return bytes.Replace(b, []byte(`"program":"`), []byte(`"program":"0`), 1) },
		"a word altered":  func(b []byte) []byte { return bytes.Replace(b, []byte("part.engine"), []byte("part.engime"), 1) },
		"no JSON":         func([]byte) []byte { return []byte("fishplate history 1\n{}{}") },
		"another's":       func([]byte) []byte { return []byte("{\"form\":\"fishplate history 1\"}\n{}") },
		"bytes at random": func([]byte) []byte { return []byte{0, 1, 2, 0xff, '\n', 0xfe} },
	} {
		for _, f := range files {
			text, err := os.ReadFile(f)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(f, spoil(text), 0o600))
		}
		got, judged := told()
		assert.Equal(t, want, got, name)
		assert.Equal(t, cold, judged, name)
		got, judged = told()
		assert.Equal(t, want, got, name)
		assert.Zero(t, judged, "%s: it was written anew", name)
	}
	// A link in a file's place is not followed, and not written through.
	aim := filepath.Join(t.TempDir(), "aim")
	require.NoError(t, os.WriteFile(aim, []byte("mine"), 0o600))
	for _, f := range files {
		require.NoError(t, os.Remove(f))
		require.NoError(t, os.Symlink(aim, f))
	}
	got, judged := told()
	assert.Equal(t, want, got)
	assert.Equal(t, cold, judged)
	text, err := os.ReadFile(aim)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
	// Where nothing can be kept it is only slower.
	require.NoError(t, os.RemoveAll(os.Getenv("XDG_CACHE_HOME")))
	require.NoError(t, os.WriteFile(os.Getenv("XDG_CACHE_HOME"), nil, 0o600))
	got, judged = told()
	assert.Equal(t, want, got)
	assert.Equal(t, cold, judged)
}

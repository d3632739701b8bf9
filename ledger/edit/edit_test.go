package edit

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// build lays down a build and opens it.
func build(t *testing.T, files map[string]string) *revision.Build {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	return open(t, dir)
}

func open(t *testing.T, dir string) *revision.Build {
	t.Helper()
	place, err := revision.Open(dir)
	require.NoError(t, err)
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	t.Cleanup(func() { place.Close() })
	return builds[0]
}

// edited is a file after one operation on a build of that file alone.
func edited(t *testing.T, text string, do func(d *Draft) error) (string, error) {
	t.Helper()
	src := build(t, map[string]string{"build.toml": text})
	d, err := Begin(src)
	require.NoError(t, err)
	if err := do(d); err != nil {
		return "", err
	}
	p, err := d.Plan()
	if err != nil {
		return "", err
	}
	require.NoError(t, Apply(src, p))
	dir, _ := src.Dir()
	now, err := os.ReadFile(filepath.Join(dir, "build.toml"))
	require.NoError(t, err)
	return string(now), nil
}

func keys(key string) []string { return strings.Split(key, ".") }

func TestSet(t *testing.T) {
	for _, c := range []struct{ name, old, entry, key, value, want string }{
		{"in place", "[part.a]\nmass   = \"1 lb\" # scale\nname = \"x\"\n", "part.a", "mass", `"2 lb"`, "[part.a]\nmass   = \"2 lb\" # scale\nname = \"x\"\n"},
		{"by the kind's order", "[part.a]\nname = \"x\" # it\nmass = \"1 lb\"\n", "part.a", "role", `"engine"`, "[part.a]\nname = \"x\" # it\nrole = \"engine\"\nmass = \"1 lb\"\n"},
		{"first", "# it\n[part.a] # here\nmass = \"1 lb\"\n", "part.a", "name", `"x"`, "# it\n[part.a] # here\nname = \"x\"\nmass = \"1 lb\"\n"},
		{"lined up and indented", "[part.a]\n  name    = \"x\"\n", "part.a", "mass", `"2 lb"`, "[part.a]\n  name    = \"x\"\n  mass    = \"2 lb\"\n"},
		{"without a line end", "[part.a]\nname=\"x\"", "part.a", "mass", `"2 lb"`, "[part.a]\nname=\"x\"\nmass=\"2 lb\""},
		{"CRLF and a mark", "\ufeff[part.a]\r\nname = \"é\" # ½\r\n\r\n[part.b]\r\n", "part.a", "mass", `"2 lb"`, "\ufeff[part.a]\r\nname = \"é\" # ½\r\nmass = \"2 lb\"\r\n\r\n[part.b]\r\n"},
		{"a table that is not there", "[part.a]\nname = \"x\"\n", "part.a", "at.behind", `"2 in"`, "[part.a]\nname = \"x\"\nat = { behind = \"2 in\" }\n"},
		{"into an inline table", "[part.a]\nat = { right = \"1 in\" } # taped\n", "part.a", "at.behind", `"2 in"`, "[part.a]\nat = { right = \"1 in\", behind = \"2 in\" } # taped\n"},
		{"in an inline table", "[part.a]\nat = { right = \"1 in\", above = \"3 in\" }\n", "part.a", "at.right", `"2 in"`, "[part.a]\nat = { right = \"2 in\", above = \"3 in\" }\n"},
		{"into an empty inline table", "[part.a]\nat = {}\n", "part.a", "at.behind", `"2 in"`, "[part.a]\nat = { behind = \"2 in\" }\n"},
		{"beside dotted keys", "[part.a]\nat.right = \"1 in\"\nname = \"x\"\n", "part.a", "at.behind", `"2 in"`, "[part.a]\nat.right = \"1 in\"\nat.behind = \"2 in\"\nname = \"x\"\n"},
		{"an entry of dotted keys", "part.a.name = \"x\"\n[build]\n", "part.a", "mass", `"2 lb"`, "part.a.name = \"x\"\npart.a.mass = \"2 lb\"\n[build]\n"},
		{"below a header of its own", "[part.a.at]\nright = \"1 in\"\n", "part.a", "at.behind", `"2 in"`, "[part.a.at]\nright = \"1 in\"\nbehind = \"2 in\"\n"},
		{"beside headers below it", "# where\n[part.a.at]\nright = \"1 in\"\n", "part.a", "name", `"x"`, "[part.a]\nname = \"x\"\n\n# where\n[part.a.at]\nright = \"1 in\"\n"},
		{"an entry in an inline table", "part = { a = { name = \"x\" } }\n", "part.a", "mass", `"2 lb"`, "part = { a = { name = \"x\", mass = \"2 lb\" } }\n"},
		{"a place in a list", "[build]\npacks = [\"fuel\", \"brakes\"]\n", "build", "packs.1", `"street"`, "[build]\npacks = [\"fuel\", \"street\"]\n"},
		{"an axle", "[vehicle]\nmake = \"x\"\n[vehicle.front]\nrating = \"1 lb\"\n", "vehicle.front", "rating", `"2 lb"`, "[vehicle]\nmake = \"x\"\n[vehicle.front]\nrating = \"2 lb\"\n"},
		{"a key in quotes", "[tank.a]\n[weighing.a]\nlevels = { 'tank.a' = \"1 %\" }\n", "weighing.a", "date", "2026-01-02", "[tank.a]\n[weighing.a]\nlevels = { 'tank.a' = \"1 %\" }\ndate = 2026-01-02\n"},
	} {
		got, err := edited(t, c.old, func(d *Draft) error { return d.Set(c.entry, keys(c.key), Literal(c.value)) })
		if assert.NoError(t, err, c.name) {
			assert.Equal(t, c.want, got, c.name)
		}
	}
}

func TestSetBehindAList(t *testing.T) {
	for _, c := range []struct{ name, at, old, want string }{
		{"empty", "packs.0", "[build]\npacks = [ ]\n", "[build]\npacks = [\"street\"]\n"},
		{"one line", "packs.1", "[build]\npacks = [\"fuel\"] # ours\n", "[build]\npacks = [\"fuel\", \"street\"] # ours\n"},
		{"one line with a comma", "packs.1", "[build]\npacks = [ \"fuel\", ]\n", "[build]\npacks = [ \"fuel\", \"street\", ]\n"},
		{"lines with a comma", "packs.2", "[build]\npacks = [\n  \"fuel\",\n  \"brakes\", # both\n]\n", "[build]\npacks = [\n  \"fuel\",\n  \"brakes\", # both\n  \"street\",\n]\n"},
		{"lines without", "packs.2", "[build]\npacks = [\n\t\"fuel\",\n\t\"brakes\" # both\n]\n", "[build]\npacks = [\n\t\"fuel\",\n\t\"brakes\", # both\n\t\"street\"\n]\n"},
		{"bracket at the last", "packs.1", "[build]\npacks = [\n  \"fuel\"]\n", "[build]\npacks = [\n  \"fuel\",\n  \"street\"]\n"},
		{"several a line", "packs.2", "[build]\npacks = [\n  \"fuel\", \"brakes\",\n]\n", "[build]\npacks = [\n  \"fuel\", \"brakes\",\n  \"street\",\n]\n"},
		{"only a comment", "packs.0", "[build]\npacks = [\n  # none yet\n]\n", "[build]\npacks = [\n  # none yet\n  \"street\",\n]\n"},
		{"CRLF", "packs.1", "[build]\r\npacks = [\r\n  \"fuel\",\r\n]\r\n", "[build]\r\npacks = [\r\n  \"fuel\",\r\n  \"street\",\r\n]\r\n"},
	} {
		got, err := edited(t, c.old, func(d *Draft) error { return d.Set("build", keys(c.at), Text("street")) })
		if assert.NoError(t, err, c.name) {
			assert.Equal(t, c.want, got, c.name)
		}
	}
}

func TestRemove(t *testing.T) {
	for _, c := range []struct{ name, old, entry, key, want string }{
		{"a key with its comments", "# file\n\n[part.a]\nname = \"x\"\n# from the scale\nmass = \"1 lb\" # wet\nrole = \"engine\"\n", "part.a", "mass", "# file\n\n[part.a]\nname = \"x\"\nrole = \"engine\"\n"},
		{"an entry", "# file\n[build]\n\n# the first\n[part.a]\nname = \"x\"\n# inside\n[part.a.made]\nmaterial = \"steel\"\n\n# the second\n[part.b]\n", "part.a", "", "# file\n[build]\n\n# the second\n[part.b]\n"},
		{"the file's own comment stays", "# file\n[part.a]\nname = \"x\"\n[part.b]\n", "part.a", "", "# file\n[part.b]\n"},
		{"of an inline table", "[part.a]\nat = { right = \"1 in\", above = \"3 in\" }\n", "part.a", "at.right", "[part.a]\nat = { above = \"3 in\" }\n"},
		{"the last of one", "[part.a]\nat = { right = \"1 in\", above = \"3 in\" }\n", "part.a", "at.above", "[part.a]\nat = { right = \"1 in\" }\n"},
		{"of a list", "[build]\npacks = [\n  \"fuel\", # first\n  \"brakes\", # second\n]\n", "build", "packs.0", "[build]\npacks = [\n  \"brakes\", # second\n]\n"},
		{"dotted keys", "[part.a]\nat.right = \"1 in\"\nname = \"x\"\nat.above = \"2 in\"\n", "part.a", "at", "[part.a]\nname = \"x\"\n"},
	} {
		var at []string
		if c.key != "" {
			at = keys(c.key)
		}
		got, err := edited(t, c.old, func(d *Draft) error { return d.Remove(c.entry, at) })
		if assert.NoError(t, err, c.name) {
			assert.Equal(t, c.want, got, c.name)
		}
	}
}

func TestRename(t *testing.T) {
	src := build(t, map[string]string{
		"build.toml": "[weighing.a]\nlevels = { \"tank.main\" = \"50 %\" }\n[tank.main] # part.oil stays in words\nfluid = \"gasoline\"\n[tank.main.at]\nbehind = \"1 in\"\n",
		"papers.toml": "\ufeff# part.oil\r\n[document.d]\r\nkind = \"photo\"\r\nfile = \"d.txt\"\r\nsha256 = \"" + strings.Repeat("0", 64) + "\"\r\n" +
			"proves = ['part.oil', \"part.oil.mass\", \"part.oil-cooler\", \"part\\u002Eoil\"] # of part.oil\r\nnote = \"part.oil\"\r\n",
		"parts/a.toml": "[part.oil]\nmass = \"1 lb\"\n[part.oil-cooler]\nat = \"part.oil\"\n[plug.p]\npins.1.circuit = \"circuit.c\"\n[plug.q]\nmates = \"plug.p\"\n[circuit.c]\nfrom = \"part.oil\"\n[splice.s]\njoins = [\"plug.p:1\"]\n[waiver.w]\nentry = \"part.oil\"\nbecause = \"part.oil\"\n",
	})
	d, err := Begin(src)
	require.NoError(t, err)
	require.NoError(t, d.Rename("part.oil", "pump"))
	require.NoError(t, d.Rename("tank.main", "front"))
	require.NoError(t, d.Rename("plug.p", "pin-1"))
	p, err := d.Plan()
	require.NoError(t, err)
	require.NoError(t, Apply(src, p))
	dir, _ := src.Dir()
	for name, want := range map[string]string{
		"build.toml": "[weighing.a]\nlevels = { \"tank.front\" = \"50 %\" }\n[tank.front] # part.oil stays in words\nfluid = \"gasoline\"\n[tank.front.at]\nbehind = \"1 in\"\n",
		"papers.toml": "\ufeff# part.oil\r\n[document.d]\r\nkind = \"photo\"\r\nfile = \"d.txt\"\r\nsha256 = \"" + strings.Repeat("0", 64) + "\"\r\n" +
			"proves = ['part.pump', \"part.pump.mass\", \"part.oil-cooler\", \"part.pump\"] # of part.oil\r\nnote = \"part.oil\"\r\n",
		"parts/a.toml": "[part.pump]\nmass = \"1 lb\"\n[part.oil-cooler]\nat = \"part.pump\"\n[plug.pin-1]\npins.1.circuit = \"circuit.c\"\n[plug.q]\nmates = \"plug.pin-1\"\n[circuit.c]\nfrom = \"part.pump\"\n[splice.s]\njoins = [\"plug.pin-1:1\"]\n[waiver.w]\nentry = \"part.pump\"\nbecause = \"part.oil\"\n",
	} {
		now, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Equal(t, want, string(now), name)
	}
	assert.ErrorContains(t, d.Rename("part.pump", "oil-cooler"), "part.oil-cooler is there already")
	assert.ErrorContains(t, d.Rename("part.none", "x"), "there is no part.none")
}

func TestAddGoesWhereItsKindIs(t *testing.T) {
	src := build(t, map[string]string{"build.toml": "[part.a]\n", "b.toml": "[part.b]\n\n[part.c] # no line end", "c.toml": "part = { d = {} }"})
	d, err := Begin(src)
	require.NoError(t, err)
	require.NoError(t, d.Add("part.e", []Pair{{"mass", Text("1 lb")}}, ""))
	require.NoError(t, d.Add("part.f", []Pair{{"name", Text("a \"b\"\\")}}, "c.toml"))
	require.NoError(t, d.Add("hose.h", nil, "new/h.toml"))
	assert.Error(t, d.Add("part.a", nil, ""))
	assert.ErrorContains(t, d.Add("part.z", nil, "../x.toml"), "outside the build folder")
	assert.ErrorContains(t, d.Add("part.z", nil, ".x.toml"), "hidden")
	assert.ErrorContains(t, d.Add("part.z", []Pair{{"name", Literal("1\nx = 2")}}, ""), "no single value")
	p, err := d.Plan()
	require.NoError(t, err)
	require.NoError(t, Apply(src, p))
	dir, _ := src.Dir()
	for name, want := range map[string]string{
		"b.toml":     "[part.b]\n\n[part.c] # no line end\n\n[part.e]\nmass = \"1 lb\"\n",
		"c.toml":     "part = { d = {}, f = { name = \"a \\\"b\\\"\\\\\" } }",
		"new/h.toml": "[hose.h]\n",
	} {
		now, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Equal(t, want, string(now), name)
	}
}

// What would not bind is refused, and nothing is written.
func TestRefused(t *testing.T) {
	const text = "[part.a]\nmass = \"1 lb\"\n[part.b]\nat = \"part.a\"\n"
	for name, do := range map[string]func(d *Draft) error{
		"is wrong: \"heavy\" is no quantity": func(d *Draft) error { return d.Set("part.a", keys("mass"), Text("heavy")) },
		"there is no part.a":                 func(d *Draft) error { return d.Remove("part.a", nil) },
		"bad id":                             func(d *Draft) error { return d.Rename("part.a", "A b") },
		"unknown key":                        func(d *Draft) error { return d.Set("part.a", keys("masss"), Text("1 lb")) },
		"is no table":                        func(d *Draft) error { return d.Set("part.a", keys("mass.x"), Text("1 lb")) },
	} {
		_, err := edited(t, text, do)
		want := strings.TrimPrefix(name, "is wrong: ")
		if assert.Error(t, err, name) && !strings.HasPrefix(name, "is wrong") {
			assert.ErrorContains(t, err, want)
		}
	}
}

// A file that cannot be read as it stands is not touched, nor is anything
// renamed while one may name it.
func TestBrokenFiles(t *testing.T) {
	merge := "[part.b]\n<<<<<<< ours\nmass = \"1 lb\"\n=======\nmass = \"2 lb\"\n>>>>>>> theirs\n"
	src := build(t, map[string]string{"build.toml": "[part.a]\n", "b.toml": merge, "c.toml": "[part.c]\nmass = \n"})
	d, err := Begin(src)
	require.NoError(t, err)
	assert.ErrorContains(t, d.Set("part.b", keys("mass"), Text("3 lb")), "b.toml:2:1: a merge left in progress")
	assert.ErrorContains(t, d.Set("part.c", keys("mass"), Text("3 lb")), "c.toml:2:")
	assert.ErrorContains(t, d.Add("part.d", nil, "c.toml"), "not changed until that is put right")
	assert.ErrorContains(t, d.Rename("part.a", "z"), "b.toml:2:1: a merge left in progress")
	require.NoError(t, d.Set("part.a", keys("mass"), Text("3 lb")), "a sound file is changed all the same")
	p, err := d.Plan()
	require.NoError(t, err)
	assert.Equal(t, []string{"build.toml"}, p.Files())
}

func TestPlanIsOfWhatItWasMadeFrom(t *testing.T) {
	src := build(t, map[string]string{"build.toml": "[part.a]\n", "b.toml": "[part.b]\n"})
	dir, _ := src.Dir()
	plan := func() Plan {
		d, err := Begin(src)
		require.NoError(t, err)
		require.NoError(t, d.Set("part.a", keys("mass"), Text("3 lb")))
		p, err := d.Plan()
		require.NoError(t, err)
		return p
	}
	p := plan()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.toml"), []byte("[part.bb]\n"), 0o644))
	assert.ErrorIs(t, Apply(src, p), ErrChanged, "another file")
	p = plan()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "c.toml"), []byte("[part.c]\n"), 0o644))
	assert.ErrorIs(t, Apply(src, p), ErrChanged, "a new one")
	p = plan()
	require.NoError(t, os.Remove(filepath.Join(dir, "c.toml")))
	assert.ErrorIs(t, Apply(src, p), ErrChanged, "one less")
	now, err := os.ReadFile(filepath.Join(dir, "build.toml"))
	require.NoError(t, err)
	assert.Equal(t, "[part.a]\n", string(now))
	require.NoError(t, Apply(src, plan()))
}

func TestNothingOutsideIsWritten(t *testing.T) {
	outside := filepath.Join(t.TempDir(), "x.toml")
	require.NoError(t, os.WriteFile(outside, []byte("[part.x]\n"), 0o644))
	src := build(t, map[string]string{"build.toml": "[part.a]\n"})
	dir, _ := src.Dir()
	h, err := Take(dir)
	require.NoError(t, err)
	defer h.Release()
	for _, name := range []string{"../x.toml", "/x.toml", "a/../../x.toml", ".hidden.toml", "a/.b/x.toml", "x.txt"} {
		_, err := h.output(name)
		assert.Error(t, err, name)
	}
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, "link.toml")))
	_, err = h.output("link.toml")
	assert.ErrorContains(t, err, "outside the build folder")
	require.NoError(t, os.Symlink(filepath.Dir(outside), filepath.Join(dir, "away")))
	_, err = h.output("away/x.toml")
	assert.ErrorContains(t, err, "outside the build folder")
	_, err = h.output("away/new.toml")
	assert.Error(t, err)
}

func faultsOf(b *ledger.Build) (out []string) {
	for _, f := range b.Faults {
		out = append(out, f.String())
	}
	return out
}

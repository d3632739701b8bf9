package edit

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// ledgers are what edits are tried on.
var ledgers = []string{"builds/marten", "builds/heron", "changes/winch/before"}

// trial is one random edit: what it asks, and what it may touch.
type trial struct {
	about string
	do    func(d *Draft) error
	// asked changes what the files say, as another decoder reads them.
	asked func(files map[string]map[string]any)
	// allowed tells whether a piece of the old text may give way to another.
	allowed func(old, new string) bool
	renamed map[string]string
	// bound is what the loader is to read in the place of the old values, by
	// entry and key; under is where other values may come or go.
	bound map[string]string
	under string
}

// A thousand random edits of the examples: what is not asked for stays byte for
// byte, comments included; another decoder reads what was asked; it binds, and
// the entries say what they should.
func TestRandomEdits(t *testing.T) {
	many := 1000
	if testing.Short() {
		many = 100
	}
	random := rand.New(rand.NewPCG(20260302, 8))
	type base struct {
		src    *revision.Build
		before *ledger.Build
		says   map[string]map[string]any // never changed
		spots  []spot
		values map[string]string
	}
	var bases []base
	for _, name := range ledgers {
		src := open(t, filepath.Join("../../examples/tamarack", name))
		d, err := Begin(src)
		require.NoError(t, err)
		require.Empty(t, d.Before().Faults)
		says := decoded(t, d, d.names())
		bases = append(bases, base{src, d.Before(), says, spots(says), builtValues(d.Before())})
	}
	made, refused := map[string]int{}, 0
	for n := range many {
		x := bases[random.IntN(len(bases))]
		d, err := Begin(x.src)
		require.NoError(t, err)
		d.before, d.after = x.before, x.before
		tr := randomTrial(random, d, x.says, x.spots)
		what := fmt.Sprintf("edit %d of %s: %s", n, x.src.Folder(), tr.about)
		fresh, err := Begin(x.src)
		require.NoError(t, err)
		require.NoError(t, tr.do(d), what)
		p, err := d.Plan()
		var no *Refused
		if errors.As(err, &no) { // such as what another names
			refused++
			continue
		}
		require.NoError(t, err, what)
		require.NotEmpty(t, p.Edits, what)
		made[strings.Fields(tr.about)[0]]++
		for _, e := range p.Edits {
			f := d.files[e.File]
			gone := (f.mark + f.old)[e.From:e.To]
			require.True(t, tr.allowed(gone, e.New), "%s: %q gave way to %q", what, gone, e.New)
			text, err := p.Text(e.File, []byte(f.mark+f.old))
			require.NoError(t, err)
			require.Equal(t, f.mark+f.text.String(), string(text), what)
		}
		want := maps.Clone(x.says)
		maps.Copy(want, decoded(t, fresh, p.Files()))
		tr.asked(want)
		said := maps.Clone(x.says)
		maps.Copy(said, decoded(t, d, p.Files()))
		for name := range said {
			require.True(t, reflect.DeepEqual(withoutEmpty(want[name]), withoutEmpty(said[name])), "%s: %s", what, name)
		}
		were := x.values
		if len(tr.renamed) > 0 {
			were = builtValues(x.before.Renamed(tr.renamed))
		}
		sameEntries(t, what, were, builtValues(d.After()), tr)
	}
	t.Log(made, "refused", refused)
	for _, kind := range []string{"set", "insert", "append", "remove", "add", "rename"} {
		assert.Greater(t, made[kind], many/20, kind)
	}
	assert.Less(t, refused, many/4)
}

// sameEntries holds the entries that the loader reads against those of before
// with the change made by itself, which does not go by the text of the files.
func sameEntries(t *testing.T, what string, were, are map[string]string, tr trial) {
	t.Helper()
	for key, text := range tr.bound {
		require.Equal(t, text, are[key], "%s: %s", what, key)
	}
	others := func(m map[string]string) map[string]string {
		m = maps.Clone(m)
		maps.DeleteFunc(m, func(key, _ string) bool {
			return tr.under != "" && (key == tr.under || strings.HasPrefix(key, tr.under+".") || strings.HasPrefix(key, tr.under+" "))
		})
		return m
	}
	if were, are = others(were), others(are); !maps.Equal(were, are) {
		require.Equal(t, were, are, what)
	}
}

// builtValues are the values of a build's own entries, as the loader reads them.
func builtValues(b *ledger.Build) map[string]string {
	out := map[string]string{}
	for _, e := range b.Entries() {
		if e.Shop { // it is there as long as the build names it
			continue
		}
		out[e.Path()] = ""
		for _, v := range e.Values() {
			out[e.Path()+" "+v.Key] = v.Text
		}
	}
	return out
}

// boundTo are the values below a key of an entry, as the loader reads them,
// under another name.
func boundTo(b *ledger.Build, from, to string) map[string]string {
	out := map[string]string{}
	entry, key, _ := strings.Cut(from, " ")
	e, _ := b.Entry(entry)
	for _, v := range e.Values() {
		if key == "" {
			out[to+" "+v.Key] = v.Text
		} else if rest, ok := strings.CutPrefix(v.Key, key); ok && (rest == "" || rest[0] == '.') {
			out[to+rest] = v.Text
		}
	}
	return out
}

// decoded is what another decoder reads in some files of a draft.
func decoded(t *testing.T, d *Draft, names []string) map[string]map[string]any {
	t.Helper()
	out := map[string]map[string]any{}
	for _, name := range names {
		var m map[string]any
		_, err := toml.Decode(d.files[name].text.String(), &m)
		require.NoError(t, err, name)
		out[name] = m
	}
	return out
}

func withoutEmpty(v any) any {
	m, ok := v.(map[string]any)
	if !ok {
		return v
	}
	out := map[string]any{}
	for k, v := range m {
		v = withoutEmpty(v)
		if m, ok := v.(map[string]any); !ok || len(m) > 0 {
			out[k] = v
		}
	}
	return out
}

// spot is a key of an entry as a file says it.
type spot struct {
	file, entry, key string
	value            any
}

// spots are the keys at the top of all entries with an id, in order.
func spots(files map[string]map[string]any) []spot {
	var out []spot
	for _, file := range sorted(files) {
		for _, kind := range sorted(files[file]) {
			if ledger.Single(kind) {
				continue
			}
			entries, _ := files[file][kind].(map[string]any)
			for _, id := range sorted(entries) {
				table, _ := entries[id].(map[string]any)
				for _, key := range sorted(table) {
					out = append(out, spot{file, kind + "." + id, key, table[key]})
				}
			}
		}
	}
	return out
}

func sorted[T any](m map[string]T) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func (s spot) kind() string { return s.entry[:strings.IndexByte(s.entry, '.')] }

// table is where the entry of a spot stands.
func (s spot) table(files map[string]map[string]any) map[string]any {
	kind, id, _ := strings.Cut(s.entry, ".")
	return files[s.file][kind].(map[string]any)[id].(map[string]any)
}

// raw is how the file spells the value of a spot.
func (s spot) raw(d *Draft) string {
	f, at, _ := d.find(s.entry)
	n, _ := deepest(f.doc.Root, append(at, s.key))
	return n.Text
}

func insertion(old, new string) bool { return old == "" && new != "" }

func randomTrial(random *rand.Rand, d *Draft, files map[string]map[string]any, all []spot) trial {
	op := random.IntN(6)
	for {
		a, b := all[random.IntN(len(all))], all[random.IntN(len(all))]
		like := a.kind() == b.kind() && a.entry != b.entry
		if !like && op < 3 {
			continue
		}
		spelled := b.raw(d)
		switch op {
		case 0:
			old := a.raw(d)
			if a.key != b.key || spelled == "" || old == "" || spelled == old {
				continue
			}
			return trial{about: fmt.Sprintf("set %s.%s = %s", a.entry, a.key, spelled),
				under: a.entry + " " + a.key, bound: boundTo(d.After(), b.entry+" "+b.key, a.entry+" "+a.key),
				do:      func(d *Draft) error { return d.Set(a.entry, keys(a.key), Literal(spelled)) },
				asked:   func(m map[string]map[string]any) { a.table(m)[a.key] = b.value },
				allowed: func(gone, put string) bool { return strings.Contains(old, gone) && strings.Contains(spelled, put) }}
		case 1:
			if _, has := a.table(files)[b.key]; has || spelled == "" {
				continue
			}
			return trial{about: fmt.Sprintf("insert %s.%s = %s", a.entry, b.key, spelled),
				under: a.entry + " " + b.key, bound: boundTo(d.After(), b.entry+" "+b.key, a.entry+" "+b.key),
				do:      func(d *Draft) error { return d.Set(a.entry, keys(b.key), Literal(spelled)) },
				asked:   func(m map[string]map[string]any) { a.table(m)[b.key] = b.value },
				allowed: insertion}
		case 2:
			list, isList := a.value.([]any)
			more, isMore := b.value.([]any)
			if !isList || !isMore || a.key != b.key || len(more) == 0 {
				continue
			}
			last, ok := more[len(more)-1].(string)
			if !ok {
				continue
			}
			at := fmt.Sprintf("%s %s.%d", a.entry, a.key, len(list))
			return trial{about: fmt.Sprintf("append %s.%s += %q", a.entry, a.key, last),
				under: at, bound: map[string]string{at: last},
				do:      func(d *Draft) error { return d.Set(a.entry, append(keys(a.key), strconv.Itoa(len(list))), Text(last)) },
				asked:   func(m map[string]map[string]any) { a.table(m)[a.key] = append(slices.Clone(list), last) },
				allowed: insertion}
		case 3:
			return trial{about: fmt.Sprintf("remove %s.%s", a.entry, a.key), under: a.entry + " " + a.key,
				do:    func(d *Draft) error { return d.Remove(a.entry, keys(a.key)) },
				asked: func(m map[string]map[string]any) { delete(a.table(m), a.key) },
				allowed: func(gone, put string) bool {
					return put == "" && strings.Contains(gone, a.key) && strings.Count(gone, "=") < 100
				}}
		case 4:
			return added(random, d, files, a)
		default:
			return rename(a.entry, fmt.Sprintf("%s-%d", []string{"x", "pump", "a"}[random.IntN(3)], random.IntN(1000)))
		}
	}
}

// added is a new entry that says what another does.
func added(random *rand.Rand, d *Draft, files map[string]map[string]any, a spot) trial {
	id := fmt.Sprintf("new-%d", random.IntN(1000))
	path := a.kind() + "." + id
	var pairs []Pair
	for _, key := range sorted(a.table(files)) {
		s := a
		s.key = key
		if raw := s.raw(d); raw != "" {
			pairs = append(pairs, Pair{key, Literal(raw)})
		}
	}
	home := d.Home(a.kind())
	says := map[string]any{}
	for _, p := range pairs {
		says[p.Key] = a.table(files)[p.Key]
	}
	bound := boundTo(d.After(), a.entry, path)
	maps.DeleteFunc(bound, func(key, _ string) bool { // what stands under a header of its own was not copied
		_, inside, _ := strings.Cut(key, " ")
		top, _, _ := strings.Cut(inside, ".")
		return says[top] == nil
	})
	return trial{about: "add " + path + " as " + a.entry, under: path, bound: bound,
		do: func(d *Draft) error { return d.Add(path, pairs, "") },
		asked: func(m map[string]map[string]any) {
			if m[home][a.kind()] == nil {
				m[home][a.kind()] = map[string]any{}
			}
			m[home][a.kind()].(map[string]any)[id] = says
		},
		allowed: insertion}
}

func rename(entry, id string) trial {
	kind, was, _ := strings.Cut(entry, ".")
	to := kind + "." + id
	return trial{about: "rename " + entry + " to " + id,
		do:      func(d *Draft) error { return d.Rename(entry, id) },
		renamed: map[string]string{entry: to},
		asked: func(files map[string]map[string]any) {
			for name, m := range files {
				files[name] = renamedIn(m, "", entry, to).(map[string]any)
				if entries, ok := files[name][kind].(map[string]any); ok && entries[was] != nil {
					entries[id] = entries[was]
					delete(entries, was)
				}
			}
		},
		allowed: func(gone, put string) bool { return strings.Contains(was, gone) && strings.Contains(id, put) }}
}

// renamedIn is a value in which an entry is named otherwise, save in the keys
// that hold sentences.
func renamedIn(v any, key, from, to string) any {
	name := func(s string) string {
		rest, ok := strings.CutPrefix(s, from)
		if ok && (rest == "" || rest[0] == '.' || rest[0] == ':') {
			return to + rest
		}
		return s
	}
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[name(k)] = renamedIn(x, k, from, to)
		}
		return out
	case []any:
		out := []any{}
		for _, x := range v {
			out = append(out, renamedIn(x, key, from, to))
		}
		return out
	case string:
		if !slices.Contains([]string{"note", "because", "why", "says", "found"}, key) {
			return name(v)
		}
	}
	return v
}

// Edits one upon the other, written to the disk: the files say what a decoder
// makes of the same edits, and every comment is still there.
func TestManyEditsOfOneBuild(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples/tamarack/builds/marten")))
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(dir), "x"), nil, 0o644))
	shop, err := os.ReadFile("../../examples/tamarack/shop.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.toml"), shop, 0o644))
	src := open(t, dir)
	d, err := Begin(src)
	require.NoError(t, err)
	require.Empty(t, d.Before().Faults)
	comments := commentsOf(d)
	random := rand.New(rand.NewPCG(7, 7))
	want := decoded(t, d, d.names())
	for range 40 {
		says := decoded(t, d, d.names())
		tr := randomTrial(random, d, says, spots(says))
		if strings.HasPrefix(tr.about, "remove") {
			continue
		}
		require.NoError(t, tr.do(d), tr.about)
		tr.asked(want)
	}
	assert.Equal(t, comments, commentsOf(d))
	for name, said := range decoded(t, d, d.names()) {
		assert.True(t, reflect.DeepEqual(withoutEmpty(want[name]), withoutEmpty(said)), name)
	}
}

// commentsOf counts the comments of all files by their text.
func commentsOf(d *Draft) map[string]int {
	out := map[string]int{}
	for _, f := range d.files {
		for _, line := range strings.Split(f.text.String(), "\n") {
			if i := strings.Index(line, "# "); i >= 0 {
				out[line[i:]]++
			}
		}
	}
	return out
}

package editor

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/golden"
	"fishplate/lint"
)

const capabilities = `{"workspace":{"workspaceEdit":{"documentChanges":true}},"textDocument":{"publishDiagnostics":{"relatedInformation":true}}}`

// smallShop lays down a shop with one build of two files.
func smallShop(t testing.TB) (dir string, files map[string]string) {
	t.Helper()
	dir = t.TempDir()
	files = map[string]string{
		"shop.toml":      "[assembly.power]\nat = { behind = \"10 in\", right = \"0 in\", above = \"20 in\" }\n",
		"van/build.toml": "\ufeff[build]\r\ntitle = \"½ 🔧\"\r\n\r\n[vehicle]\r\nwheelbase = \"100 in\"\r\n\r\n[vehicle.front]\r\nrating = \"600 lb\"\r\n",
		"van/parts.toml": "[part.engine]\nmass = \"400 lb\" # ½ 🔧\nat = \"part.fan\"\n\n[part.fan]\nmass = \"250 ± 10 lb\"\nat = { from = \"assembly.power\", behind = \"5 in\", right = \"0 in\", above = \"20 in\" }\n\n[gap.a]\nbetween = [\"part.engine\", \"part.fan\"]\nmeasured = \"1½ in\"\n",
	}
	lay(t, dir, files)
	return dir, files
}

func lay(t testing.TB, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
}

var atPlan = ledger.AtPlan

// judgedAt is how these tests judge.
func judgedAt() lint.Options { return lint.Options{Today: "2026-03-01", Stage: &atPlan} }

// pieces are what people and slips of the hand put into a ledger.
var pieces = []string{"\"", "'", "[", "]", "{", "}", "=", ",", ".", "#", "\n", "\r\n", " ", "½", "±", "🔧", "\ufeff", "1", "lb", "mass", "part.fan", "[part.x]\n", "mass = \"1 lb\"\n", "é", "\t"}

// slip is a random change of a text, at characters.
func slip(rnd *rand.Rand, text string) (from, to int, piece string) {
	var starts []int
	for i := range text {
		starts = append(starts, i)
	}
	starts = append(starts, len(text))
	a := rnd.IntN(len(starts))
	b := min(len(starts)-1, a+rnd.IntN(4)*rnd.IntN(4))
	if rnd.IntN(3) > 0 {
		piece = pieces[rnd.IntN(len(pieces))]
	}
	return starts[a], starts[b], piece
}

// TestEdits: after any edits, keystroke by keystroke in several files, an editor is
// told what one is that opens the files as they are then.
func TestEdits(t *testing.T) {
	dir, first := smallShop(t)
	rnd := rand.New(rand.NewPCG(15, 2026))
	names := []string{"shop.toml", "van/build.toml", "van/parts.toml"}
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	for _, name := range names {
		c.open(name)
	}
	now := published(c.settle())
	hear := func() {
		for uri, list := range published(c.settle()) {
			now[uri] = list
		}
	}
	sound := 0
	for round := range 60 {
		for range 1 + rnd.IntN(6) {
			name := names[rnd.IntN(len(names))]
			from, to, piece := slip(rnd, c.texts[name])
			c.splice(name, round, from, to, piece)
			if rnd.IntN(3) == 0 {
				c.rest()
			}
		}
		for _, name := range names {
			switch rnd.IntN(3) {
			case 0: // all is put right again, with another figure
				c.splice(name, round, 0, len(c.texts[name]), strings.Replace(first[name], "10 ", fmt.Sprintf("%d ", 2+round%9), 1))
			case 1:
				c.splice(name, round, 0, len(c.texts[name]), first[name])
			}
		}
		c.rest()
		hear()

		other := start(t, dir, madeUp(), judgedAt())
		other.begin(capabilities)
		for _, name := range names {
			other.openAs(name, c.texts[name])
		}
		fresh := published(other.settle())
		broken := slices.ContainsFunc(names, func(name string) bool { return len(faultsOf(fresh[c.uri(name)])) > 0 })
		if !broken {
			sound++
		}
		for _, name := range names {
			got, want := now[c.uri(name)], fresh[c.uri(name)]
			if broken { // what stands from before is another's; the faults are the same
				got, want = faultsOf(got), faultsOf(want)
			}
			require.Equal(t, want, got, "round %d, %s:\n%s", round, name, c.texts[name])
		}
		other.note("exit", nil)
	}
	assert.Greater(t, sound, 10, "too few of them were without faults")
}

func faultsOf(list []Diagnostic) []Diagnostic {
	return slices.DeleteFunc(slices.Clone(list), func(d Diagnostic) bool { return d.Code != "fault" })
}

// TestAnyTextIsAnswered: whatever stands in a file, every request about any place of
// it is answered, and none with an internal error.
func TestAnyTextIsAnswered(t *testing.T) {
	dir, _ := smallShop(t)
	rnd := rand.New(rand.NewPCG(16, 2026))
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	names := []string{"van/parts.toml", "van/build.toml", "shop.toml"}
	for _, name := range names {
		c.open(name)
	}
	methods := []string{"hover", "completion", "definition", "references", "prepareRename", "rename", "documentSymbol", "codeAction", "codeLens"}
	for round := range 300 {
		name := names[rnd.IntN(len(names))]
		from, to, piece := slip(rnd, c.texts[name])
		c.splice(name, round, from, to, piece)
		place := Position{rnd.IntN(14), rnd.IntN(30)}
		p := object{"textDocument": object{"uri": c.uri(name)}, "position": place, "newName": "x", "range": Range{place, place}}
		m := c.ask("textDocument/"+methods[rnd.IntN(len(methods))], p)
		if m.Error != nil {
			require.Equal(t, codeRequestFailed, m.Error.Code, "%s\n%s", m.Error.Message, c.texts[name])
			require.NotContains(t, m.Error.Message, "internal error", c.texts[name])
		}
	}
	for _, m := range c.settle() {
		require.NotContains(t, string(m.Params), "internal error")
	}
}

// TestLargeFile: a file of the largest size that is read, and one beyond it, are
// answered like any other.
func TestLargeFile(t *testing.T) {
	dir, files := smallShop(t)
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	line := "# one of very many lines, with ½ and 🔧 in it\n"
	for _, size := range []int{ledger.MaxLedger - 10_000, 1 << 20, 1<<20 + 1000} {
		text := files["van/parts.toml"] + strings.Repeat(line, (size-len(files["van/parts.toml"]))/len(line))
		c.openAs("van/parts.toml", text)
		told := published(c.settle())
		began := time.Now()
		c.edit("van/parts.toml", 2, "\"400 lb\"", "\"400 lbs x\"")
		list := published(c.settle())[c.uri("van/parts.toml")]
		t.Logf("%d bytes: %v a keystroke", size, time.Since(began))
		assert.NotEmpty(t, faultsOf(list), "%d bytes, first told %v", size, told)
		assert.Nil(t, c.ask("textDocument/hover", c.at("van/parts.toml", "[part.en|gine]")).Error)
		c.note("textDocument/didClose", object{"textDocument": object{"uri": c.uri("van/parts.toml")}})
	}
}

// TestCancel: a request that is cancelled while it waits is answered so; one that is
// not known, or was answered, does nothing.
func TestCancel(t *testing.T) {
	dir, _ := smallShop(t)
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	c.open("van/parts.toml")
	c.settle()
	hold := make(chan bool)
	go func() { // a burst, which the server reads before it has worked it off
		for id := 100; id < 200; id++ {
			c.send(fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":"textDocument/codeAction","params":{"textDocument":{"uri":%q},"range":{"start":{"line":0,"character":7},"end":{"line":0,"character":7}}}}`, id, c.uri("van/parts.toml")))
		}
		c.send(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":199}}`)
		c.send(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":"nothing"}}`)
		c.send(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":5}`)
		close(hold)
	}()
	<-hold
	for id := 100; id < 200; id++ {
		m := c.answer(fmt.Sprint(id))
		if id == 199 {
			require.NotNil(t, m.Error)
			assert.Equal(t, codeCancelled, m.Error.Code)
		} else {
			assert.Nil(t, m.Error)
		}
	}
}

// TestGone: an editor that goes away without a word, or breaks off a message, ends
// the session, and not as it should.
func TestGone(t *testing.T) {
	for name, last := range map[string]string{"silently": "", "within a head": "Content-Len", "within a body": "Content-Length: 100\r\n\r\n{", "without a length": "\r\n\r\n", "with a long head": strings.Repeat("x", 10_000), "with a length that is none": "Content-Length: -5\r\n\r\n", "with more than memory has": "Content-Length: 99999999999\r\n\r\n"} {
		dir, _ := smallShop(t)
		c := start(t, dir, madeUp(), judgedAt())
		c.begin(capabilities)
		go func() {
			_, _ = c.to.Write([]byte(last)) // the server may have stopped reading
			c.to.Close()
		}()
		select {
		case clean := <-c.clean:
			assert.False(t, clean, name)
		case <-time.After(20 * time.Second):
			t.Fatal(name + ": it goes on")
		}
	}
}

// typing replays the keystrokes of someone who writes figures and now and then words
// that are no value yet, in one line of a file.
func (c *editorClient) typing(name, line, unit string, edits int, after func(i int)) {
	at := strings.Index(c.texts[name], line) + len(line)
	require.GreaterOrEqual(c.t, at, len(line))
	typed := []string{"1", "12", "12.", "12.5", "12.5 ", "12.5 " + unit[:1], "12.5 " + unit, "2.5 " + unit, "2.5 ± 0.2 " + unit, "3 " + unit}
	was := ""
	for i := range edits {
		now := typed[i%len(typed)]
		if i%100 == 99 {
			now = fmt.Sprintf("%d %s", i, unit)
		}
		c.splice(name, i+2, at, at+len(was), now)
		was = now
		after(i)
	}
}

// TestMemoryIsFlat: what a session holds does not grow with its edits. 3,000 here;
// BenchmarkMemory does 10,000 on the example.
func TestMemoryIsFlat(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	dir, files := smallShop(t)
	files["van/parts.toml"] = strings.Replace(files["van/parts.toml"], "\"400 lb\"", "\"\"", 1)
	lay(t, dir, files)
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	c.open("van/parts.toml")
	var early, late uint64
	c.typing("van/parts.toml", "mass = \"", "lb", 3001, func(i int) {
		if i%50 == 0 {
			c.rest()
		}
		c.settle()
		switch i {
		case 300:
			early = inUse()
		case 3000:
			late = inUse()
		}
	})
	assert.Less(t, float64(late), 1.1*float64(early)+512<<10, "%d bytes after 300 edits, %d after 3,000", early, late)
}

// inUse are the bytes that are in use, garbage collected.
func inUse() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// TestGoldenIsText: the recorded sessions are text that a person reads.
func TestGoldenIsText(t *testing.T) {
	if golden.Updating() {
		t.Skip("they are being written")
	}
	names, err := filepath.Glob("testdata/*.txt")
	require.NoError(t, err)
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.True(t, utf8.Valid(data), name)
		assert.NotContains(t, string(data), os.TempDir(), name)
	}
}

package editor

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"fishplate/lint"
)

// stillClock is a clock of which the tests say when a pause ends.
type stillClock struct {
	mu    sync.Mutex
	waits map[int]func()
	n     int
}

func (c *stillClock) After(_ time.Duration, f func()) (stop func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.waits == nil {
		c.waits = map[int]func(){}
	}
	c.n++
	n := c.n
	c.waits[n] = f
	return func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		delete(c.waits, n)
	}
}

// ring ends all pauses.
func (c *stillClock) ring() {
	c.mu.Lock()
	waits := c.waits
	c.waits = nil
	c.mu.Unlock()
	for _, f := range waits {
		f()
	}
}

// heard is a message of the server's.
type heard struct {
	ID     json.RawMessage `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

// editorClient is an editor that holds files of a folder open.
type editorClient struct {
	t     testing.TB
	dir   string // without links
	clock *stillClock
	to    *io.PipeWriter
	from  *bufio.Reader
	clean chan bool
	id    int
	units Encoding
	texts map[string]string // of what is open, by its name below the folder
	notes []heard           // what it was told and did not ask for
}

func start(t testing.TB, dir string, packs []*lint.Pack, how lint.Options) *editorClient {
	t.Helper()
	dir, err := filepath.EvalSymlinks(dir)
	require.NoError(t, err)
	in, to := io.Pipe()
	from, out := io.Pipe()
	c := &editorClient{t: t, dir: dir, clock: &stillClock{}, to: to, from: bufio.NewReader(from), clean: make(chan bool, 1), units: UTF16, texts: map[string]string{}}
	go func() {
		c.clean <- Serve(in, out, Options{Packs: packs, Judge: func() lint.Options { return how }, Clock: c.clock, Version: "test"})
		out.Close()
	}()
	t.Cleanup(func() { to.Close(); from.Close() })
	return c
}

// send sends a body as it is.
func (c *editorClient) send(body string) {
	_, err := fmt.Fprintf(c.to, "Content-Length: %d\r\n\r\n%s", len(body), body)
	require.NoError(c.t, err)
}

// hear is the next message; false where there are no more.
func (c *editorClient) hear() (heard, bool) {
	length := 0
	for {
		line, err := c.from.ReadString('\n')
		if err != nil {
			return heard{}, false
		}
		if line == "\r\n" {
			break
		}
		_, _ = fmt.Sscanf(line, "Content-Length: %d", &length)
	}
	body := make([]byte, length)
	_, err := io.ReadFull(c.from, body)
	require.NoError(c.t, err)
	var m heard
	require.NoError(c.t, json.Unmarshal(body, &m), string(body))
	return m, true
}

func (c *editorClient) note(method string, params any) {
	body, err := json.Marshal(object{"jsonrpc": "2.0", "method": method, "params": params})
	require.NoError(c.t, err)
	c.send(string(body))
}

// ask gives the answer to a request.
func (c *editorClient) ask(method string, params any) heard {
	c.id++
	body, err := json.Marshal(object{"jsonrpc": "2.0", "id": c.id, "method": method, "params": params})
	require.NoError(c.t, err)
	go c.send(string(body)) // the server may be telling something meanwhile
	return c.answer(fmt.Sprint(c.id))
}

func (c *editorClient) answer(id string) heard {
	for {
		m, ok := c.hear()
		require.True(c.t, ok, "the server is gone")
		if m.Method == "" && string(m.ID) == id {
			return m
		}
		c.notes = append(c.notes, m)
	}
}

// settle waits until all that was sent is worked off, and gives what was told.
func (c *editorClient) settle() []heard {
	c.ask("test/settle", nil)
	out := c.notes
	c.notes = nil
	return out
}

func (c *editorClient) begin(capabilities string) {
	p := object{"capabilities": json.RawMessage(capabilities), "rootUri": uriOf(c.dir)}
	require.Nil(c.t, c.ask("initialize", p).Error)
	c.note("initialized", object{})
}

func (c *editorClient) uri(name string) string { return uriOf(filepath.Join(c.dir, name)) }

func (c *editorClient) open(name string) {
	data, err := os.ReadFile(filepath.Join(c.dir, name))
	require.NoError(c.t, err)
	c.openAs(name, string(data))
}

func (c *editorClient) openAs(name, text string) {
	c.texts[name] = text
	c.note("textDocument/didOpen", object{"textDocument": object{"uri": c.uri(name), "languageId": "toml", "version": 1, "text": text}})
}

// edit puts a text in the place of the first that is as given.
func (c *editorClient) edit(name string, version int, old, text string) {
	at := strings.Index(c.texts[name], old)
	require.GreaterOrEqual(c.t, at, 0, "%q is not in %s", old, name)
	c.splice(name, version, at, at+len(old), text)
}

func (c *editorClient) splice(name string, version, from, to int, text string) {
	r := textOf(c.texts[name]).span(from, to, c.units)
	c.texts[name] = c.texts[name][:from] + text + c.texts[name][to:]
	c.note("textDocument/didChange", object{"textDocument": object{"uri": c.uri(name), "version": version}, "contentChanges": []object{{"range": r, "text": text}}})
}

// rest ends the pause behind what was sent.
func (c *editorClient) rest() {
	c.ask("test/settle", nil) // else the pause may not have begun
	c.clock.ring()
}

// at is the place of a bar in a part of a file's text.
func (c *editorClient) at(name, part string) object {
	before, after, ok := strings.Cut(part, "|")
	require.True(c.t, ok, "%q has no bar", part)
	i := strings.Index(c.texts[name], before+after)
	require.GreaterOrEqual(c.t, i, 0, "%q is not in %s", before+after, name)
	return object{"textDocument": object{"uri": c.uri(name)}, "position": textOf(c.texts[name]).position(i+len(before), c.units)}
}

// published are the diagnostics of a file that were told last, by what was told.
func published(list []heard) map[string][]Diagnostic {
	out := map[string][]Diagnostic{}
	for _, m := range list {
		if m.Method == "textDocument/publishDiagnostics" {
			var p publishParams
			if json.Unmarshal(m.Params, &p) == nil {
				out[p.URI] = p.Diagnostics
			}
		}
	}
	return out
}

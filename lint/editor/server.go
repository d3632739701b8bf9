package editor

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"github.com/sourcegraph/jsonrpc2"

	"fishplate/lint"
)

// Options says how builds are judged for an editor.
type Options struct {
	Packs   []*lint.Pack
	Judge   func() lint.Options // asked each time, for a day may end
	Clock   Clock
	Version string // of the program
}

// pause is how long a person has not typed before the checks are run: long enough
// for the next keystroke of a word, short enough to be waited for. Common practice,
// no source.
const pause = 300 * time.Millisecond

// mostWaiting is how many messages wait to be worked off before no more are read.
const mostWaiting = 1024

// server is one session of one editor.
type server struct {
	opt      Options
	conn     *jsonrpc2.Conn
	requests map[string]method // by their names
	notes    map[string]method
	queue    chan job
	over     chan struct{} // closed when the session is

	mu      sync.Mutex
	pending map[jsonrpc2.ID]*bool // of each request that waits: it was cancelled

	client      initializeParams
	encoding    Encoding
	initialized bool
	shut        bool // it asked to end
	clean       bool // it ended as it should

	roots  []string             // the editor's folders
	docs   map[string]*document // that are open, by path
	builds map[string]*build    // that have one open, by folder
	told   map[string]*told     // what was published, by path
	loose  bool                 // something is to be told beside what builds have to tell
}

// job is something to be done in its turn: a message, or the end of a pause.
type job struct {
	request   *jsonrpc2.Request
	cancelled *bool
	do        func()
	end       bool // there are no more messages
}

// Serve talks with an editor until it ends the session or its messages end. It
// tells whether the editor ended it as the protocol has it.
func Serve(in io.Reader, out io.Writer, opt Options) (clean bool) {
	s := newServer(opt)
	st := &stream{in: bufio.NewReader(in), out: out, done: func() {
		s.enqueue(job{end: true})
		<-s.over // what was asked before the end is answered
	}}
	s.conn = jsonrpc2.NewConn(context.Background(), st, s, jsonrpc2.SetLogger(silent{}))
	s.work()
	_ = s.conn.Close() // it may be closed already
	return s.clean
}

func newServer(opt Options) *server {
	return &server{
		opt: opt, requests: requests(), notes: notes(), queue: make(chan job, mostWaiting), over: make(chan struct{}), pending: map[jsonrpc2.ID]*bool{}, encoding: UTF16,
		docs: map[string]*document{}, builds: map[string]*build{}, told: map[string]*told{},
	}
}

// silent keeps what the library would log: an editor shows all of it to people.
type silent struct{}

func (silent) Printf(string, ...any) {}

// Handle puts a message in the queue, as messages come in. One that cancels another
// does so at once.
func (s *server) Handle(_ context.Context, _ *jsonrpc2.Conn, r *jsonrpc2.Request) {
	if r.Method == "$/cancelRequest" {
		var p struct{ ID jsonrpc2.ID }
		if r.Params != nil && json.Unmarshal(*r.Params, &p) == nil {
			s.mu.Lock()
			if c := s.pending[p.ID]; c != nil {
				*c = true
			}
			s.mu.Unlock()
		}
		return
	}
	j := job{request: r}
	if !r.Notif {
		j.cancelled = new(bool)
		s.mu.Lock()
		s.pending[r.ID] = j.cancelled
		s.mu.Unlock()
	}
	s.enqueue(j)
}

func (s *server) enqueue(j job) {
	select {
	case s.queue <- j:
	case <-s.over:
	}
}

// work does one thing after another until the session is over.
func (s *server) work() {
	defer close(s.over)
	for j := range s.queue {
		if j.end {
			return
		}
		if j.request != nil && j.request.Method == "exit" {
			s.clean = s.shut
			return
		}
		s.one(j)
		if len(s.queue) == 0 {
			s.guard(s.refresh)
		}
	}
}

func (s *server) one(j job) {
	switch {
	case j.request == nil:
		s.guard(j.do)
	case j.request.Notif:
		s.guard(func() { s.notified(j.request) })
	default:
		s.answer(j)
	}
}

// guard keeps what the program gets wrong from ending the session.
func (s *server) guard(do func()) {
	defer func() {
		if p := recover(); p != nil {
			s.notify("window/logMessage", object{"type": int(Error), "message": fmt.Sprintf("internal error: %v", p)})
		}
	}()
	do()
}

// answer works a request off.
func (s *server) answer(j job) {
	r := j.request
	s.mu.Lock()
	delete(s.pending, r.ID)
	cancelled := *j.cancelled
	s.mu.Unlock()
	result, err := any(nil), error(nil)
	if cancelled {
		err = &jsonrpc2.Error{Code: codeCancelled, Message: "cancelled"}
	} else {
		result, err = s.call(r)
	}
	if err == nil {
		_ = s.conn.Reply(context.Background(), r.ID, result) // an editor that is gone needs no answer
		return
	}
	_ = s.conn.ReplyWithError(context.Background(), r.ID, asAnswer(err))
}

// asAnswer is an error as the protocol has it.
func asAnswer(err error) *jsonrpc2.Error {
	if e, ok := err.(*jsonrpc2.Error); ok {
		return e
	}
	return &jsonrpc2.Error{Code: codeRequestFailed, Message: plain(strings.ReplaceAll(err.Error(), "\n", "; "))}
}

// call gives what a request asks for.
func (s *server) call(r *jsonrpc2.Request) (result any, err error) {
	defer func() {
		if p := recover(); p != nil {
			result, err = nil, &jsonrpc2.Error{Code: jsonrpc2.CodeInternalError, Message: fmt.Sprintf("internal error: %v", p)}
		}
	}()
	if s.initialized && !s.shut {
		s.refresh()
	}
	m, known := s.requests[r.Method]
	switch {
	case s.shut:
		return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidRequest, Message: "the session is shut down"}
	case !s.initialized && r.Method != "initialize":
		return nil, &jsonrpc2.Error{Code: codeNotInitialized, Message: "initialize comes first"}
	case s.initialized && r.Method == "initialize":
		return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidRequest, Message: "the session is initialized already"}
	case !known:
		return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeMethodNotFound, Message: "there is no request " + plain(r.Method)}
	}
	return m(s, r.Params)
}

// notified takes note of something. What is not known is passed over, as the
// protocol has it.
func (s *server) notified(r *jsonrpc2.Request) {
	if m, known := s.notes[r.Method]; known && s.initialized && !s.shut {
		if _, err := m(s, r.Params); err != nil {
			s.notify("window/logMessage", object{"type": int(Warning), "message": r.Method + ": " + asAnswer(err).Message})
		}
	}
}

func (s *server) notify(method string, params any) {
	_ = s.conn.Notify(context.Background(), method, params) // an editor that is gone hears nothing
}

// ask sends a request whose answer tells nothing that is needed.
func (s *server) ask(method string, params any) {
	_, _ = s.conn.DispatchCall(context.Background(), method, params)
}

// method is what is done for a message.
type method func(*server, *json.RawMessage) (any, error)

// on is a method that takes what a message says as a value of a type.
func on[P any](do func(*server, *P) (any, error)) method {
	return func(s *server, raw *json.RawMessage) (any, error) {
		p := new(P)
		if raw != nil {
			if err := json.Unmarshal(*raw, p); err != nil {
				return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidParams, Message: "what it says is of another form: " + plain(err.Error())}
			}
		}
		return do(s, p)
	}
}

// note is on, of what gives nothing back.
func note[P any](do func(*server, *P) error) method {
	return on(func(s *server, p *P) (any, error) { return nil, do(s, p) })
}

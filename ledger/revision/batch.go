package revision

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"time"
)

// errMissing is the error of an object that the repository does not have.
var errMissing = errors.New("missing")

// batch reads objects through one "git cat-file --batch", started at the first
// request and again should it die. Requests take turns, so it is safe for
// concurrent use. Git writes an answer before it reads on: whoever asks for
// more than one object at once must read while he writes, or both sides wait.
type batch struct {
	git git

	mu      sync.Mutex
	closed  bool
	process *exec.Cmd
	ask     io.WriteCloser
	answer  *bufio.Reader
	said    *tail
	watch   *watch
}

// copy writes the content of an object to w and gives its size. One larger
// than limit, unless that is negative, is passed over with an *oversize.
func (b *batch) copy(w io.Writer, id string, limit int64) (size int64, err error) {
	b.all([]string{id}, limit, func(int) io.Writer { return w }, func(_ int, n int64, e error) { size, err = n, e })
	return size, err
}

// all asks for many objects at once. It writes each to what to gives for its
// index, in order, and then tells done its size, or why there is none.
func (b *batch) all(ids []string, limit int64, to func(int) io.Writer, done func(int, int64, error)) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for next := 0; next < len(ids); next++ {
		if err := b.start(); err != nil {
			done(next, 0, err)
			continue
		}
		question, ask := strings.Join(ids[next:], "\n")+"\n", b.ask
		var asked sync.WaitGroup
		asked.Go(func() {
			_, _ = io.WriteString(ask, question) // should git end early, the answers will tell
		})
		alive := true
		for ; alive && next < len(ids); next++ {
			size, err := b.answerTo(ids[next], limit, to(next))
			var refused *oversize
			if alive = err == nil || errors.Is(err, errMissing) || errors.As(err, &refused); !alive {
				err = b.broken(err)
			}
			done(next, size, err)
		}
		next--
		asked.Wait()
	}
}

// oversize is the error of a file that is larger than the limit, in bytes.
type oversize struct{ size, limit int64 }

func (o *oversize) Error() string {
	what := "document"
	if o.limit <= MaxTOML {
		what = "TOML file"
	}
	return fmt.Sprintf("too big to read: %.1f MiB, where a %s may have %.0f MiB", mebibytes(o.size), what, mebibytes(o.limit))
}

func mebibytes(size int64) float64 { return float64(size) / (1 << 20) }

func (b *batch) start() error {
	if b.closed {
		return errors.New("read after Close")
	}
	if b.process != nil {
		return nil
	}
	cmd, err := b.git.command("cat-file", "--batch")
	if err != nil {
		return err
	}
	ask, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	answer, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	said := &tail{}
	cmd.Stderr = said
	cmd.WaitDelay = 5 * time.Second
	if err := cmd.Start(); err != nil {
		return err
	}
	b.watch = newWatch(cmd.Process)
	b.watch.timer.Stop() // until something is asked
	b.process, b.ask, b.answer, b.said = cmd, ask, bufio.NewReaderSize(b.watch.reader(answer), 1<<16), said
	return nil
}

// answerTo reads an answer: a head, the object and a line end.
func (b *batch) answerTo(id string, limit int64, w io.Writer) (size int64, err error) {
	line, err := b.answer.ReadString('\n')
	if err != nil {
		return 0, err
	}
	fields := strings.Fields(line)
	if len(fields) == 2 && fields[1] == "missing" {
		return 0, errMissing
	}
	if len(fields) != 3 || fields[0] != id {
		return 0, fmt.Errorf("an answer that is none: %q", strings.TrimSpace(line))
	}
	if size, err = strconv.ParseInt(fields[2], 10, 64); err != nil {
		return 0, err
	}
	var refused error
	if limit >= 0 && size > limit {
		w, refused = io.Discard, &oversize{size, limit}
	}
	if _, err := io.CopyN(w, b.answer, size); err != nil {
		return 0, err
	}
	if _, err := b.answer.Discard(1); err != nil {
		return 0, err
	}
	return size, refused
}

// broken ends a process that no longer answers, and says why in git's words if it gave any.
func (b *batch) broken(err error) error {
	b.stop(true)
	if b.watch.silent.Load() {
		return errSilent
	}
	if said := b.said.String(); said != "" {
		return &failure{said: said}
	}
	return fmt.Errorf("git cat-file: %w", err)
}

func (b *batch) stop(kill bool) {
	if b.process == nil {
		return
	}
	b.watch.timer.Stop()
	_ = b.ask.Close() // at the end of its input git ends
	if kill {
		_ = b.process.Process.Kill()
	}
	_ = b.process.Wait() // its answers were read whole: how it ends says nothing more
	b.process = nil
}

func (b *batch) close() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.closed = true
	b.stop(false)
}

// tail keeps the first kilobytes of what a process says on its standard error.
type tail struct{ said []byte }

func (t *tail) Write(p []byte) (int, error) {
	t.said = append(t.said, p[:min(len(p), max(0, 4096-len(t.said)))]...)
	return len(p), nil
}

func (t *tail) String() string { return strings.TrimSpace(string(t.said)) }

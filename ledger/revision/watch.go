package revision

import (
	"io"
	"os"
	"sync/atomic"
	"time"
)

// watch ends a process that is waited for and says nothing for too long. Only
// the time in a read counts: how long its reader takes is the reader's affair.
type watch struct {
	timer  *time.Timer
	silent atomic.Bool
}

func newWatch(p *os.Process) *watch {
	w := &watch{}
	w.timer = time.AfterFunc(patience, func() {
		w.silent.Store(true)
		_ = p.Kill() // it may have ended by itself
	})
	return w
}

// end stops watching and tells whether the process was ended for its silence.
func (w *watch) end() bool {
	w.timer.Stop()
	return w.silent.Load()
}

// reader reads what the process says under the watch.
func (w *watch) reader(from io.Reader) io.Reader { return watched{from, w} }

type watched struct {
	from io.Reader
	*watch
}

func (r watched) Read(p []byte) (int, error) {
	r.timer.Reset(patience)
	n, err := r.from.Read(p)
	if err == nil {
		r.timer.Stop()
	}
	return n, err
}

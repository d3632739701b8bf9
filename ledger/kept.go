package ledger

import (
	"crypto/sha256"
	"sync"

	"fishplate/ledger/syntax"
)

// kept holds the files that a loader has read and bound, by what they hold, so
// that a build of which one file changed costs that file alone.
type kept struct {
	mu     sync.Mutex
	docs   syntax.Cache
	size   int
	bound  map[boundKey]*boundFile
	before map[boundKey]*boundFile // what was bound at the last turn
}

// Turn lets a loader that keeps what it reads go of what it has not read since the
// turn before: after each reading, it keeps two states of a build.
func (l *Loader) Turn() {
	k := l.kept
	if k == nil {
		return
	}
	k.docs.Turn()
	k.mu.Lock()
	defer k.mu.Unlock()
	k.before, k.bound, k.size = k.bound, map[boundKey]*boundFile{}, 0
}

// boundKey is all that the entries of a file follow from.
type boundKey struct {
	name string
	sum  [sha256.Size]byte
	shop *shop
}

// boundFile is what one file gives to its build. It is never changed.
type boundFile struct {
	entries []*Entry
	faults  []Fault
	unread  bool
	lost    []loss
}

// File reads a file; a loader that keeps what it reads knows it from then on.
func (l *Loader) File(name string, data []byte) *syntax.File {
	if l.kept == nil {
		return &syntax.File{Name: name, Document: syntax.Read(data)}
	}
	return l.kept.docs.File(name, data)
}

// bound reads the entries of a file, unless they are kept.
func (r *reader) bound(name string, data []byte) *boundFile {
	if r.kept == nil {
		return r.bind(&syntax.File{Name: name, Document: syntax.Read(data)})
	}
	k := r.kept
	key := boundKey{name, sha256.Sum256(data), r.ofShop}
	k.mu.Lock()
	f, known := k.bound[key]
	if !known {
		f = k.before[key]
	}
	k.mu.Unlock()
	if f == nil {
		f = r.bind(k.docs.File(name, data))
	}
	if !known {
		k.mu.Lock()
		if k.size += len(data); k.size > syntax.MaxCached {
			clear(k.bound)
			k.size = len(data)
		}
		k.bound[key] = f
		k.mu.Unlock()
	}
	return f
}

// bind makes the entries of a file by itself.
func (r *reader) bind(f *syntax.File) *boundFile {
	alone := &reader{file: f.Name, entries: map[string]*Entry{}, hookups: r.hookups, words: r.words}
	alone.document(f.Document)
	out := &boundFile{entries: make([]*Entry, 0, len(alone.entries)), faults: alone.faults, unread: alone.unread, lost: alone.lost}
	for _, e := range alone.entries {
		out.entries = append(out.entries, e)
	}
	return out
}

// take adds what a file gives to the build.
func (r *reader) take(f *boundFile) {
	r.faults = append(r.faults, f.faults...)
	r.unread = r.unread || f.unread
	r.lost = append(r.lost, f.lost...)
	for _, e := range f.entries {
		r.put(e)
	}
}

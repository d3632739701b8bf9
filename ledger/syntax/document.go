package syntax

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Document is what a file's bytes say, whatever the file is called. It is never
// changed once read, and may be shared.
type Document struct {
	Hash    string // SHA-256 of the bytes, in lower-case hexadecimal; "" if it was not read through a Cache
	Text    string // what the ranges of nodes are into: the file without a byte order mark
	Mark    bool   // the file begins with a byte order mark
	Root    *Node  // nil where nothing at all could be read
	Faults  []Fault
	Refused bool // the file is no TOML 1.1
	Lost    bool // what could not be read may be entries of any name
}

// File is a document under the name that it was read by.
type File struct {
	Name string
	*Document
}

// Cache keeps documents by the hash of their bytes, so that a file that stays
// as it is is read once for all builds, revisions and keystrokes. The zero
// value is ready to use, from many goroutines.
type Cache struct {
	mu     sync.Mutex
	known  map[[sha256.Size]byte]*cached
	before map[[sha256.Size]byte]*cached // what was known at the last turn
	size   int
}

// Turn lets go of the documents that were not asked for since the turn before.
func (c *Cache) Turn() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.before, c.known, c.size = c.known, nil, 0
}

type cached struct {
	once sync.Once
	doc  *Document
}

// MaxCached is how many bytes of files a cache holds; past it, it starts anew.
const MaxCached = 4 << 20

// File reads a file, unless its content is known.
func (c *Cache) File(name string, data []byte) *File {
	sum := sha256.Sum256(data)
	c.mu.Lock()
	e := c.known[sum]
	if e == nil {
		if c.size += len(data); c.known == nil || c.size > MaxCached {
			c.known, c.size = map[[sha256.Size]byte]*cached{}, len(data)
		}
		if e = c.before[sum]; e == nil {
			e = &cached{}
		}
		c.known[sum] = e
	}
	c.mu.Unlock()
	e.once.Do(func() {
		e.doc = Read(data)
		e.doc.Hash = hex.EncodeToString(sum[:])
	})
	return &File{name, e.doc}
}

const mark = "\ufeff"

// Read reads a file, and all of it that can be read where something is wrong. It is
// refused where it is too large, nested too deeply, or not valid TOML 1.1. Keys that
// differ only in case, characters that hide, and numbers that are not finite or out of
// bounds are faults too, but do not refuse it. Faults are sorted by place; past a
// hundred the list ends with a note that there are more.
func Read(data []byte) *Document {
	if len(data) > MaxSize {
		return &Document{Refused: true, Lost: true, Faults: []Fault{{Position{1, 1}, fmt.Sprintf("the file has %d bytes, more than the %d that are read", len(data), MaxSize)}}}
	}
	text, marked := strings.CutPrefix(string(data), mark)
	r := newReader(text)
	if r.checkBytes() && r.checkDepth() {
		r.document.Root = r.root
		r.merges()
		body := data[len(data)-len(text):]
		if r.src != text { // something in it was blanked
			body = []byte(r.src)
		}
		r.walk(body)
		r.fill()
		r.checkTable(r.root)
		r.damage()
		r.lost = r.lost || r.root.Damaged
	} else {
		r.lost = true
	}
	slices.SortStableFunc(r.faults, func(a, b Fault) int { return a.At.compare(b.At) })
	if r.omitted {
		last := r.faults[len(r.faults)-1].At
		r.faults = append(r.faults, Fault{last, fmt.Sprintf("there are more faults: only %d are shown", maxFaults)})
	}
	d := r.document
	d.Mark, d.Faults, d.Refused, d.Lost = marked, r.faults, r.refused, r.lost
	return d
}

// damage marks the tables in whose sections something is wrong.
func (r *reader) damage() {
	for _, line := range r.hurt {
		i, found := slices.BinarySearchFunc(r.sections, line, func(s section, line int) int { return s.line - line })
		if !found {
			i--
		}
		r.sections[i].table.Damaged = true
	}
	for _, from := range r.otherSide {
		r.nameHeader(from, r.document.Text[from:lineEnd(r.document.Text, from)])
	}
}

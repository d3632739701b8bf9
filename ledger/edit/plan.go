package edit

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
)

// Edit is one piece of text in the place of a range of bytes.
type Edit struct {
	File     string // slash-separated, relative to the build folder
	From, To int    // bytes of the file as it is, From included and To not
	New      string
}

// Plan is what is to be changed in a build, and what its files hold now.
type Plan struct {
	Edits []Edit // sorted by file and place; they do not overlap
	// Base is the SHA-256 of each TOML file of the build, in lower-case
	// hexadecimal. A file that is not in it must not be there.
	Base map[string]string
}

// Files are the names of the files that the plan changes, sorted.
func (p Plan) Files() []string {
	var out []string
	for _, e := range p.Edits {
		if !slices.Contains(out, e.File) {
			out = append(out, e.File)
		}
	}
	slices.Sort(out)
	return out
}

// Text is what a file holds after the edits.
func (p Plan) Text(file string, old []byte) ([]byte, error) {
	var out []byte
	at := 0
	for _, e := range p.Edits {
		if e.File != file {
			continue
		}
		if e.From < at || e.To < e.From || e.To > len(old) {
			return nil, fmt.Errorf("%s: the bytes %d to %d are not there to be replaced", file, e.From, e.To)
		}
		out = append(append(out, old[at:e.From]...), e.New...)
		at = e.To
	}
	return append(out, old[at:]...), nil
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// piece is a run of text: bytes of the file as it was, or new ones.
type piece struct {
	from, to int // of the old text; equal for new text
	text     string
}

// pieces are a text that knows which of its bytes were there from the start.
type pieces []piece

func wholeOf(text string) pieces { return pieces{{0, len(text), text}} }

func (p pieces) String() string {
	var b strings.Builder
	for _, x := range p {
		b.WriteString(x.text)
	}
	return b.String()
}

// replace is the text with the bytes from and to of it given way to others.
// Bytes that are the same at either end of both stay what they were.
func (p pieces) replace(from, to int, text string) pieces {
	old := p.String()[from:to]
	for old != "" && text != "" && old[0] == text[0] {
		old, text, from = old[1:], text[1:], from+1
	}
	for old != "" && text != "" && old[len(old)-1] == text[len(text)-1] {
		old, text, to = old[:len(old)-1], text[:len(text)-1], to-1
	}
	out := append(p.cut(0, from), piece{text: text})
	return append(out, p.cut(to, 1<<62)...)
}

// cut is a range of the text.
func (p pieces) cut(from, to int) pieces {
	var out pieces
	at := 0
	for _, x := range p {
		a, b := max(from-at, 0), min(to-at, len(x.text))
		at += len(x.text)
		if a >= b {
			continue
		}
		y := piece{text: x.text[a:b]}
		if x.to > x.from {
			y.from, y.to = x.from+a, x.from+b
		}
		out = append(out, y)
	}
	return out
}

// edits tell how the text came of the old one, which was of the given length.
// shift is how many bytes of the file stand before it.
func (p pieces) edits(file string, length, shift int) []Edit {
	var out []Edit
	at, text := 0, ""
	flush := func(to int) {
		if text != "" || to > at {
			out = append(out, Edit{file, at + shift, to + shift, text})
		}
		text = ""
	}
	for _, x := range p {
		if x.to == x.from {
			text += x.text
			continue
		}
		flush(x.from)
		at = x.to
	}
	flush(length)
	return out
}

package revision

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"
	"time"
)

// MaxTOML is the size in bytes past which a TOML file is not read.
const MaxTOML = 1 << 20

// Error is a fault of a file or a folder.
type Error struct {
	Path    string // as the user would type it
	Message string // without the path
}

func (e *Error) Error() string { return e.Path + ": " + e.Message }

// File is a file of a build.
type File struct {
	Path  string // slash-separated, relative to the build folder
	Size  int64  // in bytes; -1 if it is not known before reading
	Fault string // why it cannot be read, or ""

	branch bool // may stand for a folder, whose TOML files are then not read
}

// Build is a folder that holds build.toml. It is safe for concurrent use.
type Build struct {
	tree tree
	at   string
}

// Folder is the build folder as the user would type it: relative to the
// working directory where that can be, slash-separated, with its revision.
func (b *Build) Folder() string { return b.tree.show(b.at, "") }

// Name is a file of the build as the user would type it.
func (b *Build) Name(file string) string { return b.tree.show(b.at, file) }

// Dir is the build folder on disk, for writing to; a revision has none.
func (b *Build) Dir() (string, bool) {
	_, ok := b.tree.(*folder)
	return b.at, ok
}

// Date is the committer's date of a revision, in the committer's time zone; a
// folder has none, and "today" is the calendar's.
func (b *Build) Date() (time.Time, bool) { return b.tree.date() }

// Authored is the author's date of a revision; the zero time of a folder.
func (b *Build) Authored() time.Time { return b.tree.written() }

// List gives everything below the build folder that is not a folder, sorted by
// path, without hidden files and what is below hidden folders. A file that
// cannot be read is listed with its fault; so is a folder that cannot, and a
// link to a folder, which is not followed.
func (b *Build) List() ([]File, error) {
	files, err := b.tree.list(b.at)
	if err != nil {
		return nil, err
	}
	for i := range files {
		if f := &files[i]; f.Fault == "" && isTOML(f.Path) && f.Size > MaxTOML {
			f.Fault = (&oversize{f.Size, MaxTOML}).Error()
		}
	}
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Path, b.Path) })
	return files, nil
}

// TOML gives the TOML files of the build: those named *.toml, without a
// shop.toml in the build folder itself and the rules beside that. With them come, each with its fault,
// what may hide others: a folder that cannot be read, a link to a folder, a
// link without an extension that leads outside, a submodule.
func (b *Build) TOML() ([]File, error) {
	files, err := b.List()
	shop := slices.ContainsFunc(files, func(f File) bool { return f.Path == shopFile })
	return slices.DeleteFunc(files, func(f File) bool {
		return f.Path == shopFile || shop && path.Dir(f.Path) == rulesFolder || !isTOML(f.Path) && !(f.branch && f.Fault != "")
	}), err
}

func isTOML(name string) bool { return strings.EqualFold(path.Ext(name), ".toml") }

// Read gives the content of a file of at most MaxTOML bytes. An error is an *Error.
func (b *Build) Read(name string) ([]byte, error) {
	return read(b.tree, b.at, name)
}

func read(from tree, at, name string) ([]byte, error) {
	contents, faults := from.read(at, []string{name})
	if faults[0] != nil {
		return nil, &Error{from.show(at, name), faults[0].Error()}
	}
	return contents[0], nil
}

// ReadAll is Read for many files, which is several times quicker of a
// revision. What it gives is in the order of the names. Of files that hold more
// than any ledger may it gives the first.
func (b *Build) ReadAll(names []string) (contents [][]byte, faults []error) {
	contents, faults = readAll(b.tree, b.at, names)
	for i, err := range faults {
		if err != nil {
			contents[i], faults[i] = nil, &Error{b.Name(names[i]), err.Error()}
		}
	}
	return contents, faults
}

// mostRead is how many bytes of files are read together, and mostAtOnce how many
// files before they are counted: a repository of a few kilobytes can hold
// thousands of files of a megabyte each.
const (
	mostRead   = 4 * MaxTOML
	mostAtOnce = 64
)

var errMuch = fmt.Errorf("not read: the files before it hold more than %d MiB", mostRead>>20)

// readAll reads files in their order, until they are too much.
func readAll(from tree, at string, names []string) (contents [][]byte, faults []error) {
	size := 0
	for part := range slices.Chunk(names, mostAtOnce) {
		if size > mostRead {
			contents, faults = append(contents, make([][]byte, len(part))...), append(faults, slices.Repeat([]error{errMuch}, len(part))...)
			continue
		}
		found, bad := from.read(at, part)
		for _, content := range found {
			size += len(content)
		}
		contents, faults = append(contents, found...), append(faults, bad...)
	}
	return contents, faults
}

// Revision is what stands before the folder of a build that was read from a
// git revision, with its colon; "" for a folder on disk.
func (b *Build) Revision() string {
	if c, ok := b.tree.(*commit); ok {
		return c.rev + ":"
	}
	return ""
}

// Digest gives the SHA-256, in lower-case hexadecimal, and the size of any
// file of the build that holds something, of at most MaxDocument bytes. An error is
// an *Error.
func (b *Build) Digest(name string) (sum string, size int64, err error) {
	id := ""
	c, ok := b.tree.(*commit)
	if ok && c.kept.keep {
		if e, err := c.resolve(b.at, name); err == nil {
			id = e.id
		}
		if known, ok := c.kept.sum(id); ok {
			return known.hex, known.size, nil
		}
	}
	hash := sha256.New()
	size, err = b.tree.copy(hash, b.at, name, MaxDocument)
	if err == nil && size == 0 {
		err = errors.New("an empty file, which proves nothing")
	}
	if err != nil {
		return "", 0, &Error{b.Name(name), err.Error()}
	}
	sum = hex.EncodeToString(hash.Sum(nil))
	if id != "" {
		c.kept.note(id, digested{sum, size})
	}
	return sum, size, nil
}

// Document gives the content of any file of the build of at most so many bytes. An
// error is an *Error.
func (b *Build) Document(name string, most int64) ([]byte, error) {
	var content bytes.Buffer
	if _, err := b.tree.copy(&content, b.at, name, most); err != nil {
		return nil, &Error{b.Name(name), err.Error()}
	}
	return content.Bytes(), nil
}

// MaxDocument is the size in bytes past which a document is not digested.
const MaxDocument = 256 << 20

// Commit is the id of the commit that a build was read from; "" for a folder.
func (b *Build) Commit() string {
	if c, ok := b.tree.(*commit); ok {
		return c.id
	}
	return ""
}

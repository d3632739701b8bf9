package history

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"time"

	"fishplate/lint"
)

// Cache keeps what was found out about commits in the user's cache folder. It
// only ever saves time: what is not there, or is not what this program with
// these rules wrote, is worked out anew, and no exit status comes from it. The
// folder may be deleted at any time.
type Cache struct {
	dir     string
	program string // this program and its rules
}

// The bounds of a cache: what is longer is not read, and what nobody wrote to
// for so long goes.
const (
	mostCached = 64 << 20
	cacheTime  = 90 * 24 * time.Hour
	cacheForm  = "fishplate history 1"
)

// OpenCache makes the folder if it is not there; nil where there can be none,
// or where others may write to it.
func OpenCache(packs []*lint.Pack) *Cache {
	base, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	c := &Cache{dir: filepath.Join(base, "fishplate", "history")}
	if os.MkdirAll(c.dir, 0o700) != nil {
		return nil
	}
	info, err := os.Lstat(c.dir)
	if err != nil || !info.IsDir() || info.Mode().Perm()&0o077 != 0 && os.Chmod(c.dir, 0o700) != nil {
		return nil
	}
	if c.program, err = programOf(packs); err != nil {
		return nil
	}
	return c
}

// programOf is the SHA-256 of this program's file and of the rules' names: a
// version's name alone does not tell one build of the program from another.
func programOf(packs []*lint.Pack) (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	for _, p := range packs {
		for _, r := range p.Rules {
			io.WriteString(h, r.Name+"\x00")
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// heading is the first line of a file: the rest is whole where it has that sum.
type heading struct {
	Form     string `json:"form"`
	Program  string `json:"program"`
	Question string `json:"question"`
	Sum      string `json:"sha256"`
}

func (c *Cache) heading(question string, body []byte) []byte {
	sum := sha256.Sum256(body)
	line, _ := json.Marshal(heading{cacheForm, c.program, question, hex.EncodeToString(sum[:])}) // of texts only: it has no error
	return append(line, '\n')
}

func (c *Cache) file(question string) string {
	sum := sha256.Sum256([]byte(question))
	return hex.EncodeToString(sum[:16]) + ".json"
}

// read gives what is kept of a question; nothing where the file is not there,
// was cut short, or is another program's.
func (c *Cache) read(question string) map[string]json.RawMessage {
	out := map[string]json.RawMessage{}
	if c == nil {
		return out
	}
	text, err := c.text(c.file(question))
	if err != nil {
		return out
	}
	head, body, ok := bytes.Cut(text, []byte{'\n'})
	if !ok || !bytes.Equal(append(head, '\n'), c.heading(question, body)) || json.Unmarshal(body, &out) != nil {
		return map[string]json.RawMessage{}
	}
	return out
}

func (c *Cache) text(name string) ([]byte, error) {
	root, err := os.OpenRoot(c.dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	info, err := root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostCached {
		return nil, errors.Join(err, errors.ErrUnsupported)
	}
	return root.ReadFile(name)
}

// write keeps the answers to a question: a file beside, and then in its place.
// Where that cannot be, the next run takes longer, and that is all.
func (c *Cache) write(question string, answers map[string]json.RawMessage) {
	if c == nil {
		return
	}
	body, err := json.Marshal(answers)
	if err != nil || len(body) > mostCached {
		return
	}
	f, err := os.CreateTemp(c.dir, ".new-*")
	if err != nil {
		return
	}
	_, err = f.Write(append(c.heading(question, body), body...))
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), filepath.Join(c.dir, c.file(question)))
	}
	if err != nil {
		os.Remove(f.Name())
	}
	c.sweep()
}

// sweep takes away what nobody wrote to for long.
func (c *Cache) sweep() {
	entries, err := os.ReadDir(c.dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > cacheTime {
			os.Remove(filepath.Join(c.dir, e.Name()))
		}
	}
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint/report"
)

// addition is a file of a build that entries are added to at its end.
type addition struct {
	src  *revision.Build
	b    *ledger.Build
	dir  string // the build folder on disk
	file string // in it, such as documents.toml
	old  []byte // the file's content when the ledger was read
}

// additionTo reads the build that a command is to write to; what is wrong with
// it unread tells.
func (p *program) additionTo(arg, file string) (*addition, error) {
	places, builds, err := openBuilds([]string{arg})
	defer closePlaces(places)
	switch {
	case err != nil:
		return nil, err
	case len(builds) > 1:
		return nil, wrong("%s holds %d builds; name one, such as %s", arg, len(builds), builds[0].Folder())
	}
	a := &addition{src: builds[0], file: file}
	dir, ok := a.src.Dir()
	if !ok {
		return nil, fmt.Errorf("%s: a git revision is never written to; name the folder in the work tree", arg)
	}
	a.dir = dir
	if a.old, _, err = oldContent(a.path()); err != nil {
		return nil, plainError(a.name(), err)
	}
	a.b = ledger.NewLoader().Read(a.src)
	return a, nil
}

// unread tells the faults of the build, save that an entry is named which is
// about to be added, and whether there are any: nothing is written then.
func (p *program) unread(a *addition, added map[string]bool) bool {
	found := false
	for _, f := range a.b.Faults {
		if !added[a.b.Lacks(f)] {
			found, p.status = true, statusUnread
			fmt.Fprintln(p.err, report.Fault(f))
		}
	}
	return found
}

// name is the file as the user would type it.
func (a *addition) name() string { return a.src.Name(a.file) }

// path is the file on disk, where a link leads.
func (a *addition) path() string {
	path := filepath.Join(a.dir, a.file)
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}

// with is the build as it would be with the text added.
func (a *addition) with(text string) (*ledger.Build, error) {
	b, faults := a.b.WithEntries(a.name(), []byte(text))
	var errs []error
	for _, f := range faults {
		errs = append(errs, fmt.Errorf("%s: what would be added has a fault: %s", a.name(), f.Message))
	}
	return b, errors.Join(errs...)
}

// write adds the text at the end of the file: in a new file beside it, which
// takes its place when all of it is on the disk. The name of that new file is
// also the lock against another that adds at the same time.
func (a *addition) write(text string) error {
	path := a.path()
	temp := filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".new")
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: someone else is adding to it, or was cut short: if no other fishplate is running, remove %s", a.name(), a.src.Name("."+filepath.Base(path)+".new"))
	}
	if err != nil {
		return plainError(a.name(), err)
	}
	if err = a.fillIn(f, path, text); err == nil {
		err = os.Rename(temp, path)
	}
	if err != nil {
		return plainError(a.name(), errors.Join(err, os.Remove(temp)))
	}
	return plainError(a.name(), syncFolder(filepath.Dir(path)))
}

// fillIn writes the old content and the text into a new file, with the mode of
// the old one, and waits until the disk has it.
func (a *addition) fillIn(f *os.File, path, text string) error {
	content, mode, err := oldContent(path)
	if err == nil && !bytes.Equal(content, a.old) {
		err = errors.New("it was changed just now; try again")
	}
	if err == nil {
		_, err = f.Write(joinTOML(content, text))
	}
	if err == nil && mode != 0 {
		err = f.Chmod(mode)
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// oldContent reads the file as it is, and its mode; none where there is no
// such file.
func oldContent(path string) ([]byte, fs.FileMode, error) {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, 0, nil
	case err != nil:
		return nil, 0, err
	case !info.Mode().IsRegular():
		return nil, 0, errors.New("it is no regular file")
	case info.Mode()&0o200 == 0:
		return nil, 0, errors.New("it is read-only")
	}
	content, err := os.ReadFile(path)
	return content, info.Mode().Perm(), err
}

// joinTOML puts new entries behind old ones, with a blank line between and the
// line ends that the old ones have.
func joinTOML(old []byte, text string) []byte {
	if len(old) == 0 {
		return []byte(text)
	}
	end := "\n"
	if bytes.Contains(old, []byte("\r\n")) {
		end = "\r\n"
		text = strings.ReplaceAll(text, "\n", end)
	}
	out := bytes.Clone(old)
	if !bytes.HasSuffix(out, []byte("\n")) {
		out = append(out, end...)
	}
	return append(append(out, end...), text...)
}

// syncFolder waits until the disk has a folder's new name for a file. Not all
// systems let a folder be waited for, and there the file is whole all the same.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	_ = d.Sync()
	return d.Close()
}

// tomlString is text as a TOML basic string.
func tomlString(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func tomlList(words []string) string {
	var quoted []string
	for _, w := range words {
		quoted = append(quoted, tomlString(w))
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

// freeID is the id, or with a number behind it that no entry of the kind has.
func freeID(b *ledger.Build, taken map[string]bool, kind, id string) string {
	for n := 1; ; n++ {
		try := id
		if n > 1 {
			try = fmt.Sprintf("%s-%d", id, n)
		}
		if _, ok := b.Entry(kind + "." + try); !ok && !taken[try] {
			taken[try] = true
			return try
		}
	}
}

// onDate reads a flag that says what day it is; today where it is not given.
func (p *program) onDate(c *cli.Context, flag string) (string, error) {
	if !c.IsSet(flag) {
		return p.today, nil
	}
	return dateOf(flag, c.String(flag))
}

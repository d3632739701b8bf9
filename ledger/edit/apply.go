package edit

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fishplate/ledger/revision"
)

// lockFile is the file in a build folder that whoever writes there holds.
const lockFile = ".fishplate-lock"

// Patience is how long a writer waits for others to be done.
const Patience = 20 * time.Second

// ErrChanged is the error of a plan that was made from other files than there
// are now: make it again.
var ErrChanged = errors.New("the ledger was changed just now; try again")

// Hold is the right to write to a build folder, which one has at a time.
type Hold struct {
	dir     string
	disk    disk
	release func() error
}

// Take waits for the right to write to a build folder on disk, for as long as
// Patience, and completes what was cut short there.
func Take(dir string) (*Hold, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	until := time.Now().Add(Patience)
	release, taken, err := tryLock(root)
	for ; err == nil && !taken && time.Now().Before(until); release, taken, err = tryLock(root) {
		time.Sleep(10 * time.Millisecond)
	}
	if err == nil && !taken {
		err = fmt.Errorf("someone else has been writing to it for %s; if nobody is, remove %s", Patience, lockFile)
	}
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	h := &Hold{dir, rooted{root}, release}
	if err := h.recover(); err != nil {
		return nil, errors.Join(err, h.Release())
	}
	return h, nil
}

// Release gives the right back.
func (h *Hold) Release() error { return errors.Join(h.release(), h.disk.Close()) }

// Apply writes a plan to the build that it was made of: all of it or nothing.
func Apply(src *revision.Build, p Plan) error {
	dir, ok := src.Dir()
	if !ok {
		return fmt.Errorf("%s: a git revision is never written to", src.Folder())
	}
	h, err := Take(dir)
	if err != nil {
		return err
	}
	return errors.Join(h.Apply(src, p), h.Release())
}

// Apply writes a plan: all of it or nothing.
func (h *Hold) Apply(src *revision.Build, p Plan) error {
	if err := current(src, p); err != nil {
		return err
	}
	var outs []output
	for _, name := range p.Files() {
		out, err := h.output(name)
		if err == nil && out.hash != p.Base[name] {
			err = ErrChanged
		}
		if err == nil {
			out.new, err = p.Text(name, out.old)
		}
		if err != nil {
			return &Unwritten{name, err}
		}
		outs = append(outs, out)
	}
	return h.write(outs)
}

// Unwritten is the error of a file that cannot be written; nothing was.
type Unwritten struct {
	File string // of the build
	Err  error
}

func (u *Unwritten) Error() string { return u.File + ": " + u.Err.Error() }

func (u *Unwritten) Unwrap() error { return u.Err }

// current tells whether the files of a build are those that a plan was made of.
func current(src *revision.Build, p Plan) error {
	files, err := src.TOML()
	if err != nil {
		return err
	}
	var names []string
	for _, f := range files {
		names = append(names, f.Path)
	}
	contents, faults := src.ReadAll(names)
	for i, name := range names {
		if faults[i] != nil || hashOf(contents[i]) != p.Base[name] {
			return &Unwritten{name, ErrChanged}
		}
	}
	for name := range p.Base {
		if !slices.Contains(names, name) {
			return &Unwritten{name, ErrChanged}
		}
	}
	return nil
}

// output is one file that is being written.
type output struct {
	name string // of the file itself, where a link to it was named
	mode fs.FileMode
	old  []byte
	hash string // of the old text; "" where there was no file
	new  []byte
}

// temp is the file beside it that is to take its place.
func (o output) temp() string { return path.Join(path.Dir(o.name), "."+path.Base(o.name)+".new") }

// output looks at the file that is to be written, which may be a link to
// another inside the build folder.
func (h *Hold) output(name string) (output, error) {
	if err := localTOML(name); err != nil {
		return output{}, err
	}
	out := output{name: name}
	full := filepath.Join(h.dir, filepath.FromSlash(name))
	if real, err := filepath.EvalSymlinks(full); err == nil && real != full {
		rel, err := filepath.Rel(h.dir, real)
		if err != nil || !filepath.IsLocal(rel) {
			return out, errors.New("leads outside the build folder, where nothing is written")
		}
		out.name = filepath.ToSlash(rel)
	}
	info, err := h.disk.Lstat(out.name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return out, h.folders(path.Dir(out.name))
	case err != nil:
		return out, err
	case !info.Mode().IsRegular():
		return out, errors.New("it is no regular file")
	case info.Mode()&0o200 == 0:
		return out, errors.New("it is read-only")
	}
	out.mode = info.Mode().Perm()
	out.old, out.hash, err = there(h.disk, out.name)
	return out, err
}

// folders makes the folders that a new file lies in. No link to a folder is
// followed: what lies there would not be read.
func (h *Hold) folders(dir string) error {
	if dir == "." {
		return nil
	}
	at := ""
	for _, part := range strings.Split(dir, "/") {
		at = path.Join(at, part)
		info, err := h.disk.Lstat(at)
		if errors.Is(err, fs.ErrNotExist) {
			if err = h.disk.Mkdir(at); err == nil {
				err = h.disk.SyncFolder(path.Dir(at))
			}
		} else if err == nil && !info.IsDir() {
			err = fmt.Errorf("%s is no folder", at)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// write puts files in their places. One is renamed over what was there. Of
// several, a journal holds what is to be, from before the first is renamed
// until after the last.
func (h *Hold) write(outs []output) error {
	err := h.prepare(outs)
	if err == nil && len(outs) > 1 {
		err = h.announce(outs)
	}
	if err != nil {
		return errors.Join(err, h.clear(outs))
	}
	for i, o := range outs {
		if err := h.disk.Rename(o.temp(), o.name); err != nil {
			return h.undo(outs, i, &Unwritten{o.name, err})
		}
	}
	if err := h.syncFolders(outs); err != nil || len(outs) < 2 {
		return err
	}
	return h.settle()
}

// prepare writes the new files beside the old ones.
func (h *Hold) prepare(outs []output) error {
	for _, o := range outs {
		if err := create(h.disk, o.temp(), o.new, o.mode); err != nil {
			return &Unwritten{o.name, err}
		}
	}
	return h.syncFolders(outs)
}

func (h *Hold) syncFolders(outs []output) error {
	done := map[string]bool{}
	for _, o := range outs {
		dir := path.Dir(o.name)
		if done[dir] {
			continue
		}
		done[dir] = true
		if err := h.disk.SyncFolder(dir); err != nil {
			return err
		}
	}
	return nil
}

// clear takes away what was prepared.
func (h *Hold) clear(outs []output) error {
	var errs []error
	for _, o := range outs {
		if err := h.disk.Remove(o.temp()); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

// undo puts back the first of some files, where one could not be put in its
// place. If that cannot be done either, the journal stays, and the next writer
// completes what it says.
func (h *Hold) undo(outs []output, renamed int, failed error) error {
	for _, o := range outs[:renamed] {
		var err error
		if o.hash == "" {
			err = h.disk.Remove(o.name)
		} else if err = create(h.disk, o.temp(), o.old, o.mode); err == nil {
			err = h.disk.Rename(o.temp(), o.name)
		}
		if err != nil {
			return errors.Join(failed, err)
		}
	}
	err := h.syncFolders(outs)
	if err == nil && len(outs) > 1 {
		err = h.settle()
	}
	return errors.Join(failed, err, h.clear(outs))
}

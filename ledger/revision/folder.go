package revision

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"fishplate/ledger/spelling"
)

// folder is the tree of a place on disk. Its locations are absolute paths
// without links.
type folder struct {
	root  string // what the user named
	shown string // how the user named it
	here  string // the working directory
}

func openFolder(arg string) (*Place, error) {
	here, err := os.Getwd()
	if err == nil {
		here, err = filepath.EvalSymlinks(here)
	}
	if err != nil {
		return nil, fmt.Errorf("the working directory: %w", err)
	}
	shown := filepath.ToSlash(filepath.Clean(arg))
	info, err := os.Stat(arg)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &Error{shown, "no such folder" + suggestFolder(filepath.Clean(arg))}
	case err != nil:
		return nil, &Error{shown, reason(err)}
	case !info.IsDir():
		return nil, &Error{shown, "a file, where a folder is needed; its folder is " + path.Dir(shown)}
	}
	root, err := filepath.Abs(arg)
	if err == nil {
		root, err = filepath.EvalSymlinks(root)
	}
	if err != nil {
		return nil, &Error{shown, reason(err)}
	}
	if rel, err := filepath.Rel(here, root); err == nil && filepath.IsAbs(arg) && filepath.IsLocal(rel) {
		shown = filepath.ToSlash(rel)
	}
	return &Place{tree: &folder{root, shown, here}, at: root}, nil
}

// suggestFolder looks for a neighbor of the first part of a path that does not exist.
func suggestFolder(missing string) string {
	parent, rest := filepath.Dir(missing), ""
	for {
		if info, err := os.Stat(parent); err == nil && info.IsDir() {
			break
		}
		if parent == filepath.Dir(parent) {
			return ""
		}
		missing, rest, parent = parent, filepath.Join(filepath.Base(missing), rest), filepath.Dir(parent)
	}
	entries, err := os.ReadDir(parent)
	if err != nil {
		return ""
	}
	var names []string
	for _, e := range entries {
		if e.IsDir() && !hidden(e.Name()) {
			names = append(names, e.Name())
		}
	}
	name := spelling.Nearest(filepath.Base(missing), names)
	if name == "" {
		return ""
	}
	whole := filepath.Join(parent, name, rest)
	if info, err := os.Stat(whole); err != nil || !info.IsDir() {
		whole = filepath.Join(parent, name)
	}
	return "; is " + filepath.ToSlash(whole) + " meant?"
}

func (f *folder) show(at, name string) string {
	rel, err := filepath.Rel(f.root, at)
	if err == nil && filepath.IsLocal(rel) {
		return path.Join(f.shown, filepath.ToSlash(rel), name)
	}
	if !filepath.IsAbs(f.shown) {
		if rel, err = filepath.Rel(f.here, at); err == nil {
			at = rel
		}
	}
	return path.Join(filepath.ToSlash(at), name)
}

func (f *folder) find(at string) (found, trials []string, faults []error) {
	// WalkDir hands errors to the function and returns what that returns: nothing.
	_ = filepath.WalkDir(at, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			faults = append(faults, &Error{f.show(p, ""), reason(err)})
			return nil
		}
		if !d.IsDir() {
			return nil
		}
		switch {
		case p != at && hidden(d.Name()):
			return fs.SkipDir
		case p != at && f.tries(p):
			trials = append(trials, p)
			return fs.SkipDir
		}
		switch build, err := f.has(p, buildFile); {
		case err != nil:
			faults = append(faults, &Error{f.show(p, buildFile), err.Error()})
			return fs.SkipDir
		case build:
			found = append(found, p)
			return fs.SkipDir
		}
		return nil
	})
	return found, trials, faults
}

// tries tells the folder of the builds that try a shop's rules.
func (f *folder) tries(p string) bool {
	if filepath.Base(p) != trialsFolder {
		return false
	}
	shop, err := f.has(filepath.Dir(p), shopFile)
	return shop && err == nil
}

func (f *folder) shops(at string) (found []string) {
	// What cannot be read holds no shop that has a say.
	_ = filepath.WalkDir(at, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || !d.IsDir():
			return nil
		case p != at && hidden(d.Name()):
			return fs.SkipDir
		}
		if shop, err := f.has(p, shopFile); shop && err == nil {
			found = append(found, p)
		}
		return nil
	})
	return found
}

func (f *folder) toml(at, dir string) (names []string, err error) {
	root, err := os.OpenRoot(at)
	if err != nil {
		return nil, &Error{f.show(at, ""), reason(err)}
	}
	defer root.Close()
	if info, err := root.Lstat(dir); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		return nil, &Error{f.show(at, dir), faultLinkedFolder}
	}
	found, err := fs.ReadDir(root.FS(), dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, &Error{f.show(at, dir), reason(err)}
	}
	for _, d := range found {
		if !d.IsDir() && !hidden(d.Name()) && isTOML(d.Name()) {
			names = append(names, d.Name())
		}
	}
	return names, nil
}

func (f *folder) join(at, below string) string { return filepath.Join(at, filepath.FromSlash(below)) }

func (f *folder) has(at, name string) (bool, error) {
	info, err := os.Lstat(filepath.Join(at, name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, errors.New(reason(err))
	}
	return !info.IsDir(), nil
}

// parent stops at a folder with .git, which is the top of a work tree.
func (f *folder) parent(at string) (string, bool) {
	if _, err := os.Lstat(filepath.Join(at, ".git")); err == nil {
		return at, false
	}
	above := filepath.Dir(at)
	return above, above != at
}

// within stops there too and, where there is no work tree, at the folder that
// the user named, or at the working directory above it.
func (f *folder) within(at string) (string, bool) {
	top := f.root
	if rel, err := filepath.Rel(f.here, f.root); err == nil && filepath.IsLocal(rel) {
		top = f.here
	}
	for up, more := at, true; more; {
		if _, err := os.Lstat(filepath.Join(up, ".git")); err == nil {
			top = up
			break
		}
		up, more = f.parent(up)
	}
	return filepath.Dir(at), at != top
}

func (f *folder) base(at string) string { return filepath.Base(at) }

func (f *folder) list(at string) ([]File, error) {
	root, err := os.OpenRoot(at)
	if err != nil {
		return nil, &Error{f.show(at, ""), reason(err)}
	}
	defer root.Close()
	var files []File
	err = fs.WalkDir(root.FS(), ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			files = append(files, File{Path: p, Fault: reason(err), branch: true})
			return nil
		case p != "." && hidden(d.Name()):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case !d.IsDir():
			files = append(files, look(root, p, d.Type()))
		}
		return nil
	})
	return files, err
}

// look says what is at a path that is no folder, without opening it.
func look(root *os.Root, name string, kind fs.FileMode) File {
	file := File{Path: name}
	info, err := root.Stat(filepath.FromSlash(name))
	switch {
	case errors.Is(err, fs.ErrNotExist) && kind&fs.ModeSymlink != 0:
		file.Fault = faultDangling
	case err != nil:
		file.Fault = reason(err)
		file.branch = kind&fs.ModeSymlink != 0 && path.Ext(name) == ""
	case info.IsDir():
		file.Fault, file.branch = faultLinkedFolder, true
	default:
		file.Size, file.Fault = info.Size(), irregular(info.Mode())
	}
	return file
}

func (f *folder) copy(w io.Writer, at, name string, limit int64) (int64, error) {
	root, err := os.OpenRoot(at)
	if err != nil {
		return 0, errors.New(reason(err))
	}
	defer root.Close()
	return copyFrom(root, w, name, limit)
}

func copyFrom(root *os.Root, w io.Writer, name string, limit int64) (int64, error) {
	local := filepath.FromSlash(name)
	// A device may act on being opened and a FIFO wait for its other end: look first.
	info, err := root.Stat(local)
	if err == nil {
		err = fit(info, limit)
	}
	if err != nil {
		return 0, errors.New(reason(err))
	}
	file, err := root.OpenFile(local, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return 0, errors.New(reason(err))
	}
	defer file.Close()
	// It may have been put in the place of what was looked at.
	if info, err = file.Stat(); err == nil {
		err = fit(info, limit)
	}
	if err != nil {
		return 0, errors.New(reason(err))
	}
	var buf []byte
	if b, ok := w.(*bytes.Buffer); ok {
		b.Grow(int(info.Size()) + bytes.MinRead)
	} else {
		buf = make([]byte, min(info.Size()+1, copyAtOnce))
	}
	var from io.Reader = file
	if limit >= 0 {
		from = io.LimitReader(file, limit+1)
	}
	n, err := io.CopyBuffer(w, from, buf)
	switch {
	case err != nil:
		return n, errors.New(reason(err))
	case limit >= 0 && n > limit:
		return n, &oversize{n, limit}
	}
	return n, nil
}

// copyAtOnce is how many bytes of a file are held at a time as it is copied.
const copyAtOnce = 32 << 10

func (f *folder) read(at string, names []string) (contents [][]byte, faults []error) {
	root, err := os.OpenRoot(at)
	if err == nil {
		defer root.Close()
	}
	for _, name := range names {
		var content bytes.Buffer
		fault := err
		if err != nil {
			fault = errors.New(reason(err))
		} else {
			_, fault = copyFrom(root, &content, name, MaxTOML)
		}
		contents, faults = append(contents, content.Bytes()), append(faults, fault)
	}
	return contents, faults
}

func (f *folder) date() (time.Time, bool) { return time.Time{}, false }

func (f *folder) written() time.Time { return time.Time{} }

func (f *folder) close() error { return nil }

func hidden(name string) bool { return strings.HasPrefix(name, ".") }

// The faults that both kinds of tree know.
const (
	faultOutside      = "leads outside the folder, where nothing is read"
	faultDangling     = "a link that ends nowhere"
	faultLinkedFolder = "a link to a folder, which is not followed"
	faultFolder       = "a folder, where a file is needed"
	faultNoFile       = "no such file"
)

// fit says why a file is not read, if it is not.
func fit(info fs.FileInfo, limit int64) error {
	if fault := irregular(info.Mode()); fault != "" {
		return errors.New(fault)
	}
	if limit >= 0 && info.Size() > limit {
		return &oversize{info.Size(), limit}
	}
	return nil
}

func irregular(mode fs.FileMode) string {
	switch {
	case mode.IsRegular():
		return ""
	case mode.IsDir():
		return faultFolder
	case mode&fs.ModeNamedPipe != 0:
		return "a named pipe, no regular file"
	case mode&fs.ModeSocket != 0:
		return "a socket, no regular file"
	case mode&fs.ModeDevice != 0:
		return "a device, no regular file"
	}
	return "no regular file"
}

// reason is the message of an error without the path, which the caller tells.
func reason(err error) string {
	var on *fs.PathError
	if !errors.As(err, &on) {
		return err.Error()
	}
	// The os package keeps the error of a path that leaves a root to itself.
	if strings.Contains(on.Err.Error(), "escapes from parent") {
		return faultOutside
	}
	if errors.Is(err, fs.ErrNotExist) {
		return faultNoFile
	}
	return cmp.Or(on.Err.Error(), err.Error())
}

package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"github.com/mattn/go-isatty"
	"golang.org/x/term"

	"fishplate/lint"
	"fishplate/lint/report"
)

// leavePipes lets a write to a reader that has gone come back as an error, so
// that the exit status still tells what was found.
func leavePipes() { signal.Ignore(syscall.SIGPIPE) }

// pipe is standard output. Where its reader has gone it is quiet.
type pipe struct {
	to     io.Writer
	gone   bool
	failed error
}

func (p *pipe) Write(b []byte) (int, error) {
	if p.gone || p.failed != nil {
		return len(b), nil
	}
	if _, err := p.to.Write(b); errors.Is(err, syscall.EPIPE) {
		p.gone = true
	} else if err != nil {
		p.failed = fmt.Errorf("standard output: %w", err)
	}
	return len(b), nil
}

func isTerminal(w io.Writer) bool {
	if p, ok := w.(*pipe); ok {
		w = p.to
	}
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// color tells whether a writer wants colors (https://no-color.org).
func color(w io.Writer) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(w)
}

// columns is the width of the screen: COLUMNS, else the terminal's, else 0 for
// the usual one.
func columns(w io.Writer) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return n
	}
	if p, ok := w.(*pipe); ok {
		w = p.to
	}
	if f, ok := w.(*os.File); ok {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil {
			return n
		}
	}
	return 0
}

// outputs are the reports that a run writes.
type outputs struct {
	writers []*report.Writer
	files   []*target
	err     error
}

// outputs opens the reports asked for, each as KIND or KIND=FILE. Where none is
// asked for it is text.
func (p *program) outputs(kinds []report.Kind, asked []string, opt report.Options) (*outputs, error) {
	if len(asked) == 0 {
		asked = []string{"text"}
	}
	o := &outputs{}
	var errs []error
	taken := map[string]bool{}
	for _, a := range asked {
		name, file, toFile := strings.Cut(a, "=")
		kind, ok := report.KindNamed(kinds, name)
		switch {
		case !ok:
			errs = append(errs, wrong("unknown kind of report %q%s; the kinds are %s", name, near(name, report.KindNames(kinds)), strings.Join(report.KindNames(kinds), ", ")))
			continue
		case toFile && file == "":
			errs = append(errs, wrong("--report %s names no file; write --report %s=FILE", a, name))
			continue
		case taken[file] && !toFile:
			errs = append(errs, wrong("two reports to standard output; give all but one a file, as in --report %s=FILE", name))
			continue
		case taken[file]:
			errs = append(errs, wrong("two reports to %s", file))
			continue
		}
		taken[file] = true
		var to io.Writer = p.out
		mine := opt
		if toFile {
			t, err := openTarget(file)
			if err != nil {
				errs = append(errs, err)
				continue
			}
			o.files, to = append(o.files, t), t
		} else {
			mine.Color = color(p.out)
		}
		mine.Width = columns(to)
		o.writers = append(o.writers, kind.New(to, mine))
	}
	return o, errors.Join(errs...)
}

func (o *outputs) build(r *lint.Report) {
	for _, w := range o.writers {
		o.err = errors.Join(o.err, w.Build(r))
	}
}

func (o *outputs) compare(c *lint.Comparison) {
	for _, w := range o.writers {
		o.err = errors.Join(o.err, w.Compare(c))
	}
}

// close ends the reports, and puts the files where they belong.
func (o *outputs) close(t *report.Totals) error {
	for _, w := range o.writers {
		o.err = errors.Join(o.err, w.Close(t))
	}
	for _, f := range o.files {
		o.err = errors.Join(o.err, f.keep())
	}
	o.files = nil
	return o.err
}

// drop takes away what was begun and not kept.
func (o *outputs) drop() {
	for _, f := range o.files {
		f.drop()
	}
}

// target is a file in the writing: a temporary one beside it, until it is
// complete. What is there and is no plain file is written to as it stands.
type target struct {
	*os.File
	name string
	temp bool
}

func openTarget(name string) (*target, error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		return &target{f, name, false}, plainError(name, err)
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	return &target{f, name, true}, plainError(name, err)
}

func (t *target) keep() error {
	if !t.temp {
		return plainError(t.name, t.Close())
	}
	mode := os.FileMode(0o644)
	if info, err := os.Stat(t.name); err == nil {
		mode = info.Mode().Perm()
	}
	err := errors.Join(t.Chmod(mode), t.Close())
	if err == nil {
		err = os.Rename(t.File.Name(), t.name)
	}
	if err != nil {
		os.Remove(t.File.Name())
	}
	return plainError(t.name, err)
}

func (t *target) drop() {
	t.Close()
	if t.temp {
		os.Remove(t.File.Name())
	}
}

// plainError is an error about a file in the user's words, without the names
// of temporary files.
func plainError(name string, err error) error {
	if err == nil {
		return nil
	}
	var at *os.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		err = at.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("%s: cannot be written: %w", name, err)
}

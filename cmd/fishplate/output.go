package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"syscall"

	"github.com/mattn/go-isatty"
	"golang.org/x/term"

	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/history"
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
	writers []output
	files   []*target
	err     error
}

// output is a report under way, and its file; nil for standard output, which
// keeps its own account of what fails.
type output struct {
	*report.Writer
	file *target
}

// told takes note of what went wrong with a report: one that goes to a file is
// then not whole, and the others are none the worse for it.
func (o *outputs) told(w output, err error) {
	switch {
	case err == nil:
	case w.file == nil:
		o.err = errors.Join(o.err, err)
	case w.file.failed == nil:
		w.file.failed = err
	}
}

// outputs opens the reports asked for, each as KIND or KIND=FILE. Where none is
// asked for it is text.
func (p *program) outputs(kinds []report.Kind, asked []string, opt report.Options) (*outputs, error) {
	if len(asked) == 0 {
		asked = []string{"text"}
	}
	o := &outputs{}
	var errs []error
	taken := map[string]bool{} // by what reportFile makes of the name; "" is standard output
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
		case taken[""] && !toFile:
			errs = append(errs, wrong("two reports to standard output; give all but one a file, as in --report %s=FILE", name))
			continue
		case toFile && taken[reportFile(file)]:
			errs = append(errs, wrong("two reports to %s", file))
			continue
		case isLedger(file):
			errs = append(errs, wrong("%s: a report would take the place of a ledger's file; name one that does not end in .toml", file))
			continue
		}
		taken[reportFile(file)] = true
		var to io.Writer = p.out
		var into *target
		mine := opt
		if toFile {
			t, err := openTarget(file)
			if err != nil {
				errs = append(errs, err)
				continue
			}
			o.files, to, into = append(o.files, t), t, t
		} else {
			mine.Color = color(p.out)
		}
		mine.Width = columns(to)
		o.writers = append(o.writers, output{kind.New(to, mine), into})
	}
	return o, errors.Join(errs...)
}

func (o *outputs) build(r *lint.Report) {
	for _, w := range o.writers {
		o.told(w, w.Build(r))
	}
}

// partial hands over a build with faults to the reports for people; the others
// tell the faults alone, so that no program takes a part for the whole.
func (o *outputs) partial(r *lint.Report) {
	for _, w := range o.writers {
		if w.Partial != nil {
			o.told(w, w.Partial(r))
		}
	}
}

func (o *outputs) compare(c *compare.Comparison) {
	for _, w := range o.writers {
		o.told(w, w.Compare(c))
	}
}

func (o *outputs) lone(l *compare.Lone) {
	for _, w := range o.writers {
		if w.Lone != nil {
			o.told(w, w.Lone(l))
		}
	}
}

func (o *outputs) history(t *history.Told) {
	for _, w := range o.writers {
		o.told(w, w.History(t))
	}
}

// close ends the reports, and puts the files where they belong.
func (o *outputs) close(t *report.Totals) error {
	for _, w := range o.writers {
		o.told(w, w.Close(t))
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

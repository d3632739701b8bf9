package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/edit"
	"fishplate/ledger/syntax"
	"fishplate/lint/report"
)

func (p *program) merge() *cli.Command {
	return &cli.Command{
		Name:      "merge",
		Usage:     "brings two versions of a ledger file together, key by key, as git's merge driver",
		ArgsUsage: "BASE OURS THEIRS PATH",
		Description: "BASE is the file that both go back to. The merged file is written to OURS, and PATH is its name in\n" +
			"what is told. What one side changed is taken, entries that both add stand one behind the other, and\n" +
			"comments are kept. Only a key that both changed to different values, or that one changed and the\n" +
			"other took away, is left to you, between git's marks. For git to use it on the ledgers of a repository:\n\n" +
			"   git config merge.ledger.driver 'fishplate merge %O %A %B %P'\n" +
			"   echo '*.toml merge=ledger' >> .gitattributes\n\n" +
			"Exit status: 0 merged, 1 there are marks to be seen to, 2 a version cannot be read, or the command line;\nOURS is as it was then, and git marks it as a conflict.",
		HideHelpCommand: true,
		Action:          p.merging,
	}
}

func (p *program) merging(c *cli.Context) error {
	if n := c.NArg(); n != 4 {
		return wrong("merge takes four files, BASE OURS THEIRS PATH; got %d; %s", n, helpHint("merge"))
	}
	ours, name := c.Args().Get(1), c.Args().Get(3)
	var versions [3][]byte
	var errs []error
	for i := range versions {
		data, err := readVersion(c.Args().Get(i))
		versions[i], errs = data, append(errs, err)
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	var long []string
	for i, v := range versions {
		if len(v) > syntax.MaxSize {
			long = append(long, [...]string{"base", "ours", "theirs"}[i])
		}
	}
	if len(long) > 0 {
		return fmt.Errorf("%s cannot be merged key by key: longer than the %d bytes that are read of a ledger's file: %s; split it into several files, or merge it by hand",
			name, syntax.MaxSize, strings.Join(long, ", "))
	}
	m, err := edit.Merge(versions[0], versions[1], versions[2])
	if err != nil {
		return fmt.Errorf("%s cannot be merged key by key:\n%s", name, err)
	}
	if err := replaceFile(ours, m.Text); err != nil {
		return err
	}
	for _, x := range m.Conflicts {
		p.status = statusFails
		fmt.Fprintln(p.err, report.Clean(fmt.Sprintf("%s:%d:1: %s", name, x.Line, differs(x))))
	}
	return nil
}

// differs says what the two sides have of a key.
func differs(c edit.Conflict) string {
	switch {
	case c.Path == "":
		return "the two sides lay it out in ways that cannot be merged key by key: both stand here whole"
	case c.Ours == "":
		return c.Path + ": ours took it away, theirs changed it: " + c.Theirs
	case c.Theirs == "":
		return c.Path + ": theirs took it away, ours changed it: " + c.Ours
	}
	return c.Path + ": both changed it, ours to " + c.Ours + ", theirs to " + c.Theirs
}

// readVersion reads one version of a file, which may be no longer than one that
// is read of a ledger.
func readVersion(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, syntax.MaxSize+1))
}

// replaceFile puts a text in the place of a file, all of it or nothing.
func replaceFile(name string, text []byte) error {
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".merge-*")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Chmod(info.Mode().Perm()), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

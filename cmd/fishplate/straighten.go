package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/revision"
	"fishplate/lint/report"
)

func (p *program) straighten() *cli.Command {
	return &cli.Command{
		Name:      "straighten",
		Usage:     "lays a build's files out the way the format lists things",
		ArgsUsage: "BUILD|FILE...",
		Description: "Keys come in the order of the reference, entries one blank line apart, words in plain quotes and\n" +
			"quantities as they are printed: 3 1/2 in for 3½\", 12 ± 1 lb for 12 lb +/- 1. Entries stay in their\n" +
			"order and their files, and comments with what they stand at. Nothing that the ledger says changes,\n" +
			"to the last digit: every signature stays valid. To do it twice changes nothing more. No other\n" +
			"command does it by itself, and no check asks for it.\n\n" +
			"   fishplate straighten builds/my-van                 all files of the build\n" +
			"   fishplate straighten builds/my-van/fuel.toml       one of them\n" +
			"   fishplate straighten builds/my-van --try           shows what would change\n\n" +
			"A build with faults is not touched: they are told, as check tells them. Nor is a shop.toml.\n\n" +
			"Exit status: 0 straight, or made so; 1 with --check, a file is not straight; 2 a ledger or the command\nline cannot be read, or not written.",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "check", Usage: "name the files that are not straight, and write nothing"},
			&cli.BoolFlag{Name: "try", Usage: "show what would change, and write nothing"},
		},
		HideHelpCommand: true,
		Action:          p.straightening,
	}
}

// bench is a build of which files are laid out.
type bench struct {
	src   *revision.Build
	files []string // by name in the build; all where there are none
	draft *edit.Draft
	plan  edit.Plan
}

func (p *program) straightening(c *cli.Context) error {
	if !c.Args().Present() {
		return wrong("straighten takes builds or files of them; %s", helpHint("straighten"))
	}
	places, all, err := benches(c.Args().Slice())
	defer closePlaces(places)
	write := !c.Bool("check") && !c.Bool("try")
	for _, b := range all {
		if _, ok := b.src.Dir(); !ok && write {
			err = errors.Join(err, fmt.Errorf("%s: a git revision is never written to; --check and --try read it", b.src.Folder()))
			continue
		}
		err = errors.Join(err, p.laidOut(b))
	}
	if err != nil || p.status == statusUnread {
		return err
	}
	for _, b := range all {
		if write {
			err = errors.Join(err, written(b))
		}
		if err == nil {
			p.tellStraight(b, c)
		}
	}
	return err
}

// benches are the builds of some folders and files, each once.
func benches(words []string) (places []*revision.Place, out []*bench, err error) {
	by := map[string]*bench{}
	for _, w := range words {
		folder, file, bad := buildOf(w)
		if bad != nil {
			err = errors.Join(err, bad)
			continue
		}
		opened, builds, bad := openBuilds([]string{folder})
		places, err = append(places, opened...), errors.Join(err, bad)
		for _, src := range builds {
			dir, ok := src.Dir()
			if !ok {
				dir = src.Folder()
			}
			b := by[dir]
			switch {
			case b == nil:
				b = &bench{src: src}
				by[dir], out = b, append(out, b)
			case file == "" || b.files == nil:
				b.files = nil
				continue
			}
			if file != "" {
				b.files = append(b.files, file)
			}
		}
	}
	return places, out, err
}

// buildOf is the folder of the build that a word of the command line names, and
// the file in it if it names one.
func buildOf(word string) (folder, file string, err error) {
	info, bad := os.Stat(word)
	if bad != nil || info.IsDir() {
		return word, "", nil
	}
	dir, name := filepath.Dir(word), filepath.Base(word)
	if !isLedger(word) {
		return "", "", wrong("%s: is no file of a ledger, which end in .toml", word)
	}
	for at := dir; ; at = filepath.Join(at, "..") {
		if _, err := os.Stat(filepath.Join(at, ledger.MainFile)); err == nil {
			return at, filepath.ToSlash(name), nil
		}
		full, err := filepath.Abs(at)
		if err != nil || full == filepath.Dir(full) {
			return "", "", wrong("%s: is in no build: there is no %s beside it or above; straighten takes a build or a file of one", word, ledger.MainFile)
		}
		name = filepath.Join(filepath.Base(full), name)
	}
}

// laidOut lays the files out in a draft, unless the build has faults, which it
// tells.
func (p *program) laidOut(b *bench) error {
	var err error
	if b.draft, err = edit.Begin(b.src); err != nil {
		return err
	}
	for _, f := range b.draft.Before().Faults {
		p.status = statusUnread
		fmt.Fprintln(p.err, report.Fault(f))
	}
	if p.status == statusUnread {
		return nil
	}
	if err = b.draft.Straighten(b.files...); err == nil {
		b.plan, err = b.draft.Plan()
	}
	return err
}

// written writes what is laid out.
func written(b *bench) error {
	if len(b.plan.Files()) == 0 {
		return nil
	}
	return unwritten(b.src, edit.Apply(b.src, b.plan))
}

// tellStraight says what came of a build.
func (p *program) tellStraight(b *bench, c *cli.Context) {
	changed := b.draft.Rewritten()
	say := "straightened"
	switch {
	case c.Bool("check"):
		say = "not straight"
	case c.Bool("try"):
		say = "would be straightened; nothing is written"
	}
	for _, f := range changed {
		if c.Bool("try") {
			p.difference(f.Name, f.Old, f.New)
		}
		fmt.Fprintf(p.out, "%s: %s\n", report.Clean(f.Name), say)
	}
	if len(changed) > 0 && c.Bool("check") {
		p.status = statusFails
	}
	if len(changed) == 0 {
		of := b.src.Folder()
		if len(b.files) > 0 {
			of += ": " + strings.Join(b.files, ", ")
		}
		fmt.Fprintf(p.out, "%s: straight\n", report.Clean(of))
	}
}

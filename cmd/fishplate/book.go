package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/lint/report/book"
	"fishplate/rules"
)

func (p *program) book() *cli.Command {
	var editions strings.Builder
	for _, e := range book.Editions {
		fmt.Fprintf(&editions, "   %-9s  %s\n", e.Name, e.About)
	}
	return &cli.Command{
		Name:      "book",
		Usage:     "makes the book of a build: one page that opens anywhere, and prints",
		ArgsUsage: "[BUILD]",
		Description: "What the vehicle is, what is custom and what is not, how to live with it, system by system, with\n" +
			"drawings, every check with its working, papers and all entries; without a network, on paper or on\n" +
			"a phone. An edition is\n\n" + editions.String() + "\n" +
			"Pictures among the documents are scaled and written anew, without what a camera put into them.\n\n" +
			"   fishplate book --edition owner --out van.html builds/my-van\n" +
			"   fishplate book --edition public --out public.html --photos pictures builds/my-van\n\n" +
			"Exit status: 0 written, 2 a ledger or the command line cannot be read.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "edition", Value: string(book.Shop), Usage: "for whom it is, `EDITION`: " + strings.Join(book.EditionNames(), ", ")},
			&cli.StringFlag{Name: "out", Usage: "write it to `FILE`, such as van.html, in place of the screen"},
			&cli.StringFlag{Name: "photos", Usage: "write the pictures into `FOLDER`, beside the page, in place of into it"},
			stageFlag(),
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.booking,
	}
}

func (p *program) booking(c *cli.Context) error {
	how, err := p.options(c)
	edition, ok := book.EditionNamed(c.String("edition"))
	if !ok {
		err = errors.Join(err, unlisted("edition", c.String("edition"), book.EditionNames()))
	}
	out := c.String("out")
	switch {
	case c.IsSet("out") && out == "":
		err = errors.Join(err, wrong("--out names no file; write --out van.html"))
	case isLedger(out):
		err = errors.Join(err, wrong("%s: a book would take the place of a ledger's file; name one that does not end in .toml", out))
	}
	if c.IsSet("photos") && c.String("photos") == "" {
		err = errors.Join(err, wrong("--photos names no folder; write --photos pictures"))
	}
	if c.NArg() > 1 {
		err = errors.Join(err, wrong("book takes one build; got %d; %s", c.NArg(), helpHint("book")))
	}
	if err != nil {
		return err
	}
	places, builds, err := openBuilds(c.Args().Slice())
	defer closePlaces(places)
	switch {
	case err != nil:
		return err
	case len(builds) > 1:
		return wrong("book takes one build; there are %d: name one, such as %s", len(builds), builds[0].Folder())
	}
	rep := p.checked(builds[0], how)
	if len(rep.Faults) > 0 {
		p.status = statusUnread
		for _, f := range rep.Faults {
			fmt.Fprintln(p.err, report.Fault(f))
		}
		return nil
	}
	opt := book.Options{Edition: edition, Figures: rules.Drawn(rep.Build)}
	if edition != book.Public {
		if opt.History, err = p.followed(builds[0], how); err != nil {
			return err
		}
	}
	return p.writeBook(rep, opt, out, c.String("photos"))
}

// followed is how the figures of the axles came to be, commit by commit.
func (p *program) followed(b *revision.Build, how lint.Options) (*book.History, error) {
	place, past, err := p.past(b.Folder(), how)
	if err != nil {
		return &book.History{Why: "There is no history to show: " + strings.TrimPrefix(err.Error(), b.Folder()+": ") + "."}, nil
	}
	defer place.Close()
	told := &book.History{}
	for _, name := range rules.Followed {
		rule, err := ruleNamed(p.packs, name)
		if err != nil {
			return nil, err
		}
		lines, err := past.Figures(rule, figureUnit, func() {})
		if err != nil {
			return nil, err
		}
		told.Lines = append(told.Lines, lines...)
	}
	return told, nil
}

// writeBook writes a book and its pictures to their places, complete or not at all.
func (p *program) writeBook(rep *lint.Report, opt book.Options, out, folder string) error {
	pictures := album{folder: folder, page: out, jpegs: map[string][]byte{}}
	if folder != "" {
		opt.Photo = pictures.take
	}
	var page bytes.Buffer
	if err := book.Write(&page, rep, opt); err != nil {
		return err
	}
	if out == "" {
		if err := pictures.write(); err != nil {
			return err
		}
		_, err := p.out.Write(page.Bytes())
		return err
	}
	t, err := openTarget(out)
	if err != nil {
		return err
	}
	defer t.drop()
	if _, err := t.Write(page.Bytes()); err != nil {
		return plainError(out, err)
	}
	if t.failed == nil {
		if err := pictures.write(); err != nil {
			return err
		}
	}
	if err := t.keep(); err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.out, "%s is written: %s, %s.\n", report.Clean(out), opt.Edition, megabytes(page.Len()))
	return err
}

// megabytes is a size as people say it.
func megabytes(bytes int) string { return fmt.Sprintf("%.1f MB", float64(bytes)/1e6) }

// album is the pictures that are to stand beside a page.
type album struct {
	folder, page string
	jpegs        map[string][]byte // by the names of their files
}

// take names a picture by what is in it, so that it takes no other file's place, and
// tells how the page finds it.
func (a album) take(jpeg []byte) (string, error) {
	sum := sha256.Sum256(jpeg)
	name := filepath.Join(a.folder, "picture-"+hex.EncodeToString(sum[:8])+".jpg")
	a.jpegs[name] = jpeg
	from, err := filepath.Abs(filepath.Dir(a.page))
	to, bad := filepath.Abs(name)
	if err = errors.Join(err, bad); err != nil {
		return "", err
	}
	seen, err := filepath.Rel(from, to)
	return (&url.URL{Path: filepath.ToSlash(seen)}).String(), err
}

// write writes the pictures that are not there yet.
func (a album) write() error {
	for _, name := range slices.Sorted(maps.Keys(a.jpegs)) {
		jpeg := a.jpegs[name]
		if err := os.MkdirAll(a.folder, 0o755); err != nil {
			return plainError(a.folder, err)
		}
		switch there, err := os.ReadFile(name); {
		case err == nil && bytes.Equal(there, jpeg):
			continue
		case !errors.Is(err, os.ErrNotExist):
			return fmt.Errorf("%s: is there already, and is another file", name)
		}
		t, err := openTarget(name)
		if err != nil {
			return err
		}
		if _, err = t.Write(jpeg); err != nil {
			t.drop()
			return plainError(name, err)
		}
		if err = t.keep(); err != nil {
			return err
		}
	}
	return nil
}

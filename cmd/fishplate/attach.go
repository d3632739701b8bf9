package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/spelling"
	"fishplate/lint/report"
	"fishplate/rules/paperwork"
)

// documentFile is the file that a document's entry is written to: one a
// document, so that what two branches attach merges by itself.
func documentFile(id string) string { return "documents/" + id + ".toml" }

func (p *program) attach() *cli.Command {
	return &cli.Command{
		Name:      "attach",
		Usage:     "adds documents to a build, with their digests",
		ArgsUsage: "BUILD FILE... --kind K --proves ENTRY...",
		Description: "Each FILE must lie in the build folder. For each an entry is written with its SHA-256, in a file\n" +
			"of its own, " + documentFile("ID") + ": what two people attach on two branches merges by itself.\n" +
			"Nothing else is touched, and entries in other files go on counting. From then on the file is\n" +
			"checked to be there and unaltered. An entry may name a document before it is attached.\n\n" +
			"   fishplate attach builds/my-van builds/my-van/papers/ticket.pdf --kind weigh-ticket --proves weighing.as-built\n\n" +
			"A kind is a free word; rules look for " + strings.Join(paperwork.Kinds(), ", ") + ".\n\n" +
			"Exit status: 0 added, 2 not added.",
		Flags: []cli.Flag{
			oneOf{&cli.StringFlag{Name: "kind", Usage: "what the documents are, `KIND`, such as weigh-ticket or photo"}, paperwork.Kinds()},
			someOf{&cli.StringSliceFlag{Name: "proves", Usage: "an `ENTRY` or a value of one that the documents prove, such as part.engine.mass; may be repeated"}, func(said []string) []string {
				return entriesOf(strings.Join(said[:min(1, len(said))], ""))
			}},
			&cli.StringFlag{Name: "by", Usage: "who made the documents, `NAME`"},
			&cli.StringFlag{Name: "date", Usage: "the `DATE` of the documents; today, if none is given"},
		},
		HideHelpCommand: true,
		Action:          p.attaching,
	}
}

// dateOf checks a date that a flag was given.
func dateOf(flag, text string) (string, error) {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "", wrong("--%s takes a date, such as 2026-03-01; got %q", flag, text)
	}
	return text, nil
}

// paper is a document in the making.
type paper struct {
	id, file, sum string
}

func (p *program) attaching(c *cli.Context) error {
	words := c.Args().Slice()
	on, err := p.onDate(c, "date")
	if len(words) < 2 {
		err = errors.Join(err, wrong("attach takes a build and one file at least; %s", helpHint("attach")))
	}
	if strings.TrimSpace(c.String("kind")) == "" {
		err = errors.Join(err, wrong("say what the documents are: --kind KIND, such as %s", strings.Join(paperwork.Kinds(), ", ")))
	}
	if err != nil {
		return err
	}
	a, err := p.writingTo(words[0])
	if err != nil {
		return err
	}
	return a.done(p.attached(a, words[1:], c, on))
}

// attached adds entries for files to a build that is held.
func (p *program) attached(a *writing, files []string, c *cli.Context, on string) error {
	err := a.provable(c.StringSlice("proves"))
	papers, bad := a.papers(files)
	added := map[string]bool{}
	for _, d := range papers {
		added["document."+d.id] = true
	}
	if p.unread(a, added) {
		return bad
	}
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	for _, d := range papers {
		if err = a.add("document."+d.id, d.entry(c, on), documentFile(d.id)); err != nil {
			return err
		}
	}
	if _, err = a.with(); err != nil {
		return err
	}
	if err = a.write(); err != nil {
		return err
	}
	for _, d := range papers {
		fmt.Fprintf(p.out, "%s: added document.%s, %s, SHA-256 %s\n", report.Clean(a.src.Name(documentFile(d.id))), d.id, report.Clean(d.file), d.sum)
	}
	if near := unusual(c.String("kind")); near != "" {
		fmt.Fprintf(p.err, "note: no rule asks for a %q; if %q is meant, correct it in %s\n", report.Clean(c.String("kind")), near, report.Clean(a.src.Name(documentFile(papers[0].id))))
	}
	return nil
}

// unusual is the kind that a rule asks for and that this one nearly is.
func unusual(kind string) string {
	near := spelling.Nearest(kind, paperwork.Kinds())
	if near == kind {
		return ""
	}
	return near
}

// provable tells which of the entries that documents are to prove are not
// there.
func (a *writing) provable(proves []string) error {
	var known []string
	for _, e := range a.b.Entries() {
		known = append(known, e.Path())
	}
	var errs []error
	for _, name := range proves {
		if !there(a.b, name) {
			errs = append(errs, wrong("--proves %s: %s has no such entry%s", name, a.src.Folder(), near(name, known)))
		}
	}
	return errors.Join(errs...)
}

// there tells whether the name is that of an entry, or of a value of one.
func there(b *ledger.Build, name string) bool {
	if _, ok := b.Entry(name); ok {
		return true
	}
	for i := range len(name) {
		if name[i] == '.' {
			if _, ok := b.Value(name[:i], name[i+1:]); ok {
				return true
			}
		}
	}
	return false
}

// papers looks at the files, and tells all that is wrong with them.
func (a *writing) papers(files []string) ([]paper, error) {
	var out []paper
	var errs []error
	ids, seen := map[string]bool{}, map[string]bool{}
	for _, f := range files {
		name, err := a.inside(f)
		if err == nil && seen[name] {
			err = wrong("%s is named twice", f)
		}
		seen[name] = true
		var sum string
		if err == nil {
			sum, _, err = a.src.Digest(name)
		}
		if err == nil {
			err = a.already(name, sum)
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		out = append(out, paper{freeID(a.b, ids, "document", idOf(name)), name, sum})
	}
	return out, errors.Join(errs...)
}

// inside is the file's name in the build folder, which it must lie in.
func (a *writing) inside(file string) (string, error) {
	abs, err := filepath.Abs(file)
	if err == nil {
		var dir string
		dir, err = filepath.EvalSymlinks(filepath.Dir(abs))
		abs = filepath.Join(dir, filepath.Base(abs))
	}
	if err == nil {
		_, err = os.Lstat(abs)
	}
	if errors.Is(err, fs.ErrNotExist) {
		hint := ""
		if _, err := os.Lstat(filepath.Join(a.dir, file)); err == nil {
			hint = "; is " + a.src.Name(filepath.ToSlash(file)) + " meant?"
		}
		return "", fmt.Errorf("%s: no such file%s", file, hint)
	}
	if err != nil {
		return "", plainReading(file, err)
	}
	rel, err := filepath.Rel(a.dir, abs)
	switch name := filepath.ToSlash(rel); {
	case err != nil || !filepath.IsLocal(rel):
		return "", fmt.Errorf("%s: not in the build folder; move it there first, such as to %s", file, a.src.Name("papers/"+filepath.Base(file)))
	case strings.EqualFold(filepath.Ext(name), ".toml"):
		return "", fmt.Errorf("%s: a TOML file in a build is read as a part of its ledger, and cannot be a document", file)
	case !utf8.ValidString(name):
		return "", fmt.Errorf("%s: its name is not UTF-8; give it another", file)
	default:
		return name, nil
	}
}

func plainReading(name string, err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return fmt.Errorf("%s: %w", name, err)
}

// already refuses a file that the ledger has already.
func (a *writing) already(name, sum string) error {
	for _, d := range a.b.Documents() {
		at := d.Place()
		switch {
		case filepath.ToSlash(filepath.Clean(d.File.String())) != name:
		case d.SHA256.Is(sum).Holds():
			return fmt.Errorf("%s: it is %s already, at %s:%d", a.src.Name(name), d.Path(), at.File, at.Line)
		default:
			return fmt.Errorf("%s: it is %s already, at %s:%d, with another digest; if the file was meant to change, write sha256 = %q there", a.src.Name(name), d.Path(), at.File, at.Line, sum)
		}
	}
	return nil
}

// idOf makes an id of a file's name.
func idOf(name string) string {
	base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	words := strings.FieldsFunc(strings.ToLower(base), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	id := strings.Join(words, "-")
	if len(id) > 60 {
		id = strings.Trim(id[:60], "-")
	}
	if id == "" {
		return "document"
	}
	return id
}

func (d paper) entry(c *cli.Context, on string) []edit.Pair {
	pairs := []edit.Pair{
		{Key: "kind", Value: edit.Text(c.String("kind"))},
		{Key: "file", Value: edit.Text(d.file)},
		{Key: "sha256", Value: edit.Text(d.sum)},
		{Key: "date", Value: edit.Literal(on)},
	}
	if by := c.String("by"); by != "" {
		pairs = append(pairs, edit.Pair{Key: "by", Value: edit.Text(by)})
	}
	if proves := c.StringSlice("proves"); len(proves) > 0 {
		pairs = append(pairs, edit.Pair{Key: "proves", Value: edit.Texts(proves)})
	}
	return pairs
}

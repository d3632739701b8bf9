package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/edit"
	"fishplate/ledger/enter"
	"fishplate/ledger/rows"
	"fishplate/lint/report"
)

func (p *program) enter() *cli.Command {
	return &cli.Command{
		Name:      "enter",
		Usage:     "writes readings and new entries from a spreadsheet into a build",
		ArgsUsage: "BUILD FILE.csv",
		Description: "FILE.csv has the columns entry, key and value, as a filled sheet (its other columns are read\n" +
			"past), or the column entry and others that are named as keys: mass, at.behind. An empty cell says\n" +
			"nothing. A list is parted by semicolons; one alone is an empty list.\n\n" +
			"   fishplate sheet --report csv=sheet.csv builds/my-van      fill its column value, then\n" +
			"   fishplate enter builds/my-van sheet.csv --try             shows what would change\n" +
			"   fishplate enter builds/my-van sheet.csv\n" +
			"   fishplate enter builds/my-van parts.csv --into parts/new.toml\n\n" +
			"All rows are read as the ledger would be before anything is written, and all that is wrong is told\n" +
			"by its cell; then all is written or nothing. A value takes the place of the old one, a new key goes\n" +
			"where its kind has it, a new entry to the end of the file with most of its kind. Comments, order\n" +
			"and spacing of all else stay as they are.\n\n" +
			fmt.Sprintf("The file is UTF-8, its cells parted by commas or semicolons, with %d rows and %d MB at most. A number\n", rows.MaxRows, rows.MaxBytes>>20) +
			"takes a decimal point, and a quantity its unit: 2 7/8 in. Where text began with = + - or @ and is\n" +
			"no quantity, the csv that fishplate writes has an apostrophe in front, which is taken off again.\n\n" +
			"Exit status: 0 entered, or shown, 2 not entered.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "into", Usage: "the `FILE` of the build folder that new entries go to, such as parts/new.toml"},
			&cli.BoolFlag{Name: "try", Usage: "show what would change, and write nothing"},
		},
		HideHelpCommand: true,
		Action:          p.entering,
	}
}

func (p *program) entering(c *cli.Context) error {
	words := c.Args().Slice()
	if len(words) != 2 {
		return wrong("enter takes a build and a csv file; got %d words; %s", len(words), helpHint("enter"))
	}
	data, err := readAtMost(words[1], rows.MaxBytes+1)
	if err != nil {
		return err
	}
	table, faults := rows.Read(data)
	if p.refuseRows(words[1], faults) {
		return nil
	}
	w, err := p.writingTo(words[0])
	if err != nil {
		return err
	}
	return w.done(p.entered(w, table, words[1], c))
}

// entered puts the rows of a table into a build that is held.
func (p *program) entered(w *writing, t *rows.Table, name string, c *cli.Context) error {
	if p.unread(w, enter.Added(t)) {
		return nil
	}
	if w.cut != nil {
		return w.cut
	}
	into := strings.TrimPrefix(c.String("into"), w.src.Folder()+"/")
	if err := edit.Fit(into); into != "" && err != nil {
		return wrong("--into %v", err)
	}
	done, faults := enter.Into(w.draft, t, into)
	if p.refuseRows(name, faults) {
		return nil
	}
	changed := w.draft.Rewritten()
	if c.Bool("try") {
		for _, f := range changed {
			p.difference(f.Name, f.Old, f.New)
		}
	} else if err := w.write(); err != nil {
		return err
	}
	p.told(w, done, len(changed), c.Bool("try"))
	return nil
}

// told says what came of it.
func (p *program) told(w *writing, done enter.Done, files int, try bool) {
	var parts []string
	if done.Values > 0 {
		parts = append(parts, report.Plural(done.Values, "value"))
	}
	if done.Entries > 0 {
		parts = append(parts, report.Entries(done.Entries, "new "))
	}
	say := report.Clean(w.src.Folder()) + ": nothing to enter"
	if len(parts) > 0 {
		say = fmt.Sprintf("%s: %s entered, in %s", report.Clean(w.src.Folder()), strings.Join(parts, " and "), report.Plural(files, "file"))
	}
	if done.Same > 0 {
		say += fmt.Sprintf("; %s stood there already", report.Plural(done.Same, "value"))
	}
	if try {
		say = strings.Replace(say, " entered", " would be entered", 1) + "; nothing is written"
	}
	fmt.Fprintln(p.out, say)
	for _, e := range done.Before {
		fmt.Fprintf(p.out, "%s still says that it was read before the move; if it was read since, enter false for its before-move too\n", report.Clean(e))
	}
}

// refuseRows tells all that is wrong with a table, and whether anything is.
func (p *program) refuseRows(name string, faults []rows.Fault) bool {
	for _, f := range faults {
		p.status = statusUnread
		fmt.Fprintln(p.err, report.Clean(f.In(name)))
	}
	return len(faults) > 0
}

// readAtMost reads a file, or so much of it.
func readAtMost(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, plainReading(name, err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s: is a folder; enter takes a csv file", name)
	}
	data, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return nil, plainReading(name, err)
	}
	return data, nil
}

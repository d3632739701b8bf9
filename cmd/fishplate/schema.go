package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/again"
	"fishplate/lint/report"
)

// A new build has its schema beside its files, which name it in their first line:
// so it is found without a network, and wherever the folder goes. No ledger is read
// from it.
const (
	schemaFile = "build.schema.json"
	schemaLine = "#:schema ./" + schemaFile + "\n"
)

// schemasOf are the files that there are schemas of.
var schemasOf = []string{"build", "shop"}

func (p *program) schema() *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "writes a JSON Schema of a build's files, for editors that complete keys",
		ArgsUsage: "[--of build|shop] [--out FILE]",
		Description: "JSON Schema, draft 2020-12: every table and key with its line of the reference, the words that a key\n" +
			"takes, how quantities are written. An editor that knows such schemas completes keys and marks what\n" +
			"is wrong as you type. start lays one down beside a new build's files, which name it in their first\n" +
			"line, " + strings.TrimSpace(schemaLine) + "; after an update of fishplate, write it anew. It refuses nothing that\n" +
			"loads, and cannot say all that check says: whether an entry that is named is there, for one.\n\n" +
			"   fishplate schema --out builds/my-van/" + schemaFile + "\n" +
			"   fishplate schema --of shop --out shop.schema.json     of shop.toml\n\n" +
			"Exit status: 0 written, 2 it cannot be.",
		Flags: []cli.Flag{
			oneOf{&cli.StringFlag{Name: "of", Usage: "`WHAT` it is of: build, for the files of one, or shop, for shop.toml", Value: "build"}, schemasOf},
			&cli.StringFlag{Name: "out", Usage: "write it to `FILE` and not to the screen"},
		},
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			of := c.String("of")
			switch {
			case c.NArg() > 0:
				return wrong("schema takes no words, and got %q; %s", c.Args().First(), helpHint("schema"))
			case !slices.Contains(schemasOf, of):
				return wrong("there is no schema of %q%s; there is one of build and one of shop", of, near(of, schemasOf))
			}
			return p.writeSchema(ledger.JSONSchema(of == "shop"), c.String("out"), c.IsSet("out"))
		},
	}
}

// writeSchema writes it to the screen or, complete or not at all, to a file.
func (p *program) writeSchema(text []byte, file string, toFile bool) error {
	switch {
	case !toFile:
		_, err := p.out.Write(text)
		return err
	case file == "":
		return wrong("--out names no file; write --out %s", schemaFile)
	case isLedger(file):
		return wrong("%s: a schema would take the place of a ledger's file; name one that does not end in .toml", file)
	}
	t, err := openTarget(file)
	if err != nil {
		return err
	}
	defer t.drop()
	if _, err = t.Write(text); err != nil {
		return plainError(file, err)
	}
	if err := t.keep(); err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.out, "%s is written.\n", report.Clean(file))
	return err
}

// withSchema is the files of a new build with the schema that they name.
func withSchema(files []again.File) []again.File {
	for _, f := range files {
		if bytes.HasPrefix(f.Text, []byte(strings.TrimSpace(schemaLine))) {
			return append(files, again.File{Name: schemaFile, Text: ledger.JSONSchema(false)})
		}
	}
	return files
}

package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/lint/report"
	"fishplate/lint/report/drawing"
	"fishplate/rules"
)

func (p *program) draw() *cli.Command {
	var kinds strings.Builder
	for _, k := range drawing.Kinds() {
		fmt.Fprintf(&kinds, "   %-10s  %s\n", k.Name, k.About)
	}
	return &cli.Command{
		Name:      "draw",
		Usage:     "draws a build, to scale and from its ledger alone, as an SVG file",
		ArgsUsage: "KIND [BUILD]",
		Description: "KIND is one of\n\n" + kinds.String() + "\n" +
			"What is not known is not drawn, and listed under the drawing. Any browser shows and prints an\n" +
			"SVG file. BUILD is here, if none is given.\n\n" +
			"   fishplate draw side builds/my-van --out side.svg\n" +
			"   fishplate draw closeness builds/my-van > closeness.svg\n\n" +
			"Exit status: 0 drawn, 2 a ledger or the command line cannot be read, or there is nothing to draw.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Usage: "write it to `FILE` and not to the screen"},
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.drawing,
	}
}

func (p *program) drawing(c *cli.Context) error {
	words := c.Args().Slice()
	names := drawing.Names()
	switch {
	case len(words) == 0:
		return wrong("draw takes a kind of drawing: %s; %s", strings.Join(names, ", "), helpHint("draw"))
	case len(words) > 2:
		return wrong("draw takes a kind of drawing and a build at most; got %d words; %s", len(words), helpHint("draw"))
	}
	kind, ok := drawing.Named(words[0])
	if !ok {
		return unlisted("drawing", words[0], names)
	}
	how, err := p.options(c)
	if err != nil {
		return err
	}
	file := c.String("out")
	switch {
	case c.IsSet("out") && file == "":
		return wrong("--out names no file; write --out %s.svg", words[0])
	case isLedger(file):
		return wrong("%s: a drawing would take the place of a ledger's file; name one that does not end in .toml", file)
	}
	rep, err := p.theBuild(append(words, ".")[1], how)
	if err != nil || rep == nil {
		return err
	}
	d, err := drawing.Of(words[0], rep, rules.Drawn(rep.Build))
	if err != nil {
		return err
	}
	if d.Empty() {
		return wrong("%s: there is nothing to draw; it takes %s", rep.Folder, strings.Join(append([]string{kind.Wants}, d.Beside...), "; "))
	}
	var text bytes.Buffer
	if err := d.SVG(&text); err != nil {
		return err
	}
	if file == "" {
		_, err := p.out.Write(text.Bytes())
		return err
	}
	return p.drawn(file, text.Bytes())
}

// drawn writes a drawing to a file, complete or not at all.
func (p *program) drawn(file string, text []byte) error {
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

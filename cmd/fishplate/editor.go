package main

import (
	"time"

	"github.com/urfave/cli/v2"

	"fishplate/lint"
	"fishplate/lint/editor"
)

func (p *program) editor() *cli.Command {
	return &cli.Command{
		Name:  "editor",
		Usage: "serves an editor, which shows what is wrong and what is open as you type",
		Description: "An editor starts it, and talks with it over standard input and output in the Language Server\n" +
			"Protocol: faults as you type, what the checks find after a pause, keys, words, units and names\n" +
			"to choose from, what a value is and which checks read it, an entry renamed wherever it is named.\n" +
			"The README says what to set in three editors. It writes no file: the editor does.\n\n" +
			"   fishplate editor\n" +
			"   fishplate editor --stage delivery               judge as if builds had come that far\n\n" +
			"Exit status: 0 the editor ended it, 1 the editor was gone before that, 2 the command line cannot\n" +
			"be read.",
		Flags:           []cli.Flag{stageFlag(), asOfFlag()},
		HideHelpCommand: true,
		Action:          p.editing,
	}
}

func (p *program) editing(c *cli.Context) error {
	if c.NArg() > 0 {
		return wrong("editor takes no words, and got %q; the editor names the files", c.Args().First())
	}
	opt, err := p.options(c)
	if err != nil {
		return err
	}
	began := time.Now()
	judge := func() lint.Options {
		opt := opt
		opt.Today = laterDay(p.today, began, time.Now())
		return opt
	}
	if !editor.Serve(p.in, p.out, editor.Options{Packs: p.packs, Judge: judge, Clock: editor.WallClock{}, Version: version()}) {
		p.status = statusFails
	}
	return nil
}

// laterDay is the day that it is, of a program that began on another.
func laterDay(today string, began, now time.Time) string {
	calendar := func(t time.Time) time.Time {
		day, _ := time.Parse(time.DateOnly, t.Format(time.DateOnly)) // its own form
		return day
	}
	day, err := time.Parse(time.DateOnly, today)
	if err != nil {
		return today
	}
	return day.Add(calendar(now).Sub(calendar(began))).Format(time.DateOnly)
}

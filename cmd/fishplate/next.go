package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"fishplate/lint"
	"fishplate/lint/report"
)

func (p *program) next() *cli.Command {
	return &cli.Command{
		Name:      "next",
		Usage:     "says what to do today, in the order of the work",
		ArgsUsage: "[BUILD...]",
		Description: "Where check lists verdicts, next says what to do about them and what else the work asks for:\n" +
			"what fails and its nearest mend, the steps that can start, what waits and on whom, what to\n" +
			"read with the tape, what to write down, and what to order. It is a screen at most, and what\n" +
			"passes is not on it.\n\n" +
			"   fishplate next builds/my-van\n" +
			"   fishplate next --all builds/my-van            the whole of it\n" +
			"   fishplate next --due delivery builds/my-van\n" +
			"   fishplate next --about part.engine builds/my-van\n\n" +
			"Exit status: 0 said, 2 a ledger or the command line cannot be read.",
		Flags:           listingFlags(report.NextKinds, "list all of it, however long, of every stage", "list what touches one `ENTRY`, such as part.engine"),
		HideHelpCommand: true,
		Action:          p.doingNext,
	}
}

// reportFlag asks for reports, of the kinds that a command writes.
func reportFlag(kinds []report.Kind) cli.Flag {
	flag := &cli.StringSliceFlag{Name: "report", Usage: "write a report of a `KIND`, to standard output or as KIND=FILE; may be repeated"}
	return someOf{flag, func([]string) []string { return report.KindNames(kinds) }}
}

func (p *program) doingNext(c *cli.Context) error {
	return p.judging(c, report.NextKinds, func(*lint.Report) {})
}

// unopened tells of builds that cannot be found or opened.
func (p *program) unopened(err error) {
	if err != nil {
		p.status = statusUnread
		p.complain(err)
	}
}

// hand tells a report's faults, each once, and gives it to the outputs: whole,
// or where there are faults what could be read of it.
func (p *program) hand(r *lint.Report, outs *outputs, told map[string]bool) {
	for _, f := range r.Faults {
		p.status = statusUnread
		if line := report.Fault(f); !told[line] {
			told[line] = true
			fmt.Fprintln(p.err, line)
		}
	}
	if len(r.Faults) == 0 {
		outs.build(r)
	} else if r.Build != nil {
		outs.partial(r)
	}
}

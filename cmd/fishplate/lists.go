package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/lint"
	"fishplate/lint/report"
)

func (p *program) list() *cli.Command {
	var kinds strings.Builder
	for _, k := range job.Kinds {
		fmt.Fprintf(&kinds, "   %-10s  %s\n", k.Name, k.About)
	}
	return &cli.Command{
		Name:      "list",
		Usage:     "lists what is to be ordered, what is custom, fuses, wires, hoses, work and more",
		ArgsUsage: "KIND [BUILD...]",
		Description: "KIND is one of\n\n" + kinds.String() + "\n" +
			"No list has a price on it. As csv it opens in a spreadsheet.\n\n" +
			"   fishplate list order builds/my-van\n" +
			"   fishplate list fuses --report csv=fuses.csv builds/my-van\n" +
			"   fishplate list order builds                   of every build below\n\n" +
			"Exit status: 0 listed, 2 a ledger or the command line cannot be read.",
		Flags:           []cli.Flag{reportFlag(report.ListKinds), asOfFlag()},
		HideHelpCommand: true,
		Action:          p.listing,
	}
}

func (p *program) listing(c *cli.Context) error {
	words := c.Args().Slice()
	if len(words) == 0 {
		return wrong("list takes a kind of list: %s; %s", strings.Join(job.KindNames(), ", "), helpHint("list"))
	}
	k, ok := job.KindNamed(words[0])
	if !ok {
		return unlisted("list", words[0], job.KindNames())
	}
	return p.unjudged(c, words[1:], report.ListKinds, report.Options{List: k})
}

func (p *program) find() *cli.Command {
	return &cli.Command{
		Name:      "find",
		Usage:     "finds every entry, in every build, that carries a word or a part number",
		ArgsUsage: "WORD [BUILD...]",
		Description: "For the call three years later: which of our builds has this pump, where, and how is it\n" +
			"ordered? Letters may be large or small; blanks and hyphens are passed over. What is private\n" +
			"is not searched.\n\n" +
			"   fishplate find \"lift pump\" builds\n" +
			"   fishplate find TR-3128 builds\n\n" +
			"Exit status: 0 searched, 2 a ledger or the command line cannot be read.",
		Flags:           []cli.Flag{reportFlag(report.FindKinds), asOfFlag()},
		HideHelpCommand: true,
		Action:          p.finding,
	}
}

func (p *program) finding(c *cli.Context) error {
	words := c.Args().Slice()
	if len(words) == 0 || strings.TrimSpace(words[0]) == "" {
		return wrong("find takes a word or a part number; %s", helpHint("find"))
	}
	return p.unjudged(c, words[1:], report.FindKinds, report.Options{Word: words[0]})
}

func (p *program) cost() *cli.Command {
	return &cli.Command{
		Name:      "cost",
		Usage:     "adds up what a build costs, by system, and says which price to find out next",
		ArgsUsage: "[BUILD...]",
		Description: "Parts, outside work, hours planned and spent at the shop's rate, left-overs sold, the total,\n" +
			"what was quoted and what is left, each with its doubt; then the figures that leave it most in\n" +
			"doubt. A price that is not written is in no sum, and is listed. Wire, fluids and tires stand\n" +
			"in it where a part with a price says so. It is private: no other command shows money.\n\n" +
			"   fishplate cost builds/my-van\n" +
			"   fishplate cost --report csv=cost.csv builds/my-van\n\n" +
			"Exit status: 0 reckoned, 2 a ledger or the command line cannot be read.",
		Flags:           []cli.Flag{reportFlag(report.CostKinds), asOfFlag()},
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			return p.unjudged(c, c.Args().Slice(), report.CostKinds, report.Options{})
		},
	}
}

// unjudged hands builds to outputs that ask nothing of the rules.
func (p *program) unjudged(c *cli.Context, words []string, kinds []report.Kind, how report.Options) error {
	opt, err := p.options(c)
	outs, bad := p.outputs(kinds, c.StringSlice("report"), how)
	defer outs.drop()
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	places, builds, unread := openBuilds(words)
	defer closePlaces(places)
	if p.unopened(unread); len(builds) == 0 {
		return nil
	}
	var totals report.Totals
	told := map[string]bool{}
	bar := p.progress(len(builds))
	loader := ledger.NewLoader()
	for _, src := range builds {
		r := lint.Unjudged(loader, src, opt)
		if c.Command.Name == "cost" && len(r.Faults) == 0 {
			r.Cost, r.Faults = job.CostOf(job.Of(r.Build, r.AsOf))
		}
		bar.step()
		bar.wipe()
		totals.Add(r)
		p.hand(r, outs, told)
	}
	bar.wipe()
	return outs.close(&totals)
}

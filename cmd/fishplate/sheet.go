package main

import (
	"errors"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/lint/report"
)

func (p *program) sheet() *cli.Command {
	return &cli.Command{
		Name:      "sheet",
		Usage:     "lists what to read on the vehicle or find out, to be filled and entered",
		ArgsUsage: "[BUILD]",
		Description: "The values that checks wait for, in the order of a walk round the vehicle: what to read, between\n" +
			"what, in which unit, what is written now, how well it must be known, and which checks wait. What is\n" +
			"due now and at the next stage, unless another is asked for.\n\n" +
			"   fishplate sheet builds/my-van\n" +
			"   fishplate sheet --report html=sheet.html builds/my-van       prints, with boxes to write in\n" +
			"   fishplate sheet --report csv=sheet.csv builds/my-van         fill the column value, then\n" +
			"   fishplate enter builds/my-van sheet.csv\n" +
			"   fishplate sheet --system cooling --due delivery builds/my-van\n\n" +
			"Exit status: 0 said, 2 a ledger or the command line cannot be read.",
		Flags: []cli.Flag{
			reportFlag(report.SheetKinds),
			dueFlag(),
			&cli.BoolFlag{Name: "all", Usage: "list what is due at every stage"},
			oneOf{&cli.StringFlag{Name: "system", Usage: "list what belongs to one `SYSTEM`, such as cooling"}, ledger.SystemNames()},
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.sheeting,
	}
}

func (p *program) sheeting(c *cli.Context) error {
	opt, err := p.options(c)
	how, bad := p.selection(c)
	how.System = c.String("system")
	err = errors.Join(err, bad)
	places, builds, unread := openBuilds(c.Args().Slice())
	defer closePlaces(places)
	if len(builds) > 1 {
		err = errors.Join(err, wrong("sheet takes one build; got %d: name one, such as %s", len(builds), builds[0].Folder()))
	}
	outs, bad := p.outputs(report.SheetKinds, c.StringSlice("report"), how)
	defer outs.drop()
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	if p.unopened(unread); len(builds) == 0 {
		return nil
	}
	var totals report.Totals
	told := map[string]bool{}
	lint.Run(builds, p.packs, opt, func(r *lint.Report) {
		if bad = unknownSystem(r.Build, how.System); bad != nil {
			return
		}
		totals.Add(r)
		p.hand(r, outs, told)
	})
	if bad != nil {
		return bad
	}
	return outs.close(&totals)
}

// unknownSystem tells of a system that a build has nothing of.
func unknownSystem(b *ledger.Build, name string) error {
	if b == nil || name == "" {
		return nil
	}
	names := ledger.SystemNames()
	for _, e := range b.Entries() {
		names = append(names, b.System(e))
	}
	names = ledger.Systems(names)
	for _, n := range names {
		if n == name {
			return nil
		}
	}
	return unlisted("system", name, names)
}

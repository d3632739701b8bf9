package main

import (
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report"
	"fishplate/rules"
)

func (p *program) compare() *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "says what changed between two versions of a build, in checks and in entries, and why",
		ArgsUsage: "BEFORE AFTER",
		Description: "BEFORE and AFTER are each a folder with a build.toml, or REV:FOLDER.\n\n" +
			"   fishplate compare main:builds/my-van builds/my-van\n" +
			"   fishplate compare --report markdown main:builds/my-van HEAD:builds/my-van\n" +
			"   fishplate compare --report html=changed.html main:builds/my-van builds/my-van\n\n" +
			"Both are judged as of the newer one's date, each at its own stage.\n\n" +
			"Exit status: 0 no check got worse, 1 one did, 2 a ledger or the command line cannot be read.",
		Flags: []cli.Flag{
			reportFlag(),
			&cli.BoolFlag{Name: "all", Usage: "give the causes of what only moved as well"},
			stageFlag(),
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.comparing,
	}
}

func (p *program) comparing(c *cli.Context) error {
	opt, err := p.options(c)
	outs, bad := p.outputs(report.CompareKinds, c.StringSlice("report"), report.Options{All: c.Bool("all"), Drawn: rules.Drawn})
	defer outs.drop()
	err = errors.Join(err, bad)
	if n := c.NArg(); n != 2 {
		err = errors.Join(err, wrong("compare takes two builds, the one before and the one after; got %d; %s", n, helpHint("compare")))
	}
	if err != nil {
		return err
	}
	var two [2]*revision.Build
	for i := range two {
		place, bad := revision.Open(c.Args().Get(i))
		if bad != nil {
			err = errors.Join(err, bad)
			continue
		}
		defer place.Close()
		two[i], bad = single(place)
		err = errors.Join(err, bad)
	}
	if err != nil {
		return err
	}
	cmp := compare.Sources(two[0], two[1], p.packs, opt)
	if cmp.Unread() {
		p.status = statusUnread
		for _, r := range []*lint.Report{cmp.Before, cmp.After} {
			for _, f := range r.Faults {
				fmt.Fprintln(p.err, report.Fault(f))
			}
		}
		return nil
	}
	if outs.compare(cmp); cmp.Failed() {
		p.status = statusFails
	}
	return outs.close(&report.Totals{})
}

// single is the one build of a place.
func single(place *revision.Place) (*revision.Build, error) {
	builds, err := place.Builds()
	if err != nil {
		return nil, err
	}
	if n := len(builds); n > 1 {
		return nil, &revision.Error{Path: place.Name(), Message: fmt.Sprintf("%d builds here, and compare takes one; such as %s", n, builds[0].Folder())}
	}
	return builds[0], nil
}

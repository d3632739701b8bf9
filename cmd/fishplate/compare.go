package main

import (
	"errors"
	"fmt"
	"strings"

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
		Usage:     "says what changed between two versions of a build, or of all builds of a tree, and why",
		ArgsUsage: "BEFORE AFTER",
		Description: "BEFORE and AFTER are each a folder with a build.toml, or REV:FOLDER; or each is a folder\n" +
			"with builds below it, of which those that differ are compared, a line each and then in full.\n\n" +
			"   fishplate compare main:builds/my-van builds/my-van\n" +
			"   fishplate compare --report markdown main:builds/my-van HEAD:builds/my-van\n" +
			"   fishplate compare --report html=changed.html main:builds/my-van builds/my-van\n" +
			"   fishplate compare main:. HEAD:.\n\n" +
			"A build that can be read in the tree after and not in the one before is told as such, and counts as\n" +
			"worse where one of its checks fails.\n\n" +
			"After a merge, what neither branch broke and the two together do:\n\n" +
			"   fishplate compare --parents HEAD:builds/my-van\n\n" +
			"Both are judged as of the newer one's date, each at its own stage.\n\n" +
			"Exit status: 0 no check got worse, 1 one did, or a reading has to be taken again, 2 a ledger or the command line cannot be read.",
		Flags: []cli.Flag{
			reportFlag(report.CompareKinds),
			&cli.BoolFlag{Name: "parents", Usage: "take one argument, a merge, and hold it against each of the revisions that it brought together"},
			&cli.BoolFlag{Name: "all", Usage: "give the causes of what only moved as well, and list what moved by less than its figures show"},
			stageFlag(),
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.comparing,
	}
}

func (p *program) comparing(c *cli.Context) error {
	opt, err := p.options(c)
	if c.Bool("parents") {
		return p.union(c, opt, err)
	}
	if n := c.NArg(); n != 2 {
		err = errors.Join(err, wrong("compare takes two builds, or two trees of them, the one before and the one after; got %d; %s", n, helpHint("compare")))
	}
	two, bad := glances(c.Args().Slice())
	defer closePlaces(two)
	how := report.Options{All: c.Bool("all"), Drawn: rules.Drawn}
	var one [2]*revision.Build
	if bad == nil && err == nil {
		if how.Tree = !two[0].IsBuild() && !two[1].IsBuild(); !how.Tree {
			one[0], err = single(two[0])
			one[1], bad = single(two[1])
		}
	}
	err = errors.Join(err, bad)
	kinds := report.CompareKinds
	if how.Tree {
		kinds = report.TreeKinds
		for _, a := range c.StringSlice("report") {
			if name, _, _ := strings.Cut(a, "="); name == "html" {
				return errors.Join(err, wrong("a comparison as html is of one build, and these are trees of them; name a build on each side, or take another kind: %s", strings.Join(report.KindNames(kinds), ", ")))
			}
		}
	}
	outs, bad := p.outputs(kinds, c.StringSlice("report"), how)
	defer outs.drop()
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	if how.Tree {
		return p.comparingTrees(two[0], two[1], opt, outs)
	}
	return p.compared(compare.Sources(one[0], one[1], p.packs, opt), outs)
}

// compared writes what a comparison came to.
func (p *program) compared(cmp *compare.Comparison, outs *outputs) error {
	if cmp.Unread() {
		p.faults(cmp.Before)
		p.faults(cmp.After)
		return nil
	}
	if outs.compare(cmp); cmp.Failed() {
		p.status = statusFails
	}
	return outs.close(&report.Totals{})
}

// glances opens places at a glance, and tells all that is wrong on the way.
func glances(words []string) (places []*revision.Place, err error) {
	for _, w := range words {
		place, bad := revision.Glance(w)
		if err = errors.Join(err, bad); bad == nil {
			places = append(places, place)
		}
	}
	return places, err
}

// comparingTrees compares the builds of two trees that differ, one by one.
func (p *program) comparingTrees(before, after *revision.Place, opt lint.Options, outs *outputs) error {
	pairs, err := revision.Changed(before, after)
	if err != nil {
		return err
	}
	var totals report.Totals
	bar := p.progress(len(pairs))
	for _, two := range pairs {
		bar.step()
		bar.wipe()
		switch {
		case two.Before == nil:
			p.lone(compare.Alone(two.After, true, p.packs, opt), outs, &totals)
		case two.After == nil:
			p.lone(compare.Alone(two.Before, false, p.packs, opt), outs, &totals)
		default:
			cmp := compare.Sources(two.Before, two.After, p.packs, opt)
			cmp.Elsewhere = two.Moved
			if len(cmp.Before.Faults) > 0 && len(cmp.After.Faults) == 0 {
				l := compare.Alone(two.After, true, p.packs, opt)
				l.Before = cmp.Before.Faults
				p.lone(l, outs, &totals)
				continue
			}
			p.two(cmp, outs, &totals)
		}
	}
	bar.wipe()
	return outs.close(&totals)
}

// two hands over a comparison, or tells what cannot be read of it.
func (p *program) two(cmp *compare.Comparison, outs *outputs, totals *report.Totals) {
	if !cmp.Unread() {
		if outs.compare(cmp); cmp.Failed() {
			p.status = max(p.status, statusFails)
		}
		return
	}
	for _, r := range []*lint.Report{cmp.Before, cmp.After} {
		if p.faults(r); len(r.Faults) > 0 {
			totals.Add(r)
		}
	}
}

// lone hands over a build that only one of two trees has. One that is gone is
// told of even where it could not be read: nothing is to be put right there.
func (p *program) lone(l *compare.Lone, outs *outputs, totals *report.Totals) {
	if l.Added && len(l.Faults) > 0 {
		p.faults(l.Report)
		totals.Add(l.Report)
		return
	}
	if outs.lone(l); l.Failed() {
		p.status = max(p.status, statusFails)
	}
}

// faults tells what is wrong with a build's files.
func (p *program) faults(r *lint.Report) {
	for _, f := range r.Faults {
		p.status = statusUnread
		fmt.Fprintln(p.err, report.Fault(f))
	}
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

package main

import (
	"errors"
	"slices"
	"time"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
)

func (p *program) check() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "runs the rules on builds and says what fails, what is open and what to measure next",
		ArgsUsage: "[BUILD...]",
		Description: "BUILD is a folder with a build.toml, REV:FOLDER (the same at a git revision), or a folder\n" +
			"with many builds below it; here, if none is given.\n\n" +
			"   fishplate check builds/my-van\n" +
			"   fishplate check --stage delivery builds/my-van      would it be ready?\n" +
			"   fishplate check main:builds/my-van\n" +
			"   fishplate check --due assembly builds/my-van        all that is due then\n" +
			"   fishplate check --about gap.fan-to-core builds/my-van\n" +
			"   fishplate check --report text --report json=out.json .\n" +
			"   fishplate check --changed-from main .               only builds that differ from main's\n" +
			"   fishplate check --trials .                          the shop's own rules, on the builds that try them\n\n" +
			"--due, --advice, --pack, --about and --all say what a screen or a page lists, never what is\n" +
			"judged: verdicts, counts, exit status and the reports for programs stay whole.\n\n" + statuses,
		Flags: append(listingFlags(report.Kinds, "list every check, including what passes and what does not apply",
			"list every check that touches one `ENTRY`, such as part.engine"),
			&cli.StringFlag{Name: "changed-from", Usage: "check only the builds whose files, documents or shop's file differ from those at `REV`"},
			&cli.BoolFlag{Name: "trials", Usage: "run the trials of the shop's own rules, and judge no build that is worked on"}),
		HideHelpCommand: true,
		Action:          p.checking,
	}
}

// listingFlags are those of a command that judges builds and lists what it finds.
func listingFlags(kinds []report.Kind, all, about string) []cli.Flag {
	return []cli.Flag{
		reportFlag(kinds),
		&cli.BoolFlag{Name: "all", Usage: all},
		dueFlag(),
		&cli.BoolFlag{Name: "advice", Usage: "list advice that is not met or not shown"},
		&cli.StringFlag{Name: "pack", Usage: "list the checks of one `PACK`"},
		&cli.StringFlag{Name: "about", Usage: about},
		stageFlag(),
		asOfFlag(),
	}
}

func stageFlag() cli.Flag {
	return oneOf{&cli.StringFlag{Name: "stage", Usage: "judge as if the build had reached `STAGE`"}, ledger.StageNames}
}

func dueFlag() cli.Flag {
	return oneOf{&cli.StringFlag{Name: "due", Usage: "list what is due at `STAGE`"}, ledger.StageNames}
}

func asOfFlag() cli.Flag {
	return &cli.StringFlag{Name: "as-of", Usage: "take `DATE` for today, as in 2026-03-01"}
}

// options reads the flags that say how builds are judged.
func (p *program) options(c *cli.Context) (lint.Options, error) {
	opt := lint.Options{Today: p.today, AsOf: c.String("as-of")}
	var err error
	if opt.AsOf != "" {
		if _, bad := time.Parse(time.DateOnly, opt.AsOf); bad != nil {
			err = wrong("--as-of takes a date, such as 2026-03-01; got %q", opt.AsOf)
		}
	}
	if c.IsSet("stage") {
		s, bad := ledger.StageNamed(c.String("stage"))
		if bad != nil {
			err = errors.Join(err, wrong("--stage: %v", bad))
		}
		opt.Stage = &s
	}
	return opt, err
}

// selection reads the flags that say what is listed.
func (p *program) selection(c *cli.Context) (report.Options, error) {
	opt := report.Options{All: c.Bool("all"), Advice: c.Bool("advice"), Pack: c.String("pack"), About: c.String("about")}
	var err error
	if c.IsSet("due") {
		s, bad := ledger.StageNamed(c.String("due"))
		if bad != nil {
			err = wrong("--due: %v", bad)
		}
		opt.Due = &s
	}
	var names []string
	for _, pack := range p.everyPack() {
		names = append(names, pack.Name)
	}
	if opt.Pack != "" && !slices.Contains(names, opt.Pack) {
		err = errors.Join(err, unlisted("pack", opt.Pack, names))
	}
	return opt, err
}

func (p *program) checking(c *cli.Context) error {
	if c.Bool("trials") {
		return p.trying(c)
	}
	return p.judging(c, report.Kinds, func(r *lint.Report) {
		if r.Failed() {
			p.status = max(p.status, statusFails)
		}
	})
}

// judging judges the builds that a command line names, and hands each report to the
// outputs, then to what else is done with it.
func (p *program) judging(c *cli.Context, kinds []report.Kind, also func(*lint.Report)) error {
	opt, err := p.options(c)
	how, bad := p.selection(c)
	err = errors.Join(err, bad)
	var totals report.Totals
	places, builds, unread := p.openAsked(c, &totals)
	defer closePlaces(places)
	if how.Builds = len(builds); len(builds) == 1 {
		how.Propose = func(rep *lint.Report, r *lint.Result) []lint.Proposal {
			return lint.Propose(rep.Build, p.packs, rep, r, 1)
		}
	}
	outs, bad := p.outputs(kinds, c.StringSlice("report"), how)
	defer outs.drop()
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	if p.unopened(unread); unread != nil && len(builds) == 0 {
		return nil
	}
	for _, at := range places {
		totals.Passed = append(totals.Passed, at.PassedBy()...)
	}
	told := map[string]bool{}
	bar := p.progress(len(builds))
	lint.Run(builds, p.packs, opt, func(r *lint.Report) {
		bar.step()
		bar.wipe()
		totals.Add(r)
		p.hand(r, outs, told)
		also(r)
	})
	bar.wipe()
	return outs.close(&totals)
}

// openAsked finds the builds that a command line names: where it asks for what
// changed from a revision, those alone.
func (p *program) openAsked(c *cli.Context, totals *report.Totals) (places []*revision.Place, builds []*revision.Build, err error) {
	if totals.Since = c.String("changed-from"); totals.Since == "" {
		return openBuilds(c.Args().Slice())
	}
	words := c.Args().Slice()
	if len(words) == 0 {
		words = []string{"."}
	}
	places, err = glances(words)
	seen := map[string]bool{}
	for _, after := range places {
		before, bad := after.Past(totals.Since)
		if before != nil {
			places = append(places, before)
		}
		var pairs []*revision.Pair
		if bad == nil {
			pairs, bad = revision.Changed(before, after)
		}
		err = errors.Join(err, bad)
		for _, two := range pairs {
			switch {
			case two.After == nil:
				totals.Gone = append(totals.Gone, two.Before.Folder())
			case !seen[two.After.Folder()]:
				seen[two.After.Folder()] = true
				builds = append(builds, two.After)
			}
		}
	}
	return places, builds, err
}

// openBuilds finds the builds that the words name, each once, and tells all
// that is wrong on the way.
func openBuilds(words []string) (places []*revision.Place, builds []*revision.Build, err error) {
	return opened(words, (*revision.Place).Builds, (*revision.Build).Folder)
}

// opened finds what is at the places that words name, here if there are none: each
// once by its name, with all that is wrong on the way.
func opened[T any](words []string, of func(*revision.Place) ([]T, error), name func(T) string) (places []*revision.Place, all []T, err error) {
	if len(words) == 0 {
		words = []string{"."}
	}
	seen := map[string]bool{}
	for _, w := range words {
		place, bad := revision.Open(w)
		if bad != nil {
			err = errors.Join(err, bad)
			continue
		}
		places = append(places, place)
		found, bad := of(place)
		err = errors.Join(err, bad)
		for _, x := range found {
			if !seen[name(x)] {
				seen[name(x)], all = true, append(all, x)
			}
		}
	}
	return places, all, err
}

func closePlaces(places []*revision.Place) {
	for _, p := range places {
		p.Close()
	}
}

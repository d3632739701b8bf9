package main

import (
	"errors"
	"slices"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/history"
	"fishplate/lint/report"
)

func (p *program) history() *cli.Command {
	return &cli.Command{
		Name:      "history",
		Usage:     "says which commits changed a build's verdicts, and how a figure went from commit to commit",
		ArgsUsage: "BUILD [RULE [ENTRY]]",
		Description: "BUILD is a folder with a build.toml, whose commits up to HEAD are told, or REV:FOLDER; a build that\n" +
			"was moved from another folder is followed there. With a\n" +
			"RULE the figures of its checks are drawn over the commits that changed them; ENTRY keeps to one.\n" +
			"Commits are those of the branch itself: what another branch did comes with the one that took it in.\n\n" +
			"   fishplate history builds/my-van\n" +
			"   fishplate history builds/my-van weight/front-axle\n" +
			"   fishplate history builds/my-van clearance/gap gap.fan-to-core --report csv\n" +
			"   fishplate history builds/my-van --failed-since          since when what fails does\n\n" +
			"Each commit is judged as of its own day, as check REV:FOLDER does; with --as-of all are as of one,\n" +
			"and only edits make a difference. What is found out is kept in your cache folder, which may be\n" +
			"deleted.\n\n" +
			"Exit status: 0 told, 2 a commit or the command line cannot be read.",
		Flags: []cli.Flag{
			reportFlag(report.HistoryKinds),
			&cli.BoolFlag{Name: "failed-since", Usage: "find the commit at which each check that fails began to"},
			stageFlag(),
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.historying,
	}
}

func (p *program) historying(c *cli.Context) error {
	opt, err := p.options(c)
	words := c.Args().Slice()
	if n := len(words); n < 1 || n > 3 {
		err = errors.Join(err, wrong("history takes a build, and perhaps a rule and an entry; got %d words; %s", n, helpHint("history")))
	}
	told := &history.Told{AsOf: opt.AsOf}
	entry := ""
	if len(words) > 1 {
		every, faults := p.everyPackAt(words[0])
		rule, bad := ruleNamed(every, words[1])
		if bad != nil {
			for _, f := range faults {
				err = errors.Join(err, errors.New(report.Fault(f)))
			}
		}
		told.Rule, told.Asked = rule, history.Figures
		err = errors.Join(err, bad)
	}
	if len(words) > 2 {
		entry = words[2]
	}
	if c.Bool("failed-since") {
		told.Asked = history.Since
		if entry != "" {
			err = errors.Join(err, wrong("--failed-since takes a build and perhaps a rule, and tells of every entry"))
		}
	}
	outs, bad := p.outputs(report.HistoryKinds, c.StringSlice("report"), report.Options{})
	defer outs.drop()
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	place, past, err := p.past(words[0], opt)
	if err != nil {
		return err
	}
	defer place.Close()
	told.Folder, told.Commits, told.Short, told.Moved = place.Name(), len(past.Steps), past.Short, past.Moved()
	told.Began = past.Began()
	bar := p.progress(len(past.Steps))
	bar.of = "commits"
	err = p.look(past, told, entry, func() { bar.step() })
	bar.wipe()
	if err != nil {
		return err
	}
	outs.history(told)
	return outs.close(&report.Totals{})
}

// past are the commits of the build that a word names, at the last of them.
func (p *program) past(word string, opt lint.Options) (*revision.Place, *history.Past, error) {
	place, err := committed(word)
	if err != nil {
		return nil, nil, err
	}
	past, err := history.Of(place, p.packs, opt, history.OpenCache(p.packs))
	if err == nil && len(past.Steps) == 0 {
		err = &revision.Error{Path: place.Name(), Message: "no commit has a build here"}
	}
	if err != nil {
		place.Close()
		return nil, nil, err
	}
	return place, past, nil
}

// figureUnit is the unit in which a history shows a check's figure.
func figureUnit(rep *lint.Report, r *lint.Result) *quantity.Unit {
	return report.UnitOf(r, rep.Build.Style())
}

// committed is the place of a revision that a word names: of a folder, that at
// the last commit.
func committed(word string) (*revision.Place, error) {
	place, err := revision.Glance(word)
	if err != nil {
		return nil, err
	}
	if !place.OnDisk() {
		return place, nil
	}
	defer place.Close()
	past, err := place.Past("HEAD")
	if err == nil && past == nil {
		err = &revision.Error{Path: place.Name(), Message: "not committed yet: no commit up to HEAD has this folder"}
	}
	return past, err
}

// look finds the answer.
func (p *program) look(past *history.Past, told *history.Told, entry string, step func()) (err error) {
	switch told.Asked {
	case history.Verdicts:
		told.Events, err = past.Verdicts(step)
	case history.Since:
		told.Failing, err = past.FailedSince(told.Rule, report.StateWords, step)
	case history.Figures:
		if told.Lines, err = past.Figures(told.Rule, figureUnit, step); err != nil {
			return err
		}
		all := history.Entries(told.Lines)
		if entry != "" {
			told.Lines = slices.DeleteFunc(told.Lines, func(l *history.Line) bool { return l.Entry != entry })
		}
		switch {
		case len(all) == 0:
			return wrong("%s judged nothing on this build at any commit", told.Rule.Name)
		case len(told.Lines) == 0:
			return wrong("%s never judged %q%s", told.Rule.Name, entry, near(entry, all))
		}
	}
	return err
}

package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
)

// mostProposals is how many changes are offered for a check.
const mostProposals = 4

func (p *program) explain() *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "says what a rule asks and on whose authority; with a build, the worked solution; of an entry, what reads it",
		ArgsUsage: "[RULE [BUILD [ENTRY]]] | ENTRY [BUILD]",
		Description: "Without a RULE it lists them all. With a BUILD it works every check of the rule out, step by\n" +
			"step, and says what it would take to pass; ENTRY keeps to the checks of one entry. An ENTRY in\n" +
			"place of the RULE is explained: what it says, every check that reads it with its margin,\n" +
			"and what it weighs in each; BUILD is here, if none is given.\n\n" +
			"   fishplate explain\n" +
			"   fishplate explain weight/front-axle\n" +
			"   fishplate explain weight/front-axle builds/my-van\n" +
			"   fishplate explain clearance/gap builds/my-van gap.fan-to-core\n" +
			"   fishplate explain part.engine builds/my-van\n\n" +
			"Exit status: 0 explained, 2 a ledger or the command line cannot be read.",
		Flags:           []cli.Flag{stageFlag(), asOfFlag()},
		HideHelpCommand: true,
		Action:          p.explaining,
	}
}

func (p *program) explaining(c *cli.Context) error {
	words := c.Args().Slice()
	opt := report.Options{Color: color(p.out), Width: columns(p.out)}
	if len(words) == 0 {
		return report.Rules(p.out, opt, p.everyPack())
	}
	if len(words) > 3 {
		return wrong("explain takes a rule, a build and an entry at most; got %d words; %s", len(words), helpHint("explain"))
	}
	for _, pack := range p.everyPack() {
		if pack.Name == words[0] && len(words) == 1 {
			return report.Rules(p.out, opt, []*lint.Pack{pack})
		}
	}
	if isEntry(words[0]) {
		return p.entry(c, opt, words)
	}
	for _, pack := range p.everyPack() {
		if pack.Name == words[0] {
			return wrong("%s is a pack; explain takes one of its rules: %s", pack.Name, strings.Join(ruleNames(pack), ", "))
		}
	}
	rule, err := p.rule(words[0])
	if err != nil {
		return err
	}
	if len(words) == 1 {
		return report.Rule(p.out, opt, rule)
	}
	how, err := p.options(c)
	if err != nil {
		return err
	}
	entry := ""
	if len(words) == 3 {
		entry = words[2]
	}
	return p.solution(opt, rule, words[1], entry, how)
}

// isEntry tells that a word is the path of an entry, not a rule's name.
func isEntry(word string) bool {
	kind, _, dotted := strings.Cut(word, ".")
	return !strings.Contains(word, "/") && (ledger.Single(word) || dotted && slices.Contains(ledger.KindNames(), kind))
}

// entry tells of one entry of a build.
func (p *program) entry(c *cli.Context, opt report.Options, words []string) error {
	if len(words) > 2 {
		return wrong("explain takes an entry and a build at most; got %d words; %s", len(words), helpHint("explain"))
	}
	how, err := p.options(c)
	if err != nil {
		return err
	}
	rep, err := p.theBuild(append(words, ".")[1], how)
	if err != nil || rep == nil {
		return err
	}
	e, ok := rep.Build.Entry(words[0])
	if !ok {
		var names []string
		for _, e := range rep.Build.Entries() {
			names = append(names, e.Path())
		}
		return wrong("%s has no entry %q%s", rep.Folder, words[0], near(words[0], names))
	}
	return report.Entry(p.out, opt, rep, e)
}

func ruleNames(p *lint.Pack) []string {
	var out []string
	for _, r := range p.Rules {
		out = append(out, r.Name)
	}
	return out
}

// everyPack is the packs and the engine's own.
func (p *program) everyPack() []*lint.Pack { return append(slices.Clone(p.packs), lint.Own) }

// rule finds a rule by its name, and suggests one where there is none.
func (p *program) rule(name string) (*lint.Rule, error) {
	var names []string
	for _, pack := range p.everyPack() {
		names = append(names, pack.Name)
		for _, r := range pack.Rules {
			if r.Name == name {
				return r, nil
			}
			if _, short, _ := strings.Cut(r.Name, "/"); short == name {
				return nil, wrong("there is no rule %q; did you mean %q?", name, r.Name)
			}
			names = append(names, r.Name)
		}
	}
	return nil, wrong("there is no rule %q%s; fishplate explain lists them all", name, near(name, names))
}

// solution works out the checks of a rule on one build.
func (p *program) solution(opt report.Options, rule *lint.Rule, arg, entry string, how lint.Options) error {
	rep, err := p.theBuild(arg, how)
	if err != nil || rep == nil {
		return err
	}
	var mine []*lint.Result
	var entries []string
	for _, r := range rep.Results {
		if r.Rule.Name != rule.Name {
			continue
		}
		entries = append(entries, r.Entry)
		if entry == "" || r.Entry == entry {
			mine = append(mine, r)
		}
	}
	if len(mine) == 0 {
		return p.nothing(rep, rule, entry, entries)
	}
	return report.Worked(p.out, opt, rep, rule, mine, func(r *lint.Result) []lint.Proposal {
		return lint.Propose(rep.Build, p.packs, rep, r, mostProposals)
	})
}

// theBuild checks the one build that a word names; nil where it cannot be
// read, which is told then.
func (p *program) theBuild(arg string, how lint.Options) (*lint.Report, error) {
	places, builds, err := openBuilds([]string{arg})
	defer closePlaces(places)
	if err != nil {
		return nil, err
	}
	if len(builds) > 1 {
		return nil, wrong("%s holds %d builds: name one, such as %s", arg, len(builds), builds[0].Folder())
	}
	rep := p.checked(builds[0], how)
	if len(rep.Faults) == 0 {
		return rep, nil
	}
	p.status = statusUnread
	for _, f := range rep.Faults {
		fmt.Fprintln(p.err, report.Fault(f))
	}
	return nil, nil
}

func (p *program) checked(b *revision.Build, how lint.Options) *lint.Report {
	var rep *lint.Report
	lint.Run([]*revision.Build{b}, p.packs, how, func(r *lint.Report) { rep = r })
	return rep
}

// nothing says why a rule has no check on a build, or none on an entry.
func (p *program) nothing(rep *lint.Report, rule *lint.Rule, entry string, entries []string) error {
	pack, _, _ := strings.Cut(rule.Name, "/")
	var names []string
	for _, w := range rep.Build.Packs {
		names = append(names, w.String())
	}
	switch {
	case rep.Build.Packs != nil && !slices.Contains(names, pack) && pack != lint.Own.Name:
		return wrong("%s does not run the pack %s; its packs are %s", rep.Folder, pack, strings.Join(names, ", "))
	case entry != "" && len(entries) > 0:
		return wrong("%s judges nothing on %q%s", rule.Name, entry, near(entry, entries))
	}
	_, err := fmt.Fprintln(p.out, report.Clean(rep.Folder+": "+rule.Name+" finds nothing to judge here"))
	return err
}

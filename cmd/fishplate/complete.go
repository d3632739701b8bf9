package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/lint/report"
	"fishplate/rules/paperwork"
)

// script is what bash has to be told. Words that fishplate has none for are
// left to bash, which completes files.
const script = `_fishplate() {
  local words=("${COMP_WORDS[@]:0:COMP_CWORD}") cur="${COMP_WORDS[COMP_CWORD]}"
  COMPREPLY=($(compgen -W "$("${words[@]}" "$cur" ` + completionFlag + ` 2>/dev/null)" -- "$cur"))
}
complete -o default -F _fishplate fishplate
`

func (p *program) completion() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "prints what bash needs to complete commands, flags, rules, stages and reports",
		ArgsUsage: "bash",
		Description: "Put this line into ~/.bashrc:\n\n" +
			"   source <(fishplate completion bash)",
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 || c.Args().First() != "bash" {
				return wrong("completion is there for bash: fishplate completion bash")
			}
			_, err := fmt.Fprint(p.out, script)
			return err
		},
	}
}

// complete offers words for the one that is being typed, the last of args.
func (p *program) complete(app *cli.App, args []string) {
	for _, w := range p.offers(app, args) {
		fmt.Fprintln(p.out, w)
	}
}

func (p *program) offers(app *cli.App, args []string) (words []string) {
	if len(args) < 2 {
		return nil
	}
	cur, before := args[len(args)-1], args[:len(args)-1]
	if len(before) == 1 {
		for _, c := range app.Commands {
			words = append(words, c.Name)
		}
		return words
	}
	cmd := app.Command(before[1])
	if cmd == nil {
		return nil
	}
	switch strings.TrimLeft(before[len(before)-1], "-") {
	case "stage":
		return ledger.StageNames
	case "kind":
		return paperwork.Kinds()
	case "report":
		if cmd.Name == "compare" {
			return report.KindNames(report.CompareKinds)
		}
		return report.KindNames(report.Kinds)
	}
	switch {
	case strings.HasPrefix(cur, "-"):
		for _, f := range cmd.Flags {
			words = append(words, "--"+f.Names()[0])
		}
		return append(words, "--help")
	case cmd.Name == "explain" && len(before) == 2:
		for _, pack := range p.everyPack() {
			words = append(words, pack.Name)
			for _, r := range pack.Rules {
				words = append(words, r.Name)
			}
		}
	case cmd.Name == "completion":
		return []string{"bash"}
	}
	return words
}

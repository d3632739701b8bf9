package main

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/ledger/revision"
	"fishplate/lint/report"
	"fishplate/lint/report/drawing"
	"fishplate/rules/paperwork"
)

// completionScripts are what each shell has to be told. Where fishplate offers
// no word the shell completes files. None of them lets the shell read an offer
// as anything but a word: bash would run what it is given as a word list.
var completionScripts = map[string]string{
	"bash": `_fishplate() {
  local cur="${COMP_WORDS[COMP_CWORD]}" word
  COMPREPLY=()
  while IFS= read -r word; do
    [[ "$word" == "$cur"* ]] && COMPREPLY+=("$word")
  done < <("${COMP_WORDS[@]:0:COMP_CWORD}" "$cur" ` + completionFlag + ` 2>/dev/null)
}
complete -o default -F _fishplate fishplate
`,
	"zsh": `#compdef fishplate
_fishplate() {
  local -a offered
  offered=("${(@f)$("${(@)words[1,CURRENT-1]}" "${words[CURRENT]}" ` + completionFlag + ` 2>/dev/null)}")
  if [[ -n "${offered[1]}" ]]; then
    compadd -a offered
  else
    _files
  fi
}
compdef _fishplate fishplate
`,
	"fish": `function __fishplate_offers
    set -l words (commandline -opc)
    set -e words[1]
    set -l cur (commandline -ct)
    command fishplate $words "$cur" ` + completionFlag + ` 2>/dev/null
end
complete -c fishplate -a '(__fishplate_offers)'
`,
}

func shells() []string { return slices.Sorted(maps.Keys(completionScripts)) }

func (p *program) completion() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "prints what a shell needs to complete commands, flags, and names of rules, entries and builds",
		ArgsUsage: "SHELL",
		Description: "SHELL is bash, zsh or fish. Put the line for yours where it is read at the start:\n\n" +
			"   source <(fishplate completion bash)          in ~/.bashrc\n" +
			"   source <(fishplate completion zsh)           in ~/.zshrc, below compinit\n" +
			"   fishplate completion fish | source           in ~/.config/fish/config.fish\n\n" +
			"Exit status: 0 printed, 2 the command line cannot be read.",
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			script, ok := completionScripts[c.Args().First()]
			if c.NArg() != 1 || !ok {
				return wrong("completion takes a shell: %s; got %q%s", strings.Join(shells(), ", "), strings.Join(c.Args().Slice(), " "), near(c.Args().First(), shells()))
			}
			_, err := fmt.Fprint(p.out, script)
			return err
		},
	}
}

// complete offers words for the one that is being typed, the last of args.
func (p *program) complete(app *cli.App, args []string) {
	for _, w := range p.offers(app, args) {
		if plainWord(w) {
			fmt.Fprintln(p.out, w)
		}
	}
}

// plainWord tells whether a shell takes a word for itself: a folder's name may
// be a command to it.
func plainWord(w string) bool {
	return w != "" && !strings.ContainsFunc(w, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_./+,@%", r) || r == unicode.ReplacementChar
	})
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
	said := wordsOf(cmd, before[2:])
	if flag := strings.TrimLeft(before[len(before)-1], "-"); flag != before[len(before)-1] {
		if values, ok := flagValues(cmd.Name, flag, said); ok {
			return values
		}
	}
	if strings.HasPrefix(cur, "-") {
		for _, f := range cmd.Flags {
			words = append(words, "--"+f.Names()[0])
		}
		return append(words, "--help")
	}
	return p.wordOffers(cmd.Name, cur, said)
}

// wordsOf are the words among those that were typed, without flags and what
// follows them.
func wordsOf(cmd *cli.Command, typed []string) (words []string) {
	for i := 0; i < len(typed); i++ {
		name := strings.TrimLeft(typed[i], "-")
		if name == typed[i] {
			words = append(words, name)
			continue
		}
		f, _ := flagOf(cmd, name)
		if _, yes := f.(*cli.BoolFlag); f != nil && !yes {
			i++
		}
	}
	return words
}

// flagValues are the words for the value of a flag; false where the flag takes
// none that there is a list of.
func flagValues(command, flag string, said []string) ([]string, bool) {
	switch flag {
	case "stage":
		return ledger.StageNames, true
	case "kind":
		return paperwork.Kinds(), true
	case "proves":
		return entriesOf(strings.Join(said[:min(1, len(said))], "")), true
	case "report":
		return report.KindNames(reportsOf(command)), true
	case "due":
		return ledger.StageNames, true
	case "of":
		return schemasOf, true
	case "system":
		return ledger.SystemNames(), true
	}
	return nil, false
}

// reportsOf are the reports that a command writes.
func reportsOf(command string) []report.Kind {
	switch command {
	case "compare":
		return report.CompareKinds
	case "next":
		return report.NextKinds
	case "list":
		return report.ListKinds
	case "find":
		return report.FindKinds
	case "sheet":
		return report.SheetKinds
	case "cost":
		return report.CostKinds
	}
	return report.Kinds
}

// wordOffers are the words for the next word of a command.
func (p *program) wordOffers(command, cur string, said []string) []string {
	switch {
	case command == "completion":
		return shells()
	case command == "explain" && len(said) == 0:
		return append(p.ruleOffers(), entriesHere(cur)...)
	case command == "explain" && len(said) == 2:
		return entriesOf(said[1])
	case command == "list" && len(said) == 0:
		return job.KindNames()
	case command == "draw" && len(said) == 0:
		return drawing.Names()
	case command == "find" && len(said) == 0:
		return nil
	case command == "check", command == "next", command == "sheet", command == "straighten", command == "cost", command == "list", command == "find", command == "compare" && len(said) < 2, (command == "explain" || command == "draw") && len(said) == 1,
		(command == "attach" || command == "sign" || command == "enter") && len(said) == 0:
		return buildsBelow(cur)
	}
	return nil
}

func (p *program) ruleOffers() (words []string) {
	for _, pack := range p.everyPack() {
		words = append(words, pack.Name)
		for _, r := range pack.Rules {
			words = append(words, r.Name)
		}
	}
	return words
}

// mostRead is how many builds are read for the names of their entries: someone
// waits at the keyboard.
const mostRead = 20

// entriesHere are the entries of the builds below the working directory, once
// the kind of one is typed.
func entriesHere(cur string) (words []string) {
	if !strings.Contains(cur, ".") {
		return nil
	}
	builds := buildsBelow("")
	for _, b := range builds[:min(mostRead, len(builds))] {
		words = append(words, entriesOf(b)...)
	}
	slices.Sort(words)
	return slices.Compact(words)
}

// entriesOf are the entries of the one build of a place; none where there are
// several, or faults.
func entriesOf(where string) (words []string) {
	place, err := revision.Open(where)
	if err != nil {
		return nil
	}
	defer place.Close()
	builds, err := place.Builds()
	if err != nil || len(builds) != 1 {
		return nil
	}
	b, _ := ledger.NewLoader().Load(builds[0])
	if b == nil {
		return nil
	}
	for _, e := range b.Entries() {
		words = append(words, e.Path())
	}
	return words
}

// longestLook is how long builds are looked for.
const longestLook = time.Second

// buildsBelow are the builds below the folder that is typed so far, as typed;
// none where finding them takes long, as at the top of a disk.
func buildsBelow(cur string) []string {
	if strings.Contains(cur, ":") {
		return nil
	}
	found := make(chan []string, 1)
	go func() { found <- buildsOf(path.Dir(cur + "x")) }()
	select {
	case words := <-found:
		return words
	case <-time.After(longestLook):
		return nil
	}
}

func buildsOf(dir string) (words []string) {
	place, err := revision.Open(dir)
	if err != nil {
		return nil
	}
	defer place.Close()
	builds, _ := place.Builds() // the good ones will do
	for _, b := range builds {
		words = append(words, b.Folder())
	}
	return words
}

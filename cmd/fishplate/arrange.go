package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/spelling"
)

const completionFlag = "--generate-bash-completion"

// arrange puts a command's flags before its other words, wherever they were
// typed, and tells what is not a command or a flag.
func arrange(app *cli.App, args []string) ([]string, error) {
	if len(args) < 2 {
		return args, nil
	}
	if strings.HasPrefix(args[1], "-") {
		if slices.Contains([]string{"--help", "-h", "-help", "--version", "-v", "-version"}, args[1]) {
			return args[:2], nil
		}
		return nil, wrong("unknown flag %q before a command; try: fishplate --help", args[1])
	}
	var cmd *cli.Command
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Name)
		if c.Name == args[1] {
			cmd = c
		}
	}
	if args[1] == "help" {
		return helpOf(app, args), nil
	}
	if cmd == nil {
		return nil, wrong("unknown command %q%s; the commands are %s", args[1], near(args[1], names), strings.Join(names, ", "))
	}
	flags, words, err := split(cmd, args[2:])
	if err != nil {
		return nil, err
	}
	return slices.Concat(args[:2], flags, []string{"--"}, words), nil
}

func helpOf(app *cli.App, args []string) []string {
	if len(args) > 2 && app.Command(args[2]) != nil {
		return []string{args[0], args[2], "--help"}
	}
	return []string{args[0], "--help"}
}

func split(cmd *cli.Command, args []string) (flags, words []string, err error) {
	for i := 0; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			words = append(words, args[i+1:]...)
			break
		}
		if len(a) < 2 || a[0] != '-' {
			words = append(words, a)
			continue
		}
		name, _, joined := strings.Cut(strings.TrimLeft(a, "-"), "=")
		f, known := flagOf(cmd, name)
		if f == nil {
			return nil, nil, wrong("unknown flag %q%s; %s", a, nearFlag(name, known), helpHint(cmd.Name))
		}
		flags = append(flags, a)
		if _, yes := f.(*cli.BoolFlag); !yes && !joined {
			if i++; i == len(args) {
				return nil, nil, wrong("%s needs a value; %s", a, helpHint(cmd.Name))
			}
			flags = append(flags, args[i])
		}
		// A report's file may have any name; what goes into a ledger is text.
		if last := flags[len(flags)-1]; name != "report" && !utf8.ValidString(last) {
			return nil, nil, wrong("%s: %q is not UTF-8 text", a, last)
		}
	}
	return flags, words, nil
}

func flagOf(cmd *cli.Command, name string) (found cli.Flag, known []string) {
	if name == "help" || name == "h" {
		return cli.HelpFlag, nil
	}
	for _, f := range cmd.Flags {
		for _, n := range f.Names() {
			known = append(known, n)
			if n == name {
				found = f
			}
		}
	}
	return found, append(known, "help")
}

func helpHint(command string) string {
	return fmt.Sprintf("try: fishplate %s --help", command)
}

func nearFlag(name string, known []string) string {
	for i, k := range known {
		known[i] = "--" + k
	}
	return near("--"+name, known)
}

// unlisted tells of a word that names none of a thing of which there are a few.
func unlisted(thing, word string, names []string) error {
	return wrong("there is no %s %q%s; the %ss are %s", thing, word, near(word, names), thing, strings.Join(names, ", "))
}

func near(word string, known []string) string {
	if n := spelling.Nearest(word, known); n != "" {
		return fmt.Sprintf(" (did you mean %q?)", n)
	}
	return ""
}

package main

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// The two pages of help: of the program, and of a command.
const (
	appHelp = `What it does
   {{.Name}} {{.Usage}}.

{{.Description}}

How to call it
   {{.Name}} COMMAND [words and flags, in any order]

Commands
{{range .VisibleCommands}}   {{.Name}}{{"\t"}}{{.Usage}}
{{end}}
Flags
{{range .VisibleFlags}}   {{.}}
{{end}}
More of a command: {{.Name}} COMMAND --help
`
	commandHelp = `What it does
   {{.HelpName}} {{.Usage}}.

{{.Description}}

How to call it
   {{.HelpName}}{{if .ArgsUsage}} {{.ArgsUsage}}{{end}}{{if .VisibleFlags}} [flags]{{end}}

A worked example
{{.UsageText}}

Flags
{{range .VisibleFlags}}   {{.}}
{{end}}`
)

// worked is an example of a command, to be typed where fishplate's own
// repository is, with the exit status and what comes of it.
type worked struct {
	line   string
	status int
	tells  string
}

var workedExamples = map[string]worked{
	"start": {"fishplate start builds/my-van", statusClean,
		"The folder builds/my-van now holds files of commented entries, one of every kind, and loads as it is."},
	"check": {"fishplate check --stage delivery --as-of 2026-11-20 examples/tamarack/builds/marten", statusFails,
		"A van at mock-up, judged as if it were to be handed over: it ends with 1, and lists what is\nin the way, each with its number, its limit, its file and its line."},
	"compare": {"fishplate compare examples/tamarack/changes/winch/before examples/tamarack/changes/winch/after", statusFails,
		"A winch was added in front. It ends with 1, as a check got worse, and names the entries that\ndid it with the share of each."},
	"history": {"fishplate history examples/tamarack/builds/marten weight/front-axle", statusClean,
		"The load on the front axle from commit to commit: a line with its doubt as a band and the limit,\nthen what it was at each commit that changed it, who made that and when."},
	"explain": {"fishplate explain weight/front-axle examples/tamarack/builds/marten", statusClean,
		"The load on the front axle, step by step, to be followed with a pocket calculator; the limit\nand who says so; and what is in doubt."},
	"draw": {"fishplate draw side --out side.svg examples/tamarack/builds/heron", statusClean,
		"side.svg is there: the truck from its left side, with every part, load and tank at its place, as large\nas its mass, and where its center of gravity was and is."},
	"next": {"fishplate next --as-of 2026-11-20 examples/tamarack/builds/marten", statusClean,
		"A screen: what fails, what can start, what waits and on whom, what to read, write and order."},
	"list": {"fishplate list fuses --report csv examples/tamarack/builds/marten", statusClean,
		"Every fuse of the van, with the wire that it protects, for a spreadsheet; csv=fuses.csv writes it\nto a file."},
	"find": {"fishplate find pump examples/tamarack/builds", statusClean,
		"Every entry of either van that is called so, with its file and line, its state, and what to ask\nfor at the counter."},
	"cost": {"fishplate cost --as-of 2026-11-20 examples/tamarack/builds/marten", statusClean,
		"What the van costs, system by system, and what is not written and so in no sum."},
	"book": {"fishplate book --edition owner --out heron.html examples/tamarack/builds/heron", statusClean,
		"heron.html is the book that goes with the keys of a finished truck: open it in any browser."},
	"sheet": {"fishplate sheet --as-of 2026-11-20 --report html examples/tamarack/builds/marten", statusClean,
		"A page with a box for every reading that a check of the van waits for; html=sheet.html writes it\nto a file, for the printer."},
	"enter": {"fishplate enter builds/my-van sheet.csv", statusClean,
		"The readings of the filled sheet stand in the files of builds/my-van, each in its place, and all\nelse in them is as it was."},
	"attach": {"fishplate attach builds/my-van builds/my-van/ticket.txt --kind weigh-ticket", statusClean,
		"documents/ticket.toml now has an entry with the file's digest. A later change of the file is reported."},
	"sign": {"fishplate sign builds/my-van --stage intake --by \"June Farrow\"", statusClean,
		"signatures/intake.toml now has June's signature over the ledger as it is. A later change of a\nvalue breaks it."},
	"straighten": {"fishplate straighten --check examples/tamarack/builds", statusClean,
		"Each of the three builds is straight. Without --check, what is not would be laid out anew, and no\nsignature would break."},
	"merge": {"fishplate merge base.toml ours.toml theirs.toml builds/my-van/build.toml", statusClean,
		"ours.toml has what both sides changed, each key once. Git runs it so by itself, once it is told to."},
	"schema": {"fishplate schema --out build.schema.json", statusClean,
		"build.schema.json is there, for an editor: the files of a build name it in their first line."},
	"editor": {"fishplate editor", statusFails,
		"Nothing is printed: it waits for an editor. Typed at a prompt, end it with Ctrl-D; it ends with 1\nthen, for no editor ended it."},
	"completion": {"fishplate completion bash", statusClean,
		"The script for bash; put  source <(fishplate completion bash)  into ~/.bashrc."},
}

// withHelp gives the program and its commands their pages.
func withHelp(app *cli.App) *cli.App {
	app.CustomAppHelpTemplate, app.Description = appHelp, indented(app.Description)
	for _, c := range app.Commands {
		w := workedExamples[c.Name]
		c.CustomHelpTemplate, c.Description, c.UsageText = commandHelp, indented(c.Description), indented(w.line+"\n"+w.tells)
		for _, f := range c.Flags {
			if yes, ok := f.(*cli.BoolFlag); ok {
				yes.DisableDefaultText = true
			}
		}
	}
	return app
}

// indented sets every line that is not empty three columns in.
func indented(text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if l != "" {
			lines[i] = "   " + l
		}
	}
	return strings.Join(lines, "\n")
}

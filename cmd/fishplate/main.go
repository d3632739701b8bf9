// Command fishplate checks the build ledgers of vehicle conversions.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
)

// The exit statuses.
const (
	statusClean  = 0
	statusFails  = 1
	statusUnread = 2
)

const statuses = `Exit status: 0 nothing that is due fails, lacks something or is left open; 1 something does: a due
check that is missing or left open gives 1 too; 2 a ledger or the command line cannot be read.`

// collectAt and collectBelow set the collector of garbage: it waits until the heap
// is so many percent larger than what is in use, for a run is short, and less
// long once the whole comes near so many bytes. Common practice, no source.
const (
	collectAt    = 400
	collectBelow = 256 << 20
)

// collect sets it, unless the environment does.
func collect() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(collectBelow)
	}
}

func main() {
	collect()
	leavePipes()
	os.Exit(run(os.Args, &program{out: os.Stdout, err: os.Stderr, packs: rules.Packs(), today: time.Now().Format(time.DateOnly)}))
}

// program is what a command has to do with the world outside.
type program struct {
	out, err io.Writer
	packs    []*lint.Pack
	today    string
	status   int
}

// run runs one command line and gives the exit status.
func run(args []string, p *program) int {
	out := &pipe{to: p.out}
	p.out = out
	app := p.app()
	if n := len(args) - 1; n > 0 && args[n] == completionFlag {
		p.complete(app, args[:n])
		return statusClean
	}
	args, err := arrange(app, args)
	if err == nil {
		err = app.Run(args)
	}
	if err == nil {
		err = out.failed
	}
	if err != nil {
		p.complain(err)
		return statusUnread
	}
	return p.status
}

// complain tells all that is wrong, one line each.
func (p *program) complain(err error) {
	var several interface{ Unwrap() []error }
	if errors.As(err, &several) {
		for _, e := range several.Unwrap() {
			p.complain(e)
		}
		return
	}
	var use usage
	prefix := ""
	if errors.As(err, &use) {
		prefix = "fishplate: "
	}
	for _, line := range strings.Split(err.Error(), "\n") {
		fmt.Fprintln(p.err, report.Clean(prefix+line))
		prefix = ""
	}
}

// usage is an error of the command line, not of a file.
type usage string

func (u usage) Error() string { return string(u) }

func wrong(format string, args ...any) error { return usage(fmt.Sprintf(format, args...)) }

func (p *program) app() *cli.App {
	return withHelp(&cli.App{
		Name:  "fishplate",
		Usage: "checks the build ledgers of vehicle conversions",
		Description: "A build is a folder with a build.toml. Start one, check it, ask why:\n\n" +
			"   fishplate start builds/my-van\n" +
			"   fishplate check builds/my-van\n" +
			"   fishplate explain weight/front-axle builds/my-van\n\n" +
			"Only check, compare, sign and straighten --check end with 1, the others with 0 or 2.\n\n" + statuses,
		Version:                   version(),
		Writer:                    p.out,
		ErrWriter:                 p.err,
		DisableSliceFlagSeparator: true,
		HideHelpCommand:           true,
		ExitErrHandler:            func(*cli.Context, error) {},
		Commands:                  []*cli.Command{p.start(), p.check(), p.next(), p.sheet(), p.compare(), p.history(), p.draw(), p.explain(), p.list(), p.find(), p.cost(), p.enter(), p.attach(), p.sign(), p.straighten(), p.schema(), p.completion()},
	})
}

// version is that of the build, as the Go tool stamps it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "dev"
	}
	return info.Main.Version
}

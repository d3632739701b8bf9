package main

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"fishplate/ledger/golden"
	"fishplate/lint"
	"fishplate/lint/shoprules"
)

func TestMain(m *testing.M) {
	testscript.Main(browserTests{golden.Tests{M: m}}, map[string]func(){
		// fishplate-example is the program with the real rules, on a fixed day.
		"fishplate-example": func() {
			leavePipes()
			p := real(os.Stdout, os.Stderr)
			p.in = os.Stdin
			os.Exit(run(os.Args, p))
		},
		// fishplate is the program with the rules of toy_test.go, on a fixed day.
		"fishplate": func() {
			leavePipes()
			os.Exit(run(os.Args, &program{in: os.Stdin, out: os.Stdout, err: os.Stderr, packs: withOwn(toy()), today: "2026-03-01"}))
		},
	})
}

// TestScripts runs testdata/script. UPDATE=1 writes the goldens anew.
func TestScripts(t *testing.T) {
	t.Cleanup(func() {
		if t.Failed() {
			golden.Stale("testdata/script")
		}
	})
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: golden.Updating(),
		Setup: func(e *testscript.Env) error {
			e.Setenv("NO_COLOR", "")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"commit": commit, "status": status},
	})
}

// commit FOLDER puts a folder under git, under a fixed name and date.
func commit(ts *testscript.TestScript, neg bool, args []string) {
	for _, line := range []string{"init -q -b main", "add .", "commit -q -m first"} {
		c := exec.Command("git", strings.Fields(line)...)
		c.Dir = ts.MkAbs(args[0])
		c.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null", "HOME="+ts.Getenv("WORK"),
			"GIT_AUTHOR_NAME=Ann", "GIT_AUTHOR_EMAIL=ann@example.org", "GIT_AUTHOR_DATE=2026-01-02T03:04:05Z",
			"GIT_COMMITTER_NAME=Ann", "GIT_COMMITTER_EMAIL=ann@example.org", "GIT_COMMITTER_DATE=2026-01-02T03:04:05Z")
		if out, err := c.CombinedOutput(); err != nil {
			ts.Fatalf("git %s: %v: %s", line, err, out)
		}
	}
}

// status N COMMAND... runs a command that ends with the exit status N.
func status(ts *testscript.TestScript, neg bool, args []string) {
	err := ts.Exec(args[1], args[2:]...)
	got := 0
	if e, ok := err.(*exec.ExitError); ok {
		got = e.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if fmt.Sprint(got) != args[0] {
		ts.Fatalf("exit status %d, not %s", got, args[0])
	}
}

// withOwn are packs, and behind them the rules that a shop makes of its own.
func withOwn(packs []*lint.Pack) []*lint.Pack { return append(packs, shoprules.Pack(packs)) }

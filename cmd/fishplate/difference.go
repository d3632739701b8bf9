package main

import (
	"fmt"
	"strings"

	"github.com/rogpeppe/go-internal/diff"

	"fishplate/lint/report"
)

// difference shows the lines of a file that change.
func (p *program) difference(name, before, after string) {
	text := string(diff.Diff(name, []byte(before), name, []byte(after)))
	_, text, _ = strings.Cut(text, "\n") // its first line is for programs
	for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		line = strings.ReplaceAll(strings.TrimSuffix(line, "\r"), "\t", "    ")
		fmt.Fprintln(p.out, report.Clean(line))
	}
}

package main

import (
	"fmt"
	"time"
)

// progress counts builds on a terminal's standard error once a run takes
// longer than a moment.
type progress struct {
	p         *program
	n, all    int
	of        string // what is counted
	on, shown bool
	since     time.Time
}

const aMoment = time.Second

func (p *program) progress(all int) *progress {
	return &progress{p: p, all: all, of: "builds", on: all > 1 && isTerminal(p.err), since: time.Now()}
}

// step counts one more build.
func (b *progress) step() {
	if b.n++; b.on && time.Since(b.since) > aMoment {
		fmt.Fprintf(b.p.err, "\rchecked %d of %d %s", b.n, b.all, b.of)
		b.shown = true
	}
}

// wipe clears the line for what else is to be said there.
func (b *progress) wipe() {
	if b.shown {
		fmt.Fprint(b.p.err, "\r\x1b[K")
		b.shown = false
	}
}

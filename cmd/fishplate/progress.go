package main

import "fmt"

// progress counts builds on a terminal's standard error, where the reports do
// not already show how far the run has come.
type progress struct {
	p         *program
	n, all    int
	on, shown bool
}

const worthCounting = 20

func (p *program) progress(all int) *progress {
	return &progress{p: p, all: all, on: all >= worthCounting && isTerminal(p.err) && !isTerminal(p.out)}
}

func (b *progress) step() {
	if b.n++; b.on {
		fmt.Fprintf(b.p.err, "\rchecked %d of %d builds", b.n, b.all)
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

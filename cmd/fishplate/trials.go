package main

import (
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/lint/shoprules"
)

// trying runs the trials of the rules of every shop that the command line names.
func (p *program) trying(c *cli.Context) error {
	opt, err := p.options(c)
	for _, name := range []string{"report", "all", "due", "advice", "pack", "about"} {
		if c.IsSet(name) {
			err = errors.Join(err, wrong("--trials lists trials, and --%s says what a list of checks shows; leave one of them out", name))
		}
	}
	places, shops, bad := shopsOf(c.Args().Slice())
	defer closePlaces(places)
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	loader := ledger.NewLoader()
	for _, shop := range shops {
		p.tried(shop.Name, shoprules.Try(loader, shop, p.packs, opt))
	}
	return nil
}

// shopsOf finds the shops at, below or above what words name, each once.
func shopsOf(words []string) (places []*revision.Place, shops []*revision.Shop, err error) {
	return opened(words, (*revision.Place).Shops, func(s *revision.Shop) string { return s.Name })
}

// tried tells what came of the trials of one shop.
func (p *program) tried(shop string, t *shoprules.Trials) {
	for _, f := range t.Faults {
		p.status = statusUnread
		fmt.Fprintln(p.err, report.Fault(f))
	}
	as := 0
	for _, x := range t.Done {
		if x.AsItShould() {
			as++
			continue
		}
		p.status = max(p.status, statusFails)
		fmt.Fprintf(p.out, "%s: %s on %s is %s and should be %s\n", report.Where(x.Place), report.Clean(x.Rule), report.Clean(x.Build), x.Got, x.Want)
	}
	for _, f := range t.Untried {
		fmt.Fprintln(p.out, "note: "+report.Fault(f))
	}
	if len(t.Done) > 0 || len(t.Faults) == 0 {
		fmt.Fprintf(p.out, "%s: %d of %d trials as they should be\n", report.Clean(shop), as, len(t.Done))
	}
}

// shopPack are the rules of the shop that has a say at what a word names, and what
// is wrong with them; none where there is no shop.
func (p *program) shopPack(word string) (*lint.Pack, []ledger.Fault) {
	places, shops, err := shopsOf([]string{word})
	defer closePlaces(places)
	if err != nil || len(shops) != 1 {
		return nil, nil
	}
	b := ledger.NewLoader().OfShop(shops[0])
	packs, faults := lint.For(b, p.packs)
	faults = append(b.Faults, faults...)
	for _, pack := range packs {
		if pack.Of != nil && len(pack.Rules) > 0 {
			return pack, faults
		}
	}
	return nil, faults
}

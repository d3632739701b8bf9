package main

import (
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report"
	"fishplate/rules"
)

// union holds a merge against the revisions that it brought together.
func (p *program) union(c *cli.Context, opt lint.Options, err error) error {
	outs, bad := p.outputs(report.CompareKinds, c.StringSlice("report"), report.Options{All: c.Bool("all"), Drawn: rules.Drawn})
	defer outs.drop()
	if err = errors.Join(err, bad); err != nil {
		return err
	}
	if n := c.NArg(); n != 1 {
		return wrong("compare --parents takes one merge, REV:FOLDER; got %d; %s", n, helpHint("compare"))
	}
	place, err := revision.Open(c.Args().First())
	if err != nil {
		return err
	}
	defer place.Close()
	merged, err := single(place)
	if err != nil {
		return err
	}
	places, err := place.Parents()
	defer closePlaces(places)
	if err != nil {
		return err
	}
	var parents []*revision.Build
	for _, q := range places {
		b, bad := single(q)
		parents, err = append(parents, b), errors.Join(err, bad)
	}
	switch {
	case err != nil:
		return err
	case len(parents) < 2:
		fmt.Fprintf(p.err, "%s: only one branch has the build, so the merge cannot have made it worse\n", merged.Folder())
		return nil
	}
	return p.compared(compare.Union(parents, merged, p.packs, opt), outs)
}

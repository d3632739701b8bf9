package main

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/lint"
	"fishplate/lint/report"
)

// signatureFile is the file that a signature is written to: one each, so that
// what two branches sign merges by itself.
func signatureFile(id string) string { return "signatures/" + id + ".toml" }

func (p *program) sign() *cli.Command {
	return &cli.Command{
		Name:      "sign",
		Usage:     "signs a build's ledger for a stage",
		ArgsUsage: "BUILD --stage S --by NAME",
		Description: "Judges the build as check --stage S does, and refuses if anything fails the run. Otherwise it writes\n" +
			"a signature over the ledger's digest to " + signatureFile("STAGE") + ". Any change of a value breaks the\n" +
			"signature from then on; layout, comments, which file an entry stands in and the build's own stage\n" +
			"do not. Who signs a stage again after a change renews the signature where it stands; what was\n" +
			"signed before is in the repository's history. Another hand signs the stage in " + signatureFile("STAGE-2") + ".\n" +
			"Another's broken signature keeps no one from signing; check fails until it is renewed too.\n\n" +
			"   fishplate sign builds/my-van --stage delivery --by \"June Farrow\"\n\n" +
			"A signature is a record. Who made it is for the repository to show: commit it under your name.\n\n" +
			"Exit status: 0 signed, 1 something fails, 2 a ledger or the command line cannot be read, or not written.",
		Flags: []cli.Flag{
			oneOf{&cli.StringFlag{Name: "stage", Usage: "the `STAGE` that is signed for"}, ledger.StageNames},
			&cli.StringFlag{Name: "by", Usage: "who signs, `NAME`"},
			asOfFlag(),
		},
		HideHelpCommand: true,
		Action:          p.signing,
	}
}

func (p *program) signing(c *cli.Context) error {
	by := strings.TrimSpace(c.String("by"))
	opt, err := p.options(c)
	if opt.Stage == nil && err == nil {
		err = wrong("say what stage is signed for: --stage STAGE, one of %s", strings.Join(ledger.StageNames, ", "))
	}
	if by == "" {
		err = errors.Join(err, wrong("say who signs: --by NAME"))
	}
	if c.Args().Len() != 1 {
		err = errors.Join(err, wrong("sign takes one build; got %d; %s", c.Args().Len(), helpHint("sign")))
	}
	if err != nil {
		return err
	}
	a, err := p.writingTo(c.Args().First())
	if err != nil {
		return err
	}
	if p.unread(a, nil) {
		return a.done(nil)
	}
	return a.done(p.signed(a, by, cmp.Or(opt.AsOf, p.today), opt))
}

// signed judges the build as it would be with the signature of that day, and
// writes it: over the one that the same hand gave the stage before, or as a new
// one.
func (p *program) signed(a *writing, by, day string, opt lint.Options) error {
	stage := opt.Stage.String()
	var old *ledger.Signature
	for _, v := range a.b.Signatures() {
		if !v.Stage.Is(stage).Holds() || v.By.String() != by {
			continue
		}
		if old = v; v.Digest.Is(a.b.SignedDigest(stage, by, v.Date.String())).Holds() {
			fmt.Fprintf(p.out, "%s: %s has signed this ledger for %s already, on %s, at %s\n", report.Clean(a.src.Folder()), report.Clean(by), stage, v.Date, report.Where(v.Place()))
			return nil
		}
	}
	where, err := a.sign(old, by, day, stage)
	if err != nil {
		return err
	}
	b, err := a.with()
	if err != nil {
		return err
	}
	rep := lint.Check(b, p.packs, opt)
	if p.refuses(a, rep) {
		return nil
	}
	if err := a.write(); err != nil {
		return err
	}
	again := ""
	if old != nil {
		again = ", in place of " + old.Date.String()
	}
	fmt.Fprintf(p.out, "%s: signed for %s by %s on %s%s, %s, in %s\n", report.Clean(a.src.Folder()), stage, report.Clean(by), day, again, b.SignedDigest(stage, by, day), report.Clean(where))
	for _, r := range rep.Results {
		if r.Counts && r.OfSignature() {
			fmt.Fprintf(p.err, "note: %s: %s: %s\n", report.Where(r.Place), report.Clean(r.Subject()), report.Clean(r.Reason))
		}
	}
	return nil
}

// sign puts a signature into the draft, and tells the file that it is in.
func (a *writing) sign(old *ledger.Signature, by, day, stage string) (string, error) {
	date, digest := edit.Literal(day), edit.Text(a.b.SignedDigest(stage, by, day))
	if old != nil {
		err := errors.Join(a.cut, a.draft.Set(old.Path(), []string{"date"}, date))
		return old.Place().File, errors.Join(err, a.draft.Set(old.Path(), []string{"digest"}, digest))
	}
	id := freeID(a.b, map[string]bool{}, "signature", stage)
	return a.src.Name(signatureFile(id)), a.add("signature."+id, []edit.Pair{
		{Key: "stage", Value: edit.Text(stage)},
		{Key: "by", Value: edit.Text(by)},
		{Key: "date", Value: date},
		{Key: "digest", Value: digest},
	}, signatureFile(id))
}

// refuses tells what stands against signing. That another's signature is over
// an earlier ledger does not: else of two that signed none could sign again.
func (p *program) refuses(a *writing, rep *lint.Report) bool {
	for _, f := range rep.Faults {
		p.status = statusUnread
		fmt.Fprintln(p.err, report.Fault(f))
	}
	if len(rep.Faults) > 0 {
		return true
	}
	n := 0
	for _, r := range rep.Results {
		if r.Counts && !(r.OfSignature() && r.Verdict == lint.Fail) {
			n++
			fmt.Fprintf(p.err, "%s: %s %s: %s%s\n", report.Where(r.Place), r.Rule.Name, report.Clean(r.Subject()), r.Verdict, report.Clean(because(r)))
		}
	}
	if n == 0 {
		return false
	}
	p.status = statusFails
	fmt.Fprintf(p.err, "%s: not signed: at %s %s against it; fishplate check --stage %s %s shows more\n",
		report.Clean(a.src.Folder()), rep.Stage, stand(n), rep.Stage, report.Clean(a.src.Folder()))
	return true
}

func stand(n int) string {
	if n == 1 {
		return "1 check stands"
	}
	return fmt.Sprintf("%d checks stand", n)
}

// because is a result's reason, or what it waits for.
func because(r *lint.Result) string {
	var keys []string
	for _, n := range r.Needs {
		keys = append(keys, n.Key)
	}
	switch {
	case len(keys) > 0:
		return ", needs " + strings.Join(keys, ", ")
	case r.Reason != "":
		return ", " + r.Reason
	}
	return ""
}

package lint

import (
	"fmt"
	"path"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Own is the program's own pack: documents, waivers and signatures are what
// they say they are. No build can drop it, and no waiver covers it but of a
// pack that is left out. Its rules
// need the results of all others and the files of the build, so they have no
// Check that could be run by itself.
var Own = &Pack{Name: "ledger", Title: "documents, waivers and signatures are what they say", Rules: []*Rule{wordsRule, documentRule, packsRule, waiverRule, signatureRule, deliveredRule, readRule}}

var format = []quantity.Citation{{Key: "ledger-format", Text: "the ledger's own format"}}

var documentRule = &Rule{
	Name: "ledger/document", Title: "each document is in the build folder as it was when it was attached", Due: ledger.AtIntake, Sources: format,
	Note: "The file is there, inside the folder, and its SHA-256 is the one in the ledger. An empty file, or one of the ledger itself, proves nothing. What it shows fishplate cannot read: look at it.",
}

var wordsRule = &Rule{
	Name: "ledger/words", Title: "each word that rules go by is a known one", Due: ledger.AtIntake, Sources: format,
	Note:    "A rule that would read an unknown word waits for a known one, and so is missing and never passed over. A shop adds its own words in shop.toml: [word.ID] with of, the list, and like, the known word that it is taken as.",
	Caution: "A misspelled word must not switch a check off: put it right before you trust anything that rests on the entry.",
}

var waiverRule = &Rule{
	Name: "ledger/waiver", Title: "each waiver gives its reason, has not run out, and names a check that there is", Due: ledger.AtIntake, Sources: format,
	Note:    "A waiver of a check that passes is only advised against: it would cover the check if it failed again.",
	Caution: "A waiver stops a failure from counting; it makes nothing safe. What it covers is as dangerous as it was: whoever drives the vehicle has to know of it.",
}

var signatureRule = &Rule{
	Name: "ledger/signature", Title: "a signature of the stage that is judged is over the ledger as it is", Due: ledger.AtIntake, Sources: format,
	Note:    "Whether there must be one is the pack paperwork's to say. A signature is a record, not proof of who made it: that is for the repository to show.",
	Caution: "A signature says that someone stands for the build. It does not stand in for an inspection, or for a license, where the local code asks for one.",
}

// judgeOwn lets waivers take effect and makes the program's own checks, on a day.
func (rep *Report) judgeOwn(b *ledger.Build, all, chosen []*Pack, day string) {
	for _, r := range leftOut(b, all, chosen) {
		r.settle(rep.Stage)
		rep.Results = append(rep.Results, r)
	}
	w := newWaiving(rep, all, chosen)
	w.apply(b)
	for _, own := range []struct {
		rule  *Rule
		check func(*ledger.Build, *Sheet)
	}{{wordsRule, words}, {documentRule, documents}, {waiverRule, w.check}, {signatureRule, rep.signatures}, {deliveredRule, delivered}, {readRule, readBy(day)}} {
		results, faults := evaluateBy(own.rule, b, own.check)
		rep.Faults = append(rep.Faults, faults...)
		for _, r := range results {
			r.settle(rep.Stage)
		}
		rep.Results = append(rep.Results, results...)
	}
}

// about is an entry at a place in it.
type about struct {
	path  string
	place quantity.Place
}

func (a about) Path() string          { return a.path }
func (a about) Place() quantity.Place { return a.place }

// words tells each word that is on no list.
func words(b *ledger.Build, s *Sheet) {
	for _, e := range b.Entries() {
		for _, w := range e.Unheard() {
			s.On(about{e.Path(), w.Place}, w.Key).Holds(quantity.Unknown([]quantity.Need{w.Need}), "")
		}
	}
}

// documents checks that each document's file is there and is what it was.
func documents(b *ledger.Build, s *Sheet) {
	for _, d := range b.Documents() {
		u, wrong := s.On(d, ""), ""
		if d.File.Known() {
			sum, err := b.FileDigest(d.File.String())
			switch {
			case strings.EqualFold(path.Ext(d.File.String()), ".toml"):
				wrong = fmt.Sprintf("%s: a part of the ledger, which cannot prove what stands in it", d.File)
			case err != nil:
				wrong = fmt.Sprintf("%s: %v", d.File, err)
			case !d.SHA256.Known():
				u.Says("the SHA-256 of %s is %s", d.File, sum)
			case d.SHA256.Is(sum).Fails():
				wrong = fmt.Sprintf("%s was altered since it was attached: its SHA-256 is now %s", d.File, sum)
			}
		}
		u.Holds(d.File.Required().And(d.SHA256.Required()).And(quantity.Is(wrong == "")), "%s", wrong)
	}
}

// signatures checks those of the stage that is judged. Who has signed the
// ledger as it is has signed again where an older signature of theirs stands.
func (rep *Report) signatures(b *ledger.Build, s *Sheet) {
	stage := rep.Stage.String()
	holds := map[string]bool{}
	for _, v := range b.Signatures() {
		if v.Stage.Is(stage).Holds() && v.Digest.Is(signature(b, v)).Holds() {
			holds[v.By.String()] = true
		}
	}
	for _, v := range b.Signatures() {
		u := s.On(v, "").When(v.Stage.Is(stage), fmt.Sprintf("it is for the stage %s, and %s is judged", v.Stage, stage))
		if v.Stage.Is(stage).Fails() {
			continue
		}
		fits := v.By.Required().And(v.Date.Required()).And(v.Digest.Required())
		if fits.Holds() {
			fits = v.Digest.Is(signature(b, v))
		}
		if len(b.Faults) > 0 { // what was signed cannot be told from what can be read
			fits = quantity.Unknown([]quantity.Need{{Key: "a ledger without faults", Place: b.Faults[0].Place}})
		}
		again := fits.Fails() && holds[v.By.String()]
		u.When(quantity.Is(!again), "signed again since").
			Holds(fits, "%s", broken(b, v))
	}
}

// OfSignature tells that the check is of whether a signature is over the ledger
// as it is.
func (r *Result) OfSignature() bool { return r.Rule == signatureRule }

// signature is the digest that the signature would hold over the ledger as it is.
func signature(b *ledger.Build, v *ledger.Signature) string {
	return b.SignedDigest(v.Stage.String(), v.By.String(), v.Date.String())
}

// broken says why a signature does not fit the ledger.
func broken(b *ledger.Build, v *ledger.Signature) string {
	if d := v.Digest.String(); !strings.HasPrefix(d, ledger.DigestVersion) {
		return fmt.Sprintf("its digest is not of the form %s..., which this program makes; sign again", ledger.DigestVersion)
	}
	if at := b.Info().Delivered; at.Known() && v.Stage.Is(ledger.AtDelivery.String()).Holds() {
		return fmt.Sprintf("changed since delivery on %s: not the ledger that %s signed on %s; compare the two, and sign again if it is right", at, v.By, v.Date)
	}
	return fmt.Sprintf("not the ledger that %s signed on %s; compare the two, and sign again if it is right", v.By, v.Date)
}

// Digest is the fingerprint of the ledger that was judged, as signatures hold
// it; "" where the ledger cannot be read.
func (rep *Report) Digest() string {
	if rep.Build == nil || len(rep.Build.Faults) > 0 {
		return ""
	}
	return rep.Build.Digest()
}

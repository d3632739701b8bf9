package paperwork_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/rules"
	"fishplate/rules/packtest"
	"fishplate/rules/paperwork"
)

// packs are all that there are, this one among them.
func packs() []*lint.Pack {
	all := rules.Packs()
	if !slices.Contains(all, paperwork.Pack) {
		all = append(all, paperwork.Pack)
	}
	return all
}

// onlyThis is for a build that knows of no other pack, so leaves none out.
var onlyThis = []*lint.Pack{paperwork.Pack}

const gateDay = "2026-11-20"

// gate judges a build for delivery, as CI does before it leaves, and gives what
// counts against it.
func gate(t *testing.T, dir, asOf string, packs []*lint.Pack) (counts []string) {
	t.Helper()
	stage := ledger.AtDelivery
	rep := lint.Check(packtest.Load(t, dir), packs, lint.Options{Stage: &stage, AsOf: asOf})
	require.Empty(t, rep.Faults)
	for _, r := range rep.Results {
		if r.Counts {
			counts = append(counts, packtest.Tell(r))
		}
	}
	assert.Equal(t, rep.Failed(), len(counts) > 0)
	return counts
}

// sign puts a signature over the ledger as it stands in the place of those that
// there are.
func sign(t *testing.T, dir string) {
	t.Helper()
	put(t, dir, "signatures/delivery.toml", fmt.Sprintf("[signature.delivery]\nstage = \"delivery\"\nby = \"June Farrow\"\ndate = 2026-04-20\ndigest = %q\n", packtest.Load(t, dir).SignedDigest("delivery", "June Farrow", "2026-04-20")))
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
}

// replace changes one thing in one file.
func replace(name, old, now string) func(*testing.T, string) {
	return func(t *testing.T, dir string) {
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		require.Equal(t, 1, bytes.Count(data, []byte(old)), "%q in %s", old, name)
		put(t, dir, name, strings.Replace(string(data), old, now, 1))
	}
}

func gone(name string) func(*testing.T, string) {
	return func(t *testing.T, dir string) { require.NoError(t, os.Remove(filepath.Join(dir, name))) }
}

const label = "GVWR 8800 LB\n"

// finished lays down a small invented build that may leave: one made part, one
// gap, its papers, a waiver and a signature.
func finished(t *testing.T) string {
	dir := t.TempDir()
	sum := sha256.Sum256([]byte(label))
	doc := func(id, kind, proves string) string {
		return fmt.Sprintf("[document.%s]\nkind = %q\nfile = \"papers/%s.txt\"\nsha256 = %q\nproves = [%q]\n", id, kind, id, hex.EncodeToString(sum[:]), proves)
	}
	for _, id := range []string{"label", "ticket", "drawing"} {
		put(t, dir, "papers/"+id+".txt", label)
	}
	put(t, dir, "build.toml", `[build]
packs = ["paperwork"]
stage = "delivery"
[vehicle]
gross-rating = "8800 lb"
[weighing.received]
when = "as-received"
document = "document.ticket"
[weighing.built]
when = "as-built"
front = "3765 ± 5 lb"
rear = "2415 ± 5 lb"
document = "document.ticket"
[instruction.load]
when = "it is loaded"
do = "Weigh it the first time; 8800 lb is all."
about = ["vehicle.gross-rating"]
[part.bracket]
origin = "made"
made = { material = "steel", process = "welded", drawing = "document.drawing" }
[gap.fan]
measured = "1 7/8 ± 1/16 in"
[gap.pan]
measured = "~2 in"
[waiver.pan]
rule = "paperwork/measured"
entry = "gap.pan"
because = "no tape reaches it; a clay ball came out whole"
by = "June Farrow"
until = 2026-12-31
`)
	put(t, dir, "documents.toml", doc("label", "certification-label", "vehicle")+doc("ticket", "weigh-ticket", "weighing.built")+doc("drawing", "drawing", "part.bracket"))
	sign(t, dir)
	return dir
}

// falsified are the ways to falsify the small build, and what each is told as.
var falsified = []struct {
	name     string
	by       func(*testing.T, string)
	unsigned bool // signed before it was falsified, and not again
	asOf     string
	want     []string
}{
	{name: "a document gone", by: gone("papers/ticket.txt"), want: []string{"ledger/document document.ticket: fail; papers/ticket.txt: no such file"}},
	{name: "one byte altered", by: replace("papers/label.txt", "8800", "8900"), want: []string{"ledger/document document.label: fail; papers/label.txt was altered since it was attached"}},
	{name: "a document elsewhere", by: replace("documents.toml", "papers/label.txt", "../label.txt"), want: []string{"ledger/document document.label: fail; ../label.txt: leads outside the folder"}},
	{name: "a document's digest gone", by: replace("documents.toml", "papers/label.txt\"\nsha256", "papers/label.txt\"\nnote"), want: []string{"ledger/document document.label: missing; needs document.label.sha256"}},
	{name: "a document's entry gone", by: replace("documents.toml", `"certification-label"`, `"photo"`), want: []string{"paperwork/due-documents vehicle (certification-label): fail; no certification-label proves vehicle"}},
	{name: "a waiver run out", by: func(*testing.T, string) {}, asOf: "2027-01-01", want: []string{"ledger/waiver waiver.pan: fail; it ran out on 2026-12-31", "paperwork/measured gap.pan: fail; ~2 in is an estimate"}},
	{name: "a waiver that matches nothing", by: replace("build.toml", `entry = "gap.pan"`, `entry = "gap.pin"`), want: []string{"ledger/waiver waiver.pan: fail; it matches nothing", "paperwork/measured gap.pan: fail"}},
	{name: "a waiver without a reason", by: replace("build.toml", "because", "note"), want: []string{"ledger/waiver waiver.pan: missing; needs waiver.pan.because", "paperwork/measured gap.pan: fail"}},
	{name: "a measured value turned estimate", by: replace("build.toml", "1 7/8 ± 1/16 in", "~1 7/8 in"), want: []string{"paperwork/measured gap.fan: fail; ~1 7/8 in is an estimate, not a measurement"}},
	{name: "an axle load turned estimate", by: replace("build.toml", "3765 ± 5 lb", "~3765 lb"), want: []string{"paperwork/measured weighing.built (front): fail; ~3765 lb is an estimate, not a measurement"}},
	{name: "a must open", by: replace("build.toml", `origin = "made"`, ``), want: []string{"paperwork/origin part.bracket: missing; needs part.bracket.origin"}},
	{name: "a must that fails", by: replace("documents.toml", `"drawing"`, `"letter"`), want: []string{"paperwork/origin part.bracket: fail; document.drawing is neither a drawing nor a photo"}},
	{name: "a signature by an older ledger", by: replace("build.toml", "3765 ± 5 lb", "3755 ± 5 lb"), unsigned: true, want: []string{"ledger/signature signature.delivery: fail; not the ledger that June Farrow signed on 2026-04-20"}},
	{name: "a waiver slipped in", by: replace("build.toml", "2026-12-31", "2026-12-30"), unsigned: true, want: []string{"ledger/signature signature.delivery: fail"}},
	{name: "a document swapped with its digest", by: func(t *testing.T, dir string) {
		sum := sha256.Sum256([]byte("other"))
		put(t, dir, "papers/label.txt", "other")
		was := sha256.Sum256([]byte(label))
		replace("documents.toml", "papers/label.txt\"\nsha256 = \""+hex.EncodeToString(was[:]), "papers/label.txt\"\nsha256 = \""+hex.EncodeToString(sum[:]))(t, dir)
	}, unsigned: true, want: []string{"ledger/signature signature.delivery: fail"}},
	{name: "a signature gone", by: gone("signatures/delivery.toml"), unsigned: true, want: []string{"paperwork/signed build: fail; no signature for delivery"}},
	{name: "a signature for another stage", by: replace("signatures/delivery.toml", `"delivery"`, `"road-test"`), unsigned: true, want: []string{"paperwork/signed build: fail; no signature for delivery"}},
	{name: "the pack dropped", by: replace("build.toml", `["paperwork"]`, `[]`), unsigned: true, want: []string{"ledger/packs build (paperwork): fail; the pack paperwork is left out", "ledger/signature signature.delivery: fail", "ledger/waiver waiver.pan: fail; it matches nothing: the pack paperwork does not apply"}},
}

func TestGate(t *testing.T) {
	require.Empty(t, gate(t, finished(t), gateDay, onlyThis), "the finished build may leave")
	for _, c := range falsified {
		t.Run(c.name, func(t *testing.T) {
			dir := finished(t)
			c.by(t, dir)
			if !c.unsigned {
				sign(t, dir)
			}
			if c.asOf == "" {
				c.asOf = gateDay
			}
			told(t, c.want, gate(t, dir, c.asOf, onlyThis))
		})
	}
}

// told compares what counts with how each should begin, in any order.
func told(t *testing.T, want, got []string) {
	t.Helper()
	slices.Sort(got)
	if !assert.Len(t, got, len(want), "%s", strings.Join(got, "\n")) {
		return
	}
	for i, w := range want {
		assert.True(t, strings.HasPrefix(got[i], w), "%s\n%s", w, got[i])
	}
}

const tamarack = "../../examples/tamarack"

// billOfSale is heron's waiver, for as long as the example does not have it.
const billOfSale = `
[waiver.bill-of-sale]
rule = "paperwork/due-documents"
entry = "donor.delivery-truck"
aspect = "bill-of-sale"
because = "the county auction takes most of a year for the certified copy"
by = "June Farrow"
until = 2027-03-31
`

// heron is the example that is ready to leave, in a folder of its own, signed.
func heron(t *testing.T) string {
	shop := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(shop, "heron"), os.DirFS(filepath.Join(tamarack, "builds/heron"))))
	text, err := os.ReadFile(filepath.Join(tamarack, "shop.toml"))
	require.NoError(t, err)
	if !strings.Contains(string(text), `"paperwork"`) {
		text = bytes.Replace(text, []byte(`packs = [`), []byte(`packs = ["paperwork", `), 1)
	}
	put(t, shop, "shop.toml", string(text))
	require.NoError(t, os.Mkdir(filepath.Join(shop, ".git"), 0o755)) // the top, up to which the shop's file has a say
	dir := filepath.Join(shop, "heron")
	papers, err := os.ReadFile(filepath.Join(dir, "papers.toml"))
	require.NoError(t, err)
	if !bytes.Contains(papers, []byte("[waiver.bill-of-sale]")) {
		put(t, dir, "papers.toml", string(papers)+billOfSale)
	}
	sign(t, dir)
	return dir
}

// TestGateOfHeron falsifies the example that passes, one thing at a time.
func TestGateOfHeron(t *testing.T) {
	require.Empty(t, gate(t, heron(t), gateDay, packs()), "heron may leave")
	for _, c := range []struct {
		name   string
		by     func(*testing.T, string)
		signed bool // again, after it was falsified
		asOf   string
		want   []string
	}{
		{"a document gone", gone("papers/drawings.txt"), true, gateDay, []string{"ledger/document document.drawing-register: fail; papers/drawings.txt: no such file"}},
		{"one byte altered", replace("papers/scale-ticket-built.txt", "3765 LB", "3755 LB"), true, gateDay, []string{"ledger/document document.scale-ticket-built: fail; papers/scale-ticket-built.txt was altered"}},
		{"a waiver run out", func(*testing.T, string) {}, true, "2027-04-01", []string{"ledger/waiver waiver.bill-of-sale: fail; it ran out on 2027-03-31"}},
		{"a waiver that matches nothing", replace("papers.toml", "aspect = \"bill-of-sale\"", "aspect = \"title\""), true, gateDay, []string{"ledger/waiver waiver.bill-of-sale: fail; it matches nothing"}},
		{"a measured value turned estimate", replace("build.toml", "rear = \"2415 ± 5 lb\"", "rear = \"~2415 ± 5 lb\""), true, gateDay, []string{"paperwork/measured weighing.as-built (rear): fail; ~2415 ± 5 lb is an estimate"}},
		{"an older ledger", replace("build.toml", "3765 ± 5 lb", "3764 ± 5 lb"), false, gateDay, []string{"ledger/signature signature.delivery: fail; changed since delivery on 2026-04-24: not the ledger that June Farrow signed"}},
		{"a must open", replace("papers.toml", "document.scale-ticket-built]\nkind = \"weigh-ticket\"", "document.scale-ticket-built]"), true, gateDay, []string{"paperwork/due-documents build (ticket-as-built): missing; needs document.scale-ticket-built.kind"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := heron(t)
			c.by(t, dir)
			if c.signed {
				sign(t, dir)
			}
			told(t, c.want, gate(t, dir, c.asOf, packs()))
		})
	}
}

package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/lint/report"
)

func (p *program) start() *cli.Command {
	return &cli.Command{
		Name:      "start",
		Usage:     "lays down a new build with commented entries to fill in",
		ArgsUsage: "DIR",
		Description: "DIR must not exist yet. What it holds then loads as it is; take the number signs away from\n" +
			"what you know, and ask what comes next.\n\n" +
			"   fishplate start builds/my-van\n" +
			"   fishplate check builds/my-van\n\n" +
			"Exit status: 0 laid down, 2 it cannot be.",
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return wrong("start takes one folder, such as builds/my-van; %s", helpHint("start"))
			}
			return p.starting(filepath.Clean(c.Args().First()))
		},
	}
}

// starting writes a new build beside its place and moves it there when it is
// complete.
func (p *program) starting(dir string) error {
	if _, err := os.Lstat(dir); err == nil {
		return fmt.Errorf("%s: is there already; start lays down a new folder only", dir)
	} else if !errors.Is(err, os.ErrNotExist) {
		return plainError(dir, err)
	}
	if above, ok := buildAbove(dir); ok {
		return fmt.Errorf("%s: would lie inside the build %s; builds do not nest", dir, above)
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return plainError(dir, err)
	}
	temp, err := os.MkdirTemp(parent, ".start-*")
	if err != nil {
		return plainError(dir, err)
	}
	defer os.RemoveAll(temp)
	err = os.Chmod(temp, 0o755)
	for _, f := range newFiles {
		err = errors.Join(err, os.WriteFile(filepath.Join(temp, f.name), f.text(filepath.Base(dir)), 0o644))
	}
	if err == nil {
		err = os.Rename(temp, dir)
	}
	if err != nil {
		return plainError(dir, err)
	}
	fmt.Fprintf(p.out, "%s holds a new build:\n", report.Clean(dir))
	for _, f := range newFiles {
		fmt.Fprintf(p.out, "  %-14s %s\n", f.name, f.about)
	}
	_, err = fmt.Fprintf(p.out, "Fill in what you know, then: fishplate check %s\n", report.Clean(dir))
	return err
}

// buildAbove finds the build that a folder would lie in.
func buildAbove(dir string) (string, bool) {
	full, err := filepath.Abs(dir)
	if err != nil {
		return "", false
	}
	for at := filepath.Dir(full); ; at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, ledger.MainFile)); err == nil {
			return filepath.Base(at), true
		}
		if at == filepath.Dir(at) {
			return "", false
		}
	}
}

// newFile is a file of a new build: entries to fill in, with what they are.
type newFile struct {
	name, about string
	entries     []newEntry
}

// newEntry is one entry: kind or kind.id, and what is worth saying about it.
type newEntry struct{ path, about string }

// examples show what stands in a table, by entry and key.
var examples = map[string]string{
	"weighing.as-received.levels": `{ "tank.main" = "? %" }`,
	"part.engine.at":              `{ from = "assembly.x", behind = "? in", right = "? in", above = "? in" }`,
	"part.engine.needs":           `{ vacuum = { least = "? inHg", from = "part.x" } }`,
	"part.engine.gives":           `{ vacuum = "? inHg" }`,
}

var newFiles = []newFile{
	{ledger.MainFile, "the vehicle, what it weighs, what rides in it", []newEntry{
		{"vehicle", "From the certification label on the door pillar, and a tape."},
		{"vehicle.front", "The front axle. The rating is the one on the label."},
		{"vehicle.rear", "The rear axle."},
		{"tire.all-round", "Every kind of tire, which vehicle.front and vehicle.rear name."},
		{"wheel.all-round", "Every kind of wheel."},
		{"weighing.as-received", "Before any work: one scale reading an axle, and what was aboard."},
		{"tank.main", "Every tank: fuel, a second fuel tank, fresh water."},
		{"load.driver", "Who and what rides along when it is loaded: one entry each."},
		{"donor.truck", "What parts come from, if there is a donor."},
		{"owner", "Always private: left out of what is made public."},
	}},
	{"engine.toml", "the engine, the one that came out, and the parts", []newEntry{
		{"engine", "The engine that goes in."},
		{"engine-was", "The engine that came out."},
		{"assembly.powertrain", "What moves as one; parts placed from its datum go where it goes."},
		{"part.engine", "Every part that went in, came off or moved: one entry each. Its place is read from the front\n# axle line, the center line and the ground; or, with from, from the datum of an assembly."},
	}},
	{"driveline.toml", "from the transmission to the axles, and what reads speed", []newEntry{
		{"transmission", "The transmission behind the engine; the part itself is an entry in engine.toml."},
		{"transfer", "The transfer case, if there is one."},
		{"brakes", "What is known of the brakes beside their parts."},
		{"trailer", "The heaviest that it is to tow, if anything."},
		{"shaft.rear", "Every shaft, in the order in which the torque goes through them."},
		{"speedometer", "What its sender turns with, and how many pulses it needs."},
		{"tachometer", "Where it takes its pulses from."},
	}},
	{"gaps.toml", "what must not touch", []newEntry{
		{"gap.fan-to-core", "Every place where two things come close: what the tape says, and how far they move."},
	}},
	{"wiring.toml", "the supply, the circuits and where they run", []newEntry{
		{"supply", "Battery and alternator."},
		{"zone.engine-bay", "How hot it gets where wires run."},
		{"circuit.starter", "Every circuit, from what feeds it to what it feeds."},
		{"relay.starter", "Every relay: what its contacts are rated for, and the circuit of its coil."},
		{"plug.bulkhead", "Every plug that was opened, with all its pins, the empty ones too."},
		{"splice.fan", "Every place where more than two wires meet without a plug."},
	}},
	{"fuel.toml", "the fuel system", []newEntry{
		{"fuel", "What the fuel system must carry, and how it is filled and filtered."},
		{"hose.supply", "Every hose and pipe, of any system."},
		{"wetted.tank", "Whatever else the fuel touches."},
	}},
	{"cooling.toml", "what carries heat away, what the engine breathes and what it breathes out", []newEntry{
		{"cooling", "The coolant, the cap and the hottest day."},
		{"radiator.main", "Every core that air goes through: radiator, charge air, oil, transmission."},
		{"loop.coolant", "Every loop of hoses that something goes round in."},
		{"intake", "From the air filter to the engine."},
		{"exhaust", "From the engine to the tail pipe."},
	}},
	{"street.toml", "what the street asks", []newEntry{
		{"emission.catalyst", "Every piece of emission gear: on the donor, on the chassis, and now."},
		{"lamp.turn-front-left", "Every lamp and reflector."},
		{"mirror.left", "Every mirror."},
		{"seat-belt.driver", "Every seat belt."},
	}},
	{"papers.toml", "documents, work done, tests, answers", []newEntry{
		{"document.scale-ticket", "A file in this folder, with its SHA-256: fishplate attach writes these."},
		{"work.brakes", "A step of the work, done where it has a date: renewed, inspected, torqued."},
		{"test.brakes", "What was read on a test: stopping, tightness, the first drive."},
		{"answer.vacuum", "An answer to one of the questions that a swap raises."},
		{"decision.engine", "What was chosen, and why: for whoever asks in ten years."},
		{"instruction.warm-up", "What a driver or keeper must do, and which gauge shows it."},
		{"faq.what-is-custom", "What buyers and strangers ask, and what is said."},
		{"visit.first", "When the vehicle came back after delivery, and why."},
		{"waiver.one", "A failure that someone answers for until a date. It makes nothing safe."},
		{"signature.one", "fishplate sign writes these."},
	}},
}

func (f newFile) text(title string) []byte {
	var b strings.Builder
	if f.name == ledger.MainFile {
		fmt.Fprintf(&b, "# A new build. Lines that begin with a number sign say nothing yet: take the sign away\n"+
			"# and fill in what you know. How entries are spread over the files here is up to you.\n#\n"+
			"#   \"612 lb\"        from a label, a catalog or a drawing: good to half its last digit, here 0.5 lb\n"+
			"#   \"612 ± 5 lb\"    measured; +/- will do\n"+
			"#   \"~600 lb\"       a guess, good to 10 %%\n"+
			"#   \"0 to 2 lb\"     a guess by its ends\n"+
			"#   \"3 1/2 in\"      as a tape reads: good to 1/32 in\n#\n"+
			"# Certified ratings, fuses, limits and counts are exact and take no ±. Numbers without a unit,\n"+
			"# true and false stand without quotes.\n\n"+
			"[build]\ntitle = %s\n# How far it has come: %s\nstage = \"intake\"\nunits = \"us\"    # or si\n", tomlString(report.Clean(title)), strings.Join(ledger.StageNames, ", "))
	} else {
		fmt.Fprintf(&b, "# %s%s.\n", strings.ToUpper(f.about[:1]), f.about[1:])
	}
	for _, e := range f.entries {
		kind := e.path
		if !ledger.Single(kind) {
			kind, _, _ = strings.Cut(e.path, ".")
		}
		fmt.Fprintf(&b, "\n# %s\n# [%s]\n", e.about, e.path)
		for _, k := range ledger.Keys(kind) {
			line := fmt.Sprintf("# %s = %s", k.Key, cmp.Or(examples[e.path+"."+k.Key], blank(k)))
			about := k.About
			if k.Takes == "true or false" {
				about += ": " + k.Takes
			}
			if _, words, ok := strings.Cut(k.Takes, "one of "); ok {
				about += ": " + words
			}
			fmt.Fprintf(&b, "%-39s # %s\n", line, about)
		}
	}
	return []byte(b.String())
}

// blank is what stands in for a value until someone knows it. It is a fault to
// take the number sign away and leave it at that, save where absence means what
// it says.
func blank(k ledger.KeyDoc) string {
	takes, list := strings.CutPrefix(k.Takes, "a list: ")
	out := `""`
	_, unit, measured := strings.Cut(takes, ", such as ")
	switch {
	case takes == "true or false":
		out = cmp.Or(k.Default, "false")
	case strings.HasSuffix(takes, ", or %") && !strings.HasPrefix(takes, "a pure"):
		out = `"? %"`
	case strings.HasPrefix(takes, "a pure number"), strings.HasPrefix(takes, "a number from "), k.Default != "" && strings.Trim(k.Default, "0123456789") == "":
		out = cmp.Or(k.Default, "0")
	case strings.HasPrefix(takes, "a place: "):
		out = `{ behind = "? in", right = "? in", above = "? in" }`
	case strings.HasPrefix(takes, "the name of an entry: "):
		out, _, _ = strings.Cut(strings.TrimPrefix(takes, "the name of an entry: "), ",")
		out, _, _ = strings.Cut(out, " or ")
		out = fmt.Sprintf("%q", out)
	case strings.HasPrefix(takes, "a table"):
		out = "{}"
	case strings.HasPrefix(takes, "the name of an entry, "):
		out = `"part.x"`
	case measured && !strings.HasPrefix(takes, "a date") && !strings.HasPrefix(takes, "a conductor size"):
		unit, _, _ = strings.Cut(unit, " or ")
		unit, _, _ = strings.Cut(unit, ",")
		out = fmt.Sprintf("%q", "? "+unit)
	}
	if list {
		return "[" + out + "]"
	}
	return out
}

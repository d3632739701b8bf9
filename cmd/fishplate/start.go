package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/again"
	"fishplate/ledger/edit"
	"fishplate/ledger/schema"
	"fishplate/lint/report"
)

func (p *program) start() *cli.Command {
	return &cli.Command{
		Name:      "start",
		Usage:     "lays down a new build with commented entries to fill in",
		ArgsUsage: "[--from BUILD] DIR",
		Description: "DIR must not exist yet. What it holds then loads as it is; take the number signs away from\n" +
			"what you know, and ask what comes next.\n\n" +
			"   fishplate start builds/my-van\n" +
			"   fishplate check builds/my-van\n\n" +
			"With --from the design of another build comes along: parts, places, circuits, hoses, plugs, words to\n" +
			"order by, decisions, steps of the work. What was read on that vehicle becomes an estimate (~), with the\n" +
			"old reading in a comment; ratings become comments; weighings, tests, documents, answers, instructions,\n" +
			"visits, waivers, signatures, donors, owner, dates and prices stay behind. No check passes on an\n" +
			"estimate that was read on the other vehicle.\n\n" +
			"   fishplate start --from builds/heron builds/my-van\n\n" +
			"Exit status: 0 laid down, 2 it cannot be.",
		Flags:           []cli.Flag{&cli.StringFlag{Name: "from", Usage: "copy the design of another `BUILD`"}},
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return wrong("start takes one folder, such as builds/my-van; %s", helpHint("start"))
			}
			if from := c.String("from"); from != "" {
				return p.startingFrom(from, filepath.Clean(c.Args().First()))
			}
			return p.starting(filepath.Clean(c.Args().First()))
		},
	}
}

// starting lays down a new build of commented entries.
func (p *program) starting(dir string) error {
	var files []again.File
	for _, f := range newFiles {
		files = append(files, again.File{Name: f.name, Text: f.text(filepath.Base(dir))})
	}
	if err := layDown(dir, withSchema(files), func(string) error { return nil }); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "%s holds a new build:\n", report.Clean(dir))
	for _, f := range append(slices.Clone(newFiles), newFile{name: schemaFile, about: "what stands in these files, for an editor to complete them"}) {
		fmt.Fprintf(p.out, "  %-17s %s\n", f.name, f.about)
	}
	_, err := fmt.Fprintf(p.out, "Fill in what you know, then: fishplate check %s\n", report.Clean(dir))
	return err
}

// buildOver is the nearest folder over a file or a folder that holds a build.
func buildOver(name string) (string, bool) {
	full, err := filepath.Abs(name)
	if err != nil {
		return "", false
	}
	for at := filepath.Dir(full); ; at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, ledger.MainFile)); err == nil {
			return at, true
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

// newEntry is one entry: kind or kind.id, and what to say about it.
type newEntry struct{ path, about string }

// examples are the values of tables, by entry and key.
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
		{"document.scale-ticket", "A file in this folder, with its SHA-256: fishplate attach writes these, each to documents/ID.toml."},
		{"work.brakes", "A step of the work, done where it has a date: renewed, inspected, torqued."},
		{"test.brakes", "What was read on a test: stopping, tightness, the first drive."},
		{"answer.vacuum", "An answer to one of the questions that a swap raises."},
		{"decision.engine", "What was chosen, and why: for whoever asks in ten years."},
		{"instruction.warm-up", "What a driver or keeper must do, and which gauge shows it."},
		{"faq.what-is-custom", "What buyers and strangers ask, and what is said."},
		{"visit.first", "When the vehicle came back after delivery, and why."},
		{"waiver.one", "A failure that someone answers for until a date. It makes nothing safe."},
		{"signature.one", "fishplate sign writes these, each to signatures/STAGE.toml."},
	}},
}

func (f newFile) text(title string) []byte {
	var b strings.Builder
	b.WriteString(schemaLine)
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
			"[build]\ntitle = %s\n# How far it has come: %s\nstage = \"intake\"\nunits = \"us\"    # or si\n", edit.Quoted(report.Clean(title)), strings.Join(ledger.StageNames, ", "))
	} else {
		fmt.Fprintf(&b, "# %s%s.\n", strings.ToUpper(f.about[:1]), f.about[1:])
	}
	for _, e := range f.entries {
		fmt.Fprintf(&b, "\n# %s\n# [%s]\n", e.about, e.path)
		for _, k := range ledger.KindOf(e.path).Fields {
			line := fmt.Sprintf("# %s = %s", k.Key, cmp.Or(examples[e.path+"."+k.Key], blank(k)))
			about := k.About
			switch {
			case k.Type == schema.Truth:
				about += ": " + k.Takes()
			case len(k.OneOf) > 0 && about != schema.Or(k.OneOf):
				about += ": " + schema.Or(k.OneOf)
			}
			fmt.Fprintf(&b, "%-39s # %s\n", line, about)
		}
	}
	return []byte(b.String())
}

// mostInside is how many keys of a table in an entry a blank shows.
const mostInside = 6

// blank is the text in place of a value that nobody has filled in. With the number
// sign taken away it is a fault, unless it says what leaving the key out means.
func blank(f *schema.Field) string {
	if f.Many == schema.Named {
		return "{}"
	}
	out := `""`
	switch f.Type {
	case schema.Truth:
		out = cmp.Or(f.Default, "false")
	case schema.Quantity:
		out = blankQuantity(f)
	case schema.Place:
		out = `{ behind = "? in", right = "? in", above = "? in" }`
	case schema.Ref:
		kind := f.Refs[0]
		if kind == "any" {
			kind = "part"
		}
		out = fmt.Sprintf("%q", kind+".x")
	case schema.Table:
		if len(f.Nested.Fields) > mostInside {
			return "{}"
		}
		var all []string
		for _, k := range f.Nested.Fields {
			all = append(all, k.Key+" = "+blank(k))
		}
		out = "{ " + strings.Join(all, ", ") + " }"
	case schema.Hookup:
		out = "{}"
	}
	if f.Many == schema.List {
		return "[" + out + "]"
	}
	return out
}

// blankQuantity is a question mark with the first of the units that a shop writes
// the quantity in; for a plain number it is the default, or 0.
func blankQuantity(f *schema.Field) string {
	units := f.UnitsWritten()
	switch {
	case f.Share():
		return `"? %"`
	case len(f.Choices) > 0 || f.High > 0 || len(units) == 0:
		return cmp.Or(f.Default, "0")
	}
	return fmt.Sprintf("%q", "? "+units[0])
}

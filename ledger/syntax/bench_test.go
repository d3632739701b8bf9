package syntax

import (
	"fmt"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/pelletier/go-toml/v2/unstable"
)

// ledgerFile is like what a shop writes: some 40 entries in 2.5 KB.
func ledgerFile() []byte {
	var b strings.Builder
	b.WriteString("# The house battery and what hangs on it.\ntitle = \"High roof, long\"\nstage = 'second fix'\n\n")
	for i := range 6 {
		fmt.Fprintf(&b, `# Fitted on the %[1]d. day.
[[part]]
name = "battery %[1]d, 100 Ah lithium iron phosphate"
mass = "%[1]d2.4 ± 0.2 kg" # bathroom scale
at = ["1.25 m", "0.40 m", "½ m"]
count = %[1]d
fitted = 2026-05-1%[1]d
[part.source]
how = "weighed"
by = "the first fitter of the morning shift"
ratio = 0.85
sheet = { file = "scale.pdf", page = %[1]d }

`, i)
	}
	return []byte(b.String())
}

func BenchmarkParse(b *testing.B) {
	data := ledgerFile()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if root, faults := parse(data); root == nil || len(faults) > 0 {
			b.Fatal(faults)
		}
	}
}

// BenchmarkLibraries is what Parse cannot do without: both libraries alone.
func BenchmarkLibraries(b *testing.B) {
	data := ledgerFile()
	for name, run := range map[string]func(){
		"decode": func() {
			var v any
			if _, err := toml.Decode(string(data), &v); err != nil {
				b.Fatal(err)
			}
		},
		"walk": func() {
			p := unstable.Parser{KeepComments: true}
			p.Reset(data)
			for p.NextExpression() {
			}
		},
	} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				run()
			}
		})
	}
}

// BenchmarkHostile holds files of the largest size that are slow if anything is
// done once for each pair of things.
func BenchmarkHostile(b *testing.B) {
	for name, data := range hostileFiles() {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				parse([]byte(data))
			}
		})
	}
}

func hostileFiles() map[string]string {
	numbered := func(format string) string {
		var b strings.Builder
		for i := 0; b.Len() < MaxSize-64; i++ {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	repeat := func(s string) string { return strings.Repeat(s, (MaxSize-64)/len(s)) }
	return map[string]string{
		"keys":       numbered("k%d=1\n"),
		"tables":     numbered("[t%d]\n"),
		"elements":   numbered("[[t]]\na%d=1\n"),
		"sub-tables": numbered("[a.b.c.d.e.f.g.h.t%d]\n"),
		"dotted":     numbered("a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p.t%d=1\n"),
		"one line":   "a = [" + repeat("1,") + "]",
		"wide line":  "a = [" + repeat("'é',") + "]",
		"inline":     "a = [" + repeat("{b={c=1}},") + "]",
		"newlines":   repeat("\n"),
		"mistakes":   repeat("a = b c\n"),
		"doubles":    repeat("a=1\n"),
		"bad values": numbered("d%d=1979-13-01\n"),
		"brackets":   repeat("["),
		"comments":   repeat("#\n"),
		"escapes":    `a = """` + repeat(`\n"`) + `"""`,
	}
}

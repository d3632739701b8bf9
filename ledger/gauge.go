package ledger

import (
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
)

// gauges are the AWG sizes that wire is sold in, the thinnest first.
var gauges = []string{"24 AWG", "22 AWG", "20 AWG", "18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1 AWG", "1/0 AWG", "2/0 AWG", "3/0 AWG", "4/0 AWG"}

// metric are the nominal areas of IEC 60228 in mm2.
var metric = []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300}

// HeavierSizes lists the conductor sizes that are sold and heavier than one, as
// a ledger spells them, the next first.
func HeavierSizes(size string) []string {
	if text, ok := strings.CutSuffix(size, " mm2"); ok {
		var out []string
		area, err := strconv.ParseFloat(text, 64)
		for _, m := range metric {
			if err == nil && m > area {
				out = append(out, strconv.FormatFloat(m, 'g', -1, 64)+" mm2")
			}
		}
		return out
	}
	number := awg(size)
	i := slices.IndexFunc(gauges, func(g string) bool { return awg(g) < number })
	if i < 0 || !strings.HasSuffix(size, " AWG") {
		return nil
	}
	return slices.Clone(gauges[i:])
}

// awg is the number of an AWG size; 2/0 is -1.
func awg(size string) int {
	text, _, _ := strings.Cut(size, " ")
	if noughts, _, ok := strings.Cut(text, "/"); ok {
		n, _ := strconv.Atoi(noughts)
		return 1 - n
	}
	n, _ := strconv.Atoi(text)
	return n
}

// Gauge is the conductor size of an entry that is a circuit, its own or that of
// the one it is like.
func (b *Build) Gauge(entryPath string) (q.Word, bool) {
	for _, c := range b.Circuits() {
		if c.Path() == entryPath {
			return c.Gauge, c.Gauge.Known()
		}
	}
	return q.Word{}, false
}

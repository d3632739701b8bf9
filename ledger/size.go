package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// gauges are the AWG sizes that wire is sold in, the thinnest first.
var gauges = []string{
	"24 AWG", "22 AWG", "20 AWG", "18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG",
	"6 AWG", "4 AWG", "2 AWG", "1 AWG", "1/0 AWG", "2/0 AWG", "3/0 AWG", "4/0 AWG",
}

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

// Size is the conductor size that an entry says, its own or that of the one it is
// like, and the sizes that it may have instead, heavier, the next first. False
// where it has none.
func (b *Build) Size(entryPath string) (size q.Word, heavier []string, ok bool) {
	e, ok := b.Entry(entryPath)
	if !ok {
		return size, nil, false
	}
	for _, f := range e.schema.Fields {
		if f.Size && f.Type == schema.Word {
			size = reflect.ValueOf(b.View(e)).Elem().Field(f.Index).Interface().(q.Word)
			return size, HeavierSizes(size.String()), size.Known()
		}
	}
	return size, nil, false
}

// ConductorSize reads "12 AWG", "2/0 AWG" or "3 mm2" into one spelling.
func ConductorSize(text string) (string, error) {
	s := strings.Join(strings.Fields(text), " ")
	up := strings.ToUpper(s)
	if num, ok := strings.CutSuffix(up, "AWG"); ok {
		num = strings.TrimPrefix(strings.TrimSpace(num), "#")
		if i, err := strconv.Atoi(num); err == nil && i >= 1 && i <= 40 && num[0] != '+' {
			return strconv.Itoa(i) + " AWG", nil
		}
		if n, d, ok := strings.Cut(num, "/"); ok && d == "0" && (n == "1" || n == "2" || n == "3" || n == "4") {
			return num + " AWG", nil
		}
		return "", fmt.Errorf("AWG sizes run from 40 to 1, then 1/0 to 4/0; got %q", text)
	}
	for _, unit := range []string{"mm2", "mm²", "mm^2"} {
		if num, ok := strings.CutSuffix(s, unit); ok {
			v, err := strconv.ParseFloat(strings.TrimSpace(num), 64)
			if err != nil || !(v > 0 && v < 1000) {
				return "", fmt.Errorf("a conductor size in mm2, such as 2.5 mm2; got %q", text)
			}
			return strconv.FormatFloat(v, 'g', -1, 64) + " mm2", nil
		}
	}
	return "", fmt.Errorf("takes a conductor size, such as 12 AWG, 2/0 AWG or 3 mm2; got %q", text)
}

package quantity

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		text string
		dim  Dim
	}{{"612 lb", Mass}, {"612 ± 5 lb", Mass}, {"5 ft 2 1/4 in", Length}, {"7.1 lb/gal", Density}, {"612 lbz", Mass}} {
		b.Run(c.text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = Parse(c.text, c.dim, Options{})
			}
		})
	}
}

func axleSum() Quantity {
	base := Leaf(Reading{Value: 3.3, Low: 3.29, High: 3.31, Unit: unitBySymbol["m"]}, &Source{Entry: "vehicle"})
	terms := make([]Quantity, 70)
	for i := range terms {
		m := Leaf(Reading{Value: 5, Low: 4, High: 6, Unit: unitBySymbol["kg"]}, &Source{Entry: "part"})
		x := Leaf(Reading{Value: 1, Low: 0.9, High: 1.1, Unit: unitBySymbol["m"]}, &Source{Entry: "part"})
		terms[i] = m.Mul(Number(1).Sub(x.Div(base)))
	}
	return Sum(Mass, terms...)
}

func BenchmarkBuildSum70(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		axleSum()
	}
}

func BenchmarkBoundsSum70(b *testing.B) {
	q := axleSum()
	b.ReportAllocs()
	for b.Loop() {
		q.Bounds()
	}
}

// BenchmarkAnalysis stands beside its floor: laying out and evaluating the same
// expression once more, forward only.
func BenchmarkAnalysis(b *testing.B) {
	q := axleSum()
	b.Run("forward", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			q.tape().again()
		}
	})
	b.Run("all", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			a := Analyze(q)
			a.Bounds()
			a.Doubts()
			a.Shares()
			a.Grade()
		}
	})
}

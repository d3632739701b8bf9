package quantity

import "testing"

// FuzzParse checks that no text panics and that what is accepted is finite,
// holds its value between its ends, and is spelt so that it reads the same.
func FuzzParse(f *testing.F) {
	dims := []Dim{Any, Mass, Length, Ratio, Temperature, TemperatureDiff, AbsolutePressure, SpringRate, InverseTemp}
	f.Fuzz(func(t *testing.T, text string) {
		for _, dim := range dims {
			for _, opt := range []Options{{}, {Exact: true}, {Position: true}} {
				if r, err := Parse(text, dim, opt); err == nil {
					sameAgain(t, text, r, dim, opt)
				}
			}
		}
	})
}

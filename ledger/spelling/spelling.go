// Package spelling guesses which name was meant by one that is misspelt.
package spelling

import (
	"fmt"
	"strings"
)

// DidYouMean asks for the nearest of some names, as the end of a message; "" where
// none is near.
func DidYouMean(word string, names []string) string {
	if n := Nearest(word, names); n != "" {
		return fmt.Sprintf("; did you mean %q?", n)
	}
	return ""
}

// Nearest is the name closest to a word by edit distance, small letters and
// capitals alike, or "" where none is near enough to be what was meant: past a
// third of its letters, or one of a short word, likeness is chance.
func Nearest(word string, names []string) string {
	best, at := "", max(1, len([]rune(word))/3)+1
	for _, n := range names {
		if d := distance(strings.ToLower(word), strings.ToLower(n), at); d < at {
			best, at = n, d
		}
	}
	return best
}

// distance is the optimal string alignment distance, given up at most.
func distance(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d >= most || -d >= most {
		return most
	}
	before := make([]int, len(y)+1)
	last := make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row := make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(y)]
}

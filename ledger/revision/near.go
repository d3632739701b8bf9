package revision

// near gives the candidate that is spelt most like word, or "" if none is
// close: past a third of its letters the likeness is chance.
func near(word string, candidates []string) string {
	best, least := "", 1+max(1, len(word)/3)
	for _, c := range candidates {
		if d := distance(word, c); d < least {
			best, least = c, d
		}
	}
	return best
}

// distance counts the bytes to insert, delete, replace or swap with a
// neighbor (each place at most once) to get from a to b.
func distance(a, b string) int {
	var before, last []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, last, row = last, row, make([]int, len(b)+1)
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	return row[len(b)]
}

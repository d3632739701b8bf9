package layout

import (
	"strings"
	"unicode/utf8"
)

// The advance widths of DejaVu Sans in thousandths of an em, read from the font's
// own table, for the characters from U+0020 and from U+00A0. A page asks for Arial
// or its like, whose letters are no wider, save a few by less than a fiftieth of
// an em: where another font stands in, a label still has room.
var (
	latin  = [...]int{318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838}
	latin1 = [...]int{318, 401, 636, 636, 636, 636, 337, 500, 500, 1000, 471, 612, 838, 361, 1000, 500, 500, 838, 401, 401, 500, 636, 636, 318, 500, 401, 471, 612, 969, 969, 969, 531, 684, 684, 684, 684, 684, 684, 974, 698, 632, 632, 632, 632, 295, 295, 295, 295, 775, 748, 787, 787, 787, 787, 787, 838, 787, 732, 732, 732, 732, 611, 605, 630, 613, 613, 613, 613, 613, 613, 982, 550, 615, 615, 615, 615, 278, 278, 278, 278, 612, 634, 612, 612, 612, 612, 612, 838, 612, 634, 634, 634, 634, 592, 635, 592}
)

// widest is what any other character is taken to be: the widest letter of the
// font's Latin and Cyrillic blocks, and more than the full em of an ideograph.
const widest = 1450

// Width is how wide a text is in a size, at most.
func Width(text string, size float64) float64 {
	total := 0
	for _, r := range text {
		switch {
		case r >= 0x20 && int(r-0x20) < len(latin):
			total += latin[r-0x20]
		case r >= 0xa0 && int(r-0xa0) < len(latin1):
			total += latin1[r-0xa0]
		case r == '–' || r == '‘' || r == '’':
			total += 500
		default:
			total += widest
		}
	}
	return float64(total) * size / 1000
}

// Cut is the text, or as much of its beginning as is no wider than most, with an
// ellipsis.
func Cut(text string, size, most float64) string {
	if Width(text, size) <= most {
		return text
	}
	for text != "" {
		_, n := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-n]
		if short := strings.TrimRight(text, " ,;") + "…"; Width(short, size) <= most {
			return short
		}
	}
	return ""
}

// Wrap breaks a text into lines no wider than most, at blanks, and within a word
// that has no line to itself.
func Wrap(text string, size, most float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && Width(line+" "+word, size) <= most {
			line += " " + word
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for Width(word, size) > most {
			n := fits(word, size, most)
			out, word = append(out, word[:n]), word[n:]
		}
		line = word
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// Lines wraps a text into so many lines at most, the last of them cut where more
// follows.
func Lines(text string, size, most float64, count int) []string {
	lines := Wrap(text, size, most)
	if len(lines) <= count {
		return lines
	}
	rest := strings.Join(lines[count-1:], " ")
	return append(lines[:count-1:count-1], Cut(rest, size, most))
}

// fits is how many bytes of a word are no wider than most; one letter at least.
func fits(word string, size, most float64) int {
	for i, r := range word {
		if i > 0 && Width(word[:i+utf8.RuneLen(r)], size) > most {
			return i
		}
	}
	return len(word)
}

package drawing

import "strings"

// wireColors are the looks of the colors of wires, by the words that a trade
// writes. What is on a drawing is one of these, and never a ledger's word.
var wireColors = map[string]Look{
	"black": "d-w-black", "white": "d-w-white", "red": "d-w-red", "orange": "d-w-orange", "yellow": "d-w-yellow",
	"green": "d-w-green", "blue": "d-w-blue", "violet": "d-w-violet", "purple": "d-w-violet", "brown": "d-w-brown",
	"gray": "d-w-gray", "tan": "d-w-tan", "beige": "d-w-tan", "pink": "d-w-pink", "natural": "d-w-natural",
	"light blue": "d-w-lightblue", "dark blue": "d-w-darkblue", "light green": "d-w-lightgreen", "dark green": "d-w-darkgreen",
}

// wireLooks are those of a color and its tracer, as "white/black"; "" where the
// word is not known, or there is none.
func wireLooks(color string) (base, tracer Look) {
	first, second, _ := strings.Cut(strings.ToLower(strings.ReplaceAll(color, "-", " ")), "/")
	return wireColors[strings.TrimSpace(first)], wireColors[strings.TrimSpace(second)]
}

// Package layout finds places for words on a drawing: how wide a text is, where
// a label goes so that it lies on no other, what a tree looks like. It knows
// nothing of vehicles, and draws nothing. Lengths are in units of the sheet, and
// Y grows downward.
package layout

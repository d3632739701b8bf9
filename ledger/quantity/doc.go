// Package quantity holds the traced quantity: a physical value that knows its
// dimension, how far it can be trusted, and where it came from.
//
// A leaf stands in a ledger at a file, a line and a key, or is a cited
// constant. Everything computed from leaves remembers the operation and its
// operands, so that a result can say what it still waits for, what it may be
// at least and at most, which leaf its doubt comes from, and how it was
// worked out. Values are SI throughout; units appear only where text is read
// (Parse) or printed (Style).
//
// A missing value is not a number: arithmetic on it gives a missing quantity
// that lists the keys it waits for. A wrong dimension in arithmetic is a
// defect of the program, not of the ledger, and panics with a DimensionError;
// every rule is run on a ledger of phantoms in a test, which finds it.
//
// A value is known where it is there: Known says so as a plain bool. Given is the
// same as a Truth, for keys whose absence means something; it is always known
// itself. Required is the Truth that waits for the value where it is not there.
// Written is of entries alone: whether there is one.
//
// Intervals are rigorous up to floating-point rounding. Forward interval
// arithmetic is kept with every node. Where that is too wide, Bounds narrows
// it twice, by the mean-value form (interval slopes from one reverse pass,
// with the hull of slopes at a bend) and by evaluation at the two corners of
// the leaves in which the result is monotone; see R. E. Moore, R. B. Kearfott
// and M. J. Cloud, Introduction to Interval Analysis, SIAM 2009, chapter 6.
package quantity

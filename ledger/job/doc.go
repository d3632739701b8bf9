// Package job reads the shop's work out of a ledger: what has come in, which
// step can start, what a build costs, what stands on which list, and where a
// word is found. It judges nothing; that is for rules.
//
// Money and hours are summed here and nowhere else, as traced quantities, so
// that a sum carries the doubt of what was written and says where it is from.
package job

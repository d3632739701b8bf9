// Package paperwork checks that a build can be handed over: where each part
// comes from, what the next owner can buy, which documents and measurements
// there are, what was renewed, in what order the work was done, what a driver is
// told, what the shop has learned to ask, and that someone signed.
//
// It leaves out whether a document, a waiver or a signature is what it says:
// that is checked by the pack ledger, which no build can drop.
// It does not read documents.
//
// A stage "by" which something is wanted is the last at which it can still be
// missing: it is due on entering the next one. So the label is due at plan, the
// tape at first-start, the weigh ticket at delivery.
//
// Which documents and measurements are wanted by when, and which parts a swap
// loads harder, stands in refdata. All of it is common practice; a shop that
// sees it differently waives.
//
// A document is of an entry as [ledger.Refer] has it; a weigh ticket also if the
// weighing names it.
package paperwork

// Package edit changes the TOML files of a build where something is asked to
// change, and nowhere else: comments, order, spacing and line ends of all else
// stay byte for byte.
//
// A Draft takes operations: a value set, an entry added, removed or renamed.
// Each is done twice, on the text and on the tree that the text says, and the
// two must agree when the text is read again. What comes of a draft is a Plan,
// a plain value: which bytes of which files give way to which text, and what
// the files held when it was made. Apply writes a plan, all of it or nothing,
// one writer at a time.
package edit

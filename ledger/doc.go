// Package ledger is what a build is: its entries, read from TOML files and
// checked against a schema, and the typed views that rules read.
//
// Entries are the truth: kind, id, place, values. A build is a stack of layers
// of entries (its own files over what it takes from its shop; a comparison
// puts an overlay on top). The schema is reflected once from the tags of the
// views: what a key is called, which dimension it takes, what it may refer to.
package ledger

// Package enter turns the rows of a spreadsheet into edits of a build: values
// of entries that are there, and new entries.
//
// A table has one of two forms. With the columns entry, key and value it has a
// row a value, as a filled sheet; what else a sheet has is read past. With the
// column entry and others that are named as keys, it has a row an entry. An
// empty cell says nothing. A list is parted by semicolons; one alone is the empty
// list.
package enter

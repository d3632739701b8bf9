// Package book makes the book of a build: one page of HTML that opens anywhere
// without a network, and prints. It is handed over with the keys, shown to an
// inspector, and sent to those who ask what is custom and what is not.
//
// What an edition shows of an entry is asked of its reader, value by value, and
// goes by the tags of the keys. Words of a ledger reach the page through a template
// that escapes them.
package book

// Package editor speaks the Language Server Protocol (version 3.17, microsoft.github.io/language-server-protocol)
// for the files of builds and the shop.toml above them: what is wrong as it is typed, what the checks find after a
// pause, and what a person asks where the cursor stands.
//
// Messages come in on one goroutine and are worked off on another, one at a time and in their order, as are the ends
// of pauses: nothing here is locked but the queue between the two. What an editor holds open stands in the place of
// the file on disk (revision.Build.With), and the loader keeps every file that did not change, so that a keystroke
// reads one.
//
// A ledger is untrusted here too: what is shown of it is clean of control characters and stands in fenced blocks,
// where no editor looks for links; names of files lead to files of the build and nowhere else; nothing is written,
// for changes are handed to the editor.
package editor

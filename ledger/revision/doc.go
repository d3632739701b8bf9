// Package revision says where a ledger's files come from: a folder on disk, or
// a revision of one read straight from git's objects.
//
// Open takes what a user types, a folder or REV:FOLDER, and gives a Place. Its
// Builds are the folders at or below it that hold build.toml. A build lists
// its files, reads those that are TOML, digests any, and finds the shop.toml
// that it shares with others. The two kinds of place answer alike: hidden
// files and folders are left out, a link is followed only where it stays
// inside the build folder, and only regular files are opened.
//
// Nothing is written. Git is the user's own, plumbing only, and is run in such
// a way that nothing which a repository's configuration or attributes name is
// run with it: no hook, filter, pager, monitor, signature program or remote.
package revision

// Package shown is how what comes from a ledger is shown, on a screen, a page or
// a drawing: text made safe, and a check's figures in words.
package shown

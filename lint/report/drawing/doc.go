// Package drawing makes the drawings of a build from its ledger and its checks:
// plain figures of lines, discs and words first, then SVG through a template that
// escapes every word. What is not known is not drawn; it is listed beside.
//
// Each drawing has two layouts, one for a page and one for a phone. A unit of a
// sheet is a pixel where the sheet has its own width, and letters are as large on
// both.
package drawing

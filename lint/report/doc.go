// Package report writes what a run found out, one file an output. Every kind
// of output is a function in Kinds that makes a Writer; a Writer is handed one
// report at a time and keeps none, so that a run over a thousand builds takes
// no more memory than a run over one.
package report

package lint

import (
	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// Unjudged is the report on a build of which no rule is asked: what it says of
// itself, and what is wrong with its files.
func Unjudged(l *ledger.Loader, src *revision.Build, opt Options) *Report {
	b := l.Read(src)
	rep := &Report{Folder: b.Folder, Revision: src.Revision(), Build: b, Title: b.Title(), Stage: b.Stage(), AsOf: opt.dated(src).Day(b), Faults: b.Faults}
	if opt.Stage != nil {
		rep.Stage = *opt.Stage
	}
	return rep
}

package ledger

import (
	"fmt"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
)

// What a ledger may hold at most. No shop comes near them; they keep what a
// hostile one can cost within bounds. That they suffice is practice, without a
// source.
const (
	MaxLedger  = 1 << 20 // bytes of TOML in all files
	MaxFiles   = 4000    // TOML files
	MaxFolders = 16      // folders, one inside the other
	MaxEntries = 10000
)

// within refuses the files that are too many, and those too deep in folders.
func (r *reader) within(src *revision.Build, files []revision.File) []revision.File {
	if len(files) > MaxFiles {
		r.cannotRead(src.Name(files[MaxFiles].Path), fmt.Sprintf("a ledger may have %d TOML files; this one and %d more are too many", MaxFiles, len(files)-MaxFiles-1))
		files = files[:MaxFiles]
	}
	return slices.DeleteFunc(slices.Clone(files), func(f revision.File) bool {
		deep := strings.Count(f.Path, "/") > MaxFolders
		if deep {
			r.cannotRead(src.Name(f.Path), fmt.Sprintf("deeper than %d folders in the build folder", MaxFolders))
		}
		return deep
	})
}

// tooMany refuses the entries past the limit, in the order of their files.
func (r *reader) tooMany() {
	all := make([]*Entry, 0, len(r.entries))
	for _, e := range r.entries {
		all = append(all, e)
	}
	slices.SortFunc(all, func(a, b *Entry) int { return comparePlaces(a.Place, b.Place) })
	r.faults = append(r.faults, Fault{all[MaxEntries].Place, fmt.Sprintf("a ledger may have %d entries; this one and %d more are too many", MaxEntries, len(all)-MaxEntries-1)})
	r.unread = true
	r.lost = append(r.lost, lossOf(all[MaxEntries].Place.File))
	for _, e := range all[MaxEntries:] {
		delete(r.entries, e.path)
	}
}

// tooGreat tells a reading that no one can mean, or "".
func tooGreat(r q.Reading) string {
	for _, v := range []float64{r.Value, r.Low, r.High} {
		if v > 1e30 || v < -1e30 {
			return "a number beyond 1e30"
		}
	}
	return ""
}

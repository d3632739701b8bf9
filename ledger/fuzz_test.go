package ledger_test

import (
	"os"
	"path/filepath"
	"testing"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// FuzzLoad: whatever stands in a build's file, loading either gives a build
// whose entries and values can be listed, or faults that each have a place.
func FuzzLoad(f *testing.F) {
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(filepath.Join(dir, ledger.MainFile), text, 0o644); err != nil {
			t.Fatal(err)
		}
		place, err := revision.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		defer place.Close()
		builds, err := place.Builds()
		if err != nil {
			t.Fatal(err)
		}
		b, faults := ledger.NewLoader().Load(builds[0])
		if (b == nil) != (len(faults) > 0) {
			t.Fatal("neither a build nor faults, or both")
		}
		for _, fault := range faults {
			if fault.Place.File == "" || fault.Place.Line < 1 || fault.Place.Column < 1 || fault.Message == "" {
				t.Fatalf("a fault without a place: %+v", fault)
			}
		}
		if b == nil {
			return
		}
		for _, e := range b.Entries() {
			for _, v := range e.Values() {
				if v.Key == "" || v.Place.Line < 1 {
					t.Fatalf("a value without a place: %+v", v)
				}
			}
		}
		for _, p := range b.Parts() {
			b.Now(p.At)
			b.Before(p.At, p.WasAt)
		}
	})
}

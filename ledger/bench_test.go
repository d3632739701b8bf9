package ledger_test

import (
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// BenchmarkRead reads an example with its shop's file, and digests it besides,
// beside the floor: the same files listed, read and decoded by a plain decoder.
func BenchmarkRead(b *testing.B) {
	place, err := revision.Open("../examples/tamarack/builds/heron")
	require.NoError(b, err)
	b.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(b, err)
	require.Len(b, builds, 1)
	for name, run := range map[string]func(){
		"read":   func() { ledger.NewLoader().Read(builds[0]) },
		"digest": func() { ledger.NewLoader().Read(builds[0]).Digest() },
		"floor": func() {
			files, err := builds[0].TOML()
			require.NoError(b, err)
			for _, f := range files {
				data, err := builds[0].Read(f.Path)
				require.NoError(b, err)
				var v any
				_, err = toml.Decode(string(data), &v)
				require.NoError(b, err)
			}
		},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				run()
			}
		})
	}
}

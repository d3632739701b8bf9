package ledger

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
)

// bytesOf is a hash that keeps what it is given.
type bytesOf struct{ bytes.Buffer }

func (b *bytesOf) Sum([]byte) []byte { return b.Bytes() }
func (b *bytesOf) Size() int         { return b.Len() }
func (b *bytesOf) BlockSize() int    { return 1 }

// Records that differ hash different bytes, however their fields run together.
func TestFieldsAreKeptApart(t *testing.T) {
	seen := map[string][][]string{}
	for _, records := range [][][]string{
		{{"ab", "c"}}, {{"a", "bc"}}, {{"abc"}}, {{"a", "b", "c"}}, {{"abc", ""}}, {{"", "abc"}}, {{"ab"}, {"c"}}, {{"a"}, {"bc"}}, {{}}, {}, {{""}}, {{"", ""}}, {{"\x01a"}}, {{"", "a"}},
	} {
		var to bytesOf
		h := canonical{Hash: &to}
		for _, fields := range records {
			h.write(fields...)
		}
		key := to.String()
		assert.NotContains(t, seen, key, "%q and %q", records, seen[key])
		seen[key] = records
	}
}

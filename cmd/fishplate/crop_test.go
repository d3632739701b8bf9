package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash/crc32"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
)

// TestReadmeBook: the crop of a book that the README shows is of the page as it is
// made now. What a browser paints differs by its fonts, so the picture carries the
// digest of the page that it is of. UPDATE=1 takes it anew.
func TestReadmeBook(t *testing.T) {
	const picture = "../../examples/tamarack/drawings/heron-book.png"
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	assert.Contains(t, string(readme), "](examples/tamarack/drawings/heron-book.png)")
	file := bookOf(t, tamarack+"builds/heron", "public")
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	front, _, ok := strings.Cut(string(page), `<section class="part" id="custom">`)
	require.True(t, ok)
	sum := sha256.Sum256([]byte(front))
	mark := append([]byte("SHA-256 of the page\x00"), hex.EncodeToString(sum[:])...)
	if was, err := os.ReadFile(picture); err == nil && bytes.Contains(was, mark) {
		return
	}
	if !golden.Updating() {
		golden.Stale(picture)
		t.Fatalf("%s is of a page that was otherwise", picture)
	}
	shot, err := chromedp.Run(open(t, file, 1280).ctx, chromedp.CaptureScreenshot())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(picture, withText(shot, mark), 0o644))
}

// withText is a PNG with a text chunk ahead of its end (ISO/IEC 15948, 11.3.3.2).
func withText(png, text []byte) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(text)))
	body := append([]byte("tEXt"), text...)
	chunk = binary.BigEndian.AppendUint32(append(chunk, body...), crc32.ChecksumIEEE(body))
	end := len(png) - 12
	return append(append(append([]byte(nil), png[:end]...), chunk...), png[end:]...)
}

package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"html"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// invented is a JPEG of a shade of its own, with words as a camera's comment (ITU-T
// T.81, B.2.4.5, COM).
func invented(t *testing.T, shade uint8, words string) []byte {
	t.Helper()
	p := image.NewGray(image.Rect(0, 0, 60, 40))
	for i := range p.Pix {
		p.Pix[i] = shade
	}
	var plain bytes.Buffer
	require.NoError(t, jpeg.Encode(&plain, p, nil))
	out := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xfe}, uint16(len(words)+2))
	return append(append(out, words...), plain.Bytes()[2:]...)
}

// withPictures is a build with three pictures: a public one, one that is not, and a
// private one. Their files' names and what a camera wrote are canaries.
func withPictures(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	text := canaries
	for i, more := range []string{"public = true", "", "public = true\nprivate = true"} {
		file := invented(t, uint8(40+80*i), "canary 47.6N 122.3W")
		name := fmt.Sprintf("canary-%d.jpg", i)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), file, 0o644))
		sum := sha256.Sum256(file)
		text += fmt.Sprintf("[document.canary-%d]\nkind = \"photo\"\nfile = %q\nsha256 = %q\nby = \"CANARY\"\nproves = [\"part.shown\"]\n%s\n", i, name, hex.EncodeToString(sum[:]), more)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o644))
	return dir
}

// shades are those of the pictures in a page.
func shades(t *testing.T, page string) (out []int) {
	t.Helper()
	for _, data := range regexp.MustCompile(`data:image/jpeg;base64,([A-Za-z0-9+/=]+)`).FindAllStringSubmatch(html.UnescapeString(page), -1) {
		raw, err := base64.StdEncoding.DecodeString(data[1])
		require.NoError(t, err)
		assert.NotContains(t, strings.ToLower(string(raw)), "canary")
		p, err := jpeg.Decode(bytes.NewReader(raw))
		require.NoError(t, err)
		gray, _, _, _ := p.At(5, 5).RGBA()
		out = append(out, int(gray>>8)/80)
	}
	return out
}

// TestBookPhotos: everyone sees the picture that is public, inspector and owner
// those that are not private, the shop all; nothing of a file but its picture is in
// the page.
func TestBookPhotos(t *testing.T) {
	dir := withPictures(t)
	for edition, want := range map[string][]int{"public": {0}, "owner": {0, 1}, "inspector": {0, 1}, "shop": {0, 1, 2}} {
		page := read(t, bookOf(t, dir, edition))
		assert.ElementsMatch(t, want, shades(t, page), edition)
		if edition == "public" {
			assert.False(t, strings.Contains(strings.ToLower(page), "canary"), edition)
		}
	}
}

// TestPhotosBesideInBrowser: pictures that stand in a folder beside the page are
// seen, and are all that the page loads.
func TestPhotosBesideInBrowser(t *testing.T) {
	theBrowser(t)
	build, out := withPictures(t), t.TempDir()
	folder := filepath.Join(out, "pic tures")
	var said, told bytes.Buffer
	require.Zero(t, run([]string{"fishplate", "book", "--edition", "public", "--out", filepath.Join(out, "book.html"), "--photos", folder, build}, real(&said, &told)), told.String())
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Len(t, files, 1)
	assert.NotContains(t, files[0].Name(), "canary")
	p := open(t, filepath.Join(out, "book.html"), 1280)
	assert.Equal(t, 60, ask[int](t, p, `(async () => { const i = document.querySelector("img"); await i.decode(); return i.naturalWidth; })()`))
	require.Len(t, p.told(), 1)
	assert.Contains(t, p.told()[0], "request: file://")
	assert.Contains(t, p.told()[0], "/"+files[0].Name())
}

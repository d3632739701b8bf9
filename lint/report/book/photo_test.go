package book

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quarters is an invented picture of four colors: red, green; blue, white.
func quarters() image.Image {
	p := image.NewRGBA(image.Rect(0, 0, 64, 32))
	for y := range 32 {
		for x := range 64 {
			c := [2][2]color.RGBA{{{255, 0, 0, 255}, {0, 255, 0, 255}}, {{0, 0, 255, 255}, {255, 255, 255, 255}}}[y/16][x/32]
			p.SetRGBA(x, y, c)
		}
	}
	return p
}

// byteOrder is the order of bytes that Exif data are in.
type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// withExif is a JPEG with Exif data behind its first marker: a way up, a maker, and
// a comment, as cameras write them (JEITA CP-3451: tags 0x010f and 0x0112).
func withExif(t *testing.T, order byteOrder, way uint16, words string) []byte {
	t.Helper()
	var plain bytes.Buffer
	require.NoError(t, jpeg.Encode(&plain, quarters(), &jpeg.Options{Quality: 95}))
	tiff := map[bool]string{true: "II", false: "MM"}[order == binary.LittleEndian]
	out := order.AppendUint16([]byte(tiff), 42)
	out = order.AppendUint32(out, 8)
	out = order.AppendUint16(out, 2)
	entry := func(tag, kind uint16, count, value uint32) {
		out = order.AppendUint16(out, tag)
		out = order.AppendUint16(out, kind)
		out = order.AppendUint32(out, count)
		out = order.AppendUint32(out, value)
	}
	entry(0x010f, 2, uint32(len(words)+1), 38)
	out = order.AppendUint16(out, 0x0112)
	out = order.AppendUint16(out, 3)
	out = order.AppendUint32(out, 1)
	out = order.AppendUint16(order.AppendUint16(out, way), 0)
	out = order.AppendUint32(out, 0)
	out = append(append(out, words...), 0)
	segment := func(marker byte, data string) []byte {
		return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(data)+2)), data...)
	}
	file := append([]byte{0xff, 0xd8}, segment(0xe1, "Exif\x00\x00"+string(out))...)
	file = append(file, segment(0xfe, words)...)
	return append(file, plain.Bytes()[2:]...)
}

// TestPhotoUpright: each of the eight ways up of Exif is turned as the standard says
// where the first row and the first column of what is stored are seen (JEITA
// CP-3451, 4.6.4 A, orientation, from memory).
func TestPhotoUpright(t *testing.T) {
	// Top left, top right, bottom left, bottom right, as they are seen.
	seen := map[uint16]string{1: "RGBW", 2: "GRWB", 3: "WBGR", 4: "BWRG", 5: "RBGW", 6: "BRWG", 7: "WGBR", 8: "GWRB"}
	for _, order := range []byteOrder{binary.LittleEndian, binary.BigEndian} {
		for way, want := range seen {
			p, err := openPicture(withExif(t, order, way, "maker"))
			require.NoError(t, err)
			b, got := p.Bounds(), ""
			for _, at := range [][2]int{{1, 1}, {3, 1}, {1, 3}, {3, 3}} {
				r, g, bl, _ := p.At(b.Dx()*at[0]/4, b.Dy()*at[1]/4).RGBA()
				got += map[[3]bool]string{{true, false, false}: "R", {false, true, false}: "G", {false, false, true}: "B", {true, true, true}: "W"}[[3]bool{r > 0x8000, g > 0x8000, bl > 0x8000}]
			}
			assert.Equal(t, want, got, "way %d", way)
			assert.Equal(t, way >= 5, b.Dy() > b.Dx(), "way %d", way)
		}
	}
	p, err := openPicture(withExif(t, binary.BigEndian, 9, ""))
	require.NoError(t, err, "a way that there is not")
	assert.Equal(t, 64, p.Bounds().Dx())
}

// withText is a PNG with a text of its own (PNG, W3C Recommendation, 11.3.3.2
// tEXt).
func withText(t *testing.T, words string) []byte {
	t.Helper()
	var plain bytes.Buffer
	require.NoError(t, png.Encode(&plain, quarters()))
	const header = 8 + 25 // the signature and the chunk IHDR
	return append(append(append([]byte(nil), plain.Bytes()[:header]...), chunk("tEXt", "Comment\x00"+words)...), plain.Bytes()[header:]...)
}

func chunk(kind, data string) []byte {
	out := append(binary.BigEndian.AppendUint32(nil, uint32(len(data))), kind+data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE([]byte(kind+data)))
}

// TestPhotoCarriesNothing: nothing of a file but its picture is in what is written.
func TestPhotoCarriesNothing(t *testing.T) {
	for name, file := range map[string][]byte{"jpeg": withExif(t, binary.LittleEndian, 6, "47.6N 122.3W canary"), "png": withText(t, "47.6N 122.3W canary")} {
		require.Contains(t, string(file), "canary", name)
		picture, err := openPicture(file)
		require.NoError(t, err, name)
		var p photo
		var written []byte
		require.NoError(t, p.put(picture, func(jpeg []byte) (string, error) { written = jpeg; return "x.jpg", nil }))
		assert.NotContains(t, string(written), "canary", name)
		assert.NotContains(t, string(written), "Exif", name)
		for at := 2; written[at+1] != 0xda; at += 2 + int(binary.BigEndian.Uint16(written[at+2:])) {
			assert.Contains(t, []byte{0xdb, 0xc0, 0xc4}, written[at+1], "%s has a segment that no picture needs", name)
		}
	}
}

// TestPhotoTooLarge: a small file that says that it is a large picture is not
// opened.
func TestPhotoTooLarge(t *testing.T) {
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 60000), 60000)
	bomb := "\x89PNG\r\n\x1a\n" + string(chunk("IHDR", string(size)+"\x08\x02\x00\x00\x00")) + string(chunk("IDAT", "x")) + string(chunk("IEND", ""))
	gif := "GIF89a\xff\xff\xff\xff\x00\x00\x00;"
	for _, file := range []string{bomb, gif} {
		_, err := openPicture([]byte(file))
		require.Error(t, err)
		assert.Contains(t, err.Error(), "pixels are more than 40 million")
	}
	for _, file := range []string{"", "text", bomb[:20], string(withText(t, "x")[:60]), "\xff\xd8\xff\xe1\xff\xff", strings.Repeat("\xff", 100)} {
		_, err := openPicture([]byte(file))
		assert.Error(t, err)
	}
	large := image.NewGray(image.Rect(0, 0, 5000, 300))
	assert.Equal(t, image.Rect(0, 0, photoAcross, 66), scaled(large).Bounds())
}

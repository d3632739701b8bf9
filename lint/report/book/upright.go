package book

import (
	"encoding/binary"
	"image"
)

// orientation is which way up a JPEG is to be seen, 1 to 8 as in the tag 0x0112 of
// its Exif data (JEITA CP-3451, 4.6.4, from memory); 1 where it does not say.
func orientation(jpeg []byte) int {
	for at := 2; at+4 <= len(jpeg) && jpeg[at] == 0xff; {
		marker, size := jpeg[at+1], int(binary.BigEndian.Uint16(jpeg[at+2:]))
		if marker == 0xda || size < 2 || at+2+size > len(jpeg) {
			return 1
		}
		part := jpeg[at+4 : at+2+size]
		if marker == 0xe1 && len(part) > 6 && string(part[:6]) == "Exif\x00\x00" {
			return ofExif(part[6:])
		}
		at += 2 + size
	}
	return 1
}

// ofExif finds the tag in the first directory of Exif data.
func ofExif(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if string(tiff[:2]) == "II" {
		order = binary.LittleEndian
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return 1
	}
	count := int64(order.Uint16(tiff[at:]))
	for i := range count {
		entry := at + 2 + 12*i
		if entry+12 > int64(len(tiff)) {
			return 1
		}
		if order.Uint16(tiff[entry:]) == 0x0112 {
			if way := int(order.Uint16(tiff[entry+8:])); way >= 1 && way <= 8 {
				return way
			}
			return 1
		}
	}
	return 1
}

// upright turns and mirrors a picture so that it is seen as it was taken.
func upright(p *image.RGBA, way int) image.Image {
	if way == 1 {
		return p
	}
	w, h := p.Bounds().Dx(), p.Bounds().Dy()
	size := image.Rect(0, 0, w, h)
	if way >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewRGBA(size)
	for y := range h {
		for x := range w {
			tx, ty := x, y
			switch way {
			case 2:
				tx = w - 1 - x
			case 3:
				tx, ty = w-1-x, h-1-y
			case 4:
				ty = h - 1 - y
			case 5:
				tx, ty = y, x
			case 6:
				tx, ty = h-1-y, x
			case 7:
				tx, ty = h-1-y, w-1-x
			case 8:
				tx, ty = y, w-1-x
			}
			out.SetRGBA(tx, ty, p.RGBAAt(x, y))
		}
	}
	return out
}

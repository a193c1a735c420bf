package photo

import (
	"bytes"
	"encoding/binary"
	"image"
)

// Of all that a camera notes in a file (Exif), one number is read: how it was held. Everything is
// looked up within the bytes that are there, and what makes no sense means "upright".

// exifTag is the number of the orientation among the camera's notes.
const exifTag = 0x0112

// orientation reads how the camera was held from the notes: 1 upright to 8, as the standard
// (JEITA CP-3451, Exif) numbers them.
func orientation(notes []byte) int {
	notes = bytes.TrimPrefix(notes, []byte("Exif\x00\x00"))
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(notes, []byte("II*\x00")):
		order = binary.LittleEndian
	case bytes.HasPrefix(notes, []byte("MM\x00*")):
		order = binary.BigEndian
	default:
		return 1
	}
	if len(notes) < 8 {
		return 1
	}
	at := int64(order.Uint32(notes[4:]))
	if at+2 > int64(len(notes)) {
		return 1
	}
	entries := notes[at+2:]
	for range order.Uint16(notes[at:]) {
		if len(entries) < 12 {
			return 1
		}
		const short = 3 // a number of 16 bits
		if order.Uint16(entries) == exifTag && order.Uint16(entries[2:]) == short && order.Uint32(entries[4:]) == 1 {
			if v := int(order.Uint16(entries[8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
		entries = entries[12:]
	}
	return 1
}

// exifOfJPEG finds the notes among the segments before the picture.
func exifOfJPEG(data []byte) []byte {
	const (
		app1 = 0xe1
		scan = 0xda // the picture begins
	)
	for data = data[2:]; len(data) >= 4 && data[0] == 0xff; {
		if data[1] == 0xff { // filling
			data = data[1:]
			continue
		}
		n := int(binary.BigEndian.Uint16(data[2:]))
		if data[1] == scan || n < 2 || len(data) < n+2 {
			return nil
		}
		if body := data[4 : n+2]; data[1] == app1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return body
		}
		data = data[n+2:]
	}
	return nil
}

// exifOfPNG finds the notes among the chunks: length, name, content, check sum.
func exifOfPNG(data []byte) []byte {
	for data = data[8:]; len(data) >= 12; {
		n := int64(binary.BigEndian.Uint32(data))
		if n+12 > int64(len(data)) {
			return nil
		}
		if string(data[4:8]) == "eXIf" {
			return data[8 : 8+n]
		}
		data = data[n+12:]
	}
	return nil
}

// exifOfWebP finds the notes among the chunks: name, length, content, filled up to an even length.
func exifOfWebP(data []byte) []byte {
	for data = data[12:]; len(data) >= 8; {
		n := int64(binary.LittleEndian.Uint32(data[4:]))
		if n+8 > int64(len(data)) {
			return nil
		}
		if string(data[:4]) == "EXIF" {
			return data[8 : 8+n]
		}
		data = data[min(n+8+n%2, int64(len(data))):]
	}
	return nil
}

// turn returns the picture upright that a camera wrote with this orientation.
func turn(img *image.RGBA, orientation int) *image.RGBA {
	if orientation <= 1 || orientation > 8 {
		return img
	}
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 { // the camera lay on its side
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range out.Bounds().Dy() {
		for x := range out.Bounds().Dx() {
			u, v := x, y
			if orientation >= 5 {
				u, v = y, x
			}
			switch orientation {
			case 2, 7, 3, 8:
				u = w - 1 - u
			}
			switch orientation {
			case 3, 4, 6, 7:
				v = h - 1 - v
			}
			out.SetRGBA(x, y, img.RGBAAt(u, v))
		}
	}
	return out
}

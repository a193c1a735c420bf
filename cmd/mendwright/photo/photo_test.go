package photo_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/photo"
)

// corners is a picture of w by h whose corners are red, green, blue and black on white: top left,
// top right, bottom right, bottom left.
func corners(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{255, 255, 255, 255}
			left, right, top, bottom := x < w/3, x >= w-w/3, y < h/3, y >= h-h/3
			switch {
			case top && left:
				c = color.RGBA{255, 0, 0, 255}
			case top && right:
				c = color.RGBA{0, 255, 0, 255}
			case bottom && right:
				c = color.RGBA{0, 0, 255, 255}
			case bottom && left:
				c = color.RGBA{0, 0, 0, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

func jpegOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}))
	return b.Bytes()
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	return b.Bytes()
}

// place is where a photograph says it was taken.
const place = "52 deg 30 min North"

// notes are those of a camera held so, with a place, and long ones before the orientation.
func notes(order binary.AppendByteOrder, orientation int) []byte {
	var b []byte
	if order.String() == "LittleEndian" {
		b = append(b, "II*\x00"...)
	} else {
		b = append(b, "MM\x00*"...)
	}
	b = order.AppendUint32(b, 8) // the first list begins here
	b = order.AppendUint16(b, 3)
	entry := func(tag, kind uint16, count uint32, value []byte) {
		b = order.AppendUint16(b, tag)
		b = order.AppendUint16(b, kind)
		b = order.AppendUint32(b, count)
		b = append(b, append(value, 0, 0, 0, 0)[:4]...)
	}
	entry(0x010f, 2, 4, []byte("Cam\x00")) // the maker
	entry(0x0112, 3, 1, order.AppendUint16(nil, uint16(orientation)))
	entry(0x8825, 4, 1, order.AppendUint32(nil, 50)) // the place
	b = order.AppendUint32(b, 0)
	return append(b, place...)
}

// withNotes puts a camera's notes into a JPEG, after another segment as cameras do.
func withNotes(jpg, notes []byte) []byte {
	segment := func(marker byte, body []byte) []byte {
		out := []byte{0xff, marker}
		out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
		return append(out, body...)
	}
	out := append([]byte{}, jpg[:2]...)
	out = append(out, segment(0xe0, []byte("JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"))...)
	out = append(out, 0xff) // filling
	out = append(out, segment(0xe1, append([]byte("Exif\x00\x00"), notes...))...)
	return append(out, jpg[2:]...)
}

// read reads a photograph and decodes what would be kept of it.
func read(t testing.TB, data []byte) (kept []byte, img image.Image) {
	t.Helper()
	p, err := photo.Read(bytes.NewReader(data), photo.Limits{})
	require.NoError(t, err)
	kept, err = p.JPEG(photo.KeepSide)
	require.NoError(t, err)
	img, err = jpeg.Decode(bytes.NewReader(kept))
	require.NoError(t, err)
	w, h := p.Size()
	require.Equal(t, image.Pt(w, h), img.Bounds().Size())
	return kept, img
}

// showsCorners asserts that the corners of img are those of the function corners.
func showsCorners(t testing.TB, img image.Image, what string) {
	t.Helper()
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	for at, want := range map[image.Point]color.RGBA{
		{w / 8, h / 8}: {255, 0, 0, 255}, {w * 7 / 8, h / 8}: {0, 255, 0, 255},
		{w * 7 / 8, h * 7 / 8}: {0, 0, 255, 255}, {w / 8, h * 7 / 8}: {0, 0, 0, 255},
	} {
		r, g, b, _ := img.At(at.X, at.Y).RGBA()
		assert.InDelta(t, want.R, r>>8, 40, "%s at %v", what, at)
		assert.InDelta(t, want.G, g>>8, 40, "%s at %v", what, at)
		assert.InDelta(t, want.B, b>>8, 40, "%s at %v", what, at)
	}
}

// Where the first row and the first column of a picture as written lie in the picture as seen, by
// JEITA CP-3451 (Exif), the table of the orientation.
var orientations = [][2]string{1: {"top", "left"}, {"top", "right"}, {"bottom", "right"}, {"bottom", "left"},
	{"left", "top"}, {"right", "top"}, {"right", "bottom"}, {"left", "bottom"}}

// written is the picture seen as a camera held so writes it, from that table alone.
func written(seen *image.RGBA, orientation int) *image.RGBA {
	w, h := seen.Bounds().Dx(), seen.Bounds().Dy()
	row, col := orientations[orientation][0], orientations[orientation][1]
	rows, cols := h, w
	if row == "left" || row == "right" {
		rows, cols = w, h
	}
	out := image.NewRGBA(image.Rect(0, 0, cols, rows))
	for r := range rows {
		for c := range cols {
			var x, y int
			for _, s := range []struct {
				side string
				n    int
			}{{row, r}, {col, c}} {
				switch s.side {
				case "top":
					y = s.n
				case "bottom":
					y = h - 1 - s.n
				case "left":
					x = s.n
				case "right":
					x = w - 1 - s.n
				}
			}
			out.SetRGBA(c, r, seen.RGBAAt(x, y))
		}
	}
	return out
}

func TestAPhotographIsTurnedUprightHoweverTheCameraWasHeld(t *testing.T) {
	seen := corners(96, 48)
	for o := 1; o <= 8; o++ {
		stored := written(seen, o)
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			n := notes(order, o)
			for name, data := range map[string][]byte{
				"JPEG": withNotes(jpegOf(t, stored), n), "PNG": pngWithNotes(t, stored, n),
			} {
				_, img := read(t, data)
				what := fmt.Sprint(name, " ", o, " ", order)
				assert.Equal(t, image.Pt(96, 48), img.Bounds().Size(), what)
				showsCorners(t, img, what)
			}
		}
	}
	// A picture that is made smaller is turned as well.
	_, img := read(t, withNotes(jpegOf(t, written(corners(4000, 2000), 6)), notes(binary.BigEndian, 6)))
	assert.Equal(t, image.Pt(1600, 800), img.Bounds().Size())
	showsCorners(t, img, "large")
}

// pngWithNotes puts a camera's notes into a PNG behind its head.
func pngWithNotes(t testing.TB, img image.Image, notes []byte) []byte {
	const head = 8 + 25
	data := pngOf(t, img)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(notes)))
	chunk = append(chunk, "eXIf"...)
	chunk = append(chunk, notes...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return append(append(append([]byte{}, data[:head]...), chunk...), data[head:]...)
}

// webpWithNotes is the picture webpCorners with the head that lets a file carry a camera's notes.
func webpWithNotes(t testing.TB, notes []byte) []byte {
	plain, err := base64.StdEncoding.DecodeString(webpCorners)
	require.NoError(t, err)
	require.Equal(t, "VP8L", string(plain[12:16]))
	var b []byte
	b = append(b, "VP8X\x0a\x00\x00\x00\x08\x00\x00\x00"...) // with notes
	bits := binary.LittleEndian.Uint32(plain[21:])
	w, h := bits&0x3fff, bits>>14&0x3fff // each less one
	b = append(b, byte(w), byte(w>>8), 0, byte(h), byte(h>>8), 0)
	b = append(b, plain[12:]...)
	if len(b)%2 == 1 {
		b = append(b, 0)
	}
	b = append(b, "EXIF"...)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(notes)))
	b = append(b, notes...)
	out := append([]byte("RIFF"), binary.LittleEndian.AppendUint32(nil, uint32(len(b)+4))...)
	return append(append(out, "WEBP"...), b...)
}

// webpCorners is the picture of corners, 24 by 12 pixels, as a lossless WebP.
const webpCorners = "UklGRlAAAABXRUJQVlA4TEMAAAAvF8ACACcgEEjaH3qN+RcQFPk/2vwHsqVsMMxG0iqswimcQv2l7ncEEf0XmyTu0R+7uzAz8wMAAAAAAC5Ikhu07YsCAA=="

func TestAWebPIsReadAndTurnedUpright(t *testing.T) {
	for o := 1; o <= 8; o++ {
		_, img := read(t, webpWithNotes(t, notes(binary.LittleEndian, o)))
		seen := image.NewRGBA(img.Bounds())
		draw.Draw(seen, seen.Bounds(), img, image.Point{}, draw.Src)
		again := written(seen, o)
		assert.Equal(t, image.Pt(24, 12), again.Bounds().Size())
		showsCorners(t, again, fmt.Sprint("WebP ", o))
	}
}

func TestNothingOfTheCamerasNotesStays(t *testing.T) {
	img := corners(60, 40)
	n := notes(binary.LittleEndian, 6)
	for name, data := range map[string][]byte{
		"JPEG": withNotes(jpegOf(t, img), n), "PNG": pngWithNotes(t, img, n), "WebP": webpWithNotes(t, n),
	} {
		require.Contains(t, string(data), place, "%s: the test itself", name)
		kept, _ := read(t, data)
		for _, word := range []string{place, "Exif", "Cam\x00", "II*\x00", "MM\x00*"} {
			assert.NotContains(t, string(kept), word, name)
		}
		for rest := kept[2:]; rest[1] != 0xda; { // every segment before the picture
			assert.False(t, rest[1] >= 0xe0 && rest[1] <= 0xef || rest[1] == 0xfe, "%s: segment %x is none of the picture", name, rest[1])
			rest = rest[2+int(binary.BigEndian.Uint16(rest[2:])):]
		}
	}
}

func TestALargePhotographIsMadeSmallerAndASmallOneIsLeft(t *testing.T) {
	for _, c := range []struct{ w, h, wantW, wantH int }{
		{4032, 3024, 1600, 1200}, {3024, 4032, 1200, 1600}, {1600, 1200, 1600, 1200}, {1601, 1, 1600, 1},
		{640, 480, 640, 480}, {1, 1, 1, 1}, {1, 5000, 1, 1600}, {3199, 2000, 1600, 1000},
	} {
		_, img := read(t, jpegOf(t, image.NewGray(image.Rect(0, 0, c.w, c.h))))
		assert.Equal(t, image.Pt(c.wantW, c.wantH), img.Bounds().Size(), "%d by %d", c.w, c.h)
	}
	p, err := photo.Read(bytes.NewReader(jpegOf(t, corners(3000, 1500))), photo.Limits{})
	require.NoError(t, err)
	data, err := p.JPEG(photo.SheetSide)
	require.NoError(t, err)
	img, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	assert.Equal(t, image.Pt(900, 450), img.Bounds().Size())
	showsCorners(t, img, "sheet")
}

// Fine lines must come out as their mean and not as a pattern that was never there.
func TestMadeSmallerItKeepsTheMeanShade(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 3600, 2400))
	for i := range img.Pix {
		img.Pix[i] = uint8(i % 2 * 255)
	}
	_, out := read(t, pngOf(t, img))
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		g, _, _, _ := out.At(20+rnd.IntN(1500), 20+rnd.IntN(1000)).RGBA()
		assert.InDelta(t, 127, g>>8, 12)
	}
}

func TestWhatIsClearInAPictureIsWhite(t *testing.T) {
	_, img := read(t, pngOf(t, image.NewNRGBA(image.Rect(0, 0, 8, 8))))
	r, g, b, _ := img.At(4, 4).RGBA()
	assert.Equal(t, [3]uint32{255, 255, 255}, [3]uint32{r >> 8, g >> 8, b >> 8})
}

// bomb is a PNG of a few bytes that says it holds w by h pixels.
func bomb(w, h uint32) []byte {
	out := []byte("\x89PNG\r\n\x1a\n")
	head := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)...)
	head = append(head, 8, 6, 0, 0, 0)
	out = binary.BigEndian.AppendUint32(out, 13)
	out = append(out, head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

func TestWhatIsRefusedSaysWhatCameAndHowToMendIt(t *testing.T) {
	jpg := jpegOf(t, corners(300, 200))
	var g bytes.Buffer
	require.NoError(t, gif.Encode(&g, corners(10, 10), nil))
	deep := pngOf(t, image.NewNRGBA64(image.Rect(0, 0, 80, 80)))
	for name, c := range map[string]struct {
		data   []byte
		limits photo.Limits
		want   string
	}{
		"nothing":    {nil, photo.Limits{}, "the file is empty; expected a photograph as JPEG, PNG or WebP"},
		"words":      {[]byte("<script>alert(1)</script>"), photo.Limits{}, "the file is no picture that can be read; expected a photograph as JPEG, PNG or WebP"},
		"drawing":    {[]byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), photo.Limits{}, "the file is no picture that can be read; expected a photograph as JPEG, PNG or WebP"},
		"phone":      {[]byte("\x00\x00\x00\x18ftypheic\x00\x00"), photo.Limits{}, "the file is a HEIC or AVIF picture, or a film; expected a photograph as JPEG, PNG or WebP: set the camera of the phone to JPEG, or export the picture as JPEG"},
		"gif":        {g.Bytes(), photo.Limits{}, "the file is a GIF picture; expected a photograph as JPEG, PNG or WebP"},
		"too large":  {jpg, photo.Limits{Bytes: 1000}, "the photograph is larger than 1000 bytes; take it at a lower resolution, or send a smaller copy"},
		"too many":   {jpg, photo.Limits{Pixels: 59_999}, "the JPEG file says it holds 300 by 200 pixels; expected at most 59999 in all: send a smaller copy"},
		"deep":       {deep, photo.Limits{Pixels: 12_000}, "the PNG file says it holds 80 by 80 pixels; expected at most 6000 in all: send a smaller copy"},
		"bomb":       {bomb(60_000, 60_000), photo.Limits{}, "the PNG file says it holds 60000 by 60000 pixels; expected at most 50 million in all: send a smaller copy"},
		"widest":     {bomb(1<<31-1, 1<<31-1), photo.Limits{}, ""},
		"cut short":  {jpg[:len(jpg)/2], photo.Limits{}, "the JPEG file is cut short; send it again"},
		"head only":  {jpg[:3], photo.Limits{}, "the JPEG file is cut short; send it again"},
		"head wrong": {append([]byte("\xff\xd8\xff"), strings.Repeat("x", 100)...), photo.Limits{}, "the JPEG file cannot be read (invalid JPEG format: "},
	} {
		_, err := photo.Read(bytes.NewReader(c.data), c.limits)
		require.ErrorContains(t, err, c.want, name)
	}
	_, err := photo.Read(bytes.NewReader(jpg), photo.Limits{Pixels: 60_000, Bytes: int64(len(jpg))})
	require.NoError(t, err, "and just within the limits it is read")
}

func TestAPhotographCutShortAnywhereIsRefusedAndNeverHalfTaken(t *testing.T) {
	for _, data := range [][]byte{jpegOf(t, corners(64, 64)), pngOf(t, corners(64, 64))} {
		for n := 0; n < len(data)-12; n += 7 { // the last bytes only say that it ends
			_, err := photo.Read(bytes.NewReader(data[:n]), photo.Limits{})
			require.Error(t, err, "%d of %d bytes", n, len(data))
		}
	}
}

// Whatever the bytes, reading ends with a picture or an error, and what is kept is small and bare.
func FuzzRead(f *testing.F) {
	n := notes(binary.BigEndian, 8)
	f.Add(withNotes(jpegOf(f, corners(9, 6)), n))
	f.Add(pngWithNotes(f, corners(9, 6), n))
	f.Add(webpWithNotes(f, n))
	f.Add([]byte("\x00\x00\x00\x18ftypheic"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := photo.Read(bytes.NewReader(data), photo.Limits{Pixels: 100_000, Bytes: 1 << 16})
		if err != nil {
			if p != nil || err.Error() == "" {
				t.Fatal("a photograph and an error, or an error without words")
			}
			return
		}
		out, err := p.JPEG(300)
		require.NoError(t, err)
		img, err := jpeg.Decode(bytes.NewReader(out))
		require.NoError(t, err)
		s := img.Bounds().Size()
		require.LessOrEqual(t, max(s.X, s.Y), 300)
		require.Positive(t, min(s.X, s.Y))
	})
}

// The camera's notes may be anything at all.
func FuzzNotes(f *testing.F) {
	f.Add(notes(binary.LittleEndian, 3))
	f.Add(notes(binary.BigEndian, 9))
	f.Add([]byte("II*\x00\xff\xff\xff\xff"))
	f.Add([]byte("MM\x00*\x00\x00\x00\x08\xff\xff"))
	stored := jpegOf(f, corners(12, 6))
	f.Fuzz(func(t *testing.T, n []byte) {
		if len(n) > 60_000 {
			return
		}
		p, err := photo.Read(bytes.NewReader(withNotes(stored, n)), photo.Limits{})
		require.NoError(t, err)
		w, h := p.Size()
		require.Equal(t, 18, w+h)
	})
}

func BenchmarkAPhonesPhotograph(b *testing.B) {
	img := image.NewYCbCr(image.Rect(0, 0, 4032, 3024), image.YCbCrSubsampleRatio420)
	rnd := rand.New(rand.NewPCG(1, 2))
	for i := range img.Y {
		img.Y[i] = uint8(100 + rnd.IntN(40))
	}
	data := jpegOf(b, img)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := photo.Read(bytes.NewReader(data), photo.Limits{}); err != nil {
			b.Fatal(err)
		}
	}
}

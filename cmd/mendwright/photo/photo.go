// Package photo takes in photographs of a piece: it makes sure that they are pictures, turns them
// upright, makes them small enough to keep, and writes them anew, so that where and when they were
// taken does not stay in them. It keeps them in a folder beside the job.
package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"sync"

	"golang.org/x/image/draw"
	"golang.org/x/image/webp"
)

// The longest sides of photographs, in pixels.
const (
	KeepSide  = 1600 // as they are kept
	SheetSide = 900  // as they stand on a printed sheet
)

// Limits bound what is read. The zero Limits are 20 MB and 50 million pixels.
type Limits struct {
	Bytes  int64
	Pixels int
}

func (l Limits) sound() Limits {
	if l.Bytes <= 0 {
		l.Bytes = 20 << 20
	}
	if l.Pixels <= 0 {
		l.Pixels = 50_000_000
	}
	return l
}

// Photo is a photograph, upright, at most KeepSide pixels long, with nothing but its pixels.
type Photo struct {
	pixels *image.RGBA
}

// Size is the width and height in pixels.
func (p *Photo) Size() (width, height int) {
	b := p.pixels.Bounds()
	return b.Dx(), b.Dy()
}

// JPEG is the photograph as a file, its longest side at most side pixels. It is never made larger.
func (p *Photo) JPEG(side int) ([]byte, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, shrink(p.pixels, side), &jpeg.Options{Quality: 85}); err != nil {
		return nil, fmt.Errorf("writing the photograph: %w", err)
	}
	return b.Bytes(), nil
}

// format is a kind of picture file that is read.
type format struct {
	name   string
	is     func(data []byte) bool
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
	exif   func(data []byte) []byte // the block of notes of the camera, or nil
}

var formats = []format{
	{"JPEG", begins("\xff\xd8\xff", 0), jpeg.DecodeConfig, jpeg.Decode, exifOfJPEG},
	{"PNG", begins("\x89PNG\r\n\x1a\n", 0), png.DecodeConfig, png.Decode, exifOfPNG},
	{"WebP", begins("WEBP", 8), webp.DecodeConfig, webp.Decode, exifOfWebP},
}

// begins tells a file by its first bytes; at is where they stand.
func begins(mark string, at int) func([]byte) bool {
	return func(data []byte) bool { return len(data) >= at && bytes.HasPrefix(data[at:], []byte(mark)) }
}

// Expected says which files are read; errors end with it.
const Expected = "expected a photograph as JPEG, PNG or WebP"

// decoding lets one picture at a time be unpacked: a large one takes hundreds of megabytes.
var decoding sync.Mutex

// Read reads a photograph. An error says what came instead, and what to do about it; pixels are
// counted before any is unpacked.
func Read(r io.Reader, limits Limits) (*Photo, error) {
	limits = limits.sound()
	data, err := io.ReadAll(io.LimitReader(r, limits.Bytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the photograph: %w", err)
	}
	if int64(len(data)) > limits.Bytes {
		return nil, fmt.Errorf("the photograph is larger than %s; take it at a lower resolution, or send a smaller copy", megabytes(limits.Bytes))
	}
	f, err := formatOf(data)
	if err != nil {
		return nil, err
	}
	conf, err := f.config(bytes.NewReader(data))
	if err != nil {
		return nil, broken(f, err)
	}
	if conf.Width <= 0 || conf.Height <= 0 {
		return nil, fmt.Errorf("the %s file holds a picture of %d by %d pixels; take the photograph again", f.name, conf.Width, conf.Height)
	}
	// A pixel with 16 bits to the colour takes twice the room.
	most := limits.Pixels
	if conf.ColorModel == color.NRGBA64Model || conf.ColorModel == color.RGBA64Model {
		most /= 2
	}
	if conf.Width > most/conf.Height {
		return nil, fmt.Errorf("the %s file says it holds %d by %d pixels; expected at most %s in all: send a smaller copy", f.name, conf.Width, conf.Height, millions(most))
	}
	decoding.Lock()
	defer decoding.Unlock()
	img, err := f.decode(bytes.NewReader(data))
	if err != nil {
		return nil, broken(f, err)
	}
	return &Photo{turn(shrink(img, KeepSide), orientation(f.exif(data)))}, nil
}

func megabytes(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d bytes", n)
	}
	return fmt.Sprintf("%d MB", n>>20)
}

func millions(n int) string {
	if n < 1_000_000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d million", n/1_000_000)
}

// formatOf tells the file by its beginning, never by its name.
func formatOf(data []byte) (format, error) {
	if len(data) == 0 {
		return format{}, errors.New("the file is empty; " + Expected)
	}
	for _, f := range formats {
		if f.is(data) {
			return f, nil
		}
	}
	if begins("ftyp", 4)(data) {
		return format{}, errors.New("the file is a HEIC or AVIF picture, or a film; " + Expected + ": set the camera of the phone to JPEG, or export the picture as JPEG")
	}
	if begins("GIF8", 0)(data) {
		return format{}, errors.New("the file is a GIF picture; " + Expected)
	}
	return format{}, errors.New("the file is no picture that can be read; " + Expected)
}

func broken(f format, err error) error {
	// The second is what the library says of a JPEG that ends within its pixels.
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) || errors.Is(err, jpeg.FormatError("short Huffman data")) {
		return fmt.Errorf("the %s file is cut short; send it again", f.name)
	}
	return fmt.Errorf("the %s file cannot be read (%w); take the photograph again, or export it as JPEG", f.name, err)
}

// shrink returns img with its longest side at most side pixels, on white where it is clear. Whole
// blocks of pixels are averaged first: that takes little room however large the picture is.
func shrink(img image.Image, side int) *image.RGBA {
	b := img.Bounds()
	long := max(b.Dx(), b.Dy())
	side = max(side, 1)
	out := average(img, max(long/side, 1))
	if b = out.Bounds(); max(b.Dx(), b.Dy()) <= side {
		return out
	}
	long = max(b.Dx(), b.Dy())
	small := image.NewRGBA(image.Rect(0, 0, max(b.Dx()*side/long, 1), max(b.Dy()*side/long, 1)))
	draw.CatmullRom.Scale(small, small.Bounds(), out, b, draw.Src, nil)
	return small
}

// average makes one pixel of each block of n by n. Rows and columns left over at the far edges,
// fewer than n, are dropped unless there is nothing else.
func average(img image.Image, n int) *image.RGBA {
	b := img.Bounds()
	w, h := max(b.Dx()/n, 1), max(b.Dy()/n, 1)
	nx, ny := min(n, b.Dx()), min(n, b.Dy())
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	strip := image.NewRGBA(image.Rect(0, 0, w*nx, ny))
	for y := range h {
		draw.Draw(strip, strip.Bounds(), image.White, image.Point{}, draw.Src)
		draw.Draw(strip, strip.Bounds(), img, image.Pt(b.Min.X, b.Min.Y+y*ny), draw.Over)
		for x := range w {
			var sum [3]int
			for v := range ny {
				row := strip.Pix[v*strip.Stride+x*nx*4:]
				for u := range nx {
					sum[0] += int(row[u*4])
					sum[1] += int(row[u*4+1])
					sum[2] += int(row[u*4+2])
				}
			}
			count := nx * ny
			out.SetRGBA(x, y, color.RGBA{uint8((sum[0] + count/2) / count), uint8((sum[1] + count/2) / count), uint8((sum[2] + count/2) / count), 255})
		}
	}
	return out
}

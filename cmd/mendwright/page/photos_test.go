package page_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/page"
)

// upload sends a file as the form of a mark does.
func (b *bench) upload(path, name string, data []byte) *bench {
	b.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	w, err := form.CreateFormFile("photo", name)
	require.NoError(b.t, err)
	_, err = w.Write(data)
	require.NoError(b.t, err)
	require.NoError(b.t, form.Close())
	b.send(http.MethodPost, path, body.String(), map[string]string{"Content-Type": form.FormDataContentType(), "Origin": b.server.URL})
	return b
}

// snapshot is a photograph of w by h pixels that its camera noted a place in.
func snapshot(t testing.TB, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			img.Set(x, y, color.RGBA{uint8(x), uint8(y), 90, 255})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, nil))
	exif := append([]byte("Exif\x00\x00"), []byte("II*\x00\x08\x00\x00\x00\x00\x00\x00\x00\x00\x00GPS at 51.5 north")...)
	segment := append([]byte{0xff, 0xe1, 0, 0}, exif...)
	binary.BigEndian.PutUint16(segment[2:], uint16(len(exif)+2))
	out := append([]byte{}, b.Bytes()[:2]...)
	out = append(out, segment...)
	return append(out, b.Bytes()[2:]...)
}

const marked = "/jobs/stool/marks/ring"

func TestAPhotographIsKeptBesideTheJob(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	b.upload(marked+"/photos", "../../IMG 1.JPG", snapshot(t, 2400, 1200))
	require.Equal(t, http.StatusOK, b.code, b.main())
	b.shows(`alt="Photograph 1 of ring"`)
	kept, err := filepath.Glob(filepath.Join(b.dir, "stool-photos", "*.jpg"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	assert.Contains(t, b.file("stool.yaml"), "photos:")
	data, err := os.ReadFile(kept[0])
	require.NoError(t, err)
	assert.NotContains(t, string(data), "GPS", "the place is gone")
	size, err := jpeg.DecodeConfig(bytes.NewReader(data))
	require.NoError(t, err)
	assert.Equal(t, 1600, size.Width)

	b.get("/jobs/stool/photos/stool-photos%2F" + filepath.Base(kept[0]))
	assert.Equal(t, http.StatusOK, b.code)
	assert.Equal(t, string(data), b.seen)
	b.upload(marked+"/photos", "IMG 1.JPG", snapshot(t, 20, 10))
	b.shows(`alt="Photograph 2 of ring"`)
}

func TestWhatIsNoPhotographIsNotKept(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	for name, data := range map[string][]byte{
		"a page":  []byte("<html><script>alert(1)</script></html>"),
		"nothing": {},
		"half":    snapshot(t, 60, 60)[:200],
		"a bomb":  bomb(),
	} {
		b.upload(marked+"/photos", "x.jpg", data)
		assert.Equal(t, http.StatusBadRequest, b.code, name)
		assert.Equal(t, stool, b.file("stool.yaml"), name)
	}
	b.upload(marked+"/photos", "x.jpg", bytes.Repeat([]byte{0xff}, 22<<20))
	assert.Equal(t, http.StatusRequestEntityTooLarge, b.code)
	assert.NoDirExists(t, filepath.Join(b.dir, "stool-photos"))
	b.upload("/jobs/stool/marks/none/photos", "x.jpg", snapshot(t, 20, 10))
	assert.Equal(t, http.StatusNotFound, b.code)
	b.upload(marked+"/ask/defect.form", "x.jpg", bytes.Repeat([]byte{0xff}, 1<<20))
	assert.NotEqual(t, http.StatusOK, b.code, "no other form takes a file")
}

// bomb is a PNG of a few bytes that says it has ten thousand million pixels.
func bomb() []byte {
	head := []byte("IHDR\x00\x01\x86\xa0\x00\x01\x86\xa0\x08\x06\x00\x00\x00")
	out := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

// TestAJobFileShowsNoFileButPicturesOfItsFolder, whatever it names as a photograph.
func TestAJobFileShowsNoFileButPicturesOfItsFolder(t *testing.T) {
	dir := t.TempDir()
	inside := filepath.Join(dir, "jobs")
	require.NoError(t, os.MkdirAll(inside, 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "secret.jpg"), snapshot(t, 20, 10), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(inside, "page.html"), []byte("<html><script>alert(1)</script>"), 0o600))
	require.NoError(t, os.Symlink(filepath.Join(dir, "secret.jpg"), filepath.Join(inside, "link.jpg")))
	named := []string{"../secret.jpg", filepath.Join(dir, "secret.jpg"), "link.jpg", "page.html", "none.jpg", "..", "."}
	job := strings.Replace(stool, "on: seat}", "on: seat, photos: ["+strings.Join(named, ", ")+"]}", 1)
	require.NoError(t, os.WriteFile(filepath.Join(inside, "stool.yaml"), []byte(job), 0o600))
	b := open(t, inside)
	b.get(marked)
	require.Equal(t, http.StatusOK, b.code)
	for _, name := range named {
		b.get(page.PathOf("jobs", "stool", "photos", name))
		assert.Equal(t, http.StatusNotFound, b.code, name)
	}
	b.get("/jobs/stool/photos/stool.yaml")
	assert.Equal(t, http.StatusNotFound, b.code, "nor what it does not name")
}

package sheet_test

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/photo"
	"mendwright/cmd/mendwright/sheet"
)

// photograph is a picture of w by h pixels, darker towards the right.
func photograph(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, color.Gray{uint8(255 - 200*x/w)})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, nil))
	return b.Bytes()
}

// beside opens what lies beside a job file.
func beside(job string) func(string) (io.ReadCloser, error) {
	return func(name string) (io.ReadCloser, error) { return photo.Open(job, name) }
}

func TestPhotographsStandInTheSheetSmallAndNamed(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "desk.yaml")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "whole.jpg"), photograph(t, 2400, 1800), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "dent.jpg"), photograph(t, 300, 400), 0o600))

	in := inputOf(t, filepath.Join(jobs, "plan-writing-desk.yaml"))
	in.File.Photos = []jobfile.Photo{{Subject: "piece", Of: "piece", Name: "whole.jpg"}, {Subject: "surface", Of: "top", Name: "whole.jpg"}}
	for range 5 {
		in.File.Photos = append(in.File.Photos, jobfile.Photo{Subject: "defect", Of: "dent", Name: "dent.jpg"})
	}
	var err error
	in.Photos, err = sheet.PhotosOf(in.File, beside(job))
	require.NoError(t, err)

	doc, _ := pageOf(t, in)
	sound(t, doc)
	var alts []string
	for _, img := range all(doc, "img") {
		alts = append(alts, attr(img, "alt"))
		data, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(attr(img, "src"), "data:image/jpeg;base64,"))
		require.NoError(t, err)
		conf, err := jpeg.DecodeConfig(bytes.NewReader(data))
		require.NoError(t, err)
		assert.LessOrEqual(t, max(conf.Width, conf.Height), photo.SheetSide)
	}
	assert.Equal(t, []string{"Photograph of the piece", "Photograph of the surface top",
		"Photograph of the mark dent, 1 of 3", "Photograph of the mark dent, 2 of 3", "Photograph of the mark dent, 3 of 3"}, alts)
}

func TestWhatIsNoPictureIsRefusedByItsName(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "desk.yaml")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "note.jpg"), []byte("<svg onload='alert(1)'/>"), 0o600))
	for _, c := range []struct{ name, says string }{
		{"note.jpg", "no picture that can be read"},
		{"gone.jpg", "not there"},
		{"../desk.jpg", "no name of a photograph"},
	} {
		_, err := sheet.PhotosOf(&jobfile.File{Photos: []jobfile.Photo{{Subject: "piece", Of: "piece", Name: c.name}}}, beside(job))
		require.ErrorContains(t, err, c.says)
		assert.ErrorContains(t, err, c.name)
	}
}

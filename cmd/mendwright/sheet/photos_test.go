package sheet_test

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

func TestPhotographsStandInTheSheetSmallAndNamed(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "desk.yaml")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "whole.jpg"), photograph(t, 2400, 1800), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "dent.jpg"), photograph(t, 300, 400), 0o600))

	in := inputOf(t, filepath.Join(jobs, "plan-writing-desk.yaml"))
	piece, err := sheet.Load(job, []string{"whole.jpg"})
	require.NoError(t, err)
	dent, err := sheet.Load(job, []string{"dent.jpg", "dent.jpg"})
	require.NoError(t, err)
	in.Photos = sheet.Photos{Piece: piece, Marks: map[string][][]byte{"dent": dent}}

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
	assert.Equal(t, []string{"Photograph of the piece", "Photograph of the mark dent, 1 of 2", "Photograph of the mark dent, 2 of 2"}, alts)
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
		_, err := sheet.Load(job, []string{c.name})
		require.ErrorContains(t, err, c.says)
		assert.ErrorContains(t, err, c.name)
	}
}

package sheet

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/photo"
)

// Photos are photographs as JPEG files, of the things that a job file names. The zero Photos are none.
type Photos map[Thing][][]byte

// Thing is what a photograph shows, as jobfile.Photo has it.
type Thing struct{ Subject, Of string }

// mostPhotos is how many photographs of one thing stand on a sheet, the first ones.
const mostPhotos = 3

// PhotosOf reads the photographs that a job file names, small enough for a sheet; open opens one by its name. The
// error says which one is no picture, or not there.
func PhotosOf(file *jobfile.File, open func(name string) (io.ReadCloser, error)) (Photos, error) {
	out := Photos{}
	for _, p := range file.Photos {
		thing := Thing{p.Subject, p.Of}
		if len(out[thing]) == mostPhotos {
			continue
		}
		data, err := small(p.Name, open)
		if err != nil {
			return nil, err
		}
		out[thing] = append(out[thing], data)
	}
	return out, nil
}

func small(name string, open func(name string) (io.ReadCloser, error)) ([]byte, error) {
	f, err := open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p, err := photo.Read(f, photo.Limits{})
	if err != nil {
		return nil, fmt.Errorf("the photograph %q: %w", name, err)
	}
	return p.JPEG(photo.SheetSide)
}

// picture is a photograph in the page itself.
type picture struct {
	Src template.URL
	Alt string
}

// pictures are the photographs of a thing; called is what they are said to show.
func (p Photos) pictures(subject, of, called string) []picture {
	files := p[Thing{subject, of}]
	var out []picture
	for i, data := range files {
		pic := picture{Src: template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(data)), Alt: "Photograph of " + called}
		if len(files) > 1 {
			pic.Alt += fmt.Sprintf(", %d of %d", i+1, len(files))
		}
		out = append(out, pic)
	}
	return out
}

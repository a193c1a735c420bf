package sheet

import (
	"encoding/base64"
	"fmt"
	"html/template"

	"mendwright/cmd/mendwright/photo"
)

// Photos are JPEG files by what they show. The zero Photos are none.
type Photos struct {
	Piece    [][]byte
	Surfaces map[string][][]byte
	Marks    map[string][][]byte
}

// Load reads the photographs that the job file at job names, small enough for a sheet. The error says which one is
// no picture, or not there.
func Load(job string, names []string) ([][]byte, error) {
	var out [][]byte
	for _, name := range names {
		p, err := photo.Load(job, name, photo.Limits{})
		if err != nil {
			return nil, err
		}
		data, err := p.JPEG(photo.SheetSide)
		if err != nil {
			return nil, err
		}
		out = append(out, data)
	}
	return out, nil
}

// mostPhotos is how many photographs of one thing stand on the sheet.
const mostPhotos = 3

// picture is a photograph in the page itself.
type picture struct {
	Src template.URL
	Alt string
}

func pictures(files [][]byte, of string) []picture {
	var out []picture
	for i, data := range files[:min(len(files), mostPhotos)] {
		p := picture{Src: template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(data)), Alt: "Photograph of " + of}
		if len(files) > 1 {
			p.Alt += fmt.Sprintf(", %d of %d", i+1, len(files))
		}
		out = append(out, p)
	}
	return out
}

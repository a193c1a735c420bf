package page

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"time"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/photo"
)

// maxPhoto is the longest body of a photograph that is read, in bytes, with what a form puts around it.
const maxPhoto = 20<<20 + maxForm

// addPhoto takes in a photograph of a mark: upright, small, and without what the camera noted of place and
// time.
func (s *Server) addPhoto(r *request) error {
	_, _, mark, err := r.readMark()
	if err != nil {
		return err
	}
	// A phone sends a picture more slowly than a form. Where the connection knows no time, it waits as usual.
	_ = http.NewResponseController(r.w).SetReadDeadline(time.Now().Add(photoTime))
	p, err := s.received(r)
	if err != nil {
		return err
	}
	name, err := s.jobs.keep(r.name("job"), mark.ID, p)
	if err != nil {
		return err
	}
	if _, err := s.jobs.change(r.name("job"), func(d *jobfile.Doc) error { return d.AddPhoto("defect", mark.ID, name) }); err != nil {
		return err
	}
	return r.see(pathOf("jobs", r.name("job"), "marks", mark.ID) + "#photos")
}

// received reads the photograph of a form. One picture is unpacked at a time: each may take much memory.
func (s *Server) received(r *request) (*photo.Photo, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, sayError("No photograph came with the form. Choose one, then send it.")
	}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return nil, sayError("No photograph came with the form. Choose one, then send it.")
		}
		if err != nil {
			return nil, err
		}
		if part.FormName() != "photo" {
			continue
		}
		if part.FileName() == "" {
			return nil, sayError("No photograph was chosen. Choose one, then send it.")
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return nil, err
		}
		s.unpacking.Lock()
		defer s.unpacking.Unlock()
		p, err := photo.Read(bytes.NewReader(data), photo.Limits{})
		if err != nil {
			return nil, sayError(capital(err.Error()) + ".")
		}
		return p, nil
	}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// photo sends a photograph that the job file names.
func (s *Server) photo(r *request) error {
	_, file, err := r.read()
	if err != nil {
		return err
	}
	name := r.name("photo")
	if !slices.ContainsFunc(file.Photos, func(p jobfile.Photo) bool { return p.Name == name }) {
		return errNoPage
	}
	f, err := s.jobs.photo(r.name("job"), name)
	if err != nil {
		return fmt.Errorf("the photograph: %w", errNoPage)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxPhoto))
	if err != nil {
		return err
	}
	kind := http.DetectContentType(data)
	if !slices.Contains([]string{"image/jpeg", "image/png", "image/webp"}, kind) {
		return errNoPage // whatever a job file names, only pictures are shown
	}
	r.w.Header().Set("Content-Type", kind)
	r.w.Write(data) // who has gone away needs no answer
	return nil
}

// picture is a photograph on a page.
type picture struct{ Name, Alt string }

// photosOf are the photographs of a mark.
func photosOf(file *jobfile.File, mark string) []picture {
	var out []picture
	for _, p := range file.Photos {
		if p.Subject == "defect" && p.Of == mark {
			out = append(out, picture{p.Name, fmt.Sprintf("Photograph %d of %s", len(out)+1, mark)})
		}
	}
	return out
}

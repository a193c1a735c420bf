package photo

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
)

// mostOfAMark is how many photographs of one mark are kept.
const mostOfAMark = 999

// FileName names photograph n of a mark, from letters a to z, digits and hyphens only, whatever the
// mark is called. Two marks may get one name; Save then takes the next n.
func FileName(mark string, n int) string {
	var b strings.Builder
	for _, r := range strings.ToLower(mark) {
		switch {
		case b.Len() >= 40:
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	name := strings.TrimRight(b.String(), "-")
	if name == "" {
		name = "photo"
	}
	return name + "-" + strconv.Itoa(max(n, 1)) + ".jpg"
}

// Folder names the folder of the photographs of the job file at job; it lies beside that file.
func Folder(job string) string {
	base := filepath.Base(job)
	return strings.TrimSuffix(base, filepath.Ext(base)) + "-photos"
}

// Save keeps a photograph of a mark in the folder beside the job file at job, whole or not at all,
// and over nothing. It returns the name by which the job file may call it and Open finds it.
func Save(job, mark string, p *Photo) (string, error) {
	data, err := p.JPEG(KeepSide)
	if err != nil {
		return "", err
	}
	folder := Folder(job)
	dir, err := openFolder(filepath.Dir(job), folder)
	if err != nil {
		return "", err
	}
	defer dir.Close()
	temp, err := writeTemp(dir, data)
	if err != nil {
		return "", fmt.Errorf("writing into the folder %s: %w", folder, cause(err))
	}
	defer dir.Remove(temp) // gone already where it was renamed
	for n := 1; n <= mostOfAMark; n++ {
		name := FileName(mark, n)
		switch err := settle(dir, temp, name); {
		case errors.Is(err, fs.ErrExist):
			continue
		case err != nil:
			return "", fmt.Errorf("writing %s into the folder %s: %w", name, folder, cause(err))
		}
		// The name itself should last too. A disk that cannot confirm that is not at fault.
		if d, err := dir.Open("."); err == nil {
			_ = d.Sync()
			d.Close()
		}
		return path.Join(folder, name), nil
	}
	return "", fmt.Errorf("the folder %s holds %d photographs of this mark already; take some away", folder, mostOfAMark)
}

// openFolder opens the folder of that name in parent and makes it first where it is not there. A
// link is not followed, wherever it leads.
func openFolder(parent, name string) (*os.Root, error) {
	root, err := os.OpenRoot(parent)
	if err != nil {
		return nil, fmt.Errorf("the folder of the job: %w", err)
	}
	defer root.Close()
	if err := root.Mkdir(name, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("making the folder %s for photographs: %w", name, cause(err))
	}
	info, err := root.Lstat(name)
	if err != nil {
		return nil, fmt.Errorf("the folder %s for photographs: %w", name, cause(err))
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s is in the way: expected a folder for the photographs; rename it", name)
	}
	dir, err := root.OpenRoot(name)
	if err != nil {
		return nil, fmt.Errorf("the folder %s for photographs: %w", name, cause(err))
	}
	return dir, nil
}

// writeTemp writes data to a new file with a passing name, as far as the disk itself.
func writeTemp(dir *os.Root, data []byte) (name string, err error) {
	name = ".mendwright-" + rand.Text() + ".tmp"
	f, err := dir.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			f.Close()
			_ = dir.Remove(name)
		}
	}()
	if _, err := f.Write(data); err != nil {
		return "", err
	}
	if err := f.Sync(); err != nil {
		return "", err
	}
	return name, f.Close()
}

// link gives a file a second name; a test takes that away as some disks do.
var link = (*os.Root).Link

// settle gives the file temp its lasting name, unless something has that name: then the error is
// fs.ErrExist. Where a disk knows no second names, the name is taken with an empty file first.
func settle(dir *os.Root, temp, name string) error {
	err := link(dir, temp, name)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	f, err := dir.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	f.Close()
	if err := dir.Rename(temp, name); err != nil {
		_ = dir.Remove(name)
		return err
	}
	return nil
}

// Open opens a photograph that the job file at job names: a path with slashes from the folder of
// the job, which leads out of that folder neither by itself nor by a link.
func Open(job, name string) (io.ReadCloser, error) {
	if err := CheckName(name); err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(filepath.Dir(job))
	if err != nil {
		return nil, fmt.Errorf("the folder of the job: %w", err)
	}
	defer root.Close()
	local := filepath.FromSlash(name)
	// Opening a pipe would wait for a writer; so look first.
	info, err := root.Stat(local)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("the photograph %q is not there; put it back into the folder of the job, or take its name out of the job file: %w", name, fs.ErrNotExist)
	case err != nil:
		return nil, fmt.Errorf("the photograph %q: %w; it must lie in the folder of the job", name, cause(err))
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%q is no file; expected a photograph", name)
	}
	f, err := root.Open(local)
	if err != nil {
		return nil, fmt.Errorf("the photograph %q: %w", name, cause(err))
	}
	return f, nil
}

// CheckName says whether a job file may call a photograph by that name.
func CheckName(name string) error {
	if name == "" || !filepath.IsLocal(filepath.FromSlash(name)) || path.Clean(name) != name || strings.ContainsAny(name, "\\\x00:") {
		return fmt.Errorf("%q is no name of a photograph; expected a path with slashes from the folder of the job, without .. and such, as in %q", name, "desk-photos/ring-1.jpg")
	}
	return nil
}

// Load opens and reads a photograph that the job file at job names.
func Load(job, name string, limits Limits) (*Photo, error) {
	f, err := Open(job, name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p, err := Read(f, limits)
	if err != nil {
		return nil, fmt.Errorf("the photograph %q: %w", name, err)
	}
	return p, nil
}

// cause takes the path off an error: it names a passing file, or one that was named already.
func cause(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

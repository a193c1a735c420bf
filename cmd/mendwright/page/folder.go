package page

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/photo"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/knowledge"
)

// ending is that of a job file.
const ending = ".yaml"

// maxListed bounds the job files that are looked at.
const maxListed = 1000

// errNoJob says that the folder has no job file of the name asked for.
var errNoJob = errors.New("there is no such job in the folder")

// folder is where the job files are. A name that comes with a request is compared with what the folder
// lists and goes no further; nothing outside the folder, and no link out of it, is opened.
type folder struct {
	path string
	root *os.Root
	k    *knowledge.Loaded
	// saving lets one save happen at a time: the files of a folder are locked together, and whoever
	// finds the lock taken asks for it again only after a while.
	saving sync.Mutex

	mu    sync.Mutex
	known map[string]known // what was read of a file, by its name
}

// known is what a listing says of a job file as it was at a time.
type known struct {
	size  int64
	at    time.Time
	entry entry
}

// entry is a job file in the listing.
type entry struct {
	ID      string // its name without the ending
	Name    string // that of the piece, or ID
	Marks   int
	Problem string // why it cannot be read
	changed time.Time
}

func openFolder(path string, k *knowledge.Loaded) (*folder, error) {
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, fmt.Errorf("the folder of the jobs: %w", err)
	}
	return &folder{path: path, root: root, k: k, known: map[string]known{}}, nil
}

// plainName reports whether a name holds only letters, digits, spaces and - _ . and begins with a letter
// or digit.
func plainName(name string) bool {
	if len(name) == 0 || len(name) > 200 {
		return false
	}
	for i, r := range name {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && (i == 0 || !strings.ContainsRune(" -_.", r)) {
			return false
		}
	}
	return true
}

// files lists the names of the job files; others counts those whose names hold characters that the page
// does not take.
func (f *folder) files() (names []string, others int, err error) {
	dir, err := f.root.Open(".")
	if err != nil {
		return nil, 0, err
	}
	defer dir.Close()
	entries, err := dir.ReadDir(-1)
	if err != nil {
		return nil, 0, err
	}
	for _, e := range entries {
		switch {
		case !strings.HasSuffix(e.Name(), ending) || !e.Type().IsRegular() || strings.HasPrefix(e.Name(), "."):
		case !plainName(e.Name()) || len(names) == maxListed:
			others++
		default:
			names = append(names, e.Name())
		}
	}
	return names, others, nil
}

// list lists the jobs, the one changed last first.
func (f *folder) list() (jobs []entry, others int, err error) {
	names, others, err := f.files()
	if err != nil {
		return nil, 0, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, name := range names {
		info, err := f.root.Lstat(name)
		if err != nil {
			continue // taken away meanwhile
		}
		was, ok := f.known[name]
		if !ok || was.size != info.Size() || !was.at.Equal(info.ModTime()) {
			was = known{info.Size(), info.ModTime(), f.look(name)}
			was.entry.changed = info.ModTime()
			f.known[name] = was
		}
		jobs = append(jobs, was.entry)
	}
	slices.SortStableFunc(jobs, func(a, b entry) int { return b.changed.Compare(a.changed) })
	return jobs, others, nil
}

// look reads what the listing says of a job file.
func (f *folder) look(name string) entry {
	id := strings.TrimSuffix(name, ending)
	e := entry{ID: id, Name: id}
	doc, err := f.open(id)
	if err == nil {
		var file *jobfile.File
		if file, err = doc.Read(); err == nil {
			if file.Job.Name != "" {
				e.Name = file.Job.Name
			}
			e.Marks = len(file.Job.Defects)
		}
	}
	if err != nil {
		e.Problem = f.plain(err)
	}
	return e
}

// file is the path of the job called id. The error is errNoJob if the folder lists none.
func (f *folder) file(id string) (string, error) {
	names, _, err := f.files()
	if err != nil {
		return "", err
	}
	i := slices.Index(names, id+ending)
	if i < 0 {
		return "", errNoJob
	}
	return filepath.Join(f.path, names[i]), nil
}

// open opens the job called id. The error is errNoJob if the folder lists none.
func (f *folder) open(id string) (*jobfile.Doc, error) {
	path, err := f.file(id)
	if err != nil {
		return nil, err
	}
	doc, err := jobfile.Open(path, f.k.Book, f.k.Tables)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errNoJob
	}
	return doc, err
}

// begin makes a job file named after a piece and returns its id.
func (f *folder) begin(piece string) (string, error) {
	if strings.TrimSpace(piece) == "" {
		return "", errors.New("the piece needs a name; any word will do")
	}
	f.saving.Lock()
	defer f.saving.Unlock()
	base := sitting.FileName(piece)
	for n := 1; n < 10000; n++ {
		id := base
		if n > 1 {
			id = fmt.Sprintf("%s-%d", base, n)
		}
		if _, err := f.root.Lstat(id + ending); err == nil {
			continue
		}
		doc, err := jobfile.New(filepath.Join(f.path, id+ending), f.k.Book, f.k.Tables)
		if err == nil {
			err = doc.SetName(piece)
		}
		if err == nil {
			err = doc.Save()
		}
		if errors.Is(err, jobfile.ErrChanged) {
			continue // somebody else was as quick
		}
		return id, err
	}
	return "", fmt.Errorf("there are 9,999 jobs called %s already; choose another name", base)
}

// keep keeps a photograph of a mark beside the job called id and returns the name by which the job file
// may call it.
func (f *folder) keep(id, mark string, p *photo.Photo) (string, error) {
	path, err := f.file(id)
	if err != nil {
		return "", err
	}
	return photo.Save(path, mark, p)
}

// photo opens a photograph that the job called id names.
func (f *folder) photo(id, name string) (io.ReadCloser, error) {
	path, err := f.file(id)
	if err != nil {
		return nil, err
	}
	return photo.Open(path, name)
}

// change changes the job called id by do and saves it. Where another program saves in the same instant,
// do is done again on what that one wrote. The error of do has changed nothing.
func (f *folder) change(id string, do func(*jobfile.Doc) error) (*jobfile.Doc, error) {
	f.saving.Lock()
	defer f.saving.Unlock()
	for try := 0; ; try++ {
		doc, err := f.open(id)
		if err == nil {
			err = do(doc)
		}
		if err != nil {
			return nil, err
		}
		err = doc.Save()
		if errors.Is(err, jobfile.ErrChanged) && try < 5 {
			continue
		}
		return doc, err
	}
}

// plain is an error without the path of the folder, which is nobody's business on a page.
func (f *folder) plain(err error) string {
	return strings.NewReplacer(filepath.ToSlash(f.path)+"/", "", f.path+string(filepath.Separator), "", f.path, "the folder").Replace(err.Error())
}

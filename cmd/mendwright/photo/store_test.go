package photo_test

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/photo"
)

func picture(t testing.TB) *photo.Photo {
	t.Helper()
	p, err := photo.Read(bytes.NewReader(jpegOf(t, corners(40, 30))), photo.Limits{})
	require.NoError(t, err)
	return p
}

func TestTheNameOfAPhotographHasOnlyPlainCharacters(t *testing.T) {
	for mark, want := range map[string]string{
		"ring": "ring-2.jpg", "White Ring": "white-ring-2.jpg", "../../etc/passwd": "etc-passwd-2.jpg", "": "photo-2.jpg",
		"--": "photo-2.jpg", "a/b\\c\x00d": "a-b-c-d-2.jpg", "Kratzer größer": "kratzer-gr-er-2.jpg", "<script>": "script-2.jpg",
		".hidden": "hidden-2.jpg", "con": "con-2.jpg", strings.Repeat("x", 90): strings.Repeat("x", 40) + "-2.jpg",
	} {
		assert.Equal(t, want, photo.FileName(mark, 2), mark)
	}
	assert.Equal(t, "ring-1.jpg", photo.FileName("ring", 0))
}

func FuzzFileName(f *testing.F) {
	f.Add("../x", 3)
	f.Add("K", -1) // the Kelvin sign is no k until it is made small
	plain := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*-[1-9][0-9]*\.jpg$`)
	f.Fuzz(func(t *testing.T, mark string, n int) {
		if name := photo.FileName(mark, n); !plain.MatchString(name) || len(name) > 70 {
			t.Fatal(name)
		}
	})
}

func TestPhotographsAreKeptBesideTheJobAndNeverOverEachOther(t *testing.T) {
	for name, undo := range map[string]func() func(){
		"with second names": func() func() { return func() {} }, "without": photo.WithoutLinks,
	} {
		t.Run(name, func(t *testing.T) {
			defer undo()()
			dir := t.TempDir()
			job := filepath.Join(dir, "desk.yaml")
			p := picture(t)
			var names []string
			for _, mark := range []string{"white ring", "white-ring", "dent", "white ring"} {
				name, err := photo.Save(job, mark, p)
				require.NoError(t, err)
				names = append(names, name)
			}
			assert.Equal(t, []string{"desk-photos/white-ring-1.jpg", "desk-photos/white-ring-2.jpg", "desk-photos/dent-1.jpg", "desk-photos/white-ring-3.jpg"}, names)
			for _, name := range names {
				again, err := photo.Load(job, name, photo.Limits{})
				require.NoError(t, err)
				w, h := again.Size()
				assert.Equal(t, [2]int{40, 30}, [2]int{w, h})
			}
			entries, err := os.ReadDir(filepath.Join(dir, "desk-photos"))
			require.NoError(t, err)
			assert.Len(t, entries, 4, "nothing else is left")
		})
	}
}

func TestManyPhotographsAtOnceAreAllKept(t *testing.T) {
	job := filepath.Join(t.TempDir(), "desk.yaml")
	p := picture(t)
	var wg sync.WaitGroup
	names := make([]string, 24)
	for i := range names {
		wg.Go(func() {
			var err error
			names[i], err = photo.Save(job, "dent", p)
			assert.NoError(t, err)
		})
	}
	wg.Wait()
	seen := map[string]bool{}
	for _, n := range names {
		assert.False(t, seen[n], n)
		seen[n] = true
		_, err := photo.Load(job, n, photo.Limits{})
		assert.NoError(t, err)
	}
}

func TestNoLinkLeadsASavedPhotographOutOfTheFolder(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	job := filepath.Join(dir, "desk.yaml")
	require.NoError(t, os.Symlink(elsewhere, filepath.Join(dir, "desk-photos")))
	_, err := photo.Save(job, "dent", picture(t))
	require.EqualError(t, err, "desk-photos is in the way: expected a folder for the photographs; rename it")

	require.NoError(t, os.Remove(filepath.Join(dir, "desk-photos")))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "desk-photos"), 0o777))
	outside := filepath.Join(elsewhere, "kept.jpg")
	require.NoError(t, os.WriteFile(outside, []byte("a person's"), 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, "desk-photos", "dent-1.jpg")))
	name, err := photo.Save(job, "dent", picture(t))
	require.NoError(t, err)
	assert.Equal(t, "desk-photos/dent-2.jpg", name, "a link has its name for itself")
	data, err := os.ReadFile(outside)
	require.NoError(t, err)
	assert.Equal(t, "a person's", string(data))
}

func TestAFolderThatCannotBeMadeIsSaid(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "desk-photos"), nil, 0o600))
	_, err := photo.Save(filepath.Join(dir, "desk.yaml"), "dent", picture(t))
	require.EqualError(t, err, "desk-photos is in the way: expected a folder for the photographs; rename it")
	_, err = photo.Save(filepath.Join(dir, "gone", "desk.yaml"), "dent", picture(t))
	require.ErrorIs(t, err, fs.ErrNotExist)
}

func TestOnlyPhotographsInTheFolderOfTheJobAreOpened(t *testing.T) {
	dir := t.TempDir()
	home := filepath.Join(dir, "jobs")
	require.NoError(t, os.MkdirAll(filepath.Join(home, "old"), 0o777))
	job := filepath.Join(home, "desk.yaml")
	secret := filepath.Join(dir, "secret.jpg")
	require.NoError(t, os.WriteFile(secret, []byte("secret"), 0o600))
	for name, to := range map[string]string{"out.jpg": secret, "up.jpg": "../secret.jpg", "old/up.jpg": "../../secret.jpg", "way": dir, "in.jpg": "old/a.jpg"} {
		require.NoError(t, os.Symlink(to, filepath.Join(home, filepath.FromSlash(name))))
	}
	require.NoError(t, os.WriteFile(filepath.Join(home, "old", "a.jpg"), []byte("a picture"), 0o600))

	for _, name := range []string{"", ".", "..", "../secret.jpg", "old/../../secret.jpg", secret, "/etc/passwd", `..\secret.jpg`, `C:\secret.jpg`,
		"old/./a.jpg", "old//a.jpg", "old/", "a\x00.jpg", "C:secret.jpg", "out.jpg", "up.jpg", "old/up.jpg", "way/secret.jpg", "old", "missing.jpg"} {
		f, err := photo.Open(job, name)
		require.Error(t, err, name)
		require.Nil(t, f, name)
		assert.NotContains(t, err.Error(), dir+"/jobs", "%s: the error names no path of the machine", name)
	}
	for _, name := range []string{"old/a.jpg", "in.jpg"} {
		f, err := photo.Open(job, name)
		require.NoError(t, err, name)
		data, err := io.ReadAll(f)
		require.NoError(t, err)
		assert.Equal(t, "a picture", string(data))
		require.NoError(t, f.Close())
	}
	_, err := photo.Open(job, "old/b.jpg")
	require.EqualError(t, err, `the photograph "old/b.jpg" is not there; put it back into the folder of the job, or take its name out of the job file: file does not exist`)
	_, err = photo.Open(job, "up.jpg")
	require.EqualError(t, err, `the photograph "up.jpg": path escapes from parent; it must lie in the folder of the job`)
	_, err = photo.Load(job, "old/a.jpg", photo.Limits{})
	require.EqualError(t, err, `the photograph "old/a.jpg": the file is no picture that can be read; expected a photograph as JPEG, PNG or WebP`)
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"

	"mendwright/cmd/mendwright/jobfile/whole"
)

// writeMade writes a file that the program made, whole or not at all, in the place of one that it made before. A file
// there that does not begin as such files do is somebody's, and stays.
func writeMade(path string, data []byte, begins string) error {
	was, stamp, err := whole.Read(path, 64<<20)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("writing %s: %w", path, err)
	case !bytes.HasPrefix(was, []byte(begins)):
		return fmt.Errorf("%s is there already and was not made by this program; choose another name", path)
	}
	if _, err := whole.Write(path, data, stamp); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}

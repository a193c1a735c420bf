package main

import (
	"bytes"
	"fmt"
	"os"

	"mendwright/cmd/mendwright/jobfile/whole"
)

// maxMade bounds a file in whose place one is written, in bytes: a sheet holds photographs.
const maxMade = 1 << 30

// writeMade writes a file that the program made, whole or not at all; what stood there stays beside it as a backup. A
// file there that does not begin as said is somebody's, and stays. what begins an error.
func writeMade(what, path string, data []byte, begins string) error {
	var stamp whole.Stamp
	if _, err := os.Lstat(path); err == nil {
		var was []byte
		if was, stamp, err = whole.Read(path, maxMade); err != nil {
			return fmt.Errorf("%s %s: %w", what, path, err)
		}
		if !bytes.HasPrefix(was, []byte(begins)) {
			return fmt.Errorf("%s is there already and was not made by this program; choose another name", path)
		}
	}
	if _, err := whole.Write(path, data, stamp); err != nil {
		return fmt.Errorf("%s %s: %w", what, path, err)
	}
	return nil
}

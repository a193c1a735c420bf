package knowledge

import (
	"io/fs"

	"mendwright/engine/audit"
	"mendwright/engine/reckon"
	"mendwright/rules"
)

// Audit reads a rulebook whole, cases and all, and looks for what makes no sense in it. The error
// is every mistake of a rulebook that does not load.
func Audit(files fs.FS) (*audit.Report, error) {
	book, err := rules.Load(files)
	if err != nil {
		return nil, err
	}
	// The risk matrix, its bands and the chance of going through rest on these.
	cited := []string{"mil-std-882e", "mil-std-882d", "normal-table"}
	cited = append(cited, planned...)
	for _, c := range reckon.All() {
		cited = append(cited, c.Sources...)
	}
	return audit.Check(book, files, cited)
}

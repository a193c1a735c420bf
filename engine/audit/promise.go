package audit

import (
	"fmt"
	"io/fs"
	"regexp"
	"strings"

	"mendwright/rules/strictyaml"
)

// promises are the words that this program never uses. Addresses and the id of the stage
// make-safe promise nothing.
var (
	promises    = regexp.MustCompile(`(?i)\b(safe|safely|harmless|risk-free|guaranteed|non-toxic)\b`)
	noPromising = regexp.MustCompile(`https?://[^\s"']+|\bmake-safe\b`)
)

// Promised lists the words of a text that promise safety.
func Promised(text string) []string {
	return promises.FindAllString(noPromising.ReplaceAllStringFunc(text, blank), -1)
}

// blank keeps the length of what is left out.
func blank(s string) string { return strings.Repeat(" ", len(s)) }

// promises finds lines of the rule files that promise safety.
func (a *audit) promises(files fs.FS) error {
	return fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".yaml") {
			return err
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return fmt.Errorf("looking for promises in %s: %w", name, err)
		}
		if !promises.Match(data) { // most do not, and lines take time
			return nil
		}
		for i, line := range strings.Split(string(data), "\n") {
			masked := noPromising.ReplaceAllStringFunc(line, blank)
			for _, at := range promises.FindAllStringIndex(masked, -1) {
				e := &strictyaml.Error{File: name, Line: i + 1, Col: len([]rune(line[:at[0]])) + 1, Excerpt: line,
					Msg: fmt.Sprintf("%q promises what nobody can keep", line[at[0]:at[1]])}
				a.faults = append(a.faults, newFault("promise", e, Witness{}))
			}
		}
		return nil
	})
}

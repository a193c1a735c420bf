package strictyaml

import (
	"fmt"
	"sort"
	"strings"
	"unicode"
)

// Error is one mistake in a file: where it stands, what is wrong, and the line itself.
type Error struct {
	File    string
	Line    int // from 1; 0 when the mistake is the whole file's
	Col     int // from 1, in characters
	Msg     string
	Excerpt string
}

// Error shows the place, the message, and the offending line with a caret below it.
func (e *Error) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("%s: %s", e.File, e.Msg)
	}
	text, col := window(e.Excerpt, e.Col)
	return fmt.Sprintf("%s:%d:%d: %s\n    %s\n    %s^", e.File, e.Line, e.Col, e.Msg, text, strings.Repeat(" ", max(col-1, 0)))
}

// printable replaces what would steer a terminal or turn the reading order.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, s)
}

// window cuts a long line to what fits a narrow terminal around col.
func window(line string, col int) (string, int) {
	const width = 70
	line = printable(line)
	r := []rune(line)
	col = min(max(col, 1), len(r)+1)
	if len(r) <= width {
		return line, col
	}
	start := min(max(col-width/2, 0), len(r)-width)
	return string(r[start : start+width]), col - start
}

// Errors is every mistake of one load, sorted by place.
type Errors []*Error

// maxShown is how many mistakes Error prints, so that they fit one screen.
const maxShown = 8

// Error lists the first mistakes and counts the rest.
func (es Errors) Error() string {
	var b strings.Builder
	for i, e := range es {
		if i == maxShown {
			fmt.Fprintf(&b, "\n… and %d more", len(es)-maxShown)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(e.Error())
	}
	return b.String()
}

// Sorted returns the errors by file, line and column, or nil if there are none.
func (es Errors) Sorted() Errors {
	if len(es) == 0 {
		return nil
	}
	sort.SliceStable(es, func(i, j int) bool {
		a, b := es[i], es[j]
		if a.File != b.File {
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Col < b.Col
	})
	return es
}

// Nearest returns ` (did you mean "x"?)` for the name among known that is most like name, or ""
// if none is close.
func Nearest(name string, known []string) string {
	if len(name) > maxName {
		return ""
	}
	best, bestDist := "", 1+len(name)/3
	for _, k := range known {
		if d := distance(name, k); d < bestDist || (d == bestDist && best != "" && k < best) {
			best, bestDist = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf(" (did you mean %q?)", best)
}

// maxName is the longest name that is compared with others.
const maxName = 60

// distance counts the insertions, deletions, replacements and swaps of neighbours between a and b.
func distance(a, b string) int {
	if len(b) > maxName {
		return maxName
	}
	x, y := []rune(a), []rune(b)
	d := make([][]int, len(x)+1)
	for i := range d {
		d[i] = make([]int, len(y)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(x)][len(y)]
}

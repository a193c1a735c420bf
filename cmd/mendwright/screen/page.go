// Package screen writes answers as plain text fitted to the width of a terminal. Emphasis is
// used on a terminal only and never carries a meaning of its own.
package screen

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Page is a text being written.
type Page struct {
	W     io.Writer
	Width int  // in characters; below 40 counts as 40
	Bold  bool // whether headings may be set in bold
}

// Widths that text is fitted to: narrower than the least breaks every line, wider than the most
// is hard to read.
const (
	leastWidth = 40
	mostWidth  = 100
)

func (p *Page) width() int { return min(max(p.Width, leastWidth), mostWidth) }

// Blank ends a paragraph.
func (p *Page) Blank() { fmt.Fprintln(p.W) }

// Head writes a heading.
func (p *Page) Head(text string) {
	for _, line := range wrap(clean(text), p.width()) {
		fmt.Fprintln(p.W, p.strong(line))
	}
}

func (p *Page) strong(s string) string {
	if p.Bold {
		return "\x1b[1m" + s + "\x1b[0m"
	}
	return s
}

// Item writes text behind a label, with the lines after the first indented to the text. indent
// is the column of the label, col that of the text.
func (p *Page) Item(indent int, label string, col int, text string) {
	pad := strings.Repeat(" ", indent)
	lines := wrap(clean(text), p.width()-col)
	if utf8.RuneCountInString(label) >= col-indent && label != "" {
		fmt.Fprintln(p.W, pad+label)
		label = ""
	}
	for i, line := range lines {
		if i > 0 {
			label = ""
		}
		gap := strings.Repeat(" ", max(col-indent-utf8.RuneCountInString(label), 0))
		fmt.Fprintln(p.W, pad+label+gap+line)
	}
}

// Text writes a paragraph.
func (p *Page) Text(indent int, text string) { p.Item(indent, "", indent, text) }

// clean keeps what a person typed from steering the terminal.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			return ' '
		}
		return r
	}, s)
}

// wrap breaks text into lines of at most width characters, at spaces where there are any. A
// no-break space holds a number and its unit together and is printed as a space.
func wrap(text string, width int) []string {
	width = max(width, 10)
	var lines []string
	line := ""
	flush := func() {
		lines = append(lines, strings.ReplaceAll(line, "\u00a0", " "))
		line = ""
	}
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		for utf8.RuneCountInString(word) > width {
			if line != "" {
				flush()
			}
			r := []rune(word)
			line = string(r[:width])
			flush()
			word = string(r[width:])
		}
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			flush()
			line = word
		}
	}
	if line != "" || len(lines) == 0 {
		flush()
	}
	return lines
}

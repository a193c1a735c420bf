// Package screen writes answers as plain text fitted to the width of a terminal. Emphasis is
// used on a terminal only and never carries a meaning of its own.
package screen

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Page is a text being written.
type Page struct {
	W     io.Writer
	Width int  // in characters; below 40 counts as 40
	Bold  bool // whether headings may be set in bold
	// Into takes the entries instead of W, unwrapped, for who lays them out otherwise.
	Into func(Line)
}

// Line is one entry of a text: a heading, a paragraph, or a text behind a label.
type Line struct {
	Head        bool
	Indent      int // the column it begins at; 0 is the edge
	Label, Text string
}

// Lines are the entries that write writes.
func Lines(write func(*Page)) []Line {
	var out []Line
	write(&Page{Into: func(l Line) { out = append(out, l) }})
	return out
}

// leastText is the least room that a text is given beside its label.
const leastText = 20

// Widths that text is fitted to: narrower than the least breaks every line, wider than the most
// is hard to read.
const (
	leastWidth = 40
	mostWidth  = 100
)

func (p *Page) width() int { return min(max(p.Width, leastWidth), mostWidth) }

// Blank ends a paragraph.
func (p *Page) Blank() {
	if p.Into == nil {
		fmt.Fprintln(p.W)
	}
}

// Head writes a heading.
func (p *Page) Head(text string) {
	if p.Into != nil {
		p.Into(Line{Head: true, Text: text})
		return
	}
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
	if p.Into != nil {
		p.Into(Line{Indent: indent, Label: strings.TrimSpace(label), Text: text})
		return
	}
	// On a narrow terminal deep entries move left rather than off the edge.
	indent = min(indent, p.width()/2)
	col = max(min(col, p.width()-leastText), indent)
	pad := strings.Repeat(" ", indent)
	lines := wrap(clean(text), p.width()-col)
	if utf8.RuneCountInString(label) >= col-indent && label != "" {
		for _, line := range wrap(clean(label), p.width()-indent) {
			fmt.Fprintln(p.W, pad+line)
		}
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

// noBreak is the no-break space, which holds a number and its unit together.
const noBreak = '\u00a0'

// clean keeps what a person typed from steering the terminal.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) && r != noBreak && r != '\n' {
			return ' '
		}
		return r
	}, s)
}

// glued stands for a no-break space while text is cut into words.
const glued = "\x00"

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
	words := strings.Fields(strings.ReplaceAll(text, "\u00a0", glued))
	for i := 0; i < len(words); i++ {
		word := strings.ReplaceAll(words[i], glued, "\u00a0")
		if utf8.RuneCountInString(word) > width && strings.ContainsRune(word, noBreak) {
			// Too long to hold together: let it break where it was glued.
			words = slices.Insert(slices.Delete(words, i, i+1), i, strings.Split(word, "\u00a0")...)
			word = words[i]
		}
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

package strictyaml

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// source is the text of a file in which the values of its tree are found again: the library says
// where a value begins, and only the text says where it ends.
type source struct {
	data  []byte
	lines []int // offset of each line's first byte, by the library's idea of a line
}

func newSource(data []byte) *source {
	s := &source{data: data, lines: []int{0}}
	if bytes.HasPrefix(data, []byte("\ufeff")) {
		s.lines[0] = len("\ufeff") // a byte order mark stands in no column
	}
	for i := 0; i < len(data); {
		n := breakAt(data[i:])
		if n > 0 {
			s.lines = append(s.lines, i+n)
		}
		i += max(n, 1)
	}
	return s
}

// breakAt returns the length in bytes of the line break at the front of b, or 0.
func breakAt(b []byte) int {
	switch {
	case len(b) == 0:
	case b[0] == '\n':
		return 1
	case b[0] == '\r' && len(b) > 1 && b[1] == '\n':
		return 2
	case b[0] == '\r':
		return 1
	case b[0] == 0xc2 && bytes.HasPrefix(b, []byte("\u0085")):
		return 2
	case b[0] == 0xe2 && (bytes.HasPrefix(b, []byte("\u2028")) || bytes.HasPrefix(b, []byte("\u2029"))):
		return 3
	}
	return 0
}

// start is the offset at which the value n begins.
func (s *source) start(n *node) int {
	if n.Line < 1 || n.Line > len(s.lines) {
		return len(s.data)
	}
	at := s.lines[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(s.data[at:])
		at += size
	}
	return at
}

// end is the offset behind the last byte of the value n. under is the column, from 0, of the
// collection that holds it, by which a block of text is told from what follows it. If the text
// does not run as expected the result is some offset; whoever edits by it compares trees after.
func (s *source) end(n *node, under int) int {
	at := s.start(n)
	switch {
	case n.Kind != yaml.ScalarNode:
		return s.collectionEnd(n, at)
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for i := at + 1; i < len(s.data); i++ {
			if s.data[i] == '\\' {
				i++
			} else if s.data[i] == '"' {
				return i + 1
			}
		}
	case n.Style&yaml.SingleQuotedStyle != 0:
		for i := at + 1; i < len(s.data); i++ {
			if s.data[i] == '\'' && !bytes.HasPrefix(s.data[i:], []byte("''")) {
				return i + 1
			} else if s.data[i] == '\'' {
				i++
			}
		}
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return s.blockEnd(at, under)
	default:
		return s.plainEnd(at, n.Value)
	}
	return len(s.data)
}

func (s *source) collectionEnd(n *node, at int) int {
	end := at
	for i, c := range n.Content {
		end = max(end, s.end(c, n.Column-1))
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			end = s.colon(end)
		}
	}
	// A pair standing in a list, [a: b], is a mapping without brackets.
	if n.Style&yaml.FlowStyle == 0 || at >= len(s.data) || s.data[at] != '{' && s.data[at] != '[' {
		return end
	}
	if len(n.Content) == 0 {
		end++
	}
	for end < len(s.data) && s.data[end] != ']' && s.data[end] != '}' {
		if s.data[end] == '#' {
			end = s.lineEnd(end)
			continue
		}
		end++
	}
	return min(end+1, len(s.data))
}

// plainEnd follows the text of an unquoted value, whose lines are folded.
func (s *source) plainEnd(at int, value string) int {
	for value != "" {
		if value[0] == ' ' || value[0] == '\n' {
			next, broken := s.skipBlank(at)
			if broken {
				at = next
				if rest, ok := strings.CutPrefix(value, " "); ok {
					value = rest
				} else {
					value = strings.TrimLeft(value, "\n")
				}
				continue
			}
		}
		_, size := utf8.DecodeRuneInString(value)
		at, value = at+size, value[size:]
	}
	return min(at, len(s.data))
}

// skipBlank passes blanks and line breaks and reports whether there was a break.
func (s *source) skipBlank(at int) (next int, broken bool) {
	for at < len(s.data) {
		if n := breakAt(s.data[at:]); n > 0 {
			at, broken = at+n, true
		} else if s.data[at] == ' ' || s.data[at] == '\t' {
			at++
		} else {
			break
		}
	}
	return at, broken
}

// blockEnd is the end of a block of text (| or >) whose sign stands at at.
func (s *source) blockEnd(at, under int) int {
	head := s.data[at:s.lineEnd(at)]
	head, _, _ = bytes.Cut(head, []byte("#"))
	keep := bytes.IndexByte(head, '+') >= 0
	indent := -1
	if i := bytes.IndexAny(head, "123456789"); i >= 0 {
		indent = under + int(head[i]-'0')
	}
	end := s.lineEnd(at)
	for next := s.nextLine(end); next < len(s.data); next = s.nextLine(s.lineEnd(next)) {
		line := s.data[next:s.lineEnd(next)]
		text := bytes.TrimLeft(line, " ")
		if len(text) == 0 {
			if keep {
				end = s.lineEnd(next)
			}
			continue
		}
		if indent < 0 {
			indent = max(len(line)-len(text), under+1)
		}
		if len(line)-len(text) < indent {
			break
		}
		end = s.lineEnd(next)
	}
	return end
}

// colon is the offset behind the colon that follows a key ending at at.
func (s *source) colon(at int) int {
	for i := at; i < len(s.data); {
		next, _ := s.skipBlank(i)
		switch {
		case next < len(s.data) && s.data[next] == '#':
			i = s.lineEnd(next)
		case next < len(s.data) && s.data[next] == ':':
			return next + 1
		default:
			return at // a key alone
		}
	}
	return at
}

// lineEnd is the offset of the line break that ends the line of at, or the end of the file.
func (s *source) lineEnd(at int) int {
	for at < len(s.data) && breakAt(s.data[at:]) == 0 {
		at++
	}
	return at
}

// nextLine is the offset behind the line break at end.
func (s *source) nextLine(end int) int {
	if end >= len(s.data) {
		return len(s.data)
	}
	return end + breakAt(s.data[end:])
}

// lineStart is the offset of the first byte of the line of at.
func (s *source) lineStart(at int) int {
	i, found := slices.BinarySearch(s.lines, at)
	if found {
		return at
	}
	return s.lines[max(i-1, 0)]
}

// comments lists the comments between from and to, without their line breaks, where n holds
// every value of that stretch.
func (s *source) comments(n *node, from, to int) []string {
	var spans [][2]int
	var walk func(n *node, under int)
	walk = func(n *node, under int) {
		if n.Kind == yaml.ScalarNode {
			a, b := s.start(n), s.end(n, under)
			if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
				a = min(s.lineEnd(a), b) // its first line may end in a comment
			}
			spans = append(spans, [2]int{a, b})
		}
		for _, c := range n.Content {
			walk(c, n.Column-1)
		}
	}
	walk(n, -1)
	slices.SortFunc(spans, func(a, b [2]int) int { return a[0] - b[0] })
	var out []string
	for i := from; i < to; {
		for len(spans) > 0 && spans[0][1] <= i {
			spans = spans[1:]
		}
		switch {
		case len(spans) > 0 && spans[0][0] <= i:
			i = spans[0][1]
		case s.data[i] == '#':
			end := min(s.lineEnd(i), to)
			out = append(out, string(s.data[i:end]))
			i = end
		default:
			i++
		}
	}
	return out
}

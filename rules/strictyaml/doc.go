// Package strictyaml reads YAML the way a rulebook needs it: every value knows its line and
// column, nothing unknown or doubled passes, and all mistakes of a file are reported together.
// A Text changes a file in place and leaves the rest of it byte for byte.
// It is the only package that imports the YAML library.
package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Doc is one file being read. Its errors gather as the file is walked.
type Doc struct {
	File string
	text string
	root *node
	errs Errors
}

// line is the text of a line, from 1, without its end; false if there is none.
func (d *Doc) line(n int) (string, bool) {
	if n < 1 {
		return "", false
	}
	rest, ended := d.text, true
	for ; n > 1 && ended; n-- {
		_, rest, ended = strings.Cut(rest, "\n")
	}
	line, _, _ := strings.Cut(rest, "\n")
	return line, ended
}

// last is the number of the last line; where the text ends with a line end, that is the empty one after it.
func (d *Doc) last() int { return strings.Count(d.text, "\n") + 1 }

// Options bound what Parse accepts.
type Options struct {
	// MaxBytes is the largest file accepted.
	MaxBytes int
	// Closing, if set, is the key that must be the last of the file, so that a file cut short
	// is noticed. Nothing but one line end may follow its value.
	Closing string
	// Skip, if set, is a key of the top mapping that is not read at all. The lines after it keep
	// their numbers.
	Skip string
	// Room, if set, is where the values of the file are kept, beside those of others.
	Room *Room
}

// maxDepth bounds nesting; the files of this program need six levels.
const maxDepth = 24

// parserError matches the messages of the library's parser, as against those of its scanner.
var parserError = regexp.MustCompile(`^did not find expected (<|node content|'-'|key|',')`)

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// Parse reads data as one YAML document whose top is a mapping. The Doc is returned even when
// there are errors, so that they can be shown; walk it only if Errs is empty.
func Parse(file string, data []byte, opt Options) *Doc {
	d := &Doc{File: file}
	if opt.MaxBytes > 0 && len(data) > opt.MaxBytes {
		d.fail(0, 0, "the file is too large; at most %d bytes are read", opt.MaxBytes)
		return d
	}
	text := without(data, opt.Skip)
	d.text = text
	if strings.IndexByte(text, 0) >= 0 || !utf8.ValidString(text) {
		d.fail(0, 0, "the file is not UTF-8 text")
		return d
	}
	if opt.Closing != "" {
		d.checkEnd()
	}
	if d.root = quick(text, opt.Room); d.root == nil {
		d.library()
	}
	if d.root == nil {
		return d
	}
	d.checkShape(d.root, 0)
	if opt.Closing != "" && len(d.errs) == 0 {
		keys := d.root.Content
		if len(keys) < 2 || keys[len(keys)-2].Value != opt.Closing {
			d.fail(d.last(), 1, "the file is cut short: its last key must be %q", opt.Closing)
		}
	}
	return d
}

// library has the YAML library read the document. Its root stays nil if there is a mistake.
func (d *Doc) library() {
	dec := yaml.NewDecoder(strings.NewReader(d.text))
	var top yaml.Node
	if err := decode(dec, &top); err != nil {
		d.yamlError(err)
		return
	}
	if len(top.Content) != 1 || top.Content[0].Kind != yaml.MappingNode {
		d.fail(1, 1, "expected a mapping (name: value) at the top of the file")
		return
	}
	var second yaml.Node
	switch err := decode(dec, &second); {
	case err == nil:
		d.fail(second.Line, second.Column, "a second document in the file; only one is read")
		return
	case !errors.Is(err, io.EOF):
		d.yamlError(err)
		return
	}
	d.root = d.own(top.Content[0], strings.Split(d.text, "\n"))
}

// without is the text of data with the lines of a block at the top left blank, from its key, if it has one, to the
// next key.
func without(data []byte, key string) string {
	if key == "" {
		return string(data)
	}
	var out strings.Builder
	for first := true; ; first = false {
		from, to := block(data, key)
		if first {
			out.Grow(len(data) - (to - from) + bytes.Count(data[from:to], []byte("\n")))
		}
		out.Write(data[:from])
		for range bytes.Count(data[from:to], []byte("\n")) {
			out.WriteByte('\n')
		}
		if data = data[to:]; from == to {
			return out.String()
		}
	}
}

// block is where the block of a key at the top begins and ends, both at the end of data if there is none.
func block(data []byte, key string) (from, to int) {
	if !bytes.HasPrefix(data, []byte(key+":")) {
		if from = bytes.Index(data, []byte("\n"+key+":")) + 1; from == 0 {
			return len(data), len(data)
		}
	}
	for to = from; ; { // a line of the block
		end := bytes.IndexByte(data[to:], '\n')
		if end < 0 {
			return from, len(data)
		}
		if to += end + 1; to < len(data) && strings.IndexByte("\n #-", data[to]) < 0 {
			return from, to // a key begins
		}
	}
}

// decode shields against panics of the library on input that nobody has tried before.
func decode(dec *yaml.Decoder, n *yaml.Node) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: cannot be read as YAML: %v", r)
		}
	}()
	return dec.Decode(n)
}

func (d *Doc) yamlError(err error) {
	line, msg := 0, err.Error()
	if m := yamlLine.FindStringSubmatch(msg); m != nil {
		line, _ = strconv.Atoi(m[1])
		msg = m[2]
	}
	if parserError.MatchString(msg) {
		line++ // the library counts these lines from 0
	}
	if msg == "EOF" {
		d.fail(0, 0, "the file is empty")
		return
	}
	col := 1
	if text, ok := d.line(line); ok {
		col = len([]rune(text)) - len([]rune(strings.TrimLeft(text, " "))) + 1
	}
	d.fail(min(line, d.last()), col, "not readable as YAML: %s", printable(msg))
}

// checkEnd refuses anything but one line end after the last value: a comment or a blank line
// there could be cut off without anybody noticing.
func (d *Doc) checkEnd() {
	text, ended := strings.CutSuffix(d.text, "\n")
	lastLine := text[strings.LastIndexByte(text, '\n')+1:]
	if !ended {
		d.fail(d.last(), 1+utf8.RuneCountInString(lastLine), "the file is cut short: its last line has no line end")
		return
	}
	tail := strings.TrimSpace(lastLine)
	if tail == "" || tail == "..." || tail == "---" || strings.HasPrefix(tail, "#") {
		d.fail(d.last()-1, 1, "nothing may stand after the closing key")
	}
}

// own takes over what the library read of lines, and refuses aliases, anchors and tags.
func (d *Doc) own(n *yaml.Node, lines []string) *node {
	out := &node{Kind: n.Kind, Style: n.Style, null: n.Tag == "!!null", Value: n.Value, Line: n.Line, Column: n.Column}
	out.inline = n.Kind == yaml.ScalarNode && n.Line >= 1 && n.Line <= len(lines) && strings.Contains(lines[n.Line-1], n.Value)
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		d.fail(n.Line, n.Column, "anchors and aliases are not read; write the value out")
		return out
	case n.Style&yaml.TaggedStyle != 0:
		d.fail(n.Line, n.Column, "tags such as %q are not read", n.Tag)
		return out
	}
	for _, c := range n.Content {
		out.Content = append(out.Content, d.own(c, lines))
	}
	return out
}

// checkShape refuses doubled keys anywhere in the file and what is nested too deep.
func (d *Doc) checkShape(n *node, depth int) {
	if depth > maxDepth {
		d.fail(n.Line, n.Column, "nested more than %d levels deep", maxDepth)
		return
	}
	if n.Kind == yaml.MappingNode {
		var seen map[string]int
		if len(n.Content) > 40 { // few keys are found sooner by going through them
			seen = map[string]int{}
		}
		for i := 0; i+1 < len(n.Content); i += 2 {
			k := n.Content[i]
			if k.Kind != yaml.ScalarNode {
				d.fail(k.Line, k.Column, "a key must be a plain word")
				continue
			}
			line, twice := seen[k.Value]
			if seen != nil {
				seen[k.Value] = k.Line
			} else if j := entry(n, k.Value); j < i {
				line, twice = n.Content[j].Line, true
			}
			if twice {
				d.fail(k.Line, k.Column, "the key %q stands here twice; first on line %d", k.Value, line)
			}
		}
	}
	for _, c := range n.Content {
		d.checkShape(c, depth+1)
	}
}

func (d *Doc) fail(line, col int, format string, args ...any) {
	e := &Error{File: d.File, Line: line, Col: col, Msg: fmt.Sprintf(format, args...)}
	if text, ok := d.line(line); ok {
		e.Excerpt = strings.TrimRight(text, "\r")
	}
	d.errs = append(d.errs, e)
}

// Errs returns the mistakes found so far, sorted, or nil.
func (d *Doc) Errs() Errors { return d.errs.Sorted() }

// Top returns the mapping at the top of the file.
func (d *Doc) Top() *Map { return newMap(d, d.root) }

package strictyaml

import (
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Reading YAML is most of what a program that knows a large rulebook does when it starts. quick reads
// the plain part of the language that rule files are written in several times as fast as the library
// does: block mappings and lists, flow ones, and words and quoted texts in one line. Whatever it is
// not sure of it declines, and the library reads the file. It never reads anything in another way
// than the library does; a fuzz test holds it to that.

// quick returns the top of the document in text, which it keeps in the room if it is not nil, or nil if the library
// had better read it.
func quick(text string, room *Room) (top *node) {
	if room == nil {
		room = &Room{}
	}
	q := &quickReader{text: text, line: 1, Room: room, pending: room.pending[:0]}
	defer func() {
		if r := recover(); r != nil {
			if r != declined {
				panic(r)
			}
			top = nil
		}
		room.pending = q.pending
	}()
	q.checkCharacters()
	q.next()
	if q.at >= len(text) || q.col() != 1 || text[q.at] == '-' {
		return nil
	}
	top = q.mapping(1, 0)
	if q.at < len(text) {
		return nil
	}
	return top
}

// longestKey is shorter than any key that the library finds too long.
const longestKey = 200

// declined is what a quickReader panics with where it gives up.
var declined = new(int)

func decline() { panic(declined) }

// Room is where the values of files are kept that are read one after the other: most files have few. The zero Room
// is empty. It is for one goroutine.
type Room struct {
	nodes   []node  // room for nodes to come
	links   []*node // and for lists of them
	pending []*node // to be used again
	// of which nodes and links are what is left
	allNodes []node
	allLinks []*node
}

// Reset makes the room free for other files. The values that were kept in it may not be looked at any more, what was
// taken from them may.
func (r *Room) Reset() {
	clear(r.allNodes)
	r.nodes, r.links = r.allNodes, r.allLinks
}

type quickReader struct {
	*Room
	text      string
	at        int // where in text
	line      int // from 1
	lineStart int
	pending   []*node // the collections that are being read
	counted   int     // up to where in text characters were counted for col
	cols      int     // how many there were on that line
}

// checkCharacters declines tabs, carriage returns and whatever the library might not take for a letter.
func (q *quickReader) checkCharacters() {
	for _, r := range q.text {
		switch {
		case r == '\n', r >= ' ' && r <= '~', r >= 0xA0 && r < 0x2028, r > 0x2029 && r < 0xD800:
		default:
			decline()
		}
	}
}

// col is the column where the reader stands, in characters from 1.
func (q *quickReader) col() int {
	if q.counted < q.lineStart || q.counted > q.at {
		q.counted, q.cols = q.lineStart, 0
	}
	q.cols += utf8.RuneCountInString(q.text[q.counted:q.at])
	q.counted = q.at
	return q.cols + 1
}

// next goes to the next thing that is neither blank nor a comment, on this line or a later one.
func (q *quickReader) next() {
	for q.at < len(q.text) {
		switch q.text[q.at] {
		case ' ':
			q.at++
		case '\n':
			q.at++
			q.line++
			q.lineStart = q.at
		case '#':
			if q.at > q.lineStart && q.text[q.at-1] != ' ' {
				decline()
			}
			if end := strings.IndexByte(q.text[q.at:], '\n'); end >= 0 {
				q.at += end
			} else {
				q.at = len(q.text)
			}
		default:
			return
		}
	}
}

// ended goes on from the end of a value and declines unless the line holds nothing more and what
// follows stands no deeper than column within.
func (q *quickReader) ended(within int) {
	line := q.line
	q.next()
	if q.at < len(q.text) && (q.line == line || q.col() > within) {
		decline()
	}
}

// follows is the character after the one where the reader stands, '\n' at the end.
func (q *quickReader) follows() byte {
	if q.at+1 < len(q.text) {
		return q.text[q.at+1]
	}
	return '\n'
}

func (q *quickReader) node(kind yaml.Kind, style yaml.Style) *node {
	if len(q.nodes) == 0 {
		q.allNodes = make([]node, min(max(64, 2*len(q.allNodes)), 512))
		q.nodes = q.allNodes
	}
	n := &q.nodes[0]
	q.nodes = q.nodes[1:]
	n.Kind, n.Style, n.Line, n.Column = kind, style, q.line, q.col()
	return n
}

// close gives a collection what was read of it since from.
func (q *quickReader) close(n *node, from int) *node {
	own := q.pending[from:]
	if len(q.links) < len(own) {
		q.allLinks = make([]*node, max(128, len(own)))
		q.links = q.allLinks
	}
	n.Content = q.links[:len(own):len(own)]
	q.links = q.links[len(own):]
	copy(n.Content, own)
	q.pending = q.pending[:from]
	return n
}

// mapping reads the block mapping whose keys stand in column col.
func (q *quickReader) mapping(col, depth int) *node {
	if depth > maxDepth {
		decline()
	}
	n, from := q.node(yaml.MappingNode, 0), len(q.pending)
	for q.at < len(q.text) && q.col() == col {
		q.mayStart()
		key := q.word(false)
		if q.at >= len(q.text) || q.text[q.at] != ':' || len(key.Value) > longestKey {
			decline()
		}
		q.pending = append(q.pending, key)
		q.at++
		q.value(col, depth)
	}
	return q.close(n, from)
}

// value reads what stands after the colon of a key in column col, on its line or below.
func (q *quickReader) value(col, depth int) {
	line := q.line
	q.next()
	switch {
	case q.at >= len(q.text):
		decline()
	case q.line == line:
		q.pending = append(q.pending, q.inline(col, depth))
		return
	case q.col() <= col:
		decline() // nothing there, or a list as far left as its key
	}
	if q.text[q.at] == '-' && q.follows() == ' ' {
		list := q.list(q.col(), depth+1)
		q.pending = append(q.pending, list)
	} else {
		below := q.mapping(q.col(), depth+1)
		q.pending = append(q.pending, below)
	}
	if q.at < len(q.text) && q.col() > col {
		decline()
	}
}

// list reads the block list whose dashes stand in column col.
func (q *quickReader) list(col, depth int) *node {
	if depth > maxDepth {
		decline()
	}
	n, from := q.node(yaml.SequenceNode, 0), len(q.pending)
	for q.at < len(q.text) && q.col() == col {
		if q.text[q.at] != '-' || q.follows() != ' ' {
			decline()
		}
		q.at++
		line := q.line
		q.next()
		if q.at >= len(q.text) || q.line != line || q.text[q.at] == '-' && q.follows() == ' ' {
			decline()
		}
		var item *node
		if q.opensMapping() {
			item = q.mapping(q.col(), depth+1)
			if q.at < len(q.text) && q.col() > col {
				decline()
			}
		} else {
			item = q.inline(col, depth)
		}
		q.pending = append(q.pending, item)
	}
	return q.close(n, from)
}

// opensMapping reports whether a key and a colon stand here. Texts in quotes and flow collections do
// not open one.
func (q *quickReader) opensMapping() bool {
	switch q.text[q.at] {
	case '"', '\'', '{', '[':
		return false
	}
	for i := q.at; i < len(q.text) && q.text[i] != '\n'; i++ {
		switch q.text[i] {
		case ':':
			if i+1 == len(q.text) || q.text[i+1] == ' ' || q.text[i+1] == '\n' {
				return true
			}
		case '#':
			if q.text[i-1] == ' ' {
				return false
			}
		}
	}
	return false
}

// inline reads a value that begins on this line, in a block whose column is within.
func (q *quickReader) inline(within, depth int) *node {
	n := q.flow(false, depth)
	q.ended(within)
	return n
}

// flow reads a word, a text in quotes or a flow collection.
func (q *quickReader) flow(inside bool, depth int) *node {
	if depth > maxDepth {
		decline()
	}
	switch q.text[q.at] {
	case '[':
		return q.flowList(depth)
	case '{':
		return q.flowMapping(depth)
	case '"', '\'':
		n := q.quoted()
		if q.at < len(q.text) && q.text[q.at] == ':' {
			decline()
		}
		return n
	}
	q.mayStart()
	n := q.word(inside)
	if q.at < len(q.text) && q.text[q.at] == ':' {
		decline()
	}
	return n
}

// mayStart declines where no plain word may begin or something other than one does.
func (q *quickReader) mayStart() {
	c := q.text[q.at]
	if strings.IndexByte(",[]{}#&*!|>'\"%@`?:-", c) < 0 {
		return
	}
	// A sign before a number is part of it.
	if c != '-' || q.follows() < '0' || q.follows() > '9' {
		decline()
	}
}

// word reads a plain word or sentence up to what ends it.
func (q *quickReader) word(inside bool) *node {
	n := q.node(yaml.ScalarNode, 0)
	start, end := q.at, q.at
scan:
	for ; q.at < len(q.text); q.at++ {
		switch c := q.text[q.at]; c {
		case '\n':
			break scan
		case ' ':
			continue
		case '#':
			if q.text[q.at-1] == ' ' {
				break scan
			}
		case ':':
			if f := q.follows(); f == ' ' || f == '\n' {
				break scan
			} else if inside && strings.IndexByte(",[]{}", f) >= 0 {
				decline()
			}
		case ',', '[', ']', '{', '}', '?':
			if inside {
				if c == '[' || c == '{' || c == '?' {
					decline()
				}
				break scan
			}
		}
		end = q.at + 1
	}
	if end == start || inside && q.at < len(q.text) && q.text[q.at] == '\n' {
		decline() // it may run on over the line
	}
	n.Value, n.inline = q.text[start:end], true
	switch n.Value {
	case "null", "Null", "NULL", "~", "<<", "=":
		decline()
	}
	return n
}

// quoted reads a text in single or double quotes that ends on its line.
func (q *quickReader) quoted() *node {
	quote := q.text[q.at]
	n := q.node(yaml.ScalarNode, yaml.DoubleQuotedStyle)
	if quote == '\'' {
		n.Style = yaml.SingleQuotedStyle
	}
	q.at++
	var built strings.Builder
	start := q.at
	for ; q.at < len(q.text); q.at++ {
		switch c := q.text[q.at]; {
		case c == '\n':
			decline()
		case c == '\\' && quote == '"':
			if f := q.follows(); f != '"' && f != '\\' {
				decline()
			}
			built.WriteString(q.text[start:q.at])
			q.at++
			start = q.at
		case c == quote && quote == '\'' && q.follows() == '\'':
			q.at++
			built.WriteString(q.text[start:q.at])
			start = q.at + 1
		case c == quote:
			n.inline = built.Len() == 0
			if n.Value = q.text[start:q.at]; !n.inline {
				n.Value = built.String() + n.Value
			}
			q.at++
			return n
		}
	}
	decline()
	return nil
}

// flowList reads a list in square brackets.
func (q *quickReader) flowList(depth int) *node {
	n, from := q.node(yaml.SequenceNode, yaml.FlowStyle), len(q.pending)
	q.at++
	for q.more(']', len(q.pending) > from) {
		item := q.flow(true, depth+1)
		q.pending = append(q.pending, item)
	}
	return q.close(n, from)
}

// flowMapping reads a mapping in braces.
func (q *quickReader) flowMapping(depth int) *node {
	n, from := q.node(yaml.MappingNode, yaml.FlowStyle), len(q.pending)
	q.at++
	for q.more('}', len(q.pending) > from) {
		q.mayStart()
		key := q.word(true)
		if q.at >= len(q.text) || q.text[q.at] != ':' || len(key.Value) > longestKey {
			decline()
		}
		q.at++
		q.inFlow()
		q.pending = append(q.pending, key)
		v := q.flow(true, depth+1)
		q.pending = append(q.pending, v)
	}
	return q.close(n, from)
}

// more goes to the next entry of a flow collection and reports whether there is one; some says that
// entries came before, so that a comma must stand between.
func (q *quickReader) more(closing byte, some bool) bool {
	q.inFlow()
	if q.text[q.at] == closing {
		q.at++
		return false
	}
	if some {
		if q.text[q.at] != ',' {
			decline()
		}
		q.at++
		q.inFlow()
	}
	return true
}

// inFlow goes to what comes next in a flow collection. A line of one that begins at the margin may be
// something else.
func (q *quickReader) inFlow() {
	q.next()
	if q.at >= len(q.text) || q.at == q.lineStart {
		decline()
	}
}

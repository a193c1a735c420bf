package strictyaml

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Path leads to a value from the top of a file: keys of mappings (string) and places in lists,
// from 0 (int).
type Path []any

// Text is a file that is changed in place. Whatever a change does not concern stays byte for
// byte, comments included; a comment beside a value that goes stays where the value was. Every
// change is tried first: the file it makes must hold exactly what the file held before but for
// the one change, or nothing is changed.
type Text struct {
	opt   Options
	order []string
	doc   *Doc
	src   *source
}

// Edit opens data for changes. order lists keys of the top mapping in the order in which new
// ones are put among those that are there. The error is an Errors if data cannot be read; of the
// options only MaxBytes counts.
func Edit(file string, data []byte, opt Options, order ...string) (*Text, error) {
	t := &Text{opt: Options{MaxBytes: opt.MaxBytes}, order: order}
	t.doc = Parse(file, data, t.opt)
	if errs := t.doc.Errs(); errs != nil {
		return nil, errs
	}
	t.src = newSource(slices.Clone(data))
	return t, nil
}

// Bytes returns the text as it is now.
func (t *Text) Bytes() []byte { return slices.Clone(t.src.data) }

// At returns the value at path and whether there is one.
func (t *Text) At(path Path) (Node, bool) {
	chain := follow(t.doc.root, path)
	if len(chain) <= len(path) {
		return Node{}, false
	}
	return Node{&Doc{File: t.doc.File, text: t.doc.text}, chain[len(path)]}, true
}

// Put writes v at path, over a value that is there or as a new last key of its mapping; mappings
// that are missing on the way are made. The error says where and why not.
func (t *Text) Put(path Path, v Value) error {
	chain := follow(t.doc.root, path)
	if have := len(chain) - 1; have < len(path) {
		n := v.n
		for _, step := range slices.Backward(path[have+1:]) {
			key, ok := step.(string)
			if !ok {
				return t.refuse(chain[have], "there is no list to put a value into")
			}
			n = Mapping(Pair{key, Value{n}}).n
		}
		key, ok := path[have].(string)
		if !ok {
			return t.refuse(chain[have], "there is no value number %v in the list", path[have])
		}
		return t.grow(chain, path[:have], Mapping(Pair{key, Value{n}}).n)
	}
	if same(chain[len(path)], v.n, false) {
		return nil
	}
	return t.replace(chain, path, v.n)
}

// Append writes v as a new last value of the list at path; a list that is missing is made.
func (t *Text) Append(path Path, v Value) error {
	chain := follow(t.doc.root, path)
	if len(chain) <= len(path) {
		return t.Put(path, List(v))
	}
	return t.grow(chain, path, List(v).n)
}

// Remove takes the last key of path away with its value; that it is missing is no mistake.
func (t *Text) Remove(path Path) error {
	chain := follow(t.doc.root, path)
	if len(chain) <= len(path) {
		return nil
	}
	name, ok := lastKey(path)
	if !ok {
		return t.refuse(chain[0], "only a key can be taken away")
	}
	above := path[:len(path)-1]
	in := chain[len(above)]
	if len(in.Content) == 2 && len(above) > 0 {
		return t.replace(chain[:len(path)], above, Mapping().n)
	}
	i := entry(in, name)
	from, to := t.entryStart(in.Content[i]), t.entryEnd(in, i)
	flow, next := in.Style&yaml.FlowStyle != 0, to
	if i+2 < len(in.Content) {
		next = t.entryStart(in.Content[i+2])
	}
	switch rest, blank := t.restOfLine(to); {
	case flow && next > to:
		to = next
	case flow && i > 0:
		from = t.entryEnd(in, i-2)
	case flow:
	case t.begins(from) && blank && len(t.src.comments(in, from, to)) == 0:
		from, to = t.src.lineStart(from), t.src.nextLine(rest)
	case !t.begins(from) && len(t.src.comments(in, from, next)) == 0:
		to = next // behind a dash the next key moves up
	case !blank:
		to = rest - len(strings.TrimLeft(string(t.src.data[to:rest]), " \t"))
	}
	want := clone(t.doc.root)
	left := follow(want, above)[len(above)]
	left.Content = slices.Delete(left.Content, i, i+2)
	return t.apply(chain[len(path)], from, to, "", t.src.comments(in, from, to), want)
}

// begins reports whether the line of at begins with what stands there.
func (t *Text) begins(at int) bool {
	return strings.TrimLeft(string(t.src.data[t.src.lineStart(at):at]), " ") == ""
}

// entryStart is where a key begins, or the question mark before it.
func (t *Text) entryStart(key *node) int {
	at := t.src.start(key)
	before := strings.TrimRight(string(t.src.data[t.src.lineStart(at):at]), " ")
	if rest, ok := strings.CutSuffix(before, "?"); ok && len(before) < at-t.src.lineStart(at) && strings.Trim(rest, " -{,") == "" {
		return t.src.lineStart(at) + len(rest)
	}
	return at
}

// entryEnd is the end of the value of the key at place i of a mapping or, with a list, of the
// value there.
func (t *Text) entryEnd(n *node, i int) int {
	if n.Kind == yaml.SequenceNode {
		return t.src.end(n.Content[i], n.Column-1)
	}
	colon := t.src.colon(t.src.end(n.Content[i], n.Column-1))
	return max(colon, t.src.end(n.Content[i+1], n.Column-1))
}

// restOfLine is the end of the line of at, and whether nothing stands between.
func (t *Text) restOfLine(at int) (end int, blank bool) {
	end = t.src.lineEnd(at)
	return end, strings.Trim(string(t.src.data[at:end]), " \t") == ""
}

// replace writes v over the value at the end of chain.
func (t *Text) replace(chain []*node, path Path, v *node) error {
	old, in := chain[len(chain)-1], chain[max(len(chain)-2, 0)]
	within := in.Style&yaml.FlowStyle != 0
	from, to := t.src.start(old), t.src.end(old, in.Column-1)
	absent := from == to
	text := inline(v, within)
	if absent {
		text = " " + text
	}
	if key, ok := lastKey(path); ok {
		keyEnd := t.src.end(in.Content[entry(in, key)], in.Column-1)
		colon := t.src.colon(keyEnd)
		switch over := old.Kind != yaml.ScalarNode && old.Style&yaml.FlowStyle == 0; {
		case absent && colon == keyEnd:
			from, to, text = keyEnd, keyEnd, ":"+text
		case absent:
			from, to = colon, colon
		case over: // what stands over several lines begins behind the colon
			from, text = colon, " "+text
		}
	}
	want := clone(t.doc.root)
	*follow(want, path)[len(path)] = *clone(v)
	return t.apply(old, from, to, text, t.src.comments(old, from, to), want)
}

// lastKey is the key that a path ends in, if it ends in one.
func lastKey(path Path) (key string, ok bool) {
	if len(path) > 0 {
		key, ok = path[len(path)-1].(string)
	}
	return key, ok
}

// apply puts text, and behind it the comments of what goes, in place of the bytes between from
// and to, if the file then holds what want does. at is where an error points.
func (t *Text) apply(at *node, from, to int, text string, comments []string, want *node) error {
	if from > to || to > len(t.src.data) {
		return t.refuse(at, "%s", outOfPlace)
	}
	if line := string(t.src.data[t.src.lineStart(from):from]); len(comments) > 0 {
		indent := "\n" + line[:len(line)-len(strings.TrimLeft(line, " "))]
		if before := line + text; before != "" && before[len(before)-1] != ' ' {
			text += " "
		}
		text += strings.Join(comments, indent)
		if end, blank := t.restOfLine(to); !blank {
			text += indent
			to = end - len(strings.TrimLeft(string(t.src.data[to:end]), " \t"))
		}
	}
	if i := slices.Index(t.src.data, '\n'); i > 0 && t.src.data[i-1] == '\r' {
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", "\r\n")
	}
	data := slices.Concat(t.src.data[:from], []byte(text), t.src.data[to:])
	if t.opt.MaxBytes > 0 && len(data) > t.opt.MaxBytes {
		return fmt.Errorf("%s: the file would grow past %d bytes, and more are not read", t.doc.File, t.opt.MaxBytes)
	}
	doc := Parse(t.doc.File, data, t.opt)
	if doc.Errs() != nil || !same(doc.root, want, !strings.HasSuffix(string(t.src.data), "\n")) {
		return t.refuse(at, "%s", outOfPlace)
	}
	t.doc, t.src = doc, newSource(data)
	return nil
}

const outOfPlace = "this cannot be changed in place; write it as name: value on a line of its own"

func (t *Text) refuse(n *node, format string, args ...any) error {
	return Node{t.doc, n}.Pos().Error(format, args...)
}

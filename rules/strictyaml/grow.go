package strictyaml

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// grow adds the one entry of more, a mapping or a list, to the collection at the end of chain.
func (t *Text) grow(chain []*node, path Path, more *node) error {
	n := chain[len(chain)-1]
	if empty(n) {
		return t.fill(chain, path, more)
	}
	if n.Kind != more.Kind {
		what := map[yaml.Kind]string{yaml.MappingNode: "a mapping (name: value)", yaml.SequenceNode: "a list"}
		return t.refuse(n, "expected %s here, to add to it", what[more.Kind])
	}
	want := clone(t.doc.root)
	grown := follow(want, path)[len(path)]
	width := len(more.Content) // 2 for a key with its value, 1 in a list
	last := len(n.Content) - width
	if n.Style&yaml.FlowStyle != 0 {
		grown.Content = append(grown.Content, more.Content...)
		text, at := inline(more, true), t.entryEnd(n, last)
		return t.apply(n, at, at, ", "+text[1:len(text)-1], nil, want)
	}
	if n == t.doc.root {
		last = t.before(more.Content[0].Value)
	}
	grown.Content = slices.Insert(grown.Content, last+width, more.Content...)
	text := strings.Join(lines(more, strings.Repeat(" ", n.Column-1), t.step()), "\n") + "\n"
	if n == t.doc.root || t.spaced(n) {
		text = "\n" + text
	}
	at := t.behind(n, t.entryEnd(n, last), last+width < len(n.Content))
	if t.src.data[at-1] != '\n' {
		text = "\n" + text
	}
	return t.apply(n, at, at, text, nil, want)
}

// before is the place of the key of the top mapping behind which a new key belongs.
func (t *Text) before(key string) int {
	top, place := t.doc.root, slices.Index(t.order, key)
	last := len(top.Content) - 2
	for i := last; i >= 0 && place >= 0; i -= 2 {
		if p := slices.Index(t.order, top.Content[i].Value); p >= 0 && p < place {
			return i
		}
	}
	return last
}

// spaced reports whether the last two values of a list stand apart by a blank line.
func (t *Text) spaced(n *node) bool {
	if n.Kind != yaml.SequenceNode || len(n.Content) < 2 {
		return false
	}
	last := len(n.Content) - 1
	from, to := t.entryEnd(n, last-1), t.src.start(n.Content[last])
	return strings.Count(string(t.src.data[from:to]), "\n") > 1+len(t.src.comments(n, from, to))
}

// behind is the beginning of the line that follows an entry of n ending at end, past comments
// that belong to it by their indent. follows says that another entry stands below: a comment in
// line with it is its own.
func (t *Text) behind(n *node, end int, follows bool) int {
	indent := n.Column - 1
	at := t.src.nextLine(t.src.lineEnd(end))
	for next := at; next < len(t.src.data); next = t.src.nextLine(t.src.lineEnd(next)) {
		line := string(t.src.data[next:t.src.lineEnd(next)])
		text := strings.TrimLeft(line, " \t")
		if text == "" {
			continue
		}
		if deep := len(line) - len(text); text[0] != '#' || deep < indent || deep == indent && follows {
			break
		}
		at = t.src.nextLine(t.src.lineEnd(next))
	}
	return at
}

// fill writes more into an empty value: over lines where that can be, else between brackets.
func (t *Text) fill(chain []*node, path Path, more *node) error {
	old, in := chain[len(chain)-1], chain[max(len(chain)-2, 0)]
	from, to := t.src.start(old), t.src.end(old, in.Column-1)
	if len(path) == 0 || in.Style&yaml.FlowStyle != 0 || len(t.src.comments(old, from, to)) > 0 {
		return t.replace(chain, path, more)
	}
	want := clone(t.doc.root)
	*follow(want, path)[len(path)] = *clone(more)
	key, ok := lastKey(path)
	if !ok { // behind a dash
		column, blank := old.Column-1, ""
		if to == from {
			column, blank = in.Column+1, " "
		}
		text := strings.Join(lines(more, strings.Repeat(" ", column), t.step()), "\n")
		return t.apply(old, from, to, blank+strings.TrimLeft(text, " "), nil, want)
	}
	colon := t.src.colon(t.src.end(in.Content[entry(in, key)], in.Column-1))
	line := t.src.lineEnd(colon)
	if line < to {
		return t.replace(chain, path, more)
	}
	text := strings.Join(lines(more, strings.Repeat(" ", in.Column-1+t.step()), t.step()), "\n")
	return t.apply(old, colon, line, string(t.src.data[max(to, colon):line])+"\n"+text, nil, want)
}

// step is how much deeper the file indents a mapping within a mapping.
func (t *Text) step() int {
	for _, c := range t.doc.root.Content {
		if c.Kind == yaml.MappingNode && c.Style&yaml.FlowStyle == 0 && c.Column > t.doc.root.Column {
			return c.Column - t.doc.root.Column
		}
	}
	return 2
}

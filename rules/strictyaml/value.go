package strictyaml

import (
	"fmt"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"
)

// Value is something to write into a Text: a text, a list or a mapping.
type Value struct{ n *node }

// Scalar is a text. It is quoted where it must be.
func Scalar(text string) Value {
	return Value{&node{Kind: yaml.ScalarNode, Value: text}}
}

// List is a list of values, on one line if they are all texts.
func List(values ...Value) Value {
	n := &node{Kind: yaml.SequenceNode}
	for _, v := range values {
		n.Content = append(n.Content, v.n)
	}
	return Value{n}
}

// Pair is one key of a mapping and its value.
type Pair struct {
	Key   string
	Value Value
}

// Mapping is a mapping with its keys in the order given.
func Mapping(pairs ...Pair) Value {
	n := &node{Kind: yaml.MappingNode}
	for _, p := range pairs {
		n.Content = append(n.Content, Scalar(p.Key).n, p.Value.n)
	}
	return Value{n}
}

// flat reports whether a value is written on one line even where lines are to be had.
func flat(n *node) bool {
	if n.Kind == yaml.ScalarNode || len(n.Content) == 0 {
		return true
	}
	for _, c := range n.Content {
		if n.Kind != yaml.SequenceNode || c.Kind != yaml.ScalarNode {
			return false
		}
	}
	return true
}

// inline writes a value on one line. within says that it stands between brackets.
func inline(n *node, within bool) string {
	var parts []string
	switch n.Kind {
	case yaml.SequenceNode:
		for _, c := range n.Content {
			parts = append(parts, inline(c, true))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			parts = append(parts, pair(n.Content[i], n.Content[i+1], true))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return scalar(n.Value, false, within)
}

// pair writes a key and its value on one line.
func pair(k, v *node, within bool) string {
	return scalar(k.Value, true, within) + ": " + inline(v, within)
}

// lines writes a mapping or a list over lines, step blanks deeper from level to level.
func lines(n *node, indent string, step int) []string {
	deeper := indent + strings.Repeat(" ", step)
	var out []string
	if n.Kind == yaml.SequenceNode {
		for _, c := range n.Content {
			item := []string{inline(c, false)}
			if !flat(c) {
				item = lines(c, indent+"  ", step)
			}
			out = append(out, indent+"- "+strings.TrimPrefix(item[0], indent+"  "))
			out = append(out, item[1:]...)
		}
		return out
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if flat(v) {
			out = append(out, indent+pair(k, v, false))
			continue
		}
		out = append(out, indent+scalar(k.Value, true, false)+":")
		out = append(out, lines(v, deeper, step)...)
	}
	return out
}

// scalar writes a text as a key or as a value: plain if it can stand so, else in quotes.
func scalar(text string, key, within bool) string {
	for _, form := range []string{text, "'" + strings.ReplaceAll(text, "'", "''") + "'"} {
		if holds(form, text, key, within) {
			return form
		}
	}
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case unicode.IsPrint(r):
			b.WriteRune(r)
		case r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	return `"` + b.String() + `"`
}

// holds tries a form of a text in a file of its own: whether it is read as the text and leaves
// alone what stands around it.
func holds(form, text string, key, within bool) bool {
	if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return false
	}
	line, at, keys := "k: "+form, 1, 1
	if key {
		line, at = form+": k", 0
	}
	if within {
		line, keys = "{"+line+", z: z}", 2
	}
	d := Parse("", []byte(line+"\n"), Options{})
	if d.Errs() != nil || len(d.root.Content) != 2*keys {
		return false
	}
	n := d.root.Content[at]
	return n.Kind == yaml.ScalarNode && !n.null && n.Value == text && d.root.Content[1-at].Value == "k"
}

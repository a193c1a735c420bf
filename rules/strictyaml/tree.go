package strictyaml

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// node is one value of a document: what this package reads of the library's nodes, which are twice as large.
type node struct {
	Kind         yaml.Kind
	Style        yaml.Style
	null         bool
	inline       bool // Value stands in Line as it is
	Value        string
	Content      []*node
	Line, Column int
}

// follow returns the values along path, as far as there are any, beginning with n.
func follow(n *node, path Path) []*node {
	chain := []*node{n}
	for _, step := range path {
		var next *node
		switch step := step.(type) {
		case string:
			if i := entry(n, step); i >= 0 {
				next = n.Content[i+1]
			}
		case int:
			if n.Kind == yaml.SequenceNode && step >= 0 && step < len(n.Content) {
				next = n.Content[step]
			}
		}
		if next == nil {
			break
		}
		chain, n = append(chain, next), next
	}
	return chain
}

// entry is the place of a key among the content of a mapping, or -1.
func entry(n *node, key string) int {
	if n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == key {
				return i
			}
		}
	}
	return -1
}

// empty reports whether nothing stands in a value: {}, [], null, or no value at all.
func empty(n *node) bool {
	return n.Kind == yaml.ScalarNode && n.null || n.Kind != yaml.ScalarNode && len(n.Content) == 0
}

// clone copies what same compares.
func clone(n *node) *node {
	c := &node{Kind: n.Kind, null: n.null, Value: n.Value, Style: n.Style}
	for _, e := range n.Content {
		c.Content = append(c.Content, clone(e))
	}
	return c
}

// same reports whether two values hold the same. With loose set a block of text may have gained
// the line end that the file lacked.
func same(a, b *node, loose bool) bool {
	if a.Kind != b.Kind || a.null != b.null || len(a.Content) != len(b.Content) {
		return false
	}
	if a.Value != b.Value && !(loose && a.Style == b.Style && strings.TrimRight(a.Value, "\n") == strings.TrimRight(b.Value, "\n")) {
		return false
	}
	for i := range a.Content {
		if !same(a.Content[i], b.Content[i], loose) {
			return false
		}
	}
	return true
}

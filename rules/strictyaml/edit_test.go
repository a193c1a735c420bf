package strictyaml_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules/strictyaml"
)

// edit opens text for changes; pot, cups and tray stand in this order.
func edit(t *testing.T, text string) *strictyaml.Text {
	t.Helper()
	e, err := strictyaml.Edit("tea.yaml", []byte(text), strictyaml.Options{MaxBytes: 2000}, "pot", "cups", "tray")
	require.NoError(t, err, text)
	return e
}

type change struct{ what, before, after string }

// check tries one change on many texts.
func check(t *testing.T, do func(*strictyaml.Text) error, changes []change) {
	t.Helper()
	for _, c := range changes {
		e := edit(t, c.before)
		require.NoError(t, do(e), c.what)
		assert.Equal(t, c.after, string(e.Bytes()), c.what)
	}
}

func put(v strictyaml.Value, path ...any) func(*strictyaml.Text) error {
	return func(e *strictyaml.Text) error { return e.Put(path, v) }
}

func TestAValueIsPutOverWhatStandsThere(t *testing.T) {
	check(t, put(strictyaml.Scalar("red"), "pot", "colour"), []change{
		{"plain", "pot:\n  colour: blue\n", "pot:\n  colour: red\n"},
		{"with a comment beside it", "pot:\n  colour:   blue   # faded\n  # and chipped\n", "pot:\n  colour:   red   # faded\n  # and chipped\n"},
		{"already so, in quotes", "pot:\n  colour: 'red'\n", "pot:\n  colour: 'red'\n"},
		{"single quotes", "pot: {colour: 'bl''ue', lid: x}\n", "pot: {colour: red, lid: x}\n"},
		{"double quotes", "pot: {colour: \"bl\\\"ue # no\", lid: x}\n", "pot: {colour: red, lid: x}\n"},
		{"over two lines", "pot:\n  colour: blue\n    and green # faded\n  lid: x\n", "pot:\n  colour: red # faded\n  lid: x\n"},
		{"over lines with a gap", "pot:\n  colour: blue\n\n    and   green\n\n\n    too\n  lid: x\n", "pot:\n  colour: red\n  lid: x\n"},
		{"a block of text", "pot:\n  colour: |  # long\n    # blue\n    and green\n\n  lid: x\n", "pot:\n  colour: red # long\n\n  lid: x\n"},
		{"a kept block at the end", "pot:\n  colour: >2+\n      # blue\n\n\n", "pot:\n  colour: red\n"},
		{"a list", "pot:\n  colour: [blue, green] # both\n", "pot:\n  colour: red # both\n"},
		{"a list over lines", "pot:\n  colour: # both\n    - blue # b\n    # or\n    - green # g\n  lid: x\n", "pot:\n  colour: red # both\n  # b\n  # or\n  # g\n  lid: x\n"},
		{"a list between brackets over lines", "pot: {lid: x, colour: [blue, # b\n  green # g\n  ], foot: y}\n", "pot: {lid: x, colour: red # b\n# g\n, foot: y}\n"},
		{"a mapping", "pot:\n  colour:\n    rim: {a: b}\n    foot: ~\n  lid: x\n", "pot:\n  colour: red\n  lid: x\n"},
		{"nothing", "pot:\n  colour:\n  lid: x\n", "pot:\n  colour: red\n  lid: x\n"},
		{"nothing but a comment", "pot:\n  colour:  # ask\n", "pot:\n  colour: red  # ask\n"},
		{"nothing at the end of the file", "pot:\n  colour:", "pot:\n  colour: red"},
		{"nothing between braces", "pot: {colour: , lid}\n", "pot: {colour: red , lid}\n"},
		{"a key alone between braces", "pot: {lid, colour}\n", "pot: {lid, colour: red}\n"},
		{"a null", "pot: {colour: ~}\n", "pot: {colour: red}\n"},
		{"with a question mark", "pot:\n  ? colour\n  : blue\n  ? lid\n", "pot:\n  ? colour\n  : red\n  ? lid\n"},
		{"line ends of Windows", "pot:\r\n  colour: # c\r\n  - blue # b\r\n", "pot:\r\n  colour: red # c\r\n  # b\r\n"},
		{"line ends of other machines", "cups: 3\rtray: x\u0085a: y\u2028b: z\u2029pot: {colour: blue}\n", "cups: 3\rtray: x\u0085a: y\u2028b: z\u2029pot: {colour: red}\n"},
		{"letters of more than one byte", "\ufeffpot: {größe: 'süß', colour: bläu, lid: x}\n", "\ufeffpot: {größe: 'süß', colour: red, lid: x}\n"},
	})
}

func TestANewKeyGoesBehindTheOthers(t *testing.T) {
	check(t, put(strictyaml.Scalar("red"), "pot", "colour"), []change{
		{"behind one", "pot:\n  lid: x # round\n\ncups: 3\n", "pot:\n  lid: x # round\n  colour: red\n\ncups: 3\n"},
		{"no line end", "pot:\n  lid: x", "pot:\n  lid: x\n  colour: red\n"},
		{"a comment of the same depth is passed", "pot:\n  lid: x\n  # spout: y\n\n  # foot: z\n# cups\ncups: 3\n", "pot:\n  lid: x\n  # spout: y\n\n  # foot: z\n  colour: red\n# cups\ncups: 3\n"},
		{"behind a block of text", "pot:\n  note: |\n    a\n\n    # b\n\ncups: 3\n", "pot:\n  note: |\n    a\n\n    # b\n  colour: red\n\ncups: 3\n"},
		{"behind a block that keeps its blank lines", "pot:\n  note: |+\n    a\n\ncups: 3\n", "pot:\n  note: |+\n    a\n\n  colour: red\ncups: 3\n"},
		{"behind a block cut short", "pot:\n  note: |\n    a", "pot:\n  note: |\n    a\n  colour: red\n"},
		{"behind nothing", "pot:\n  lid:\ncups: 3\n", "pot:\n  lid:\n  colour: red\ncups: 3\n"},
		{"deeper indent", "pot:\n     lid: x\n", "pot:\n     lid: x\n     colour: red\n"},
		{"between braces", "pot: { lid: x }\n", "pot: { lid: x, colour: red }\n"},
		{"between braces with a last comma", "pot: {lid: x,}\n", "pot: {lid: x, colour: red,}\n"},
		{"between braces over lines", "pot: {lid: x # round\n  }\n", "pot: {lid: x, colour: red # round\n  }\n"},
		{"a whole file between braces", "{cups: 3}\n", "{cups: 3, pot: {colour: red}}\n"},
		{"into empty braces", "pot: {}  # bare\ncups: 3\n", "pot:  # bare\n  colour: red\ncups: 3\n"},
		{"into empty braces at the end", "pot: {}", "pot:\n  colour: red"},
		{"into empty braces with a comment", "pot: { # bare\n  }\n", "pot: {colour: red} # bare\n"},
		{"into empty braces on the next line", "pot:\n  {}\n", "pot:\n  {colour: red}\n"},
		{"into nothing", "pot:\ncups: 3\n", "pot:\n  colour: red\ncups: 3\n"},
		{"into nothing with a comment", "pot: # bare\n  # yet\ncups: 3\n", "pot: # bare\n  colour: red\n  # yet\ncups: 3\n"},
		{"into null", "pot: ~ # bare\n", "pot: # bare\n  colour: red\n"},
		{"as deep as the file indents", "cups:\n    a: b\npot: {}\n", "cups:\n    a: b\npot:\n    colour: red\n"},
		{"a missing mapping in its order", "format: 1\n# the cups\ncups: 3\n", "format: 1\n# the cups\ncups: 3\n\npot:\n  colour: red\n"},
		{"line ends of Windows", "pot: {}\r\ncups: 3\r\n", "pot:\r\n  colour: red\r\ncups: 3\r\n"},
	})
	check(t, put(strictyaml.Scalar("3"), "cups"), []change{
		{"in its order", "pot:\n  lid: x\n  # red\n# the tray\ntray: 1\nmore: 2\n", "pot:\n  lid: x\n  # red\n\ncups: 3\n# the tray\ntray: 1\nmore: 2\n"},
		{"at the end if nothing stands before it", "tray: 1\n# end\n", "tray: 1\n# end\n\ncups: 3\n"},
	})
}

func TestWhatALaterKeyWouldBreakIsQuoted(t *testing.T) {
	for text, want := range map[string]string{
		"no": "no", "12": "12", "0,9 mm": "0,9 mm", "3/4 in": "3/4 in", "20 °C": "20 °C", "~": "'~'", "null": "'null'", "": "''", "- a": "'- a'",
		"a: b": "'a: b'", "a # b": "'a # b'", "a#b": "a#b", "?": "'?'", "it's": "it's", "'": "''''", " a": "' a'", "[a": "'[a'", "&a": "'&a'", "*a": "'*a'",
		"!a": "'!a'", "two\nlines": `"two\x0alines"`, "tab\t": `"tab\x09"`, "\"\\\x00\u2028\U000e0001": `"\"\\\x00\u2028\U000e0001"`, "...": "...", "k: v, z": "'k: v, z'",
	} {
		e := edit(t, "pot: x\n")
		require.NoError(t, e.Put(strictyaml.Path{"pot"}, strictyaml.Scalar(text)), "%q", text)
		assert.Equal(t, "pot: "+want+"\n", string(e.Bytes()))
		for _, before := range []string{"pot: {a: x}\n", "pot:\n  a: x\n"} {
			e = edit(t, before)
			require.NoError(t, e.Put(strictyaml.Path{"pot", "b" + text}, strictyaml.List(strictyaml.Scalar(text), strictyaml.Scalar("z"))), "%q", text)
			v, ok := e.At(strictyaml.Path{"pot", "b" + text, 0})
			require.True(t, ok)
			got, _ := v.Scalar()
			assert.Equal(t, text, got)
		}
	}
}

func TestAListGrowsAtItsEnd(t *testing.T) {
	cup := strictyaml.Mapping(strictyaml.Pair{Key: "id", Value: strictyaml.Scalar("b")},
		strictyaml.Pair{Key: "marks", Value: strictyaml.List(strictyaml.Scalar("x"), strictyaml.Scalar("y"))},
		strictyaml.Pair{Key: "rim", Value: strictyaml.Mapping(strictyaml.Pair{Key: "gilt", Value: strictyaml.Scalar("no")})})
	check(t, func(e *strictyaml.Text) error { return e.Append(strictyaml.Path{"cups"}, cup) }, []change{
		{"no list yet", "pot: x\ntray: y\n", "pot: x\n\ncups:\n  - id: b\n    marks: [x, y]\n    rim:\n      gilt: no\ntray: y\n"},
		{"an empty list", "cups: [] # none\n", "cups: # none\n  - id: b\n    marks: [x, y]\n    rim:\n      gilt: no\n"},
		{"one", "cups:\n  - id: a # old\n    # chipped\ntray: y\n", "cups:\n  - id: a # old\n    # chipped\n  - id: b\n    marks: [x, y]\n    rim:\n      gilt: no\ntray: y\n"},
		{"without an indent", "cups:\n- id: a\ntray: y\n", "cups:\n- id: a\n- id: b\n  marks: [x, y]\n  rim:\n    gilt: no\ntray: y\n"},
		{"stood apart", "cups:\n  - id: a\n\n  - id: c\n", "cups:\n  - id: a\n\n  - id: c\n\n  - id: b\n    marks: [x, y]\n    rim:\n      gilt: no\n"},
		{"a comment between is no gap", "cups:\n  - id: a\n  # next\n  - id: c\n", "cups:\n  - id: a\n  # next\n  - id: c\n  - id: b\n    marks: [x, y]\n    rim:\n      gilt: no\n"},
		{"between brackets", "cups: [{id: a}]\n", "cups: [{id: a}, {id: b, marks: [x, y], rim: {gilt: no}}]\n"},
	})
	check(t, put(strictyaml.Scalar("red"), "cups", 0, "colour"), []change{
		{"into an item", "cups:\n  - id: a\n  - id: b\n", "cups:\n  - id: a\n    colour: red\n  - id: b\n"},
		{"into an empty item", "cups:\n  - {}\n  - id: b\n", "cups:\n  - colour: red\n  - id: b\n"},
		{"into no item", "cups:\n  - # none\n  - id: b\n", "cups:\n  - colour: red # none\n  - id: b\n"},
	})
}

func TestAKeyIsTakenAwayWithItsValue(t *testing.T) {
	check(t, func(e *strictyaml.Text) error { return e.Remove(strictyaml.Path{"pot", "colour"}) }, []change{
		{"not there", "pot:\n  lid: x\n", "pot:\n  lid: x\n"},
		{"its line goes", "pot:\n  colour: blue\n  lid: x\n", "pot:\n  lid: x\n"},
		{"the last line", "pot:\n  lid: x\n  colour: blue", "pot:\n  lid: x\n"},
		{"a comment beside it stays", "pot:\n  lid: x\n  colour: blue   # faded\n\ncups: 3\n", "pot:\n  lid: x\n  # faded\n\ncups: 3\n"},
		{"comments within stay", "pot:\n  colour: # c\n    - blue # b\n    - red # r\n  lid: x\n", "pot:\n  # c\n  # b\n  # r\n  lid: x\n"},
		{"a block of text", "pot:\n  colour: |\n    blue\n    # green\n  lid: x\n", "pot:\n  lid: x\n"},
		{"the only one", "pot:\n  colour: blue\ncups: 3\n", "pot: {}\ncups: 3\n"},
		{"the only one with comments", "pot: # p\n  # q\n  colour: blue # r\ncups: 3\n", "pot: {} # p\n# q\n# r\ncups: 3\n"},
		{"first between braces", "pot: {colour: blue, lid: x}\n", "pot: {lid: x}\n"},
		{"last between braces", "pot: {lid: x, colour: blue}\n", "pot: {lid: x}\n"},
		{"last between braces over lines", "pot: {lid: x, # l\n  colour: blue # c\n  }\n", "pot: {lid: x # l\n# c\n  }\n"},
		{"first between braces over lines", "pot: {colour: blue, # c\n  lid: x}\n", "pot: { # c\nlid: x}\n"},
		{"only one between braces", "pot: {colour: blue}\n", "pot: {}\n"},
		{"with a question mark", "pot:\n  ? colour # c\n  : blue\n  ? lid\n", "pot:\n  # c\n  ? lid\n"},
	})
	check(t, func(e *strictyaml.Text) error { return e.Remove(strictyaml.Path{"cups", 0, "colour"}) }, []change{
		{"behind a dash", "cups:\n  - colour: blue\n    id: a\n", "cups:\n  - id: a\n"},
		{"behind a dash with a comment", "cups:\n  - colour: blue # c\n    # d\n    id: a\n", "cups:\n  - # c\n    # d\n    id: a\n"},
		{"the only one behind a dash", "cups:\n  - colour: blue # c\n", "cups:\n  - {} # c\n"},
	})
}

// What cannot be changed without touching more is left as it is, and said.
func TestAChangeThatWouldTouchMoreIsRefused(t *testing.T) {
	for _, c := range []struct {
		before, says string
		do           func(*strictyaml.Text) error
	}{
		{"cups: [a: b]\n", "tea.yaml:1:8: this cannot be changed in place", put(strictyaml.Scalar("x"), "cups", 0, "c")},
		{"pot: x\n", "tea.yaml:1:6: expected a mapping (name: value) here, to add to it", put(strictyaml.Scalar("x"), "pot", "c")},
		{"pot: {a: b}\n", "tea.yaml:1:6: expected a list here, to add to it", func(e *strictyaml.Text) error { return e.Append(strictyaml.Path{"pot"}, strictyaml.Scalar("x")) }},
		{"cups: [a]\n", "tea.yaml:1:7: there is no value number 4 in the list", put(strictyaml.Scalar("x"), "cups", 4)},
		{"cups: {}\n", "tea.yaml:1:7: there is no list to put a value into", put(strictyaml.Scalar("x"), "cups", "a", 1)},
		{"cups: [a]\n", "tea.yaml:1:1: only a key can be taken away", func(e *strictyaml.Text) error { return e.Remove(strictyaml.Path{"cups", 0}) }},
		{"pot: a\n", "tea.yaml: the file would grow past 2000 bytes", put(strictyaml.Scalar(strings.Repeat("x", 2000)), "pot")},
		{"pot: a\n", "tea.yaml:1:1: this cannot be changed in place", put(strictyaml.Scalar("x"), strings.Repeat("k", 1100))},
		{"pot: a\n", "tea.yaml:1:6: this cannot be changed in place", put(strictyaml.Scalar("caf\xe9"), "pot")},
	} {
		e := edit(t, c.before)
		err := c.do(e)
		require.ErrorContains(t, err, c.says, c.before)
		assert.Equal(t, c.before, string(e.Bytes()))
	}
	_, err := strictyaml.Edit("tea.yaml", []byte("pot: &a x\n"), strictyaml.Options{})
	require.ErrorContains(t, err, "anchors and aliases are not read")
}

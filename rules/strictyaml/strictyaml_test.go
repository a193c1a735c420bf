package strictyaml_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules/strictyaml"
)

// parse reads text that must be sound.
func parse(t *testing.T, text string) (*strictyaml.Doc, *strictyaml.Map) {
	t.Helper()
	d := strictyaml.Parse("tea.yaml", []byte(text), strictyaml.Options{})
	require.Nil(t, d.Errs())
	return d, d.Top()
}

func TestAnErrorShowsPlaceLineAndCaret(t *testing.T) {
	d, top := parse(t, "pot: round\ncups:\n  - blue\n  - colour: red\n")
	cups, _ := top.Need("cups")
	cups.List()[1].Map().Done()
	assert.EqualError(t, d.Errs(), `tea.yaml:4:5: unknown key "colour"
      - colour: red
        ^`)
}

func TestAnErrorOfAWholeFileHasNoLine(t *testing.T) {
	assert.EqualError(t, &strictyaml.Error{File: "tea.yaml", Msg: "the pot is empty", Excerpt: "never shown"}, "tea.yaml: the pot is empty")
}

func TestTheCaretStandsUnderItsColumn(t *testing.T) {
	for _, c := range []struct {
		name, line string
		col        int
		shown      string
		caret      int // columns before it
	}{
		{"at the first character", "pot", 1, "pot", 0},
		{"at the last", "pot", 3, "pot", 2},
		{"behind the last", "pot", 4, "pot", 3},
		{"far behind the last", "pot", 40, "pot", 3},
		{"before the first", "pot", 0, "pot", 0},
		{"in an empty line", "", 1, "", 0},
		{"behind letters of two bytes", "Grüße, größte Kanne", 15, "Grüße, größte Kanne", 14},
		{"behind signs of three bytes", "20 °C … 25 °C", 9, "20 °C … 25 °C", 8},
		{"behind a tab", "\tpot: x", 7, " pot: x", 6},
		{"between tabs", "a\t\tb\tc", 4, "a  b c", 3},
		{"behind a bell and a delete", "a\a\x7fb", 4, "a  b", 3},
		{"behind bytes that are no letters", "a\xff\xfeb", 4, "a  b", 3},
	} {
		err := &strictyaml.Error{File: "f", Line: 7, Col: c.col, Msg: "m", Excerpt: c.line}
		want := fmt.Sprintf("f:7:%d: m\n    %s\n    %s^", c.col, c.shown, strings.Repeat(" ", c.caret))
		assert.EqualError(t, err, want, c.name)
	}
}

// TestALongLineIsShownAroundTheCaret moves the caret along a line in which every character
// tells where it stands.
func TestALongLineIsShownAroundTheCaret(t *testing.T) {
	for _, letters := range []string{"0123456789", "äöüßéèêçñø"} {
		for _, length := range []int{69, 70, 71, 100, 500} {
			all := []rune(strings.Repeat(letters, 50))[:length]
			for col := 1; col <= length+1; col++ {
				err := &strictyaml.Error{File: "f", Line: 1, Col: col, Msg: "m", Excerpt: string(all)}
				lines := strings.Split(err.Error(), "\n")
				require.Len(t, lines, 3)
				shown := []rune(strings.TrimPrefix(lines[1], "    "))
				assert.Len(t, shown, min(length, 70), "column %d of %d", col, length)
				caret := strings.Index(lines[2], "^") - 4
				if col > length {
					assert.Equal(t, len(shown), caret, "behind the end of %d", length)
					continue
				}
				require.Less(t, caret, len(shown), "column %d of %d", col, length)
				assert.Equal(t, string(all[col-1]), string(shown[caret]), "column %d of %d", col, length)
				if col > 36 && col <= length-35 && length > 70 {
					assert.InDelta(t, 34.5, caret, 0.5, "there is as much to see before column %d of %d as behind it", col, length)
				}
			}
		}
	}
}

func TestColumnsCountCharactersNotBytes(t *testing.T) {
	d, top := parse(t, "größe: [süß, übergroß, {köln: ä}]\n")
	v, _ := top.Need("größe")
	list := v.List()
	list[1].Fail("no such size")
	list[2].Map().Done()
	assert.EqualError(t, d.Errs(), `tea.yaml:1:14: no such size
    größe: [süß, übergroß, {köln: ä}]
                 ^
tea.yaml:1:25: unknown key "köln"
    größe: [süß, übergroß, {köln: ä}]
                            ^`)
}

func TestAPlaceInsideATextIsPointedAt(t *testing.T) {
	_, top := parse(t, `plain: one two three
quoted: "one two three"
single: 'one two three'
escaped: "one \"two\" three"
folded: >
  one
  two
`)
	for _, c := range []struct{ key, want string }{
		{"plain", "tea.yaml:1:12: here\n    plain: one two three\n               ^"},
		{"quoted", "tea.yaml:2:14: here\n    quoted: \"one two three\"\n                 ^"},
		{"single", "tea.yaml:3:14: here\n    single: 'one two three'\n                 ^"},
		// Where the text does not run in the file as it is read, only its beginning is certain.
		{"escaped", "tea.yaml:4:11: here\n    escaped: \"one \\\"two\\\" three\"\n              ^"},
		{"folded", "tea.yaml:5:9: here\n    folded: >\n            ^"},
	} {
		v, ok := top.Need(c.key)
		require.True(t, ok)
		assert.EqualError(t, v.Pos().ErrorAt(4, "here"), c.want, c.key)
		assert.Equal(t, "tea.yaml", v.Pos().File())
	}
}

func TestAPlaceInNoFileStillSpeaks(t *testing.T) {
	var nowhere strictyaml.Pos
	assert.Empty(t, nowhere.File())
	assert.EqualError(t, nowhere.ErrorAt(3, "lost %d cups", 2), "(no file): lost 2 cups")
}

func TestLineEndsOfOtherSystemsAreNotShown(t *testing.T) {
	d := strictyaml.Parse("tea.yaml", []byte("pot: 1\r\ncup: 2\r\n"), strictyaml.Options{Closing: "cup"})
	require.Nil(t, d.Errs())
	d.Top().Done()
	assert.EqualError(t, d.Errs(), "tea.yaml:1:1: unknown key \"pot\"\n    pot: 1\n    ^\ntea.yaml:2:1: unknown key \"cup\"\n    cup: 2\n    ^")
}

func TestErrorsAreSortedByFileLineAndColumn(t *testing.T) {
	at := func(file string, line, col int) *strictyaml.Error {
		return &strictyaml.Error{File: file, Line: line, Col: col}
	}
	errs := strictyaml.Errors{at("b", 1, 1), at("a", 10, 1), at("a", 9, 7), at("a", 9, 2), at("a", 0, 0)}
	assert.Equal(t, strictyaml.Errors{at("a", 0, 0), at("a", 9, 2), at("a", 9, 7), at("a", 10, 1), at("b", 1, 1)}, errs.Sorted())
	assert.Nil(t, strictyaml.Errors{}.Sorted())
}

func TestNineErrorsAreEightAndOneMore(t *testing.T) {
	var errs strictyaml.Errors
	for i := range 9 {
		errs = append(errs, &strictyaml.Error{File: "f", Msg: fmt.Sprint(i)})
	}
	assert.EqualError(t, errs, "f: 0\nf: 1\nf: 2\nf: 3\nf: 4\nf: 5\nf: 6\nf: 7\n… and 1 more")
	assert.EqualError(t, errs[:8], "f: 0\nf: 1\nf: 2\nf: 3\nf: 4\nf: 5\nf: 6\nf: 7")
	assert.EqualError(t, errs[:1], "f: 0")
}

func TestTheNearestNameIsSuggested(t *testing.T) {
	known := []string{"teapot", "teacup", "kettle", "strainer"}
	for name, want := range map[string]string{
		"teapto":   "teapot", // two letters changed places
		"tepot":    "teapot", // one is lacking
		"teapoot":  "teapot", // one too many
		"teapit":   "teapot", // one wrong
		"kettles":  "kettle",
		"strainr":  "strainer",
		"straniar": "strainer",
		"teaput":   "teapot",
		"Kettle":   "kettle",
		"spoon":    "",
		"tea":      "",
		"":         "",
		"kttl":     "",
	} {
		said := ""
		if want != "" {
			said = fmt.Sprintf(" (did you mean %q?)", want)
		}
		assert.Equal(t, said, strictyaml.Nearest(name, known), name)
	}
}

func TestOfEquallyNearNamesTheFirstIsSuggested(t *testing.T) {
	for _, known := range [][]string{{"cap", "cup", "cop"}, {"cup", "cop", "cap"}, {"cop", "cap", "cup"}} {
		assert.Equal(t, ` (did you mean "cap"?)`, strictyaml.Nearest("cip", known))
	}
}

func TestNothingIsSuggestedForVeryLongNames(t *testing.T) {
	long := strings.Repeat("x", 500)
	assert.Empty(t, strictyaml.Nearest(long, []string{long + "y"}))
	assert.Empty(t, strictyaml.Nearest("teapot", nil))
}

func TestYesAndNoAsPeopleTypeThem(t *testing.T) {
	for text, want := range map[string]bool{
		"yes": true, "Yes": true, "YES": true, "y": true, "Y": true, "true": true, "True": true, "  yes\t": true,
		"no": false, "No": false, "NO": false, "n": false, "N": false, "false": false, "FALSE": false, " no ": false,
	} {
		yes, ok := strictyaml.YesNo(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, yes, text)
	}
	for _, text := range []string{"", " ", "ja", "on", "off", "1", "0", "yes no", "yess", "maybe"} {
		yes, ok := strictyaml.YesNo(text)
		assert.False(t, ok, text)
		assert.False(t, yes, text)
	}
}

func TestWhatIsNotReadIsReported(t *testing.T) {
	d, top := parse(t, "pot: round\ncupps: 3\nlid: none\n")
	assert.Equal(t, "round", top.Str("pot"))
	_, ok := top.Opt("cups")
	assert.False(t, ok)
	top.Done()
	assert.EqualError(t, d.Errs(), `tea.yaml:2:1: unknown key "cupps" (did you mean "cups"?)
    cupps: 3
    ^
tea.yaml:3:1: unknown key "lid"
    lid: none
    ^`)
}

func TestValuesOfTheWrongSortAreRefusedWhereTheyStand(t *testing.T) {
	for _, c := range []struct {
		text, says string
		read       func(strictyaml.Node)
	}{
		{"v: [a]", "1:4: expected a text", func(v strictyaml.Node) { v.Str() }},
		{"v: {a: b}", "1:4: expected a text", func(v strictyaml.Node) { v.Str() }},
		{`v: "  "`, "1:5: expected a text", func(v strictyaml.Node) { v.Str() }},
		{"v: ~", "1:4: expected a text", func(v strictyaml.Node) { v.Str() }},
		{"v: many", "1:4: expected a number", func(v strictyaml.Node) { v.Num() }},
		{"v: 1 mm", "1:4: expected a number", func(v strictyaml.Node) { v.Num() }},
		{"v: [1]", "1:4: expected a number", func(v strictyaml.Node) { v.Num() }},
		{"v: [1, 2, 3]", "1:4: expected a list of 2 numbers", func(v strictyaml.Node) { v.Nums(2) }},
		{"v: [1, two]", "1:8: expected a number", func(v strictyaml.Node) { v.Nums(2) }},
		{"v: maybe", "1:4: expected yes or no", func(v strictyaml.Node) { v.Bool() }},
		{"v: a", "1:4: expected a list", func(v strictyaml.Node) { v.List() }},
		{"v: a", "1:4: expected a mapping (name: value)", func(v strictyaml.Node) { v.Map() }},
	} {
		d, top := parse(t, c.text+"\n")
		v, ok := top.Need("v")
		require.True(t, ok)
		c.read(v)
		require.Len(t, d.Errs(), 1, c.text)
		assert.True(t, strings.HasPrefix(d.Errs().Error(), "tea.yaml:"+c.says+"\n"), "%s: %s", c.text, d.Errs())
	}
}

func TestValuesOfTheRightSortAreRead(t *testing.T) {
	d, top := parse(t, "text: Earl Grey\nnumber: -2.5\nnumbers: [1, 2]\nyes: no\nlist: [a, b]\nsingle: a\n")
	need := func(key string) strictyaml.Node { v, _ := top.Need(key); return v }
	assert.Equal(t, "Earl Grey", top.Str("text"))
	assert.InDelta(t, -2.5, need("number").Num(), 0)
	assert.Equal(t, []float64{1, 2}, need("numbers").Nums(2))
	assert.False(t, need("yes").Bool())
	assert.Equal(t, []string{"a", "b"}, top.OptStrs("list"))
	assert.Len(t, need("list").OneOrMore(), 2)
	assert.Len(t, need("single").OneOrMore(), 1)
	assert.Empty(t, top.OptStr("absent"))
	assert.Nil(t, top.OptStrs("absent"))
	top.Done()
	assert.Nil(t, d.Errs())
}

func TestAMissingKeyIsReportedAtItsMapping(t *testing.T) {
	d, top := parse(t, "cups:\n  - {colour: red}\n")
	top.Each("cups", func(m *strictyaml.Map) {
		m.Str("colour")
		m.Str("size")
	})
	assert.EqualError(t, d.Errs(), "tea.yaml:2:5: the key \"size\" is missing\n      - {colour: red}\n        ^")
}

// TestTheEndOfAFileIsCertain tries ends at which something could be lost without being missed.
func TestTheEndOfAFileIsCertain(t *testing.T) {
	for text, says := range map[string]string{
		"a: 1\nend: 2\n":        "",
		"a: 1\nend: 2 # two\n":  "",
		"a: 1\nend:\n  - 2\n":   "",
		"a: 1\nend: 2":          "its last line has no line end",
		"a: 1\nend: 2\n\n":      "nothing may stand after the closing key",
		"a: 1\nend: 2\n  \n":    "nothing may stand after the closing key",
		"a: 1\nend: 2\n# two\n": "nothing may stand after the closing key",
		"end: 2\na: 1\n":        `its last key must be "end"`,
		"a: 1\n":                `its last key must be "end"`,
		"a: {end: 1}\n":         `its last key must be "end"`,
		"":                      "the file is empty",
		"\n":                    "nothing may stand after the closing key",
		"# nothing\n":           "nothing may stand after the closing key",
	} {
		d := strictyaml.Parse("tea.yaml", []byte(text), strictyaml.Options{Closing: "end"})
		if says == "" {
			assert.Nil(t, d.Errs(), "%q", text)
			continue
		}
		require.NotNil(t, d.Errs(), "%q", text)
		assert.Contains(t, d.Errs().Error(), says, "%q", text)
	}
}

func TestAFileOfOneByteTooManyIsRefused(t *testing.T) {
	for size, ok := range map[int]bool{10: true, 11: false} {
		text := "a: " + strings.Repeat("x", size-4) + "\n"
		d := strictyaml.Parse("tea.yaml", []byte(text), strictyaml.Options{MaxBytes: 10})
		assert.Equal(t, ok, d.Errs() == nil, "%d bytes", size)
	}
}

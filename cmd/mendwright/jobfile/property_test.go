package jobfile_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/quantity"
)

// byHand are job files as people and other programs write them: full of comments, of fields of a
// later program, and of every form that YAML has for one thing.
var byHand = map[string]string{
	"tidy": `# c1 A chest that nobody owns.
format: 1 # c2

# c3 the piece
piece:
  name: chest, Ostwick Hall # c4
  # c5
  age: 1850-1900
  later_one: {deep: [1, 2, "x # no comment"]} # c6
  # worth: c7 ask the owner

shop: {} # c8
later_top:
  - one # c9
  - {two: 2}

surfaces:
  # c10 the lid
  lid:
    note: >
      folded text
      # no comment

      goes on
    layer: veneer # c11 seen at a screw hole
    layer_mm: "0.9 ± 0.05 mm"
    confirmed: [layer, later_fact] # c12
    # c13 end of the lid
  back:
    layer: solid

# c14 the marks
defects:
  - id: dent # c15
    on: lid
    level: below

  # c16 the second one
  - on: back
    colour: dark # c17
    id: stain
    later_two: |
      a text # no comment
      of two lines
# c18 the end
`,
	"between brackets": `{format: 1, # c1
  piece: {age: 1850-1900, later_one: [a, {b: c}]}, # c2
  surfaces: {lid: {layer: veneer, # c3
      later_two: "it's"}, 'the back': {}},
  defects: [{id: dent, on: lid, form: spot}, # c4
    {id: stain, on: the back}]
} # c5
`,
	"of another taste": `format: "1"
surfaces:   # c1
      lid:
            'layer':   'veneer'   # c2
            later_one:
                - a   # c3
            layer_mm:
                  0.9 mm   # c4
            finish:   # c5 nobody knows
              shellac
      "back": { layer: solid }
defects:   # c6
- id: dent   # c7
  on: lid
  # c8
- level: below   # c9
  id: stain
  on: back
  later_two: '&ampersands'
`,
	"bare":                          "format: 1",
	"with the line ends of Windows": "# c1\r\nformat: 1\r\n\r\npiece:\r\n  age: 1850-1900 # c2\r\n  later_one: x\r\nsurfaces:\r\n  lid: {} # c3\r\n# c4\r\n",
}

// typed is a random right answer to a fact.
func typed(r *rand.Rand, f *rules.Fact) string {
	switch f.Kind {
	case condition.YesNo:
		return []string{"yes", "no", "No", "y"}[r.IntN(4)]
	case condition.Quantity:
		at := f.Bounds.Lo + r.Float64()*(f.Bounds.Hi-f.Bounds.Lo)
		return fmt.Sprintf([]string{"%s %s", "%s %s ± 1", "%[1]s"}[r.IntN(3)], quantity.Number(at, 3), f.Unit)
	}
	return f.Answers[r.IntN(len(f.Answers))].ID
}

var mark = regexp.MustCompile(`c\d+`)

// Two hundred random edits of each file: every answer is what was last said, and every comment
// and every field of a later program is still there.
func TestNothingElseIsLostInTwoHundredEdits(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	var facts []*rules.Fact
	for _, f := range k.Book.Facts {
		if f.Asked() {
			facts = append(facts, f)
		}
	}
	slices.SortFunc(facts, func(a, b *rules.Fact) int { return strings.Compare(a.ID, b.ID) })
	for name, content := range byHand {
		for seed := range uint64(2) {
			r := rand.New(rand.NewPCG(seed, 1))
			d := opened(t, content)
			first, err := d.Read()
			require.NoError(t, err, name)
			model := answersOf(first)
			things := map[string][]string{"piece": {"piece"}, "shop": {"shop"}}
			for s := range first.Job.Surfaces {
				things["surface"] = append(things["surface"], s)
			}
			slices.Sort(things["surface"])
			for _, m := range first.Job.Defects {
				things["defect"] = append(things["defect"], m.ID)
			}
			for i := range 200 {
				before := d.Text()
				what := random(t, r, d, model, things, facts, i)
				if what == "" {
					continue
				}
				at := fmt.Sprintf("%s, seed %d, edit %d, %s:\n%s\nwas:\n%s", name, seed, i, what, d.Text(), before)
				file, err := d.Read()
				require.NoError(t, err, at)
				require.Equal(t, model, answersOf(file), at)
				require.LessOrEqual(t, lost(before, d.Text()), 4, "lines of the answer, its part and its confirmation at most: %s", at)
				require.Len(t, file.Unread, len(first.Unread), at)
			}
			after := d.Text()
			for _, c := range mark.FindAllString(content, -1) {
				assert.Regexp(t, `#[^\n]*\b`+c+`\b`, after, "%s, seed %d", name, seed)
			}
			for _, whole := range []string{"later_one: {deep: [1, 2, \"x # no comment\"]} # c6", "later_top:\n  - one # c9\n  - {two: 2}\n", "note: >\n      folded text\n      # no comment\n\n      goes on\n",
				"later_two: |\n      a text # no comment\n      of two lines\n", "later_one: [a, {b: c}]", `later_two: "it's"`, "later_one:\n                - a   # c3\n", "later_two: '&ampersands'", "later_one: x\r\n"} {
				assert.Equal(t, strings.Count(content, whole), strings.Count(after, whole), "%s, seed %d: %s", name, seed, whole)
			}
			if strings.Contains(content, "\r\n") {
				assert.Equal(t, strings.Count(after, "\n"), strings.Count(after, "\r\n"), "every line ends as the first did")
			}
		}
	}
}

// lost counts the lines of before that are not in after.
func lost(before, after string) int {
	have := map[string]int{}
	for line := range strings.Lines(after) {
		have[strings.TrimRight(line, "\r\n")]++
	}
	n := 0
	for line := range strings.Lines(before) {
		if line = strings.TrimRight(line, "\r\n"); have[line] == 0 {
			n++
		} else {
			have[line]--
		}
	}
	return n
}

// answersOf are the answers of a file as typed, or as cannot tell.
func answersOf(f *jobfile.File) map[string]string {
	out := map[string]string{}
	for _, u := range f.Understood {
		out[u.Of+" "+u.Fact] = u.Typed
		if u.Answer == "cannot tell" {
			out[u.Of+" "+u.Fact] = u.Answer
		}
	}
	return out
}

// random makes one edit, of d and of model alike, and says which.
func random(t *testing.T, r *rand.Rand, d *jobfile.Doc, model map[string]string, things map[string][]string, facts []*rules.Fact, i int) string {
	f := facts[r.IntN(len(facts))]
	subject := things[f.Subject]
	switch act := r.IntN(20); {
	case act == 0:
		name := []string{"lid %d", "board-%d", "the 'old' %d", "top: %d", "#%d", "größe %d", "%d"}[r.IntN(7)]
		name = fmt.Sprintf(name, i)
		require.NoError(t, d.AddSurface(name))
		things["surface"] = append(things["surface"], name)
		return "a surface"
	case act <= 2 && len(things["surface"]) > 0:
		id, on := fmt.Sprintf("mark, %d", i), things["surface"][r.IntN(len(things["surface"]))]
		if len(things["defect"]) > 0 && act == 1 {
			like := things["defect"][r.IntN(len(things["defect"]))]
			require.NoError(t, d.AddDefectLike(like, id, on))
			for _, f := range facts {
				if v, ok := model[like+" "+f.ID]; ok && f.Subject == "defect" && f.Kind != condition.Quantity && f.Effort != "spot-test" {
					model[id+" "+f.ID] = v
				}
			}
		} else {
			require.NoError(t, d.AddDefect(id, on, jobfile.Answer{Fact: "defect.form", Texts: []string{"ring"}}))
			model[id+" defect.form"] = "ring"
		}
		things["defect"] = append(things["defect"], id)
		return "a defect"
	case len(subject) == 0:
		return ""
	case act <= 8:
		of := subject[r.IntN(len(subject))]
		require.NoError(t, d.Clear(of, f.ID), "clear %s of %s in\n%s", f.ID, of, d.Text())
		delete(model, of+" "+f.ID)
		return "clear " + f.ID + " of " + of
	case act == 9:
		of := subject[r.IntN(len(subject))]
		require.NoError(t, d.CannotTell(of, f.ID), "cannot tell %s of %s in\n%s", f.ID, of, d.Text())
		model[of+" "+f.ID] = "cannot tell"
		return "cannot tell " + f.ID + " of " + of
	case act == 10:
		of := subject[r.IntN(len(subject))]
		if v, ok := model[of+" "+f.ID]; ok && v != "cannot tell" {
			require.NoError(t, d.Confirm(of, f.ID), "confirm %s of %s in\n%s", f.ID, of, d.Text())
		}
		return "confirm " + f.ID + " of " + of
	default:
		of, answer := subject[r.IntN(len(subject))], typed(r, f)
		require.NoError(t, d.Set(of, f.ID, answer), "set %s of %s in\n%s", f.ID, of, d.Text())
		model[of+" "+f.ID] = answer
		return "set " + f.ID + " of " + of
	}
}

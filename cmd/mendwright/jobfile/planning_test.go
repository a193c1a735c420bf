package jobfile_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/engine/plan"
	"mendwright/rules/interval"
)

// planned is an invented job whose person has said when they work and what things cost.
const planned = `format: 1
surfaces:
  lid: {layer: solid}
defects:
  - id: ding
    on: lid
    form: spot
    depth_mm: 1 ± 0.1 mm
    repair: raise-with-steam
    done:
      - {repair: raise-with-steam, on: 2026-12-05, came_out: not-enough, found: {depth_mm: 0.2 ± 0.05 mm, surface.layer_mm: 18 mm}}
plan:
  start: 2026-12-04 18:30
  weekdays: 18:00-21:00
  saturdays: [9:00-12:00, 13:00-17:00]
  sundays: none
  money: {currency: crowns, paid: 40, fetches: 300 to 380, fee: 10 %, other: 20, hour: 18, prices: {mineral-spirits: 0.01}}
  repairs: {bared-wood@lid: brush-on-coat}
  done: [photograph-first]
`

func TestWhatAPersonSaysOfTimeAndMoneyIsRead(t *testing.T) {
	f, err := read(t, planned)
	require.NoError(t, err)
	p := f.Job.Planning
	assert.Equal(t, time.Date(2026, 12, 4, 18, 30, 0, 0, time.UTC), p.Start)
	assert.Equal(t, []plan.Hours{{From: 18 * 60, To: 21 * 60}}, p.Hours[time.Wednesday])
	assert.Equal(t, []plan.Hours{{From: 9 * 60, To: 12 * 60}, {From: 13 * 60, To: 17 * 60}}, p.Hours[time.Saturday])
	assert.Empty(t, p.Hours[time.Sunday])
	assert.Equal(t, &engine.Money{Currency: "crowns", Paid: 40, Fetches: interval.Range{Lo: 300, Hi: 380}, Fee: 0.1, Other: 20, Hour: 18,
		Prices: map[string]float64{"mineral-spirits": 0.01}}, p.Money)
	assert.Equal(t, map[string]string{"bared-wood@lid": "brush-on-coat"}, p.Repairs)
	assert.Equal(t, []string{"photograph-first"}, p.Done)
}

func TestWhatWasDoneAndFoundIsCarriedIntoTheAnswers(t *testing.T) {
	f, err := read(t, planned)
	require.NoError(t, err)
	m := f.Job.Defects[0]
	assert.Equal(t, "raise-with-steam", m.Repair)
	require.Len(t, m.Done, 1)
	assert.Equal(t, engine.NotEnough, m.Done[0].CameOut)
	assert.InDelta(t, 0.2, m.Answers["defect.depth_mm"].Range().Mid(), 1e-9, "what was measured after the steam, not before")
	assert.InDelta(t, 18, f.Job.Surfaces["lid"].Answers["surface.layer_mm"].Range().Mid(), 1e-9)
}

func TestMistakesInAPlanAreShownWhereTheyStand(t *testing.T) {
	for text, want := range map[string]string{
		"plan: {start: tomorrow}":                                                                      "expected a day, such as 2026-12-05",
		"plan: {weekdays: 21:00-18:00}":                                                                "earlier first",
		"plan: {weekdays: [9:00-12:00, 11:00-13:00]}":                                                  "earlier first",
		"plan: {saturdays: mornings}":                                                                  "such as 18:00-21:00",
		"plan: {money: {paid: lots}}":                                                                  "expected a sum, such as 340",
		"plan: {money: {fetches: 380 to 300}}":                                                         "expected a sum",
		"plan: {money: {fee: 200 %}}":                                                                  "a fee is a part of the price",
		"plan: {money: {prices: {mineral-spirit: 1}}}":                                                 `did you mean "mineral-spirits"?`,
		"plan: {repairs: {x: raise-with-stem}}":                                                        `did you mean "raise-with-steam"?`,
		"plan: {sundays: none, fridays: 9:00-12:00}":                                                   `unknown key "fridays"`,
		"defects: [{id: a, on: lid, repair: steam}]":                                                   "there is no repair called \"steam\"",
		"defects: [{id: a, on: lid, done: [{repair: raise-with-steam}]}]":                              `"came_out" is missing`,
		"defects: [{id: a, on: lid, done: [{repair: raise-with-steam, came_out: well}]}]":              "expected enough, not-enough, failed",
		"defects: [{id: a, on: lid, done: [{repair: raise-with-steam, came_out: enough, on: 5 Dec}]}]": "expected the day",
		"defects: [{id: a, on: lid, done: [{repair: raise-with-steam, came_out: enough, found: {depht_mm: 1 mm}}]}]": `did you mean "depth_mm"?`,
	} {
		errs := mistakes(t, "format: 1\nsurfaces: {lid: {layer: solid}}\n"+text+"\n")
		require.Len(t, errs, 1, text)
		assert.Contains(t, errs[0].Error(), want, text)
		assert.Equal(t, 3, errs[0].Line, text)
	}
}

func TestAStepThatIsDoneIsWrittenBesideItsMark(t *testing.T) {
	d := opened(t, "format: 1\nsurfaces: {lid: {layer: solid}}\ndefects:\n  - id: ding # where the pan fell\n    on: lid\n")
	require.NoError(t, d.Pick("ding", "raise-with-steam"))
	require.NoError(t, d.AddDone("ding", "raise-with-steam", "2026-12-05", engine.NotEnough,
		jobfile.Answer{Fact: "defect.depth_mm", Texts: []string{"0.2 mm"}}, jobfile.Answer{Fact: "surface.layer_mm", Texts: []string{"18 mm"}}))
	require.NoError(t, d.AddDone("ding", "fill-with-wax-stick", "", engine.Enough))
	require.NoError(t, d.AddChoreDone("photograph-first"))
	f, err := d.Read()
	require.NoError(t, err)
	m := f.Job.Defects[0]
	assert.Equal(t, "raise-with-steam", m.Repair)
	require.Len(t, m.Done, 2)
	assert.Equal(t, "2026-12-05", m.Done[0].On)
	assert.InDelta(t, 0.2, m.Done[0].Found.Answers["defect.depth_mm"].Range().Mid(), 1e-9)
	assert.Equal(t, "fill-with-wax-stick", m.Mended().Method)
	assert.Equal(t, []string{"photograph-first"}, f.Job.Planning.Done)
	assert.Contains(t, d.Text(), "# where the pan fell")

	before := d.Text()
	assert.ErrorContains(t, d.AddDone("dong", "raise-with-steam", "", engine.Enough), `did you mean "ding"?`)
	assert.ErrorContains(t, d.AddDone("ding", "raise-with-steam", "", "nicely"), "expected enough")
	assert.ErrorContains(t, d.AddDone("ding", "raise-with-steam", "", engine.Enough, jobfile.Answer{Fact: "defect.depth_mm", Texts: []string{"deep"}}), "deep")
	assert.ErrorContains(t, d.Pick("ding", "wish-it-away"), "there is no repair")
	assert.Equal(t, before, d.Text(), "what is wrong changes nothing")
	require.NoError(t, d.Pick("ding", ""))
	assert.NotContains(t, d.Text(), "    repair: raise")
}

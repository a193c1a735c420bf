package knowledge_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/engine/metal"
	"mendwright/engine/moisture"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// told reads answers as people type them, "fact: answer" in a line each.
func told(t *testing.T, lines ...string) map[string]condition.Value {
	t.Helper()
	out := map[string]condition.Value{}
	for _, line := range lines {
		id, text, ok := strings.Cut(line, ": ")
		require.True(t, ok, line)
		fact := verified().Book.Facts[id]
		require.NotNil(t, fact, id)
		v, known, err := fact.ReadAnswer(text)
		require.NoError(t, err, line)
		require.True(t, known, line)
		out[id] = v
	}
	return out
}

// repaired is what the triage of one mark says of a method, with what would lift its bans.
func repaired(t *testing.T, method string, answers map[string]condition.Value) *engine.Repair {
	t.Helper()
	job := jobOf(answers)
	a := triage(t, job)
	require.NoError(t, engine.AddRemedies(verified().Book, verified().Tables, job, a))
	for i := range a.Defects[0].Repairs {
		if r := &a.Defects[0].Repairs[i]; r.Method == method {
			return r
		}
	}
	require.Fail(t, "the method is not offered", method)
	return nil
}

func reasonFor(t *testing.T, r *engine.Repair, rule string) engine.Reason {
	t.Helper()
	for _, b := range r.Because {
		if strings.Contains(b.Rule, rule) {
			return b
		}
	}
	require.Fail(t, "no such reason", "%s of %s", rule, r.Method)
	return engine.Reason{}
}

var dullLacquer = []string{"defect.form: patch", "defect.level: level", "defect.fibres: untouched", "defect.sheen: duller", "defect.film_broken: no", "defect.film_off: no", "defect.film_look: plain",
	"surface.layer: solid", "surface.finish: lacquer", "surface.stripped: no", "surface.film_holds: holds", "surface.waxed: no", "surface.decorated: no", "surface.area_m2: 1", "shop.flame: no"}

func TestSprayingInAClosedHotDampRoomIsNotReadyAndSaysWhatWouldBe(t *testing.T) {
	t.Parallel()
	room := []string{"shop.place: closed-room", "shop.room_m3: 40", "shop.vapour_mask: yes", "shop.air_c: 34", "shop.humidity: 80", "surface.wood_c: 30"}
	r := repaired(t, "spray-coat", told(t, append(room, dullLacquer...)...))
	assert.Equal(t, engine.RuledOut, r.State)
	assert.True(t, r.ShopOnly, "nothing but the shop stands against it")
	require.NotNil(t, r.Vapour)
	assert.Greater(t, r.Vapour.OfLimit.Hi, 10.0, "beyond the ten times that a half mask is made for")
	assert.Contains(t, reasonFor(t, r, "shop.place").WouldDo, "shop.place: cross-draught or extraction or outdoors")
	weather := reasonFor(t, r, "coat.must_wait")
	assert.Contains(t, weather.RestsOn[0].Why.Because, "warmer than the 32 °C it stands")
	assert.Contains(t, weather.RestsOn[0].Why.Because, "drops its water at 28 to 32.1 °C")
	require.Len(t, weather.WouldDo, 1)
	assert.Regexp(t, `^shop\.air_c: .* together with shop\.humidity: at most \d+ %$`, weather.WouldDo[0])

	good := []string{"shop.place: outdoors", "shop.vapour_mask: yes", "shop.air_c: 22", "shop.humidity: 45", "surface.wood_c: 22", "surface.silicone: no", "surface.upright: no", "surface.area_m2: 0.5", "surface.damp: no", "surface.last_chemical: none"}
	assert.Equal(t, engine.Ready, repaired(t, "spray-coat", told(t, append(slices.Clone(dullLacquer), good...)...)).State)
}

// TestWhatWouldDoDoes: an answer named as lifting a ban lifts it.
func TestWhatWouldDoDoes(t *testing.T) {
	t.Parallel()
	answers := append([]string{"shop.place: extraction", "shop.vapour_mask: yes", "shop.air_c: 20", "shop.humidity: 78", "surface.wood_c: 20", "shop.room_m3: 400"}, dullLacquer...)
	reason := reasonFor(t, repaired(t, "spray-coat", told(t, answers...)), "coat.must_wait")
	require.NotEmpty(t, reason.WouldDo)
	for _, would := range reason.WouldDo {
		id, words, _ := strings.Cut(would, ": ")
		value := strings.TrimPrefix(strings.TrimPrefix(words, "at most "), "at least ")
		changed := told(t, answers...)
		maps.Copy(changed, told(t, id+": "+value))
		for _, b := range repaired(t, "spray-coat", changed).Because {
			assert.NotContains(t, b.Rule, "coat.must_wait", would)
		}
	}
}

func TestAStripperBannedToThePublicIsRuledOut(t *testing.T) {
	t.Parallel()
	for _, place := range []string{"outdoors", "extraction", "cross-draught"} {
		r := repaired(t, "strip-with-solvent-gel", told(t, append([]string{"shop.remover: dichloromethane", "shop.place: " + place, "shop.vapour_mask: yes"}, dullLacquer...)...))
		assert.Equal(t, engine.RuledOut, r.State, place)
		assert.Equal(t, []string{"dcm-uk", "dcm-us", "osha-dcm"}, reasonFor(t, r, "dichloromethane").Sources)
		assert.Contains(t, reasonFor(t, r, "dichloromethane").WouldDo, "shop.remover: nmp or fast-solvents or slow-solvents")
	}
}

// TestAHalfMaskIsRefusedWhereItDoesNotServe: by its cartridge against dichloromethane, by its factor against lacquer
// sprayed in a small room; and it serves where the vapour stands above the limit and below ten times that.
func TestAHalfMaskIsRefusedWhereItDoesNotServe(t *testing.T) {
	t.Parallel()
	room := []string{"shop.place: cross-draught", "shop.air_c: 20 ± 0.5", "shop.humidity: 45", "surface.wood_c: 20", "shop.vapour_mask: yes"}
	vapour := func(method string, more ...string) *engine.Vapour {
		r := repaired(t, method, told(t, slices.Concat(room, dullLacquer, more)...))
		require.NotNil(t, r.Vapour)
		return r.Vapour
	}
	cartridge := vapour("strip-with-solvent-gel", "shop.remover: dichloromethane", "shop.room_m3: 40 ± 1")
	assert.Equal(t, "yes", cartridge.AboveMask, "no cartridge holds it")
	factor := vapour("spray-coat", "shop.room_m3: 6 ± 0.5", "surface.area_m2: 19 ± 0.5")
	assert.Equal(t, "yes", factor.AboveMask)
	assert.Greater(t, factor.OfLimit.Lo, 10.0, "more than the factor of a half mask even at the best end")
	serves := vapour("strip-with-solvent-gel", "shop.remover: slow-solvents", "shop.room_m3: 40 ± 1")
	assert.Equal(t, "no", serves.AboveMask)
	assert.LessOrEqual(t, serves.OfLimit.Hi, 10.0)
	bare := slices.DeleteFunc(slices.Clone(room), func(s string) bool { return strings.HasPrefix(s, "shop.vapour_mask") })
	r := repaired(t, "strip-with-solvent-gel", told(t, slices.Concat(bare, dullLacquer, []string{"shop.remover: slow-solvents", "shop.room_m3: 40", "shop.vapour_mask: no"})...))
	assert.NotEqual(t, "no", r.Vapour.AboveMask, "without the mask it is not cleared")
}

// TestSteamIsKeptFromEveryGlueThatHeatSoftens holds the rule to the arithmetic of heat: it bans exactly the glues that heat or
// water releases, each of which the face under steam, at 100 °C, may soften.
func TestSteamIsKeptFromEveryGlueThatHeatSoftens(t *testing.T) {
	t.Parallel()
	table, err := verified().Book.Table("glues")
	require.NoError(t, err)
	banned := 0
	for _, row := range table.Rows {
		r := repaired(t, "raise-with-steam", told(t, "defect.form: spot", "defect.level: below", "defect.fibres: crushed", "surface.layer: veneer",
			"surface.glue: "+row.Key, "surface.bond: sound", "surface.decorated: no"))
		softens, err := moisture.Softens(row.Ranges["softens_c"], interval.Exact(moisture.FaceLimit))
		require.NoError(t, err)
		if row.Texts["needs"] == "cutting" {
			assert.NotEqual(t, engine.RuledOut, r.State, row.Key)
			continue
		}
		banned++
		assert.Equal(t, engine.RuledOut, r.State, row.Key)
		assert.NotEqual(t, moisture.No, softens, "a ban for a glue that steam cannot soften: %s", row.Key)
	}
	assert.GreaterOrEqual(t, banned, 5)
}

// TestNoBathTakesAPartThatItsTableForbids: what the table of baths says never, no method is ready for; a hardened
// spring among them.
func TestNoBathTakesAPartThatItsTableForbids(t *testing.T) {
	t.Parallel()
	tables, err := knowledge.MetalTables(verified().Book)
	require.NoError(t, err)
	methods := map[string]string{"vinegar": "vinegar-bath", "citric": "citric-bath", "chelator": "chelator-bath", "electrolysis": "electrolysis"}
	parts := map[string][]string{
		"plain-steel": {"surface.metal: plain-steel"}, "zinc-plated": {"surface.metal: zinc-plated"}, "brass-plated": {"surface.metal: brass-plated"},
		"chrome-or-nickel": {"surface.metal: chrome-or-nickel"}, "solid-brass": {"surface.metal: solid-brass"}, "zinc-casting": {"surface.metal: zinc-casting"},
		"aluminium": {"surface.metal: aluminium"}, "hardened-spring": {"surface.metal: plain-steel", "surface.spring: yes"}, "gilt": {"surface.metal: solid-brass", "surface.gilded: yes"},
	}
	usual := []string{"surface.layer: metal", "surface.off_piece: yes", "surface.painted_part: no", "surface.last_chemical: none", "surface.mixed_metals: no",
		"surface.spring: no", "surface.gilded: no", "defect.form: patch", "defect.rust_form: powder", "defect.carries_load: no", "shop.goggles: yes", "shop.gloves: yes", "shop.place: outdoors", "shop.flame: no", "shop.practised: yes", "shop.earth_leakage: yes"}
	forbidden, allowed := 0, 0
	for _, rule := range tables.Baths {
		method, ok := methods[rule.Bath]
		if _, known := parts[rule.Part]; !ok || !known {
			continue
		}
		answers := told(t, usual...)
		maps.Copy(answers, told(t, parts[rule.Part]...))
		state := engine.State("not offered")
		for _, r := range triage(t, jobOf(answers)).Defects[0].Repairs {
			if r.Method == method {
				state = r.State
			}
		}
		switch rule.Verdict {
		case metal.Never:
			forbidden++
			assert.NotContains(t, []engine.State{engine.Ready, engine.NeedsAnswer}, state, "%s of %s", rule.Bath, rule.Part)
		case metal.Watch, metal.Allowed:
			if state == engine.Ready {
				allowed++
			}
		}
	}
	assert.GreaterOrEqual(t, forbidden, 12)
	assert.GreaterOrEqual(t, allowed, 2, "plain steel is taken")
}

// TestEveryProductAndCoatThatARepairNamesIsInItsTable: what is not there would be taken for anything, and ask for ever.
func TestEveryProductAndCoatThatARepairNamesIsInItsTable(t *testing.T) {
	t.Parallel()
	vapours, err := verified().Tables.Vapour()
	require.NoError(t, err)
	coats, err := verified().Tables.Coat()
	require.NoError(t, err)
	names := func(c rules.Choice) []string {
		if c.Of != "" {
			return []string{c.Of}
		}
		var out []string
		for _, a := range verified().Book.Facts[c.By].Answers {
			out = append(out, a.ID)
		}
		return out
	}
	seen := 0
	for _, m := range verified().Book.Methods() {
		if m.Vapour != nil {
			for _, product := range names(*m.Vapour) {
				assert.Contains(t, vapours.Products, product, m.ID)
				seen++
			}
		}
		if m.Coat != nil {
			for _, name := range names(m.Coat.Choice) {
				_, err := coats.Coat(name)
				assert.NoError(t, err, m.ID)
				seen++
			}
		}
	}
	assert.Greater(t, seen, 15)
}

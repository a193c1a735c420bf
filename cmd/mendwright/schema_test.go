package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"reflect"

	"strings"
	"testing"

	"github.com/invopop/jsonschema"
	checker "github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/engine/audit"
	"mendwright/engine/finish"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
)

var update = flag.Bool("update", false, "write the published schemas anew")

// schemas are the published forms: of the answers by the types that are printed, of the job file
// by the vocabulary of the rulebook.
func schemas(t *testing.T) map[string]any {
	k, err := knowledge.Load()
	require.NoError(t, err)
	return map[string]any{
		"triage.schema.json":        answerSchema(&engine.Answer{}, "What `mendwright triage --json` prints"),
		"plan.schema.json":          answerSchema(&engine.Plan{}, "What `mendwright plan --json` prints"),
		"sand.schema.json":          answerSchema(&engine.SandingAnswer{}, "What `mendwright sand --json` prints"),
		"why.schema.json":           answerSchema(&engine.Explanation{}, "What `mendwright why --json` prints"),
		"air.schema.json":           answerSchema(&screen.AirAnswer{}, "What `mendwright air --json` prints"),
		"coat.schema.json":          answerSchema(&finish.Answer{}, "What `mendwright coat --json` prints"),
		"reckon.schema.json":        answerSchema(&screen.ReckonAnswer{}, "What `mendwright reckon --json` prints"),
		"rules-list.schema.json":    answerSchema(&engine.Catalogue{}, "What `mendwright rules list --json` prints"),
		"rules-show.schema.json":    answerSchema(&engine.Shown{}, "What `mendwright rules show --json` prints"),
		"rules-cases.schema.json":   answerSchema(&engine.CaseRun{}, "What `mendwright rules cases --json` prints"),
		"rules-mutants.schema.json": answerSchema(&engine.MutantRun{}, "What `mendwright rules mutants --json` prints"),
		"rules-check.schema.json":   answerSchema(&audit.Report{}, "What `mendwright rules check --json` prints"),
		"job.schema.json":           jobSchema(k.Book, k.Tables.ToolNames()),
	}
}

func answerSchema(v any, title string) *jsonschema.Schema {
	r := jsonschema.Reflector{Anonymous: true, Mapper: func(t reflect.Type) *jsonschema.Schema {
		if t == reflect.TypeFor[engine.Digest]() {
			return &jsonschema.Schema{Type: "string"} // it is written as one
		}
		return nil
	}}
	s := r.Reflect(v)
	s.Title = title
	return s
}

func jobSchema(book *rules.Book, tools []string) map[string]any {
	text := map[string]any{"type": "string"}
	object := func(properties map[string]any, required ...string) map[string]any {
		o := map[string]any{"type": "object", "properties": properties, "additionalProperties": false}
		if len(required) > 0 {
			o["required"] = required
		}
		return o
	}
	about := func(subject string, extra map[string]any) map[string]any {
		p := map[string]any{"note": text, "confirmed": map[string]any{"type": "array", "items": text}}
		for id, f := range book.Facts {
			if rest, ok := strings.CutPrefix(id, subject+"."); ok && f.Asked() {
				p[rest] = answerTo(f)
			}
		}
		maps.Copy(p, extra)
		return p
	}
	sanding := object(map[string]any{
		"grits": map[string]any{"type": "array", "items": map[string]any{"type": []string{"string", "integer"}}},
		"tool":  map[string]any{"enum": tools},
		"keep":  map[string]any{"type": []string{"string", "number"}},
	})
	photos := map[string]any{"type": "array", "items": text, "maxItems": jobfile.MaxPhotos}
	number := map[string]any{"type": []string{"number", "string"}}
	texts := map[string]any{"type": "array", "items": text}
	hours := map[string]any{"type": []string{"string", "array"}, "description": "such as 18:00-21:00, a list of such, or none"}
	found := map[string]any{"type": "object", "description": "answers by fact; about the mark without the subject, about the rest with it"}
	done := object(map[string]any{"repair": text, "on": text, "came_out": map[string]any{"enum": engine.CameOut}, "found": found}, "repair", "came_out")
	planning := object(map[string]any{
		"start": text, "weekdays": hours, "saturdays": hours, "sundays": hours,
		"money": object(map[string]any{"currency": text, "paid": number, "fetches": number, "fee": number, "other": number, "hour": number,
			"prices": map[string]any{"type": "object", "additionalProperties": number}}),
		"repairs": map[string]any{"type": "object", "additionalProperties": text},
		"done":    texts,
	})
	top := object(map[string]any{
		"format":   map[string]any{"enum": []any{1, "1"}},
		"piece":    object(about("piece", map[string]any{"name": text, "photos": photos})),
		"shop":     object(about("shop", nil)),
		"surfaces": map[string]any{"type": "object", "additionalProperties": object(about("surface", map[string]any{"sanding": sanding, "photos": photos}))},
		"defects": map[string]any{"type": "array", "items": object(about("defect", map[string]any{"id": text, "on": text,
			"photos": photos, "repair": text, "done": map[string]any{"type": "array", "items": done}}), "id", "on")},
		"plan": planning,
	}, "format")
	top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	top["title"] = "A mendwright job file, format 1"
	return top
}

// answerTo is the schema of an answer as it is typed. Choices are described and not listed as an
// enumeration, because they may be written with spaces or capitals.
func answerTo(f *rules.Fact) map[string]any {
	s := map[string]any{"description": f.Ask}
	switch f.Kind {
	case condition.YesNo:
		s["type"] = []string{"boolean", "string"}
	case condition.Quantity:
		s["type"] = []string{"number", "string"}
		s["description"] = f.Ask + " In " + f.Unit + " unless a unit is written."
	case condition.Several:
		s["type"] = []string{"array", "string"}
	default:
		s["type"] = []string{"string", "boolean", "number"}
		var ids []string
		for _, a := range f.Answers {
			ids = append(ids, a.ID)
		}
		s["examples"] = ids
	}
	return s
}

// TestSchemasAreInStep: the published schemas are those of the program. After a change run
// go test ./cmd/mendwright -run Schemas -update
func TestSchemasAreInStep(t *testing.T) {
	for name, schema := range schemas(t) {
		want, err := json.MarshalIndent(schema, "", "  ")
		require.NoError(t, err)
		want = append(want, '\n')
		path := filepath.Join("schema", name)
		if *update {
			require.NoError(t, os.WriteFile(path, want, 0o644))
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), "%s is out of step; run with -update", path)
	}
}

// TestAnswersKeepTheirSchema: what the commands print on the example jobs, and the job files
// themselves, fit the published schemas.
func TestAnswersKeepTheirSchema(t *testing.T) {
	compile := func(name string) *checker.Schema {
		s, err := checker.NewCompiler().Compile(filepath.Join("schema", name))
		require.NoError(t, err)
		return s
	}
	check := func(schema *checker.Schema, what string, data []byte) {
		v, err := checker.UnmarshalJSON(bytes.NewReader(data))
		require.NoError(t, err, what)
		assert.NoError(t, schema.Validate(v), what)
	}
	output := func(args ...string) []byte {
		var out, errOut bytes.Buffer
		require.Contains(t, []int{exitDone, exitRefused}, run(args, strings.NewReader(""), &out, &errOut), errOut.String())
		return out.Bytes()
	}
	plans := compile("plan.schema.json")
	triage, why, sand, job := compile("triage.schema.json"), compile("why.schema.json"), compile("sand.schema.json"), compile("job.schema.json")
	files, err := filepath.Glob("../../testdata/jobs/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		var tree any
		require.NoError(t, yaml.Unmarshal(data, &tree))
		asJSON, err := json.Marshal(tree)
		require.NoError(t, err)
		check(job, file, asJSON)

		check(plans, file, output("plan", file, "--json"))
		answer := output("triage", file, "--json")
		check(triage, file, answer)
		var a engine.Answer
		require.NoError(t, json.Unmarshal(answer, &a))
		for _, d := range a.Defects {
			for _, r := range d.Repairs {
				check(why, d.ID+" "+r.Method, output("why", file, d.ID, r.Method, "--json"))
			}
			check(sand, d.ID, output("sand", file, d.On, d.ID, "--json"))
		}
	}
	check(sand, "flags", output("sand", "--layer", "veneer", "--thickness", "1.5 ± 0.03 mm", "--mark", "0.1 mm", "--stripped", "yes", "--json"))

	air := compile("air.schema.json")
	check(air, "air", output("air", "--solvent", "acetone", "--amount", "5 ml", "--room", "40 m3", "--place", "window-open",
		"--coat", "oil", "--humidity", "60 %", "--json"))

	coat := compile("coat.schema.json")
	for _, args := range [][]string{
		{"--coat", "shellac"},
		{"--coat", "waterborne", "--over", "oil-stain", "--since", "3 days", "--air", "18 °C", "--time", "2 days"},
		{"--coat", "polyurethane-fast", "--since", "5 to 7 h", "--air", "18 °C", "--humidity", "60 %", "--area", "1 m2", "--density", "0.9 kg/L", "--film", "60 µm"},
		{"--air", "18 °C", "--humidity", "80 %", "--over", "wax", "--time", "1 day"},
	} {
		check(coat, strings.Join(args, " "), output(append([]string{"coat", "--json"}, args...)...))
	}
	reckoned := compile("reckon.schema.json")
	check(reckoned, "an amount", output("reckon", "dent-left", "depth=0.4 mm", "--json"))
	check(reckoned, "a verdict", output("reckon", "rot", "moisture=18 %", "--json"))

	check(compile("rules-check.schema.json"), "rules check", output("rules", "check", "--json"))
	for name, args := range map[string][]string{"list": {"kinds"}, "show": {"raise-with-steam"}, "cases": {"dent"}, "mutants": {"scald"}} {
		check(compile("rules-"+name+".schema.json"), name, output(append([]string{"rules", name, "--json", "--rulebook", "../../testdata/shop"}, args...)...))
	}

	// A schema that lets everything pass would prove nothing.
	v, err := checker.UnmarshalJSON(strings.NewReader(`{"format": 1, "surfacse": {}}`))
	require.NoError(t, err)
	assert.Error(t, job.Validate(v))
}

package sitting

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/rules/strictyaml"
)

// StepOf finds a step of a plan by its number or its id.
func StepOf(p *engine.Plan, text string) (*engine.PlanStep, error) {
	if n, err := strconv.Atoi(text); err == nil {
		if n < 1 || n > len(p.Steps) {
			return nil, fmt.Errorf("read step %d; the plan has steps 1 to %d", n, len(p.Steps))
		}
		return &p.Steps[n-1], nil
	}
	var ids []string
	for i := range p.Steps {
		if p.Steps[i].ID == text {
			return &p.Steps[i], nil
		}
		ids = append(ids, p.Steps[i].ID)
	}
	return nil, fmt.Errorf("the plan has no step %q%s; its steps are %s", text, strictyaml.Nearest(text, ids), strings.Join(ids, ", "))
}

// Done is what is said of a step that was done.
type Done struct {
	CameOut string   // how a repair came out, one of engine.CameOut; "" of a chore
	On      string   // the day, as YYYY-MM-DD
	Marks   []string // to which marks a repair was done; nil: to all of the step
	Found   []string // what was found, each as fact=answer; the fact of a mark without its subject
}

// Note writes into a job file that a step was done. It saves nothing. The error says what is missing or wrong.
func Note(doc *jobfile.Doc, step *engine.PlanStep, d Done) error {
	if step.Kind != "repair" || !slices.ContainsFunc(step.Marks, doc.Has) {
		if d.CameOut != "" || len(d.Found) > 0 || len(d.Marks) > 0 {
			return fmt.Errorf("%s mends no mark of the job file: it is done or not; leave out how it came out, the marks and what was found", step.ID)
		}
		return doc.AddChoreDone(step.ID)
	}
	if !slices.Contains(engine.CameOut, d.CameOut) {
		return fmt.Errorf("say how it came out: %s%s", strings.Join(engine.CameOut, ", or "), strictyaml.Nearest(d.CameOut, engine.CameOut))
	}
	if _, err := time.Parse(time.DateOnly, d.On); err != nil {
		return fmt.Errorf("read %q for the day; expected a day, such as 2026-12-05", d.On)
	}
	marks := d.Marks
	if len(marks) == 0 {
		marks = step.Marks
	}
	var answers []jobfile.Answer
	for _, f := range d.Found {
		fact, text, ok := strings.Cut(f, "=")
		if !ok {
			return fmt.Errorf("read %q for what was found; expected a fact and what was found, such as depth_mm=\"0.2 mm\"", f)
		}
		if fact = strings.TrimSpace(fact); !strings.Contains(fact, ".") {
			fact = "defect." + fact
		}
		answers = append(answers, jobfile.Answer{Fact: fact, Texts: strings.Split(text, ",")})
	}
	for _, m := range marks {
		if !slices.Contains(step.Marks, m) {
			return fmt.Errorf("%s is not done to %q%s; it is done to %s", step.ID, m, strictyaml.Nearest(m, step.Marks), strings.Join(step.Marks, ", "))
		}
		if err := doc.AddDone(m, step.Rule, d.On, d.CameOut, answers...); err != nil {
			return err
		}
	}
	return nil
}

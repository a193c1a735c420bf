package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules/strictyaml"
)

// newDone notes in a job file that a step of its plan was done, how it came out and what was found.
func newDone() *cobra.Command {
	var cameOut, on string
	var marks, found []string
	cmd := &cobra.Command{
		Use:   "done JOB STEP",
		Short: "Note that a step of the plan is done, how it came out and what was found",
		Long: `Done writes into the job file that a step of its plan, named by its number or its id, was done. Of a repair it
notes how it came out: enough, not-enough (it helped, and something is left) or failed; and what was found, by
fact. Triage and plan then go on from there.`,
		Example: "  mendwright done chest.yaml 3 --came-out not-enough --found depth_mm=\"0.2 mm\"\n  mendwright done chest.yaml photograph-first",
		Args:    exactly("JOB", "STEP"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			doc, err := jobfile.Open(args[0], k.Book, k.Tables)
			if err != nil {
				return err
			}
			file, err := doc.Read()
			if err != nil {
				return err
			}
			before, err := engine.PlanOf(k.Book, k.Tables, file.Job)
			if err != nil {
				return err
			}
			step, err := stepOf(before, args[1])
			if err != nil {
				return callError{err}
			}
			if on == "" {
				on = time.Now().Format(time.DateOnly)
			}
			if err := note(doc, step, cameOut, on, marks, found); err != nil {
				return err
			}
			if file, err = doc.Read(); err != nil {
				return err
			}
			after, err := engine.PlanOf(k.Book, k.Tables, file.Job)
			if err != nil {
				return err
			}
			if err := doc.Save(); err != nil {
				return err
			}
			screen.Noted(page(cmd.OutOrStdout()), step, after)
			return nil
		},
	}
	cmd.Flags().StringVar(&cameOut, "came-out", "", "how a repair came out: "+strings.Join(engine.CameOut, ", "))
	cmd.Flags().StringVar(&on, "on", "", "the day, such as 2026-12-05 (today)")
	cmd.Flags().StringArrayVar(&marks, "mark", nil, "the marks it was done to, of a step for several (all of them)")
	cmd.Flags().StringArrayVar(&found, "found", nil, "what was found, such as depth_mm=\"0.2 mm\" or surface.layer_mm=\"0.8 mm\"")
	return cmd
}

// stepOf finds a step of a plan by its number or its id.
func stepOf(p *engine.Plan, text string) (*engine.PlanStep, error) {
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

// note edits the job file. The error says what is missing or wrong; nothing is saved then.
func note(doc *jobfile.Doc, step *engine.PlanStep, cameOut, on string, marks, found []string) error {
	if step.Kind != "repair" || !slices.ContainsFunc(step.Marks, doc.Has) {
		if cameOut != "" || len(found) > 0 || len(marks) > 0 {
			return callError{fmt.Errorf("%s mends no mark of the job file: it is done or not; leave --came-out, --mark and --found out", step.ID)}
		}
		return doc.AddChoreDone(step.ID)
	}
	if !slices.Contains(engine.CameOut, cameOut) {
		return callError{fmt.Errorf("say how it came out: --came-out %s%s", strings.Join(engine.CameOut, ", or "), strictyaml.Nearest(cameOut, engine.CameOut))}
	}
	if _, err := time.Parse(time.DateOnly, on); err != nil {
		return callError{fmt.Errorf("read --on %q; expected a day, such as 2026-12-05", on)}
	}
	if len(marks) == 0 {
		marks = step.Marks
	}
	var answers []jobfile.Answer
	for _, f := range found {
		fact, text, ok := strings.Cut(f, "=")
		if !ok {
			return callError{fmt.Errorf("read --found %q; expected a fact and what was found, such as depth_mm=\"0.2 mm\"", f)}
		}
		if fact = strings.TrimSpace(fact); !strings.Contains(fact, ".") {
			fact = "defect." + fact
		}
		answers = append(answers, jobfile.Answer{Fact: fact, Texts: strings.Split(text, ",")})
	}
	for _, m := range marks {
		if !slices.Contains(step.Marks, m) {
			return callError{fmt.Errorf("%s is not done to %q%s; it is done to %s", step.ID, m, strictyaml.Nearest(m, step.Marks), strings.Join(step.Marks, ", "))}
		}
		if err := doc.AddDone(m, step.Rule, on, cameOut, answers...); err != nil {
			return err
		}
	}
	return nil
}

package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
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
			step, err := sitting.StepOf(before, args[1])
			if err != nil {
				return callError{err}
			}
			if on == "" {
				on = time.Now().Format(time.DateOnly)
			}
			if err := sitting.Note(doc, step, sitting.Done{CameOut: cameOut, On: on, Marks: marks, Found: found}); err != nil {
				return callError{err}
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

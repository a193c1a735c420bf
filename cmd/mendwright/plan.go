package main

import (
	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

func newPlan() *cobra.Command {
	var asJSON bool
	var calendar string
	cmd := &cobra.Command{
		Use:   "plan JOB",
		Short: "Put the repairs of a piece into one order of work, with waits, shopping and cost",
		Long: `Plan takes the repair of every mark, the one picked in the job file (repair: ID) or the first that is ready, and
puts all into one order: what must come before what and why, what is done once for several marks, what all cuts
into one layer take together, how long to wait and what to do meanwhile, what to buy, what it may be worth.`,
		Args: exactly("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, file, err := readJob(cmd, args[0])
			if err != nil {
				return err
			}
			p, err := engine.PlanOf(k.Book, k.Tables, file.Job)
			if err != nil {
				return err
			}
			if calendar != "" {
				data, err := calendarFile(p)
				if err != nil {
					return err
				}
				if err := writeMade("writing", calendar, data, "BEGIN:VCALENDAR\r\n"); err != nil {
					return err
				}
			}
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), p)
			} else {
				screen.Plan(page(cmd.OutOrStdout()), p)
			}
			if err == nil && p.Refused {
				return errRefused
			}
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the plan as JSON")
	cmd.Flags().StringVar(&calendar, "calendar", "", "write work and waits to a calendar file (iCalendar) too")
	return cmd
}

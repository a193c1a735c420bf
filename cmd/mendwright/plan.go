package main

import (
	"github.com/spf13/cobra"

	"mendwright/engine"
)

func newPlan() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "plan JOB",
		Short: "Put the repairs of a piece into one order of work, with waits, shopping and cost",
		Args:  exactly("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, file, err := readJob(cmd, args[0])
			if err != nil {
				return err
			}
			p, err := engine.PlanOf(k.Book, k.Tables, file.Job)
			if err != nil {
				return err
			}
			return writeJSON(cmd.OutOrStdout(), p)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the plan as JSON")
	return cmd
}

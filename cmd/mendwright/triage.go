package main

import (
	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

func newTriage() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "triage JOB",
		Short: "Rank the repairs of every mark in a job file by what they risk",
		Long:  "Triage reads a job file and says of every mark what it is, which repairs are ready, which\nneed an answer and which are ruled out, what each risks, what to warn of and what to ask next.",
		Args:  exactly("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, file, err := readJob(cmd, args[0])
			if err != nil {
				return err
			}
			a, err := engine.Triage(k.Book, k.Tables, file.Job)
			if err == nil {
				err = engine.AddRemedies(k.Book, k.Tables, file.Job, a)
			}
			if err == nil {
				err = engine.AddQuestions(k.Book, k.Tables, file.Job, a)
			}
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), a)
			}
			screen.Triage(page(cmd.OutOrStdout()), file, a)
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	return cmd
}

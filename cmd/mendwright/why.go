package main

import (
	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

func newWhy() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "why JOB DEFECT METHOD",
		Short: "Follow one repair of one mark to its rules, the answers they rest on and their sources",
		Args:  exactly("JOB", "DEFECT", "METHOD"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, file, err := readJob(cmd, args[0])
			if err != nil {
				return err
			}
			e, err := engine.Explain(k.Book, k.Tables, file.Job, args[1], args[2])
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), e)
			}
			screen.Why(page(cmd.OutOrStdout()), e)
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the explanation as JSON")
	return cmd
}

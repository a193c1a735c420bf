package main

import (
	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

func newRulesMutants() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "mutants [ID]",
		Short: "Change the rules one thing at a time and list the changes that no case notices",
		Long: "Mutants changes every rule, or one, a single thing at a time: a comparison turned round, a clause\n" +
			"dropped, an answer put in the place of another, a number moved, a harm made graver or likelier. It\n" +
			"lists the changes that no case beside the rules notices: a slip there would go unseen. One that makes\n" +
			"no difference belongs under \"survives:\" in the rule's file, with the reason.",
		Args: atMostOneRule,
		RunE: func(cmd *cobra.Command, args []string) error {
			k, of, err := rulesOf(cmd, args)
			if err != nil {
				return err
			}
			run := engine.RunMutants(k.Book, k.Tables, of)
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), run)
			} else {
				screen.Mutants(page(cmd.OutOrStdout()), run)
			}
			if err == nil && len(run.Mistakes) > 0 {
				return errFaults
			}
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the result as JSON")
	return cmd
}

package main

import (
	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/knowledge"
)

func newRulesCheck() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check",
		Short: "Look for rules that make no sense: never true, never ready, never best, the same twice",
		Long: "Check reads the rulebook whole and looks for conditions that are never true or never false,\n" +
			"branches that are never reached, repairs that are never ready or never the best, rules\n" +
			"that say the same or the opposite, marks that are left with nothing, rules without a\n" +
			"case and words that promise safety. It decides by reasoning over all answers and shows\n" +
			"those under which the fault shows. What is merely dead weight is noted.\n\n" +
			"Exit code 0: no fault, 1: faults.",
		Args: exactly(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			r, err := knowledge.Audit(knowledge.Files())
			if err != nil {
				return err
			}
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), r)
			} else {
				screen.Audit(page(cmd.OutOrStdout()), r)
			}
			if err == nil && len(r.Faults) > 0 {
				return errFaults
			}
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the report as JSON")
	return cmd
}

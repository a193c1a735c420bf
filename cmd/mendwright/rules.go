package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"mendwright/rules/strictyaml"
)

// newRules is the parent of the commands about the rulebook itself.
func newRules() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "rules",
		Short: "Look into the rulebook itself",
		Args:  cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			var names []string
			for _, c := range cmd.Commands() {
				names = append(names, c.Name())
			}
			return callError{fmt.Errorf("there is no command %q under rules%s", args[0], strictyaml.Nearest(args[0], names))}
		},
	}
	cmd.AddCommand(newRulesCheck(), newRulesList(), newRulesShow(), newRulesCases(), newRulesMutants())
	return cmd
}

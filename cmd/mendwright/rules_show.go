package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules/strictyaml"
)

func newRulesShow() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "show ID",
		Short: "Show a rule in plain words, with its reasons, its sources and its cases",
		Long:  "Show writes out a kind, a method, a warning, a finding, a fact or a source: what it asks for,\nwhy, what stands behind it and the cases that hold it. Where several have the id, it shows all.",
		Args:  exactly("ID"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openWithCases(cmd)
			if err != nil {
				return err
			}
			v := engine.Show(k.Book, args[0])
			if len(v.Rules) == 0 {
				return callError{fmt.Errorf("the rulebook holds nothing called %q%s", args[0], strictyaml.Nearest(args[0], engine.IDs(k.Book)))}
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), v)
			}
			screen.ShowRule(page(cmd.OutOrStdout()), v)
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the rule as JSON")
	return cmd
}

// openWithCases loads the rulebook with the cases beside its rules, which answers need not read.
func openWithCases(cmd *cobra.Command) (*knowledge.Loaded, error) {
	if dir, err := ownRules(cmd); err != nil || dir != "" {
		return openRulebook(cmd) // a shop's own rules are always read whole
	}
	return knowledge.Verified()
}

package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

func newRulesCases() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "cases [ID]",
		Short: "Run the cases beside the rules, or those of one rule",
		Long:  "Cases runs the cases that stand beside the rules and shows each that comes out otherwise, and each\ncondition that no case has seen both ways. It ends with exit code 1 if there are any.",
		Args:  atMostOneRule,
		RunE: func(cmd *cobra.Command, args []string) error {
			k, of, err := rulesOf(cmd, args)
			if err != nil {
				return err
			}
			run := engine.RunCases(k.Book, k.Tables, of)
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), run)
			} else {
				screen.Cases(page(cmd.OutOrStdout()), run)
			}
			if err == nil && len(run.Failures) > 0 {
				return errFaults
			}
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the result as JSON")
	return cmd
}

func atMostOneRule(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return callError{fmt.Errorf("%s takes the id of one rule or none, read %d arguments", cmd.Name(), len(args))}
	}
	return nil
}

// rulesOf loads the rulebook with its cases and picks the rules of an id, or all.
func rulesOf(cmd *cobra.Command, args []string) (*knowledge.Loaded, []rules.Rule, error) {
	k, err := openWithCases(cmd)
	if err != nil || len(args) == 0 {
		if err != nil {
			return nil, nil, err
		}
		return k, k.Book.Rules(), nil
	}
	var of []rules.Rule
	var ids []string
	for _, r := range k.Book.Rules() {
		ids = append(ids, r.ID())
		if r.ID() == args[0] {
			of = append(of, r)
		}
	}
	if len(of) == 0 {
		return nil, nil, callError{fmt.Errorf("there is no rule %q that has cases%s", args[0], strictyaml.Nearest(args[0], ids))}
	}
	return k, of, nil
}

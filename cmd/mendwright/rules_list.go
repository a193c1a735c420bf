package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules/strictyaml"
)

func newRulesList() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "list [kinds|methods|warnings|facts|findings|sources]",
		Short: "List what the rulebook knows",
		Long:  "List counts what the rulebook holds; with one of its parts it lists that, by id.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return callError{fmt.Errorf("list takes one part of the rulebook or none, read %d arguments", len(args))}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			part := ""
			if len(args) > 0 {
				part = args[0]
			}
			l := engine.List(k.Book, part)
			if l == nil {
				return callError{fmt.Errorf("the rulebook has no part %q%s", part, strictyaml.Nearest(part, engine.Parts))}
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), l)
			}
			screen.RuleList(page(cmd.OutOrStdout()), l, part)
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON")
	return cmd
}

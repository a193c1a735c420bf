package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/knowledge"
)

// rulebookFlag lets every command lay a shop's own rules over the built-in ones.
func rulebookFlag(root *cobra.Command) {
	root.PersistentFlags().String("rulebook", "", "a folder of the shop's own rules, laid over the built-in ones")
}

// openRulebook loads the rulebook, with the shop's own rules if the call names any. An answer in text then
// begins with what they override; one in JSON holds it under rulebook.
func openRulebook(cmd *cobra.Command) (*knowledge.Loaded, error) {
	k, dir, err := loadRulebook(cmd)
	if err != nil {
		return nil, err
	}
	if asJSON := cmd.Flags().Lookup("json"); dir != "" && (asJSON == nil || asJSON.Value.String() != "true") {
		screen.OwnRules(page(cmd.OutOrStdout()), dir, k.Book.Overrides)
	}
	return k, nil
}

// loadRulebook loads the rulebook and writes nothing; dir is the folder of the shop's own rules, or "".
func loadRulebook(cmd *cobra.Command) (k *knowledge.Loaded, dir string, err error) {
	if dir, err = ownRules(cmd); err != nil {
		return nil, "", err
	}
	if dir == "" {
		k, err = knowledge.Load()
	} else {
		k, err = knowledge.Over(dir)
	}
	return k, dir, err
}

// ownRules is the folder of the shop's own rules; "" if the call names none.
func ownRules(cmd *cobra.Command) (string, error) {
	dir, _ := cmd.Flags().GetString("rulebook")
	if cmd.Flags().Changed("rulebook") && strings.TrimSpace(dir) == "" {
		return "", callError{errors.New("--rulebook stands without a folder; name one, or leave it out")}
	}
	return dir, nil
}

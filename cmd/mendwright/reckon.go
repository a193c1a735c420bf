package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/engine/reckon"
	"mendwright/knowledge"
	"mendwright/rules/strictyaml"
)

func newReckon() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "reckon [CALCULATION] [NAME=VALUE ...]",
		Short: "Reckon one figure: sag, movement, a mask, a bath, a film and many more",
		Long: "Reckon answers one question by itself. Alone it lists the calculations; with one of them it\n" +
			"says what that asks for; with inputs it reckons. A quantity may be a range, and a closer\n" +
			"one never contradicts a wider one.",
		Example: "  mendwright reckon\n  mendwright reckon shelf-sag\n" +
			"  mendwright reckon wood-moisture humidity=\"40 to 50 %\" air=\"18 to 22 °C\"",
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if asJSON && len(args) < 2 {
				return callError{errors.New("--json prints an answer: name a calculation and its inputs with it")}
			}
			p := page(cmd.OutOrStdout())
			if len(args) == 0 {
				screen.Calculations(p, reckon.All())
				return nil
			}
			c, err := reckon.Find(args[0])
			var unknown *reckon.Unknown
			if errors.As(err, &unknown) {
				return callError{fmt.Errorf("%w%s; mendwright reckon lists them", err, strictyaml.Nearest(args[0], unknown.Known))}
			}
			if err != nil {
				return err
			}
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			tables, err := knowledge.ReckonTables(k.Book, c.Field)
			if err != nil {
				return err
			}
			if len(args) == 1 {
				screen.Calculation(p, c, tables)
				return nil
			}
			typed, err := inputs(args[1:])
			if err != nil {
				return callError{err}
			}
			a, err := c.Answer(tables, typed)
			if err != nil {
				return reckonError(err)
			}
			answer := &screen.ReckonAnswer{Answer: *a, Sources: engine.CitedBy(k.Book, c.Sources)}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), answer)
			}
			screen.Reckon(p, answer, c.Sources)
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	return cmd
}

// inputs reads NAME=VALUE arguments.
func inputs(args []string) (map[string]string, error) {
	typed := map[string]string{}
	for _, arg := range args {
		name, value, ok := strings.Cut(arg, "=")
		if name = strings.TrimSpace(name); !ok || name == "" {
			return nil, fmt.Errorf("read %q; expected an input as name=value, with quotes around a value that has spaces", arg)
		}
		if _, twice := typed[name]; twice {
			return nil, fmt.Errorf("%s is given twice; give it once, as a range if it is not known closer", name)
		}
		typed[name] = value
	}
	return typed, nil
}

// reckonError is a mistake in the call, with the nearest right word where there is one.
func reckonError(err error) error {
	var unknown *reckon.Unknown
	if errors.As(err, &unknown) {
		return callError{fmt.Errorf("%w; expected one of %s%s", err, strings.Join(unknown.Known, ", "), strictyaml.Nearest(unknown.Read, unknown.Known))}
	}
	return callError{err}
}

package main

import (
	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/check"
	"mendwright/cmd/mendwright/screen"
	"mendwright/knowledge"
)

func newAir() *cobra.Command {
	var q check.Air
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "air",
		Short: "Reckon what vapour a job puts into the air, and whether today's weather suits a coat",
		Long: "Air reckons how much vapour a solvent leaves in the room, against the limits for breathing\n" +
			"and for fire, and judges the weather for a coat. Either part can be asked alone. It ends\n" +
			"with exit code 3 where the answer is to stop.",
		Example: "  mendwright air --solvent mineral-spirits --amount \"30 ml\" --room \"40 m³\" --place closed-room --time \"1 h\"\n" +
			"  mendwright air --coat fast-lacquer --air \"20 °C\" --humidity \"70 %\" --surface \"18 °C\"",
		Args: exactly(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			tables, err := knowledge.AirTables(k.Book)
			if err != nil {
				return err
			}
			a, err := q.Ask(tables)
			if err != nil {
				return callError{inFlags(err)} // what the arithmetic refuses was typed as well
			}
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), a)
			} else {
				screen.Air(page(cmd.OutOrStdout()), a)
			}
			if err == nil && check.Stops(a) {
				return errRefused
			}
			return err
		},
	}
	for _, s := range []struct {
		into        *string
		flag, usage string
	}{
		{&q.Solvent, "solvent", "what evaporates, such as mineral-spirits; or a mixture by volume: acetone=60,toluene=40"},
		{&q.Amount, "amount", `how much of it evaporates, such as "30 ml"`},
		{&q.Room, "room", `volume of the room, such as "40 m³"`},
		{&q.Place, "place", "closed-room, window-open, cross-draught, extraction or outdoors"},
		{&q.Time, "time", `over how long it evaporates, such as "1 h"; at once if not given`},
		{&q.Air, "air", `temperature of the air; 20 °C if not given`},
		{&q.Humidity, "humidity", "relative humidity, for a coat"},
		{&q.Surface, "surface", "temperature of the wood, for a coat; that of the air less up to 4 °C if not given"},
		{&q.Coat, "coat", "oil, waterborne, fast-lacquer or stripper"},
	} {
		textFlag(cmd, s.into, s.flag, s.usage)
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	return cmd
}

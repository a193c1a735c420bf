package main

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine/air"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// airFlags are what a question about the air is asked with.
type airFlags struct {
	solvent, amount, room, place, time, warm, humidity, surface, coat string
}

func newAir() *cobra.Command {
	var f airFlags
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
			a, err := f.judge(tables)
			if err != nil {
				return callError{err}
			}
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), a)
			} else {
				screen.Air(page(cmd.OutOrStdout()), a)
			}
			if err == nil && (a.Vapour != nil && a.Vapour.Overall == "stop" || a.Vapour != nil && a.Vapour.Overall == "get-out" || a.Weather != nil && a.Weather.Overall == "stop") {
				return errRefused
			}
			return err
		},
	}
	for _, s := range []struct {
		into        *string
		flag, usage string
	}{
		{&f.solvent, "solvent", "what evaporates, such as mineral-spirits; or a mixture by volume: acetone=60,toluene=40"},
		{&f.amount, "amount", `how much of it evaporates, such as "30 ml"`},
		{&f.room, "room", `volume of the room, such as "40 m³"`},
		{&f.place, "place", "closed-room, window-open, cross-draught, extraction or outdoors"},
		{&f.time, "time", `over how long it evaporates, such as "1 h"; at once if not given`},
		{&f.warm, "air", `temperature of the air; 20 °C if not given`},
		{&f.humidity, "humidity", "relative humidity, for a coat"},
		{&f.surface, "surface", "temperature of the wood, for a coat; that of the air less up to 4 °C if not given"},
		{&f.coat, "coat", "oil, waterborne, fast-lacquer or stripper"},
	} {
		textFlag(cmd, s.into, s.flag, s.usage)
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	return cmd
}

// judge asks the arithmetic what the flags ask. Its errors are mistakes in the call.
func (f airFlags) judge(t air.Tables) (*screen.AirAnswer, error) {
	a := &screen.AirAnswer{}
	warm, err := quantityOr("air", f.warm, "°C", interval.Exact(20))
	if err != nil {
		return nil, err
	}
	if f.solvent == "" && f.coat == "" {
		return nil, errors.New("say what evaporates (--solvent, --amount, --room, --place) or which coat (--coat, --humidity), or both")
	}
	if f.solvent != "" {
		if a.Vapour, err = f.vapour(t, warm); err != nil {
			return nil, err
		}
	}
	if f.coat != "" {
		if a.Weather, err = f.weather(t, warm); err != nil {
			return nil, err
		}
	}
	return a, nil
}

func (f airFlags) vapour(t air.Tables, warm interval.Range) (*screen.VapourAnswer, error) {
	shares, err := mixture(f.solvent, t)
	if err != nil {
		return nil, err
	}
	litres, err := quantityOr("amount", f.amount, "L", interval.Range{})
	if err != nil || f.amount == "" {
		return nil, errors.Join(err, missing(f.amount, "--amount", "30 ml"))
	}
	volume, err := quantityOr("room", f.room, "m³", interval.Range{})
	if err != nil || f.room == "" {
		return nil, errors.Join(err, missing(f.room, "--room", "40 m³"))
	}
	minutes, err := quantityOr("time", f.time, "min", interval.Exact(0))
	if err != nil {
		return nil, err
	}
	place, ok := t.Places[f.place]
	if !ok {
		names := slices.Sorted(maps.Keys(t.Places))
		return nil, fmt.Errorf("--place: read %q; expected one of %s%s", f.place, strings.Join(names, ", "), strictyaml.Nearest(f.place, names))
	}
	doses, err := t.FromLitres(litres, shares)
	if err != nil {
		return nil, err
	}
	r, err := t.Judge(doses, air.Room{Volume: volume, Changes: place.Changes, Mixing: place.Mixing}, warm, minutes)
	if err != nil {
		return nil, err
	}
	return screen.NewVapour(f.place, litres, volume, minutes, place, r), nil
}

func (f airFlags) weather(t air.Tables, warm interval.Range) (*screen.WeatherAnswer, error) {
	coat, ok := t.Coats[f.coat]
	if !ok {
		names := slices.Sorted(maps.Keys(t.Coats))
		return nil, fmt.Errorf("--coat: read %q; expected one of %s%s", f.coat, strings.Join(names, ", "), strictyaml.Nearest(f.coat, names))
	}
	humidity, err := quantityOr("humidity", f.humidity, "%", interval.Range{})
	if err != nil || f.humidity == "" {
		return nil, errors.Join(err, missing(f.humidity, "--humidity", "55 %"))
	}
	// Wood is often some degrees colder than the air after a cold night or a ride in a van.
	surface, err := quantityOr("surface", f.surface, "°C", interval.Range{Lo: warm.Lo - 4, Hi: warm.Hi})
	if err != nil {
		return nil, err
	}
	w := air.Weather{Air: warm, Humidity: humidity, Surface: surface}
	out, err := w.For(coat)
	if err != nil {
		return nil, err
	}
	return screen.NewWeather(f.coat, w, coat, out), nil
}

// mixture reads "mineral-spirits" or "acetone=60,toluene=40".
func mixture(text string, t air.Tables) ([]air.Share, error) {
	var out []air.Share
	sum := 0.0
	for _, part := range strings.Split(text, ",") {
		name, share, given := strings.Cut(strings.TrimSpace(part), "=")
		if _, err := t.Substance(name); err != nil {
			return nil, fmt.Errorf("--solvent: %w%s", err, strictyaml.Nearest(name, slices.Sorted(maps.Keys(t.Substances))))
		}
		v := 100.0
		if given {
			q, err := quantity.Parse(share, "%")
			if err != nil {
				return nil, fmt.Errorf("--solvent: %w", err)
			}
			v = q.Mid()
		}
		sum += v
		out = append(out, air.Share{Substance: name, Of: interval.Exact(v / 100)})
	}
	if sum > 100.001 {
		return nil, fmt.Errorf("--solvent: the shares of %q add up to %g %%, more than all of it", text, sum)
	}
	return out, nil
}

// quantityOr reads a flag as a quantity, or takes what stands in for one that was not given.
func quantityOr(flag, text, unit string, otherwise interval.Range) (interval.Range, error) {
	if text == "" {
		return otherwise, nil
	}
	q, err := quantity.Parse(text, unit)
	if err != nil {
		return interval.Range{}, fmt.Errorf("--%s: %w", flag, err)
	}
	return q.Range, nil
}

// missing is the error of a flag that must be given.
func missing(text, flag, example string) error {
	if text != "" {
		return nil
	}
	return fmt.Errorf("%s is missing; give it as %s %q", flag, flag, example)
}

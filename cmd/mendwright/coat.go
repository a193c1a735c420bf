package main

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine/coat"
	"mendwright/engine/finish"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// coatFlags are what a question about a coat is asked with, as typed.
type coatFlags struct {
	coat, over, way                           string
	area, coats, film, solids, density, waste string
	air, humidity, surface, since, time       string
	barrier                                   bool
}

func newCoat() *cobra.Command {
	var f coatFlags
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "coat",
		Short: "Say how much finish to buy, how long it dries, what it may go over, and which suits today",
		Long: "Coat answers what its flags ask: with --area, --film or --coats how much; with --air how long and\n" +
			"whether today's weather suits; with --over whether it may go over what is there; with --since\n" +
			"whether the next coat may follow. Without --coat it ranks all coats for the day. It ends with\n" +
			"exit code 3 unless what was asked may be done.",
		Example: "  mendwright coat --coat waterborne --over shellac --air \"18 °C\" --humidity \"60 %\" --surface \"16 °C\"\n" +
			"  mendwright coat --coat shellac --way brush --area \"1.2 m²\" --coats 3\n" +
			"  mendwright coat --air \"18 °C\" --humidity \"60 %\" --time \"2 days\"",
		Args: exactly(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			tables, err := knowledge.CoatTables(k.Book)
			if err != nil {
				return err
			}
			q, err := f.question(tables)
			if err != nil {
				return callError{err}
			}
			a, err := finish.Judge(k.Book, tables, q)
			if err != nil {
				return callError{err}
			}
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), a)
			} else {
				screen.Coat(page(cmd.OutOrStdout()), a)
			}
			if err == nil && a.Verdict != "" && !a.Verdict.May() {
				return errRefused
			}
			return err
		},
	}
	for _, s := range []struct {
		into        *string
		flag, usage string
	}{
		{&f.coat, "coat", "the finish, such as shellac; without it all are ranked for the day"},
		{&f.over, "over", "the finish that is there, such as varnish; or bare"},
		{&f.way, "way", "brush, roller, cloth, spray, low-pressure-gun, conventional-gun or aerosol-can"},
		{&f.area, "area", `area to coat, such as "1.2 m²"`},
		{&f.coats, "coats", `number of coats, such as 3 or "2 to 3"; the least usual if not given`},
		{&f.film, "film", `dry film wanted in all, such as "80 µm" or "3 mil"`},
		{&f.solids, "solids", `solids by volume, from the data sheet, such as "35 %"`},
		{&f.density, "density", `density, for the mass, such as "0.95 kg/L"`},
		{&f.waste, "waste", "what is bought beyond what is used; 10 % if not given"},
		{&f.air, "air", `temperature of the air, such as "18 °C"`},
		{&f.humidity, "humidity", "relative humidity; anything if not given"},
		{&f.surface, "surface", "temperature of the wood; that of the air less up to 4 °C if not given"},
		{&f.since, "since", `how long ago the last coat, or the old finish, went on, such as "20 h"`},
		{&f.time, "time", `how much time there is, such as "2 days"`},
	} {
		textFlag(cmd, s.into, s.flag, s.usage)
	}
	cmd.Flags().BoolVar(&f.barrier, "barrier", false, "a thin coat of dewaxed shellac lies between")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	return cmd
}

// thickestFilm is more than any finish builds, in mm: what is more was meant in another unit.
const thickestFilm = 5.0

// question reads what was typed. Its errors are mistakes in the call.
func (f coatFlags) question(t coat.Tables) (finish.Question, error) {
	q := finish.Question{Barrier: f.barrier}
	if err := f.together(); err != nil {
		return q, err
	}
	if err := f.names(t, &q); err != nil {
		return q, err
	}
	for _, r := range []struct {
		flag, text, unit string
		factor           float64 // from the unit to that of the question
		some             bool    // nothing is too little
		into             **interval.Range
	}{
		{"area", f.area, "m²", 1, true, &q.Area},
		{"film", f.film, "mm", 1000, true, &q.Film},
		{"solids", f.solids, "%", 1, true, &q.Solids},
		{"density", f.density, "g/L", 0.001, true, &q.Density},
		{"waste", f.waste, "%", 1, false, &q.Waste},
		{"air", f.air, "°C", 1, false, &q.Air},
		{"humidity", f.humidity, "%", 1, false, &q.Humidity},
		{"surface", f.surface, "°C", 1, false, &q.Surface},
		{"since", f.since, "min", 1.0 / 60, false, &q.Since},
		{"time", f.time, "min", 1.0 / 60, true, &q.Time},
	} {
		if r.text == "" {
			continue
		}
		v, err := quantityOr(r.flag, r.text, r.unit, interval.Range{})
		if err != nil {
			return q, err
		}
		if r.some && v.Lo <= 0 {
			return q, fmt.Errorf("--%s: read %q; expected more than 0 %s", r.flag, r.text, r.unit)
		}
		if r.flag == "film" && v.Hi > thickestFilm {
			return q, fmt.Errorf("--film: read %q as %s; expected at most %g mm; write the unit, such as \"80 µm\" or \"3 mil\"", r.text, quantity.Span(v, "mm"), thickestFilm)
		}
		v = v.Mul(interval.Exact(r.factor))
		*r.into = &v
	}
	var err error
	q.Coats, err = readCoats(f.coats)
	return q, err
}

// together says which flag misses the one that it goes with.
func (f coatFlags) together() error {
	for _, r := range []struct{ flag, text, with, has, example string }{
		{"area", f.area, "coat", f.coat, "shellac"},
		{"coats", f.coats, "coat", f.coat, "shellac"},
		{"film", f.film, "coat", f.coat, "shellac"},
		{"solids", f.solids, "coat", f.coat, "shellac"},
		{"density", f.density, "area", f.area, "1.2 m²"},
		{"waste", f.waste, "area", f.area, "1.2 m²"},
		{"humidity", f.humidity, "air", f.air, "18 °C"},
		{"surface", f.surface, "air", f.air, "18 °C"},
		{"since", f.since, "air", f.air, "18 °C"}, // cold makes drying longer
		{"time", f.time, "air", f.air, "18 °C"},
	} {
		if r.text != "" && r.has == "" {
			return fmt.Errorf("--%s needs --%s; give it as --%s %q", r.flag, r.with, r.with, r.example)
		}
	}
	switch {
	case f.barrier && f.over == "":
		return errors.New(`--barrier needs --over, what lies under it; give it as --over "varnish"`)
	case f.coat == "" && f.air == "":
		return errors.New(`say which coat (--coat "shellac"), or how warm it is (--air "18 °C") to see which coats suit the day`)
	case f.coat == "" && f.since != "" && f.over == "":
		return errors.New(`--since needs --coat, the coat that went on, or --over, the old finish; give it as --coat "shellac"`)
	}
	return nil
}

// names looks the names up, however they were written.
func (f coatFlags) names(t coat.Tables, q *finish.Question) error {
	var coats []string
	for _, c := range t.Coats {
		coats = append(coats, c.Name)
	}
	var err error
	if q.Coat, err = named("coat", f.coat, coats); err != nil {
		return err
	}
	if q.Way, err = named("way", f.way, slices.Sorted(maps.Keys(t.Losses))); err != nil {
		return err
	}
	olds := []string{bareWood}
	for _, o := range t.Over {
		if o.Old != finish.Bare && !slices.Contains(olds, o.Old) {
			olds = append(olds, o.Old)
		}
	}
	slices.Sort(olds[1:])
	q.Over, err = named("over", f.over, olds)
	if c, no := t.Coat(plainName(f.over)); err != nil && no == nil {
		q.Over, err = c.Finish, nil // an old coat by its own name, such as alkyd-paint
	}
	if q.Over == bareWood || plainName(f.over) == finish.Bare {
		q.Over, err = finish.Bare, nil
	}
	return err
}

// bareWood is how the old finish of bare wood is called in a call.
const bareWood = "bare"

func plainName(text string) string {
	return strings.ReplaceAll(strings.ToLower(strings.TrimSpace(text)), " ", "-")
}

// named finds a name among those known; "" stays so.
func named(flag, text string, known []string) (string, error) {
	name := plainName(text)
	if text == "" || slices.Contains(known, name) {
		return name, nil
	}
	return "", fmt.Errorf("--%s: read %q; expected one of %s%s", flag, text, strings.Join(known, ", "), strictyaml.Nearest(name, known))
}

// readCoats reads "3" or "2 to 3".
func readCoats(text string) (*coat.Span, error) {
	if text == "" {
		return nil, nil
	}
	lo, hi, isRange := strings.Cut(text, " to ")
	if !isRange {
		hi = lo
	}
	least, errLo := strconv.Atoi(strings.TrimSpace(lo))
	most, errHi := strconv.Atoi(strings.TrimSpace(hi))
	if errLo != nil || errHi != nil || least < 1 || most < least || most > coat.MostCoats {
		return nil, fmt.Errorf("--coats: read %q; expected a whole number from 1 to %d, such as 3 or \"2 to 3\"", shortened(text), coat.MostCoats)
	}
	return &coat.Span{Lo: least, Hi: most}, nil
}

// shortened keeps a complaint on its line.
func shortened(text string) string {
	if r := []rune(text); len(r) > quantity.MaxLen {
		return string(r[:quantity.MaxLen]) + "…"
	}
	return text
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

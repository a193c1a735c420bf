package knowledge_test

import (
	"fmt"

	"mendwright/engine/air"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

func init() {
	for name, count := range map[string]struct{ values, skipped int }{
		"air-guards.yaml":  {40, 0},
		"air-limits.yaml":  {56, 0},
		"air-room.yaml":    {26, 0},
		"air-vapour.yaml":  {49, 0},
		"air-weather.yaml": {38, 1},
	} {
		published[name] = count
	}
	for _, some := range []map[string]airCalculator{airLimits, airVapour, airRoom, airGuards, airWeather} {
		for name, calculate := range some {
			calculators["air-"+name] = func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
				t, err := knowledge.AirTables(k.Book)
				if err != nil {
					return nil, err
				}
				return calculate(airCase{k, t, in})
			}
		}
	}
}

// airCase is a published value of the air with its inputs.
type airCase struct {
	k  *knowledge.Loaded
	t  air.Tables
	in *strictyaml.Map
}

type airCalculator func(airCase) (any, error)

func (c airCase) span(key string) interval.Range { return span(c.in, key) }
func (c airCase) num(key string) float64         { return number(c.in, key) }

func (c airCase) substance() (air.Substance, error) { return c.t.Substance(c.in.Str("substance")) }

func (c airCase) antoine() (air.Antoine, error) {
	s, err := c.substance()
	if err == nil && s.Antoine == nil {
		err = fmt.Errorf("it has no constants")
	}
	if err != nil {
		return air.Antoine{}, err
	}
	return *s.Antoine, nil
}

func (c airCase) spans() []air.Span {
	hours, levels := numbers(c.in, "hours"), numbers(c.in, "levels")
	var spans []air.Span
	for i := range min(len(hours), len(levels)) {
		spans = append(spans, air.Span{Hours: interval.Exact(hours[i]), Level: interval.Exact(levels[i])})
	}
	return spans
}

func (c airCase) parts() []air.Part {
	amounts, limits := numbers(c.in, "amounts"), numbers(c.in, "limits")
	var parts []air.Part
	for i := range min(len(amounts), len(limits)) {
		parts = append(parts, air.Part{Amount: interval.Exact(amounts[i]), Limit: interval.Exact(limits[i])})
	}
	return parts
}

// room has a flow in the unit of its volume an hour.
func (c airCase) room() (air.Room, error) {
	volume := c.span("m3")
	changes, err := air.Changes(c.span("flow"), volume)
	room := air.Room{Volume: volume, Changes: changes}
	if _, ok := c.in.Opt("mixing"); ok {
		room.Mixing = c.span("mixing")
	}
	return room, err
}

// roomOfFeet has volume and flow in cubic feet, the flow a minute; per minute is what one a minute is an hour.
func (c airCase) roomOfFeet() (room air.Room, release interval.Range, err error) {
	perHour := func(key string) interval.Range { return c.span(key).Mul(interval.Exact(60)) }
	volume := c.span("volume")
	changes, err := air.Changes(perHour("flow"), volume)
	return air.Room{Volume: volume, Changes: changes}, perHour("release"), err
}

func times(k float64) func(interval.Range, error) (any, error) {
	return func(r interval.Range, err error) (any, error) { return r.Mul(interval.Exact(k)), err }
}

func yesNo(b bool, yes, no string) string {
	if b {
		return yes
	}
	return no
}

func verdict(share interval.Range) string {
	return yesNo(air.HealthLevel(share) < air.Stop, "allowed", "too much")
}

func fahrenheit(r interval.Range) interval.Range {
	return interval.Range{Lo: (r.Lo - 32) / 1.8, Hi: (r.Hi - 32) / 1.8}
}

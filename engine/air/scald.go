package air

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// Scald is how long water of one temperature takes to burn skin.
type Scald struct {
	Water  float64 // °C
	Second float64 // seconds to the second degree; 0 if not known
	Third  float64 // seconds to the third degree
}

// ScaldTimes are seconds until hot water has burnt skin.
type ScaldTimes struct {
	Second, Third interval.Range
}

// ScaldTime returns how long water of t °C (from the coolest to the hottest of the table) takes to burn an
// adult's skin; between two rows it goes by equal factors for equal degrees. Above the last figure
// for the second degree it takes anything from nothing to that. It falls with t.
func (t Tables) ScaldTime(water interval.Range) (ScaldTimes, error) {
	if len(t.Scalds) == 0 {
		return ScaldTimes{}, errors.New("there are no figures for scalds")
	}
	first, last := t.Scalds[0].Water, t.Scalds[len(t.Scalds)-1].Water
	if err := within("the water", "°C", water, first, last); err != nil {
		return ScaldTimes{}, err
	}
	second := func(s Scald) float64 { return s.Second }
	third := func(s Scald) float64 { return s.Third }
	return ScaldTimes{
		Second: interval.Range{Lo: t.scald(water.Hi, second, 0), Hi: t.scald(water.Lo, second, math.Inf(1))},
		Third:  interval.Range{Lo: t.scald(water.Hi, third, 0), Hi: t.scald(water.Lo, third, math.Inf(1))},
	}, nil
}

// scald is the time at one temperature. Above the last row that has a figure it is the least of that
// figure and beyond: 0 for the short end, the figure for the long one.
func (t Tables) scald(water float64, of func(Scald) float64, beyond float64) float64 {
	var before Scald
	for _, s := range t.Scalds {
		if of(s) == 0 {
			continue
		}
		if s.Water >= water {
			if s.Water == water {
				return of(s)
			}
			share := (water - before.Water) / (s.Water - before.Water)
			return of(before) * math.Pow(of(s)/of(before), share)
		}
		before = s
	}
	return min(of(before), beyond)
}

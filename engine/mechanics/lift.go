package mechanics

import (
	"errors"
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Grip is how well hands hold a load. The zero Grip is Poor, which a table top nearly always is.
type Grip int

// The grips.
const (
	Poor Grip = iota
	Fair
	Good
)

// Spell is how long people go on lifting. The zero Spell is UpToEightHours.
type Spell int

// The spells, with the rest between them that the manual wants.
const (
	UpToEightHours Spell = iota
	UpToTwoHours
	UpToOneHour
)

// Frequency is one row of the frequency multipliers: by how many lifts are made in a minute, for
// each spell, first for hands below 75 cm and then for hands at 75 cm or above.
type Frequency struct {
	PerMinute float64
	Below, At [3]float64 // by Spell
}

// Lift is one way to lift a load with both hands, standing.
type Lift struct {
	Reach     interval.Range // cm from between the ankles to the hands, 1 to 150
	Height    interval.Range // cm from the floor to the hands where the lift begins, 0 to 250
	Travel    interval.Range // cm that the hands go up or down, 0 to 250
	Turn      interval.Range // degrees that the load stands to the side, 0 to 180
	PerMinute interval.Range // lifts in a minute, 0 to 60
	Spell     Spell
	Grip      Grip
}

// The edges of the equation, in cm and degrees.
const (
	loadConstant = 23 // kg
	knuckles     = 75 // cm: the best height, and where two of the tables change
)

// Limit is what the revised NIOSH lifting equation recommends for one lift.
type Limit struct {
	Reach, Height, Travel, Turn, Frequency, Grip interval.Range // the multipliers, 0 to 1
	Mass                                         interval.Range // kg
}

// Limit is the mass in kg that the revised NIOSH lifting equation recommends as the most for a
// lift, with its multipliers: 23 kg times 25/H, 1 - 0.003|V - 75|, 0.82 + 4.5/D, 1 - 0.0032 A, and
// the tables for frequency (between rows in proportion) and grip; 0 beyond 63 cm of reach, 175 cm
// of height or travel, 135 degrees of turn and 15 lifts a minute. NIOSH 94-110, applications
// manual, revised 2021. It does not hold for one hand, sitting or kneeling, carrying over more
// than two steps, a load that shifts, a slippery floor, or air outside 19 to 26 °C.
// The limit falls with reach, travel, turn and frequency, and rises with height to 75 cm and falls
// above, so it spans exactly what the ranges allow; the height counts once for all its multipliers.
// Errors: a range outside the limits of Lift, or no table of frequencies.
func (t Tables) Limit(l Lift) (Limit, error) {
	if err := errors.Join(
		check("reach", l.Reach, 1, 150, "cm"),
		check("height of the hands", l.Height, 0, 250, "cm"),
		check("travel", l.Travel, 0, 250, "cm"),
		check("turn", l.Turn, 0, 180, "degrees"),
		check("lifts in a minute", l.PerMinute, 0, 60, ""),
	); err != nil {
		return Limit{}, err
	}
	if len(t.Frequencies) == 0 || l.Spell < 0 || l.Spell > UpToOneHour || l.Grip < 0 || l.Grip > Good {
		return Limit{}, errors.New("read a spell or grip without a table; expected one that this package names and a table of frequencies")
	}
	out := Limit{
		Reach:  interval.Range{Lo: reach(l.Reach.Hi), Hi: reach(l.Reach.Lo)},
		Travel: interval.Range{Lo: travel(l.Travel.Hi), Hi: travel(l.Travel.Lo)},
		Turn:   interval.Range{Lo: turn(l.Turn.Hi), Hi: turn(l.Turn.Lo)},
	}
	// Over the height, every extreme lies at an end of the range or at 75 cm.
	heights := []float64{l.Height.Lo, l.Height.Hi}
	if l.Height.Lo < knuckles && knuckles < l.Height.Hi {
		heights = append(heights, knuckles)
	}
	var joint interval.Range // height, grip and frequency together
	for i, v := range heights {
		h, g := height(v), l.Grip.multiplier(v)
		f := interval.Range{Lo: t.frequency(l.Spell, v, l.PerMinute.Hi), Hi: t.frequency(l.Spell, v, l.PerMinute.Lo)}
		all := scaled(f, h*g)
		if i == 0 {
			out.Height, out.Grip, out.Frequency, joint = interval.Exact(h), interval.Exact(g), f, all
		}
		out.Height = out.Height.Hull(interval.Exact(h))
		out.Grip = out.Grip.Hull(interval.Exact(g))
		out.Frequency = out.Frequency.Hull(f)
		joint = joint.Hull(all)
	}
	out.Mass = scaled(out.Reach.Mul(out.Travel).Mul(out.Turn).Mul(joint), loadConstant)
	return out, nil
}

func reach(cm float64) float64 {
	if cm > 63 {
		return 0
	}
	return 25 / max(cm, 25)
}

func height(cm float64) float64 {
	if cm > 175 {
		return 0
	}
	return 1 - 0.003*math.Abs(cm-knuckles)
}

func travel(cm float64) float64 {
	if cm > 175 {
		return 0
	}
	return 0.82 + 4.5/max(cm, 25)
}

func turn(degrees float64) float64 {
	if degrees > 135 {
		return 0
	}
	return 1 - 0.0032*degrees
}

func (g Grip) multiplier(cm float64) float64 {
	switch {
	case g == Poor:
		return 0.9
	case g == Fair && cm < knuckles:
		return 0.95
	}
	return 1
}

// frequency is the multiplier at a height of the hands, in proportion between two rows.
func (t Tables) frequency(s Spell, cm, perMinute float64) float64 {
	of := func(f Frequency) float64 {
		if cm < knuckles {
			return f.Below[s]
		}
		return f.At[s]
	}
	for i, row := range t.Frequencies {
		if perMinute > row.PerMinute {
			continue
		}
		if i == 0 {
			return of(row)
		}
		last := t.Frequencies[i-1]
		part := (perMinute - last.PerMinute) / (row.PerMinute - last.PerMinute)
		return of(last) + part*(of(row)-of(last))
	}
	return 0
}

// Index is the load (kg, 0 to 1000) over the recommended limit. Above 1 the lift is too much for
// some people, above 3 for many. It rises with the load, so the answer spans exactly what load and
// limit allow. Errors: a load outside these limits, or a limit that may be 0.
func (l Limit) Index(load interval.Range) (interval.Range, error) {
	if err := check("load", load, 0, 1000, "kg"); err != nil {
		return interval.Range{}, err
	}
	if l.Mass.Lo <= 0 {
		return interval.Range{}, errors.New("read a limit that may be 0 kg; expected a lift within reach, height, travel, turn and frequency of the equation")
	}
	return interval.Range{Lo: load.Lo / l.Mass.Hi, Hi: load.Hi / l.Mass.Lo}, nil
}

// Reach is the reach in cm when it cannot be measured, from how far a load of a depth (cm, 0 to
// 200) sticks out from the body, with the hands at a height (cm, 0 to 250): 20 cm and half the
// depth, or 25 cm and half where the hands are below 25 cm. NIOSH 94-110. It rises with the depth
// and falls with the height, so the answer spans exactly those two ends. Errors: a range outside
// these limits.
func Reach(depth, height interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("depth of the load", depth, 0, 200, "cm"),
		check("height of the hands", height, 0, 250, "cm"),
	); err != nil {
		return interval.Range{}, err
	}
	at := func(depth, height float64) float64 {
		if height < 25 {
			return 25 + depth/2
		}
		return 20 + depth/2
	}
	return interval.Range{Lo: at(depth.Lo, height.Hi), Hi: at(depth.Hi, height.Lo)}, nil
}

// Team is what two or three people may lift together in kg, from what each may lift alone (kg, 0
// to 100): two thirds of the sum for two, half of it for three, the whole for one. UK HSE as quoted
// on rail lifting. It rises with each, so the answer spans exactly the two ends. Errors: a range
// outside these limits, or no person or more than three, for whom there is no figure.
func Team(each ...interval.Range) (interval.Range, error) {
	shares := [...]float64{1: 1, 2: 2.0 / 3, 3: 1.0 / 2}
	if len(each) == 0 || len(each) >= len(shares) {
		return interval.Range{}, fmt.Errorf("read %d people; expected one, two or three", len(each))
	}
	var sum interval.Range
	for _, one := range each {
		if err := check("limit of one person", one, 0, 100, "kg"); err != nil {
			return interval.Range{}, err
		}
		sum = sum.Add(one)
	}
	return scaled(sum, shares[len(each)]), nil
}

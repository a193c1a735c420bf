package moisture

import (
	"mendwright/rules/interval"
)

// DecayByMoisture says whether rot can go on in wood of a moisture content (%, 0 to 300): No up to
// 20 %, Yes from 30 %, Unknown between, where the manuals set the limit at 25 to 30 %. US Navy
// manual MO-312, wood protection. Errors: a range outside these limits.
func DecayByMoisture(content interval.Range) (Truth, error) {
	if err := check("moisture content", content, 0, 300, "%"); err != nil {
		return Unknown, err
	}
	switch {
	case content.Hi <= 20+slack:
		return No, nil
	case content.Lo >= 30-slack:
		return Yes, nil
	}
	return Unknown, nil
}

// Pace is how fast rot goes on at a temperature. The zero Pace is PaceUnknown.
type Pace int

// The paces.
const (
	PaceUnknown Pace = iota // the range allows more than one of the others
	Stops                   // at 2 °C and below, at 38 °C and above
	Slow                    // under 10 °C and above 35 °C
	Active
)

func (p Pace) String() string { return [...]string{"unknown", "stops", "slow", "active"}[p] }

// DecayPace is how fast rot goes on in wet wood at a temperature (°C, -50 to 100), known only if
// the whole range agrees on it. It stops, it does not die: it goes on when the temperature comes
// back. Wood Handbook FPL-GTR-190 (2010), chapter 14. Errors: a range outside these limits.
func DecayPace(celsius interval.Range) (Pace, error) {
	if err := check("temperature", celsius, -50, 100, "°C"); err != nil {
		return PaceUnknown, err
	}
	low, high := pace(celsius.Lo), pace(celsius.Hi)
	// Both ends may be slow, or stopped, with warmer wood between them.
	if low == high && (low == Active || (celsius.Lo < 20) == (celsius.Hi < 20)) {
		return low, nil
	}
	return PaceUnknown, nil
}

func pace(celsius float64) Pace {
	switch {
	case celsius <= 2+slack || celsius >= 38-slack:
		return Stops
	case celsius < 10-slack || celsius > 35+slack:
		return Slow
	}
	return Active
}

// Decays says whether rot goes on in wood of a moisture content (%, 0 to 300) and temperature (°C,
// -50 to 100): both DecayByMoisture and DecayPace must allow it. Errors: as theirs.
func Decays(content, celsius interval.Range) (Truth, error) {
	wet, err := DecayByMoisture(content)
	if err != nil {
		return Unknown, err
	}
	p, err := DecayPace(celsius)
	if err != nil {
		return Unknown, err
	}
	warm := Yes
	switch {
	case p == Stops:
		warm = No
	case p == PaceUnknown && (pace(celsius.Lo) == Stops || pace(celsius.Hi) == Stops):
		warm = Unknown
	}
	return all(wet, warm), nil
}

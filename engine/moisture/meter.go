package moisture

import (
	"mendwright/rules/interval"
)

// What a pin meter can do, after a handbook on moisture meters and FPL-GTR-6. The sources give 6
// or 7 % for the low end and 25 to 30 % for the high one, and say that a meter usually lies within
// 2 % of drying in an oven.
const (
	meterLow, meterLowAtLeast  = 6, 7   // %
	meterHighAtMost, meterHigh = 25, 30 // %
	meterSpread                = 2      // % moisture
	meterCelsius               = 20     // the temperature that meters are set for
	meterPerDegree             = 0.1    // % moisture: 0.5 for each 5 °C
)

func reading(read, celsius interval.Range) error {
	if err := check("reading", read, 0, 100, "%"); err != nil {
		return err
	}
	return check("temperature of the wood", celsius, -10, 50, "°C")
}

// Corrected is the reading of a pin meter (%, 0 to 100) put right for the temperature of the wood
// (°C, -10 to 50): half a percent more for each 5 °C below 20, half a percent less for each above,
// and not below 0. After a handbook on moisture meters; a trade page sees no need for it between
// 10 and 32 °C. It rises with the reading and falls with the temperature, so the answer spans
// exactly those two ends. Errors: a range outside these limits.
func Corrected(read, celsius interval.Range) (interval.Range, error) {
	if err := reading(read, celsius); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: corrected(read.Lo, celsius.Hi), Hi: corrected(read.Hi, celsius.Lo)}, nil
}

func corrected(read, celsius float64) float64 {
	return max(0, read+meterPerDegree*(meterCelsius-celsius))
}

// Content is the moisture content in percent that a reading of a pin meter stands for: Corrected,
// give or take the 2 % by which a meter usually lies off (FPL-GTR-6), and not below 0. Salts,
// glue lines and metal make a meter read high by more. Units, limits and errors as Corrected.
func Content(read, celsius interval.Range) (interval.Range, error) {
	r, err := Corrected(read, celsius)
	if err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: max(0, r.Lo-meterSpread), Hi: r.Hi + meterSpread}, nil
}

// Reliable says whether a reading (%, 0 to 100) lies where a pin meter is good: Yes from 7 to 25
// %, No below 6 or above 30 %, where it is approximate only, and Unknown between, where the
// sources differ. After a handbook on moisture meters and FPL-GTR-6.
// Errors: a range outside these limits.
func Reliable(read interval.Range) (Truth, error) {
	if err := check("reading", read, 0, 100, "%"); err != nil {
		return Unknown, err
	}
	switch {
	case read.Hi < meterLow-slack || read.Lo > meterHigh+slack:
		return No, nil
	case read.Lo >= meterLowAtLeast-slack && read.Hi <= meterHighAtMost+slack:
		return Yes, nil
	}
	return Unknown, nil
}

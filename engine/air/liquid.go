package air

import (
	"cmp"

	"mendwright/rules/interval"
)

// Class is the class of a flammable (I) or combustible (II, III) liquid of NFPA 30, the older scheme.
// The zero Class is the most flammable.
type Class int

// The classes.
const (
	IA Class = iota
	IB
	IC
	II
	IIIA
	IIIB
)

func (c Class) String() string { return [...]string{"IA", "IB", "IC", "II", "IIIA", "IIIB"}[c] }

// ClassOf returns the class of a liquid by closed-cup flash point and boiling point in °C (-150 to 500)
// at the worst ends of both. The lines are those of NFPA 30: 73, 100, 140 and 200 °F.
func ClassOf(flash, boils interval.Range) (Class, error) {
	if err := cmp.Or(within("the flash point", "°C", flash, -150, 500), within("the boiling point", "°C", boils, -150, 500)); err != nil {
		return IA, err
	}
	switch f := flash.Lo*1.8 + 32; {
	case f < 73 && boils.Lo*1.8+32 < 100:
		return IA, nil
	case f < 73:
		return IB, nil
	case f < 100:
		return IC, nil
	case f < 140:
		return II, nil
	case f < 200:
		return IIIA, nil
	}
	return IIIB, nil
}

// NearFlash reports whether a liquid of t °C may give off enough vapour to be lit: within 5 °C of its
// flash point, at the worst ends. The 5 °C are a choice of this program. A mist or a soaked rag
// lights well below the flash point, whatever this says.
func NearFlash(t, flash interval.Range) (bool, error) {
	if err := cmp.Or(within("the liquid", "°C", t, -50, 300), within("the flash point", "°C", flash, -150, 500)); err != nil {
		return false, err
	}
	return t.Hi >= flash.Lo-5, nil
}

// SaturatedLEL returns the saturated vapour over a liquid as a share of its lower explosive limit: vapour
// pressure in mmHg (0 or more), limit in volume per cent (above 0). From 1 on a flame over the
// liquid lights it.
func SaturatedLEL(mmHg, lel interval.Range) (interval.Range, error) {
	ppm, err := SaturatedPPM(mmHg)
	if err := cmp.Or(err, within("the lower explosive limit", "%", lel, 0.01, 100)); err != nil {
		return interval.Range{}, err
	}
	return over(ppm, scaled(lel, ppmPerCent)), nil
}

// ReachesLEL returns the temperature in °C at which the saturated vapour stands at a lower explosive limit
// in volume per cent (above 0): near, mostly a little below, the flash point. It rises with lel.
func (a Antoine) ReachesLEL(lel interval.Range) (interval.Range, error) {
	if err := within("the lower explosive limit", "%", lel, 0.01, 100); err != nil {
		return interval.Range{}, err
	}
	return a.Celsius(scaled(lel, atmosphere/100))
}

const ppmPerCent = 1e4

package air

import (
	"cmp"

	"mendwright/rules/interval"
)

// Can is what leaves an aerosol can.
type Can struct {
	Grams      interval.Range // 0 or more
	Propellant interval.Range // share of that by mass, 0 to 1
	Solvent    interval.Range // the same; the rest stays as film
}

// Doses returns what a can gives to the air, with all of its solvent counted as one substance. The
// error says what is out of range, or that the shares make more than the whole.
func (c Can) Doses(propellant, solvent string) ([]Dose, error) {
	return dosesOf(c.Grams, []Share{{propellant, c.Propellant}, {solvent, c.Solvent}})
}

// Mist returns the mg/m3 of coating that hang in a closed room of volume m3 (above 0) after grams (0 or
// more) were sprayed, given the share of solids in the coating by mass and the share of it that
// lands on the work (both 0 to 1): all that misses and does not evaporate. It rises with grams and
// solids, falls with the volume and with what lands.
func Mist(grams, solids, lands, volume interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the coating", "g", grams), within("the share of solids", "", solids, 0, 1),
		within("the share that lands", "", lands, 0, 1), above0("the room", "m3", volume)); err != nil {
		return interval.Range{}, err
	}
	misses := interval.Exact(1).Sub(lands)
	return scaled(over(grams.Mul(solids).Mul(misses), volume), 1000), nil
}

package coat

import (
	"fmt"

	"mendwright/rules/interval"
)

// Dry is the dry film in micrometres that a wet one leaves: wet x solids/100. Wet is 0 to 5000 µm,
// solids 0 to 100 % by volume (by weight it would come out too thick: a lacquer of 24 % by weight
// is one of 16 % by volume). It rises in both. The error says which input is out of range. The
// formula stands in coating makers' notes on volume solids.
func Dry(wet, volumeSolids interval.Range) (interval.Range, error) {
	if err := first(wetFilm.holds(wet), solids.holds(volumeSolids)); err != nil {
		return interval.Range{}, err
	}
	dry := func(w, s float64) float64 { return w * s / 100 }
	return interval.Range{Lo: dry(wet.Lo, volumeSolids.Lo), Hi: dry(wet.Hi, volumeSolids.Hi)}, nil
}

// Wet is the wet film in micrometres that dries to a dry one: dry x 100/solids. Dry is 0 to
// 5000 µm, solids 0.1 to 100 % by volume. It rises with the dry film and falls with the solids.
// The error says which input is out of range. The formula is that of Dry turned round.
func Wet(dry, volumeSolids interval.Range) (interval.Range, error) {
	if err := first(dryFilm.holds(dry), someSolids.holds(volumeSolids)); err != nil {
		return interval.Range{}, err
	}
	wet := func(d, s float64) float64 { return d * 100 / s }
	return interval.Range{Lo: wet(dry.Lo, volumeSolids.Hi), Hi: wet(dry.Hi, volumeSolids.Lo)}, nil
}

// Sheet is what a data sheet's wet and dry film say about its solids.
type Sheet struct {
	Needs interval.Range // volume solids in per cent at which its films fit each other
	Fits  bool           // some of the printed solids are among those needed
}

// CheckSheet holds the volume solids that a data sheet prints (0 to 100 %) against its wet film
// (above 0, to 5000 µm) and dry film (0 to 5000 µm). Solids that do not fit are usually those by
// weight. Closer figures can only turn Fits from true to false. The error says which input is out
// of range, or that the dry film is thicker than the wet one. The formula is that of Dry.
func CheckSheet(printed, wet, dry interval.Range) (Sheet, error) {
	if err := first(solids.holds(printed), wetFilm.positive(wet), dryFilm.holds(dry)); err != nil {
		return Sheet{}, err
	}
	if dry.Lo > wet.Hi {
		return Sheet{}, fmt.Errorf("the dry film reads from %g µm and the wet film to %g µm; expected the dry one to be the thinner", dry.Lo, wet.Hi)
	}
	needs := interval.Range{Lo: min(dry.Lo/wet.Hi*100, 100), Hi: min(dry.Hi/wet.Lo*100, 100)}
	return Sheet{Needs: needs, Fits: needs.Lo <= printed.Hi && printed.Lo <= needs.Hi}, nil
}

// Hang is what a wet coat does on an upright face. The zero Hang is HangUnknown: the
// measurements allow more than one.
type Hang int

// How a wet coat hangs.
const (
	HangUnknown Hang = iota
	Holds
	NearRunning
	Sags
)

func (h Hang) String() string { return [...]string{"unknown", "holds", "near-running", "sags"}[h] }

// Wet films at which a coat is close to running and at which it sags: 5 and 6 mils, from
// finishers' talk among themselves; a thixotropic product holds more.
const (
	NearRunningFrom = 5 * Mil
	SagsFrom        = 6 * Mil
)

// HangOf says whether a wet film of 0 to 5000 µm holds on an upright face. The error says that
// the film is out of range.
func HangOf(wet interval.Range) (Hang, error) {
	if err := wetFilm.holds(wet); err != nil {
		return HangUnknown, err
	}
	near, sags := from(wet, NearRunningFrom), from(wet, SagsFrom)
	switch {
	case sags == Yes:
		return Sags, nil
	case near == No:
		return Holds, nil
	case near == Yes && sags == No:
		return NearRunning, nil
	}
	return HangUnknown, nil
}

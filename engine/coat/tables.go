package coat

import (
	"fmt"

	"mendwright/rules/interval"
)

// Tables are the figures of the trade that the arithmetic stands on. The zero Tables are empty:
// they know no coat, and say so.
type Tables struct {
	Coats    []Coat
	Over     []Over
	Removers []Remover
	Washes   []Washing
	Sheens   []Sheen
	Excludes []Excluding
	Losses   map[string]interval.Range // share lost in per cent, by way of putting on
	Sprays   map[string]bool           // the ways of putting on that are spraying
}

// Coat is a finish as it goes on. A zero range is "no such figure": a finish that is wiped off
// has no coat to sand.
type Coat struct {
	Name   string
	Finish string // what it is afterwards, in the words of Over
	Dries  Drying
	Bonds  Bonding
	// Blushes: sprayed on a damp day it turns white.
	Blushes  bool
	Solids   interval.Range // % by volume
	Wet      interval.Range // µm a coat
	Dry      interval.Range // µm a coat
	Rate     interval.Range // m²/L a coat, without loss
	Air      interval.Range // °C at which it may be put on, both ends included
	Humidity interval.Range // % at which it may be put on; below is too dry, from the upper end on too damp
	Touch    interval.Range // h at 23 °C and 50 % until it can be touched
	Recoat   interval.Range // h at 23 °C and 50 % from which the next coat may follow
	Closes   interval.Range // h at 23 °C and 50 % up to which it may follow without a scuff
	Sand     interval.Range // h at 23 °C and 50 % from which it can be sanded
	Cure     interval.Range // h at 23 °C and 50 % until it is hard and may be rubbed out
	Coats    interval.Range // usual number of coats
	Most     interval.Range // µm of dry film in all, beyond which it cracks
}

// Coat finds a coat by name. The error says which name was read.
func (t Tables) Coat(name string) (Coat, error) {
	for _, c := range t.Coats {
		if c.Name == name {
			return c, nil
		}
	}
	return Coat{}, fmt.Errorf("there is no coat %q in the table", name)
}

// Loss finds the share in per cent that a way of putting on loses, such as overspray. The error
// says which way was read.
func (t Tables) Loss(way string) (interval.Range, error) {
	if r, ok := t.Losses[way]; ok {
		return r, nil
	}
	return interval.Range{}, fmt.Errorf("there is no figure for what putting on by %q loses", way)
}

package metal

import (
	"fmt"

	"mendwright/rules/interval"
)

// litresPerMole is the volume of a mole of gas at 20 °C and one atmosphere.
const litresPerMole = 24.055

// Base takes up acid. The zero Base is baking soda.
type Base int

// The bases.
const (
	BakingSoda  Base = iota // NaHCO3
	SodaAsh                 // Na2CO3, dry
	WashingSoda             // Na2CO3 with ten waters, as crystals
)

var bases = [...]struct {
	name           string
	molar, protons float64
}{
	BakingSoda:  {"baking soda", sodium + hydrogen + carbon + 3*oxygen, 1},
	SodaAsh:     {"soda ash", 2*sodium + carbon + 3*oxygen, 2},
	WashingSoda: {"washing soda crystals", 2*sodium + carbon + 3*oxygen + 10*water, 2},
}

func (b Base) String() string {
	if b < 0 || int(b) >= len(bases) {
		return fmt.Sprintf("base %d", int(b))
	}
	return bases[b].name
}

// Neutral is what turns an acid neutral, and the gas that comes off: an open vessel, added slowly.
type Neutral struct {
	Base interval.Range // g
	Gas  interval.Range // litres of carbon dioxide at 20 °C
}

// Neutralise says how much base an amount of acid takes, 0 to 1e6 g of it; every proton gives
// one mole of carbon dioxide from baking soda and half a mole from soda. The error names an
// unknown acid or base, phosphoric acid (which is rinsed off), or an amount out of range.
// Source: stoichiometry; molar volume at 20 °C and one atmosphere.
func Neutralise(a Acid, b Base, acid interval.Range) (Neutral, error) {
	if err := a.check(); err != nil {
		return Neutral{}, err
	}
	if b < 0 || int(b) >= len(bases) {
		return Neutral{}, fmt.Errorf("read base %d; expected baking soda, soda ash or washing soda crystals", int(b))
	}
	if acids[a].protons == 0 {
		return Neutral{}, fmt.Errorf("read %s, which is rinsed off; expected acetic or citric acid", a)
	}
	if err := need("the acid", "g", acid, amounts); err != nil {
		return Neutral{}, err
	}
	moles := acids[a].protons / acids[a].molar / bases[b].protons // of base, and of gas, per g of acid
	return Neutral{Base: scale(acid, moles*bases[b].molar), Gas: scale(acid, moles*litresPerMole)}, nil
}

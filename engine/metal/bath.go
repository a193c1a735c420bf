package metal

import (
	"fmt"

	"mendwright/rules/interval"
)

// Atomic weights in g/mol, as rounded in common tables.
const (
	hydrogen   = 1.008
	carbon     = 12.011
	oxygen     = 15.999
	sodium     = 22.990
	phosphorus = 30.974
	iron       = 55.845
	zinc       = 65.38

	water = 2*hydrogen + oxygen
)

// Acid is an acid that takes rust off. The zero Acid is that of vinegar.
type Acid int

// The acids.
const (
	Acetic Acid = iota
	Citric      // without water of crystallisation
	CitricMonohydrate
	Phosphoric
)

// acids: molar mass, moles that one mole of iron takes up, and protons that a base has to take;
// 0 protons means that the acid is rinsed off and not neutralised here.
var acids = [...]struct {
	name           string
	molar, perIron float64
	protons        float64
}{
	Acetic:            {"acetic acid", 2*carbon + 4*hydrogen + 2*oxygen, 3, 1},
	Citric:            {"citric acid", 6*carbon + 8*hydrogen + 7*oxygen, 1, 3},
	CitricMonohydrate: {"citric acid monohydrate", 6*carbon + 8*hydrogen + 7*oxygen + water, 1, 3},
	Phosphoric:        {"phosphoric acid", 3*hydrogen + phosphorus + 4*oxygen, 1, 0},
}

func (a Acid) String() string {
	if a.check() != nil {
		return fmt.Sprintf("acid %d", int(a))
	}
	return acids[a].name
}

func (a Acid) check() error {
	if a < 0 || int(a) >= len(acids) {
		return fmt.Errorf("read acid %d; expected acetic, citric (with or without its water) or phosphoric", int(a))
	}
	return nil
}

// Rust is what the acid has to dissolve. The zero Rust is ordinary red rust.
type Rust int

// The rusts.
const (
	RedRust Rust = iota // FeO(OH)
	Oxide               // Fe2O3, dry
)

// perIron is the mass of rust in g that holds one mole of iron.
func (r Rust) perIron() (float64, error) {
	switch r {
	case RedRust:
		return iron + 2*oxygen + hydrogen, nil
	case Oxide:
		return iron + 1.5*oxygen, nil
	}
	return 0, fmt.Errorf("read rust %d; expected red rust or oxide", int(r))
}

// PerRust is the least acid in g that one gram of rust takes up: three acetate ions to an iron
// ion, one citrate (a 1:1 complex) or one phosphate. The error names an unknown acid or rust.
// Source: stoichiometry.
func (a Acid) PerRust(r Rust) (float64, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	per, err := r.perIron()
	if err != nil {
		return 0, err
	}
	return acids[a].perIron * acids[a].molar / per, nil
}

// ForRust is the least acid in g for an amount of rust, 0 to 1e5 g. The error names what is
// unknown or out of range. Source: as PerRust.
func (a Acid) ForRust(r Rust, rust interval.Range) (interval.Range, error) {
	per, err := a.PerRust(r)
	if err != nil {
		return interval.Range{}, err
	}
	if err := need("the rust", "g", rust, interval.Range{Lo: 0, Hi: 1e5}); err != nil {
		return interval.Range{}, err
	}
	return scale(rust, per), nil
}

// Takes is the most rust in g that an amount of acid takes up, 0 to 1e6 g of it. It undoes
// ForRust; its errors are the same.
func (a Acid) Takes(r Rust, acid interval.Range) (interval.Range, error) {
	per, err := a.PerRust(r)
	if err != nil {
		return interval.Range{}, err
	}
	if err := need("the acid", "g", acid, amounts); err != nil {
		return interval.Range{}, err
	}
	return div(acid, interval.Exact(per)), nil
}

// ampleTimes is how many times the least amount keeps a bath acid to the end, a choice of this
// program.
var ampleTimes = interval.Range{Lo: 3, Hi: 5}

// Bath is an acid in water.
type Bath struct {
	Acid     Acid
	Strength Strength
}

// Amount is how much of a bath some rust takes, in mL (w/v) or g (w/w).
type Amount struct {
	Least interval.Range // all of the acid is used up
	Ample interval.Range // three to five times that, so that the bath stays acid
}

// For is how much of the bath a mass of rust takes, 0 to 1e5 g. The error names what is unknown
// or out of range. Source: as PerRust; the ample amount is a choice of this program.
func (b Bath) For(r Rust, rust interval.Range) (Amount, error) {
	acid, err := b.Acid.ForRust(r, rust)
	if err != nil {
		return Amount{}, err
	}
	least, err := b.Strength.Amount(acid)
	if err != nil {
		return Amount{}, err
	}
	return Amount{least, least.Mul(ampleTimes)}, nil
}

// Takes is the most rust in g that an amount of the bath can take up, in mL (w/v) or g (w/w), 0 to
// a million. It undoes the least amount of For; its errors are the same.
func (b Bath) Takes(r Rust, amount interval.Range) (interval.Range, error) {
	acid, err := b.Strength.Grams(amount)
	if err != nil {
		return interval.Range{}, err
	}
	return b.Acid.Takes(r, acid)
}

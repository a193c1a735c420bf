package coat

import (
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

var (
	mass     = quantity{"the mass", "g", 0, 1000000}
	strength = quantity{"the strength", "", 0, 2000}
	grams    = quantity{"the strength", "g/L", 0, 2000}
	part     = quantity{"the number of parts", "parts", 0, 100000}
)

// Strength is grams per litre of solvent: mass (0 to 1000000 g) over volume (above 0 to 10000 L),
// as recipes give it; the volume of what dissolves is not reckoned with. It rises with the mass
// and falls with the volume. The error says which input is out of range. The formula is the
// definition; see Ounce, Pound, USPint, USQuart and USGallon for old recipes.
func Strength(massG, solventL interval.Range) (interval.Range, error) {
	if err := first(mass.holds(massG), volume.positive(solventL)); err != nil {
		return interval.Range{}, err
	}
	s := func(m, v float64) float64 { return m / v }
	return interval.Range{Lo: s(massG.Lo, solventL.Hi), Hi: s(massG.Hi, solventL.Lo)}, nil
}

// ToDissolve is the mass in grams that gives a strength of 0 to 2000 g/L in a volume of 0 to
// 10000 L of solvent. It rises in both. The error says which input is out of range. The formula
// is that of Strength turned round.
func ToDissolve(gramsPerLitre, solventL interval.Range) (interval.Range, error) {
	if err := first(grams.holds(gramsPerLitre), volume.holds(solventL)); err != nil {
		return interval.Range{}, err
	}
	return gramsPerLitre.Mul(solventL), nil
}

// Diluted is the strength, in its own unit, of a solution of 0 to 2000 when parts of it (above 0)
// are mixed with parts of water (0 and more) by volume: strength x parts/(parts + water). It rises
// with strength and parts and falls with the water. The error says which input is out of range.
// The formula is the balance of volumes; what volume is lost in mixing is not reckoned with.
func Diluted(of, parts, water interval.Range) (interval.Range, error) {
	if err := first(strength.holds(of), part.positive(parts), part.holds(water)); err != nil {
		return interval.Range{}, err
	}
	thin := func(s, p, w float64) float64 { return s / (1 + w/p) }
	return interval.Range{Lo: thin(of.Lo, parts.Lo, water.Hi), Hi: thin(of.Hi, parts.Hi, water.Lo)}, nil
}

// WaterFor is the water, in the unit of the parts, that brings parts (0 and more) of a solution of
// 0 to 2000 down to a target (above 0 to the strength, in its unit): parts x (strength/target - 1).
// It rises with parts and strength and falls with the target. The error says which input is out
// of range, or that the target lies above the strength. The formula is that of Diluted turned
// round.
func WaterFor(parts, of, target interval.Range) (interval.Range, error) {
	if err := first(part.holds(parts), strength.holds(of), strength.positive(target)); err != nil {
		return interval.Range{}, err
	}
	if target.Hi > of.Lo {
		return interval.Range{}, fmt.Errorf("the strength reads from %g and the target to %g; water only ever lowers it", of.Lo, target.Hi)
	}
	add := func(p, s, t float64) float64 { return p * (s/t - 1) }
	return interval.Range{Lo: add(parts.Lo, of.Lo, target.Hi), Hi: add(parts.Hi, of.Hi, target.Lo)}, nil
}

// Equivalents, in grams that neutralise or are neutralised by one mole of alkali (molar masses).
const (
	AceticEquivalent = 60.05      // acetic acid
	OxalicEquivalent = 126.07 / 2 // oxalic acid, dihydrate, which gives off two protons
	LyeEquivalent    = 40.00      // sodium hydroxide
)

// Neutralised is the share of an alkali that one wash of acid neutralises, both of equal volume
// and in grams per litre (acid 0 to 2000, lye above 0 to 2000) with their equivalents; more than 1
// means that acid is left over. It rises with the acid and falls with the lye. The error says
// which input is out of range. The formula is stoichiometry.
func Neutralised(acid interval.Range, acidEquivalent float64, lye interval.Range) (interval.Range, error) {
	if err := first(grams.holds(acid), grams.positive(lye)); err != nil {
		return interval.Range{}, err
	}
	if !(acidEquivalent > 0) {
		return interval.Range{}, fmt.Errorf("the acid's equivalent reads %g g; expected more than 0", acidEquivalent)
	}
	share := func(a, l float64) float64 { return a / acidEquivalent / (l / LyeEquivalent) }
	return interval.Range{Lo: share(acid.Lo, lye.Hi), Hi: share(acid.Hi, lye.Lo)}, nil
}

// Washing is one step of a bleach or rinse on bare wood.
type Washing struct {
	Name     string
	Bleach   string         // the bleach it is a step of; "" for a rinse
	Lifts    string         // what it takes out
	Strength interval.Range // g/L
	Minutes  interval.Range // left on
	Dries    interval.Range // h until the next step or the finish
	Dissolve float64        // g/L that water at 20 °C takes up at most; 0 if that is no bound
	Then     string         // what follows it
}

// BleachFor lists the steps of the bleach that takes something out, in the order of the table.
// The error says that the table has none.
func (t Tables) BleachFor(stain string) ([]Washing, error) {
	var out []Washing
	for _, w := range t.Washes {
		if w.Bleach != "" && w.Lifts == stain {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		var known []string
		for _, w := range t.Washes {
			if w.Bleach != "" && !slices.Contains(known, w.Lifts) {
				known = append(known, w.Lifts)
			}
		}
		return nil, fmt.Errorf("no bleach of the table takes out %q; expected one of %q", stain, known)
	}
	return out, nil
}

// Washing finds a wash by name. The error says which name was read.
func (t Tables) Washing(name string) (Washing, error) {
	for _, w := range t.Washes {
		if w.Name == name {
			return w, nil
		}
	}
	return Washing{}, fmt.Errorf("there is no wash %q in the table", name)
}

// TooMuch says whether a strength of 0 to 2000 g/L is more than the wash can dissolve at 20 °C:
// what is over stays as crystals on the wood. The error says that the strength is out of range.
func (w Washing) TooMuch(gramsPerLitre interval.Range) (Truth, error) {
	if err := grams.holds(gramsPerLitre); err != nil {
		return Unknown, err
	}
	if w.Dissolve == 0 {
		return No, nil
	}
	return above(gramsPerLitre, w.Dissolve), nil
}

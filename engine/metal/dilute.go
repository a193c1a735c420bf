package metal

import (
	"fmt"

	"mendwright/rules/interval"
)

// Basis says what a percentage is a share of. Percentages of different bases are never mixed.
type Basis int

// The bases.
const (
	WeightInVolume Basis = iota // grams in 100 mL of bath, as a powder is weighed into water
	VolumeInVolume              // millilitres in 100 mL
	WeightInWeight              // grams in 100 g, as labels of strong acids print
)

func (b Basis) String() string { return [...]string{"w/v", "v/v", "w/w"}[b] }

// Strength is how much of a substance a liquid holds.
type Strength struct {
	Percent interval.Range
	Basis   Basis
}

// check accepts 0.01 to 100 %, and to 200 % by weight in volume, which a dense liquid can reach.
func (s Strength) check(what string) error {
	if s.Basis < WeightInVolume || s.Basis > WeightInWeight {
		return fmt.Errorf("read basis %d for %s; expected w/v, v/v or w/w", int(s.Basis), what)
	}
	most := 100.0
	if s.Basis == WeightInVolume {
		most = 200
	}
	return need(what, "% "+s.Basis.String(), s.Percent, interval.Range{Lo: 0.01, Hi: most})
}

// amounts are the amounts of liquid that can be reckoned with, in mL or g.
var amounts = interval.Range{Lo: 0, Hi: 1e6}

// Dilution is what goes together into a weaker liquid. The strong liquid goes into the water,
// never the reverse.
type Dilution struct {
	Stock interval.Range // of the strong liquid
	Water interval.Range // to make up the amount; by weight exactly so much
}

// Dilute says how much of a stock makes an amount of a wanted strength: C1·V1 = C2·V2 for shares
// of volume, C1·m1 = C2·m2 for shares of weight. made is in any unit of volume (w/v, v/v) or of
// weight (w/w), 0 to a million of them; the answer is in the same unit. The error names a
// strength outside 0.01 to 100 % (w/v: 200 %), two different bases, or a wanted strength that may
// lie above the stock's. Source: conservation of the dissolved substance.
func Dilute(stock, wanted Strength, made interval.Range) (Dilution, error) {
	for _, s := range []struct {
		what string
		Strength
	}{{"the stock", stock}, {"the wanted strength", wanted}} {
		if err := s.check(s.what); err != nil {
			return Dilution{}, err
		}
	}
	if stock.Basis != wanted.Basis {
		return Dilution{}, fmt.Errorf("read a stock in %% %s and a wanted strength in %% %s; expected both alike", stock.Basis, wanted.Basis)
	}
	if wanted.Percent.Hi > stock.Percent.Lo {
		return Dilution{}, fmt.Errorf("read %s for the wanted strength; expected no more than the stock's %s",
			written(wanted.Percent, "%"), written(stock.Percent, "%"))
	}
	if err := need("the amount to make", "", made, amounts); err != nil {
		return Dilution{}, err
	}
	share := div(wanted.Percent, stock.Percent)
	return Dilution{
		Stock: div(wanted.Percent.Mul(made), stock.Percent),
		Water: made.Mul(interval.Exact(1).Sub(share)),
	}, nil
}

// InVolume turns a strength by weight into one by weight in volume: times the density of the
// liquid, 0.7 to 1.9 g/mL. The error names another basis, or a strength or density out of range.
// Source: the definition of density.
func (s Strength) InVolume(density interval.Range) (Strength, error) {
	if err := s.check("the strength"); err != nil {
		return Strength{}, err
	}
	if s.Basis != WeightInWeight {
		return Strength{}, fmt.Errorf("read a strength in %% %s; expected %% w/w", s.Basis)
	}
	if err := need("the density", "g/mL", density, interval.Range{Lo: 0.7, Hi: 1.9}); err != nil {
		return Strength{}, err
	}
	return Strength{s.Percent.Mul(density), WeightInVolume}, nil
}

// Grams is the substance in an amount of liquid: grams in amount mL (w/v) or amount g (w/w), 0 to
// a million. A share of volume has no grams; the error says so, or names a strength or amount out
// of range. Source: the definition of the percentage.
func (s Strength) Grams(amount interval.Range) (interval.Range, error) {
	if err := s.weighed(); err != nil {
		return interval.Range{}, err
	}
	if err := need("the amount of liquid", "", amount, amounts); err != nil {
		return interval.Range{}, err
	}
	return scale(s.Percent.Mul(amount), 0.01), nil
}

// Amount is the liquid that holds so many grams of substance, 0 to 1e6 g: in mL (w/v) or g (w/w).
// It undoes Grams; its errors are the same.
func (s Strength) Amount(grams interval.Range) (interval.Range, error) {
	if err := s.weighed(); err != nil {
		return interval.Range{}, err
	}
	if err := need("the substance", "g", grams, amounts); err != nil {
		return interval.Range{}, err
	}
	return div(scale(grams, 100), s.Percent), nil
}

func (s Strength) weighed() error {
	if err := s.check("the strength"); err != nil {
		return err
	}
	if s.Basis == VolumeInVolume {
		return fmt.Errorf("read a strength in %% v/v, which has no grams; expected %% w/v or w/w")
	}
	return nil
}

// GramsPerLitre is the strength of a powder stirred into a solvent: 0 to 1e6 g in 0.01 to 1e5
// litres. The error names what is out of range. Source: the definition.
func GramsPerLitre(grams, litres interval.Range) (interval.Range, error) {
	if err := need("the powder", "g", grams, amounts); err != nil {
		return interval.Range{}, err
	}
	if err := need("the solvent", "L", litres, interval.Range{Lo: 0.01, Hi: 1e5}); err != nil {
		return interval.Range{}, err
	}
	return div(grams, litres), nil
}

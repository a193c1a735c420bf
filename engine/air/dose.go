package air

import (
	"fmt"

	"mendwright/rules/interval"
)

// Share is how much of a product one substance is, 0 to 1.
type Share struct {
	Substance string
	Of        interval.Range
}

// Dose is what of a substance goes into the air.
type Dose struct {
	Substance string
	Grams     interval.Range // 0 or more
}

// FromGrams returns the doses of grams (0 or more) of a product that evaporates whole, by the shares of its
// mass. What the shares leave is taken not to evaporate. The error says what is out of range, or
// that the shares make more than the whole.
func FromGrams(grams interval.Range, shares []Share) ([]Dose, error) { return dosesOf(grams, shares) }

// FromLitres returns the doses of litres (0 or more) of a product that evaporates whole, by the shares of
// its volume and the densities of the substances. The error is that of FromGrams, or names an
// unknown substance.
func (t Tables) FromLitres(litres interval.Range, shares []Share) ([]Dose, error) {
	doses, err := dosesOf(litres, shares)
	if err != nil {
		return nil, err
	}
	for i, d := range doses {
		s, err := t.Substance(d.Substance)
		if err != nil {
			return nil, err
		}
		doses[i].Grams = scaled(d.Grams.Mul(s.Density), 1000)
	}
	return doses, nil
}

func dosesOf(amount interval.Range, shares []Share) ([]Dose, error) {
	if err := atLeast0("the amount", "", amount); err != nil {
		return nil, err
	}
	doses := make([]Dose, 0, len(shares))
	var least float64
	for _, s := range shares {
		if err := within("the share of "+s.Substance, "", s.Of, 0, 1); err != nil {
			return nil, err
		}
		least += s.Of.Lo
		doses = append(doses, Dose{s.Substance, amount.Mul(s.Of)})
	}
	if least > 1+1e-9 {
		return nil, fmt.Errorf("the shares make at least %s of the product; expected no more than 1", figure(least))
	}
	return doses, nil
}

package plan

import (
	"fmt"
	"math"
)

// Estimate is how long a step takes, in hours: at the least, most likely, at the most. The zero
// Estimate takes no time.
type Estimate struct{ Low, Likely, High float64 }

// Valid says why e is no estimate: its figures are not numbers of 0 or more, or not in the order
// low, likely, high.
func (e Estimate) Valid() error {
	if !(0 <= e.Low && e.Low <= e.Likely && e.Likely <= e.High) || math.IsInf(e.High, 1) {
		return fmt.Errorf("read %v, %v and %v h; expected 0 h or more, the least first, then the likely, then the most", e.Low, e.Likely, e.High)
	}
	return nil
}

// Mean is the expected time in hours, (low + 4 likely + high)/6, by the three-point rule of project
// planning.
func (e Estimate) Mean() float64 { return (e.Low + 4*e.Likely + e.High) / 6 }

// Variance is ((high - low)/6)² in h², by the same rule.
func (e Estimate) Variance() float64 {
	s := (e.High - e.Low) / 6
	return s * s
}

// Spread is a sum of many uncertain terms, taken as normally distributed. Of times it is in hours,
// of money in money; the variance is in the square of that. The zero Spread is exactly 0.
type Spread struct{ Mean, Variance float64 }

// Total is the time of steps that follow each other: means and variances add up, the steps taken
// as independent. It leaves out the other paths of a plan, of which one may take longer by bad
// luck, so the chance by it is rather too high.
func Total(steps ...Estimate) Spread {
	var sum Spread
	for _, e := range steps {
		sum.Mean += e.Mean()
		sum.Variance += e.Variance()
	}
	return sum
}

// Times is n such sums after each other, independent of each other, such as six chairs: mean and
// variance are those of one times n, of 0 or more.
func (s Spread) Times(n float64) Spread { return Spread{s.Mean * n, s.Variance * n} }

// Std is the standard deviation, in the unit of the mean.
func (s Spread) Std() float64 { return math.Sqrt(s.Variance) }

// Chance is the probability, 0 to 1, that s is at most the deadline: Φ((deadline - mean)/std).
// Without any variance it is 1 from the mean on and 0 before.
func (s Spread) Chance(deadline float64) float64 {
	d := deadline - s.Mean
	if s.Variance <= 0 {
		if d < 0 {
			return 0
		}
		return 1
	}
	return 0.5 * math.Erfc(-d/s.Std()/math.Sqrt2)
}

// Within is what s stays at or below with a chance between 0 and 1: mean + z std, where Φ(z) is
// the chance. The error says that the chance lies outside.
func (s Spread) Within(chance float64) (float64, error) {
	if !(chance > 0 && chance < 1) {
		return 0, fmt.Errorf("read a chance of %v; expected one between 0 and 1", chance)
	}
	return s.Mean + s.Std()*math.Sqrt2*math.Erfinv(2*chance-1), nil
}

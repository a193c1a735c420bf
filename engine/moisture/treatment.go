package moisture

import (
	"fmt"

	"mendwright/rules/interval"
)

// Method is how insects in wood are killed without a poison. The zero Method is Anoxia.
type Method int

// The methods.
const (
	Anoxia Method = iota // air without oxygen, in a bag
	Cold
	Heat
)

// Methods are the methods as the tables spell them.
var Methods = map[string]Method{"anoxia": Anoxia, "cold": Cold, "heat": Heat}

// Treatment is one published schedule that kills.
type Treatment struct {
	Method  Method
	Against string
	Oxygen  float64 // at most, percent; read for Anoxia only
	Celsius float64 // in the core of the wood: at least, for Cold at most
	Hours   float64 // at least; 0 means at once
}

// Meets says whether an exposure meets the schedule: the oxygen in the bag (%, 0 to 21), the
// temperature in the core of the wood (°C, -80 to 120) and the hours it was held (0 to 100000). No
// means that the schedule does not show it to be enough. Errors: a range outside these limits.
func (t Treatment) Meets(oxygen, celsius, hours interval.Range) (Truth, error) {
	if err := exposure(oxygen, celsius, hours); err != nil {
		return Unknown, err
	}
	held := atLeast(hours, t.Hours)
	switch t.Method {
	case Cold:
		return all(held, atMost(celsius, t.Celsius)), nil
	case Heat:
		return all(held, atLeast(celsius, t.Celsius)), nil
	}
	return all(held, atLeast(celsius, t.Celsius), atMost(oxygen, t.Oxygen)), nil
}

func exposure(oxygen, celsius, hours interval.Range) error {
	if err := check("oxygen", oxygen, 0, 21, "%"); err != nil {
		return err
	}
	if err := check("temperature of the core", celsius, -80, 120, "°C"); err != nil {
		return err
	}
	return check("hours held", hours, 0, 100000, "h")
}

// Treated says whether an exposure, as for Meets, meets any schedule of a method against a pest.
// No means that none of them shows it to be enough. Errors: a range outside the limits of Meets,
// or a method and pest for which the table holds no schedule.
func (t Tables) Treated(m Method, against string, oxygen, celsius, hours interval.Range) (Truth, error) {
	if err := exposure(oxygen, celsius, hours); err != nil {
		return Unknown, err
	}
	best, found := No, false
	for _, s := range t.Treatments {
		if s.Method != m || s.Against != against {
			continue
		}
		found = true
		met, err := s.Meets(oxygen, celsius, hours)
		if err != nil {
			return Unknown, err
		}
		if met == Yes || met == Unknown && best == No {
			best = met
		}
	}
	if !found {
		return Unknown, fmt.Errorf("read %q for the pest; expected one that the table of treatments holds for this method", against)
	}
	return best, nil
}

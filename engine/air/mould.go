package air

import "mendwright/rules/interval"

// Mould is how much mould there is, by the sizes of the US EPA: guidance on what gear to wear, no limit for
// health. The zero Mould is Small.
type Mould int

// The sizes.
const (
	Small  Mould = iota // below 10 square feet
	Medium              // 10 to 100
	Large               // above 100: for professionals
)

func (m Mould) String() string { return [...]string{"small", "medium", "large"}[m] }

const squareFoot = 0.09290304 // m2

// MouldSize returns the size of a mouldy area in m2 (0 or more) at its worst end.
func MouldSize(area interval.Range) (Mould, error) {
	if err := atLeast0("the mould", "m2", area); err != nil {
		return Large, err
	}
	switch {
	case area.Hi > 100*squareFoot:
		return Large, nil
	case area.Hi >= 10*squareFoot:
		return Medium, nil
	}
	return Small, nil
}

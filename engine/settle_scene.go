package engine

import (
	"mendwright/engine/moisture"
	"mendwright/rules/interval"
)

// settles is the moisture in per cent at which wood comes to rest in the air of the shop; nil where the air is
// not known or the rulebook does not say which facts tell it. It rules nothing: it is the mark
// that a meter has to come near before a wait is over.
func (s *scene) settles() *interval.Range {
	if s.calculator("equilibrium") == nil {
		return nil
	}
	in := s.inputs("equilibrium")
	air, humidity := in.quantity("air"), in.quantity("humidity")
	if len(in.absent) > 0 {
		return nil
	}
	r, err := moisture.Equilibrium(air, humidity)
	if err != nil { // colder or damper than the formula holds for
		return nil
	}
	return &r
}

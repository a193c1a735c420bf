package air

import (
	"fmt"

	"mendwright/rules/interval"
)

// Lines for hot air on finish and wood, in °C.
const (
	LeadGunLimit = (1100.0 - 32) / 1.8 // the most on paint that may hold lead: 1100 °F, 40 CFR 745
	CharsFrom    = 250.0               // where wood begins to char
)

// HotAir is a heat gun or hot nozzle judged.
type HotAir struct {
	Lights []string // open substances that the nozzle lights without a spark
	Level  Level
}

// HotAir judges a nozzle of the given °C (0 to 1000) at its worst end in a room where substances lie open
// or have been stripped with within a day: Stop if there is any, whatever its self-ignition
// temperature, and above LeadGunLimit; Warn from CharsFrom on. A substance whose self-ignition
// temperature is not known counts among those lit. The error names an unknown substance.
func (t Tables) HotAir(nozzle interval.Range, open []string) (HotAir, error) {
	if err := within("the nozzle", "°C", nozzle, 0, 1000); err != nil {
		return HotAir{}, err
	}
	h := HotAir{Level: Go}
	switch {
	case len(open) > 0 || nozzle.Hi > LeadGunLimit:
		h.Level = Stop
	case nozzle.Hi >= CharsFrom:
		h.Level = Warn
	}
	for _, name := range open {
		s, err := t.Substance(name)
		if err != nil {
			return HotAir{}, fmt.Errorf("what lies open: %w", err)
		}
		burns := s.Flash != nil || s.LEL.Lo > 0
		if burns && nozzle.Hi >= s.SelfIgnition.Lo {
			h.Lights = append(h.Lights, name)
		}
	}
	return h, nil
}

// Package air is the arithmetic of what a repair puts into the air of a shop: how much vapour, mist
// and dust, how fast fresh air takes it out again, what share of a limit is breathed and whether
// it can burn. With it go the weather for coats and what guards lungs, hands and ears.
//
// Every measured input is a range, and the result is the range of all that the inputs allow: where
// a formula rises or falls with each input, its ends come from the ends of the inputs. A range
// narrower than another gives a result inside the other's. Gases are reckoned at 25 °C and one
// atmosphere unless a name says otherwise.
//
// It knows no rule and no job; its tables come from outside.
package air

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"mendwright/rules/interval"
)

// Level is what to do about a reading. The zero Level is Unknown. A level is read at the worst end
// of what was measured, so that a closer measurement never raises it.
type Level int

// The levels.
const (
	Unknown Level = iota
	Go
	Warn
	Stop
	GetOut // at once dangerous to life or health
)

func (l Level) String() string { return [...]string{"unknown", "go", "warn", "stop", "get-out"}[l] }

// Substance is what is known about something that evaporates.
type Substance struct {
	Molar   interval.Range // g/mol
	Density interval.Range // g/mL of the liquid at 20 °C
	Boils   interval.Range // °C
	Vapour  interval.Range // vapour pressure in mmHg at 20 °C
	Antoine *Antoine       // nil if there are no constants

	Flash        *interval.Range // closed-cup flash point in °C; nil if it has none
	LEL, UEL     interval.Range  // explosive limits in volume per cent; the zero Range is not known
	SelfIgnition interval.Range  // °C; the zero Range is not known

	Cartridge string // what takes it from the air in a mask; "none" for nothing
	Because   string // why Cartridge is "none"
	Gloves    string // key of Tables.Gloves
}

// Limit is how much of something may be breathed.
type Limit struct {
	Amount float64
	Unit   Unit
}

// Unit is the unit of a limit. The zero Unit is PPM.
type Unit int

// The units.
const (
	PPM Unit = iota // parts of vapour in a million of air, by volume
	MG              // milligrams a cubic metre
)

func (u Unit) String() string { return [...]string{"ppm", "mg/m3"}[u] }

// Tables are the figures the arithmetic stands on.
type Tables struct {
	Substances map[string]Substance
	// Limits are by substance and by kind: rel, pel, epa and aiha over a day, rel-st, rel-c, pel-st,
	// pel-c and epa-st over minutes, action, idlh.
	Limits      map[string]map[string]Limit
	Respirators map[string]Respirator
	Gloves      map[string]Gloves
	Letters     map[string]string // test chemical by the letter on a glove
	Places      map[string]Place
	Fans        map[string]interval.Range // m3/h
	Releases    map[string]Release
	Guns        map[string]interval.Range // share of a sprayed coat that lands
	Coats       map[string]CoatWeather
	Scalds      []Scald            // coolest first
	Dust        map[string]float64 // limits for wood dust in mg/m3
	Noise       map[string]interval.Range
}

// Substance returns what is known about a substance. The error names those that are known.
func (t Tables) Substance(name string) (Substance, error) {
	return find(t.Substances, "substance", name)
}

// Place is how a shop breathes, as far as its openings tell.
type Place struct {
	Changes interval.Range // air changes per hour
	Mixing  interval.Range // see Room.Mixing
}

func find[T any](in map[string]T, kind, name string) (T, error) {
	v, ok := in[name]
	if !ok {
		known := slices.Sorted(maps.Keys(in))
		return v, fmt.Errorf("the %s %q is not known; expected one of %s", kind, name, strings.Join(known, ", "))
	}
	return v, nil
}

// within refuses a range that is broken or leaves lo to hi.
func within(what, unit string, r interval.Range, lo, hi float64) error {
	if r.Valid() && lo <= r.Lo && r.Hi <= hi {
		return nil
	}
	expected := fmt.Sprintf("%s to %s %s", figure(lo), figure(hi), unit)
	if math.IsInf(hi, 1) {
		expected = fmt.Sprintf("%s %s or more", figure(lo), unit)
	}
	return fmt.Errorf("%s reads %s; expected %s", what, show(r, unit), strings.TrimSpace(expected))
}

// above0 refuses a range that is broken or holds anything that is not above 0.
func above0(what, unit string, r interval.Range) error {
	if r.Valid() && r.Lo > 0 {
		return nil
	}
	return fmt.Errorf("%s reads %s; expected more than 0", what, show(r, unit))
}

// atLeast0 refuses a range that is broken or holds anything below 0.
func atLeast0(what, unit string, r interval.Range) error {
	return within(what, unit, r, 0, math.Inf(1))
}

func show(r interval.Range, unit string) string {
	s := figure(r.Lo)
	if hi := figure(r.Hi); hi != s {
		s += " to " + hi
	}
	return strings.TrimSpace(s + " " + unit)
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// scaled is r times k, for k of at least 0.
func scaled(r interval.Range, k float64) interval.Range {
	return interval.Range{Lo: r.Lo * k, Hi: r.Hi * k}
}

// over is a divided by b, for a of at least 0 and b above 0.
func over(a, b interval.Range) interval.Range {
	return interval.Range{Lo: a.Lo / b.Hi, Hi: a.Hi / b.Lo}
}

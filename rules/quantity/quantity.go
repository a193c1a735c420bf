// Package quantity reads measured values as people type them ("1/28 in", "0.6 ± 0.05 mm",
// "72 °F") and writes them back as they were understood.
package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"mendwright/rules/interval"
)

// Value is a quantity as it was typed, in the unit that was asked for.
type Value struct {
	interval.Range
	// Stated says that the text itself gave a ± or a range.
	Stated bool
}

// MaxLen is the longest text that Parse reads, in bytes.
const MaxLen = 100

// unit is one way to write a unit: the canonical unit it belongs to and value = text*factor + offset.
type unit struct {
	canonical string
	factor    float64
	offset    float64
}

var units = map[string]unit{
	"mm": {"mm", 1, 0}, "millimetre": {"mm", 1, 0}, "millimetres": {"mm", 1, 0}, "millimeter": {"mm", 1, 0}, "millimeters": {"mm", 1, 0},
	"cm": {"mm", 10, 0}, "m": {"mm", 1000, 0},
	"in": {"mm", 25.4, 0}, "inch": {"mm", 25.4, 0}, "inches": {"mm", 25.4, 0}, `"`: {"mm", 25.4, 0}, "″": {"mm", 25.4, 0},
	"thou": {"mm", 0.0254, 0}, "mil": {"mm", 0.0254, 0}, "mils": {"mm", 0.0254, 0},
	"um": {"mm", 0.001, 0}, "µm": {"mm", 0.001, 0}, "μm": {"mm", 0.001, 0}, "micron": {"mm", 0.001, 0}, "microns": {"mm", 0.001, 0},
	"°c": {"°C", 1, 0}, "c": {"°C", 1, 0}, "celsius": {"°C", 1, 0}, "degc": {"°C", 1, 0},
	"°f": {"°C", 5.0 / 9, -160.0 / 9}, "f": {"°C", 5.0 / 9, -160.0 / 9}, "fahrenheit": {"°C", 5.0 / 9, -160.0 / 9}, "degf": {"°C", 5.0 / 9, -160.0 / 9},
	"%": {"%", 1, 0}, "percent": {"%", 1, 0}, "per cent": {"%", 1, 0},
	"g/l": {"g/L", 1, 0}, "g/ml": {"g/L", 1000, 0}, "kg/l": {"g/L", 1000, 0}, "lb/gal": {"g/L", 453.59237 / 3.785411784, 0},
	"ml": {"L", 0.001, 0}, "cl": {"L", 0.01, 0}, "l": {"L", 1, 0}, "litre": {"L", 1, 0}, "litres": {"L", 1, 0}, "liter": {"L", 1, 0}, "liters": {"L", 1, 0},
	"fl oz": {"L", 0.0295735295625, 0}, "pint": {"L", 0.473176473, 0}, "quart": {"L", 0.946352946, 0}, "gal": {"L", 3.785411784, 0},
	"m3": {"m³", 1, 0}, "m³": {"m³", 1, 0}, "cu m": {"m³", 1, 0}, "ft3": {"m³", 0.028316846592, 0}, "ft³": {"m³", 0.028316846592, 0}, "cu ft": {"m³", 0.028316846592, 0},
	"min": {"min", 1, 0}, "minute": {"min", 1, 0}, "minutes": {"min", 1, 0}, "h": {"min", 60, 0}, "hour": {"min", 60, 0}, "hours": {"min", 60, 0}, "d": {"min", 1440, 0}, "day": {"min", 1440, 0}, "days": {"min", 1440, 0},
	"m2": {"m²", 1, 0}, "m²": {"m²", 1, 0}, "sq m": {"m²", 1, 0}, "cm2": {"m²", 1e-4, 0}, "cm²": {"m²", 1e-4, 0}, "sq ft": {"m²", 0.09290304, 0}, "ft2": {"m²", 0.09290304, 0}, "ft²": {"m²", 0.09290304, 0},
	"kg": {"kg", 1, 0}, "g": {"kg", 0.001, 0}, "lb": {"kg", 0.45359237, 0}, "lbs": {"kg", 0.45359237, 0}, "oz": {"kg", 0.028349523125, 0},
	"kpa": {"kPa", 1, 0}, "bar": {"kPa", 100, 0}, "psi": {"kPa", 6.894757293168361, 0},
	"n/m": {"N/m", 1, 0}, "kg/m": {"N/m", 9.80665, 0}, "lb/ft": {"N/m", 14.593902937206364, 0},
	"a": {"A", 1, 0}, "ma": {"A", 0.001, 0},
	"°": {"°", 1, 0}, "deg": {"°", 1, 0}, "degrees": {"°", 1, 0},
	"db": {"dB", 1, 0}, "db(a)": {"dB", 1, 0}, "dba": {"dB", 1, 0},
	"ppm":   {"ppm", 1, 0},
	"mg/m3": {"mg/m³", 1, 0}, "mg/m³": {"mg/m³", 1, 0},
	"kg/m3": {"kg/m³", 1, 0}, "kg/m³": {"kg/m³", 1, 0}, "g/cm3": {"kg/m³", 1000, 0}, "g/cm³": {"kg/m³", 1000, 0}, "lb/ft3": {"kg/m³", 16.018463373960138, 0}, "lb/ft³": {"kg/m³", 16.018463373960138, 0},
	"mpa": {"MPa", 1, 0},
	"m/s": {"m/s", 1, 0}, "km/h": {"m/s", 1 / 3.6, 0}, "mph": {"m/s", 0.44704, 0}, "ft/min": {"m/s", 0.00508, 0},
	"m3/h": {"m³/h", 1, 0}, "m³/h": {"m³/h", 1, 0}, "cfm": {"m³/h", 1.69901079552, 0},
	"m2/l": {"m²/L", 1, 0}, "m²/l": {"m²/L", 1, 0}, "sq ft/gal": {"m²/L", 0.09290304 / 3.785411784, 0},
	"m2/kg": {"m²/kg", 1, 0}, "m²/kg": {"m²/kg", 1, 0},
	"n": {"N", 1, 0}, "newton": {"N", 1, 0}, "lbf": {"N", 4.4482216152605, 0},
}

// examples shows one or two ways to write a quantity of each canonical unit.
var examples = map[string]string{
	"mm":    "0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou",
	"°C":    "20 °C or 68 °F",
	"%":     "55 %",
	"g/L":   "900 g/L, 0.9 kg/L or 7.5 lb/gal",
	"N":     "4500 N or 1010 lbf",
	"L":     "30 ml, 0.5 L or 1 pint",
	"m³":    "40 m³ or 1400 cu ft",
	"min":   "90 min, 1.5 h or 2 days",
	"m²":    "1.2 m² or 13 sq ft",
	"kg":    "2 kg, 500 g or 1 lb",
	"kPa":   "700 kPa or 100 psi",
	"N/m":   "300 N/m, 30 kg/m or 20 lb/ft",
	"A":     "2 A",
	"°":     "30 °",
	"dB":    "92 dB",
	"ppm":   "50 ppm",
	"mg/m³": "100 mg/m³",
	"kg/m³": "700 kg/m³ or 0.7 g/cm³",
	"MPa":   "1200 MPa",
	"m/s":   "0.5 m/s or 1 mph",
	"m³/h":  "500 m³/h or 300 cfm",
	"m²/L":  "10 m²/L or 400 sq ft/gal",
	"m²/kg": "35 m²/kg",
	plain:   "3 or 2 to 4",
}

// plain is the unit of counts and ratios, which are written without one.
const plain = ""

// Known reports whether name is a canonical unit, the only ones a fact may be kept in.
func Known(name string) bool { _, ok := examples[name]; return ok && name != plain }

// Parse reads text as a quantity in the canonical unit want, which is empty for a plain number. A
// number without a unit is taken to be in want. The error says what was read and what was expected.
func Parse(text, want string) (Value, error) {
	fail := func(why string) (Value, error) {
		return Value{}, fmt.Errorf("read %q, %s; expected a quantity such as %s", shorten(text), why, examples[want])
	}
	if len(text) > MaxLen {
		return fail("which is too long")
	}
	s := strings.TrimSpace(strings.ReplaceAll(text, "\u00a0", " "))
	for _, sign := range []string{"+/-", "+-", "plus or minus"} {
		s = strings.ReplaceAll(s, sign, "±")
	}
	var v Value
	switch left, right, found := strings.Cut(s, "±"); {
	case found:
		mid, midUnit, err := number(left)
		if err != nil {
			return fail(err.Error())
		}
		half, halfUnit, err := number(right)
		if err != nil {
			return fail("and after ± " + err.Error())
		}
		// "0.9 ± 0.05 mm" and "0.9 mm ± 0.05" share the one unit that was written.
		if midUnit == "" {
			midUnit = halfUnit
		} else if halfUnit == "" {
			halfUnit = midUnit
		}
		m, err := convert(mid, midUnit, want, false)
		if err != nil {
			return fail(err.Error())
		}
		h, err := convert(half, halfUnit, want, true)
		if err != nil {
			return fail(err.Error())
		}
		if h < 0 {
			return fail("whose ± is negative")
		}
		v = Value{interval.Around(m, h), true}
	default:
		lo, hi, isRange := cutRange(s)
		a, aUnit, err := number(lo)
		if err != nil {
			return fail(err.Error())
		}
		b, bUnit := a, aUnit
		if isRange {
			if b, bUnit, err = number(hi); err != nil {
				return fail(err.Error())
			}
			if aUnit == "" {
				aUnit = bUnit
			} else if bUnit == "" {
				bUnit = aUnit
			}
		}
		r := interval.Range{}
		if r.Lo, err = convert(a, aUnit, want, false); err != nil {
			return fail(err.Error())
		}
		if r.Hi, err = convert(b, bUnit, want, false); err != nil {
			return fail(err.Error())
		}
		if r.Lo > r.Hi {
			return fail("whose ends are the wrong way round")
		}
		v = Value{r, isRange}
	}
	if !v.Valid() || math.Abs(v.Lo) > 1e9 || math.Abs(v.Hi) > 1e9 {
		return fail("which is out of all bounds")
	}
	return v, nil
}

// cutRange splits "0.5 to 0.7 mm" and "0.5 - 0.7 mm"; a leading minus is a sign, and a dash
// inside a mixed fraction such as "1-1/2 in" is not a range.
func cutRange(s string) (lo, hi string, ok bool) {
	for _, sep := range []string{" to ", "–", " - ", "..."} {
		if lo, hi, ok = strings.Cut(s, sep); ok && strings.TrimSpace(lo) != "" {
			return lo, hi, true
		}
	}
	return s, "", false
}

// number splits text into its number and the unit behind it, which may be empty.
func number(text string) (float64, string, error) {
	s := strings.TrimSpace(text)
	end := 0
	for end < len(s) && strings.IndexByte("0123456789.,/ -+", s[end]) >= 0 {
		end++
	}
	num, name := strings.TrimSpace(s[:end]), strings.ToLower(strings.TrimSpace(s[end:]))
	if num == "" {
		return 0, "", errors.New("where no number stands in front")
	}
	if name != "" {
		if _, ok := units[name]; !ok {
			return 0, "", fmt.Errorf("whose unit %q is not known", shorten(name))
		}
	}
	v, err := mixed(num)
	return v, name, err
}

// mixed reads "0.9", "0,9", "3/4", "1 1/2" and "1-1/2".
func mixed(s string) (float64, error) {
	sign := 1.0
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		sign, s = -1, strings.TrimSpace(rest)
	} else if rest, ok := strings.CutPrefix(s, "+"); ok {
		s = strings.TrimSpace(rest)
	}
	whole, frac, isMixed := strings.Cut(strings.Replace(s, "-", " ", 1), " ")
	if !isMixed {
		v, err := ratio(s)
		return sign * v, err
	}
	w, err := decimal(whole)
	if err != nil {
		return 0, err
	}
	f := strings.TrimSpace(frac)
	if !strings.Contains(f, "/") {
		return 0, errors.New("where two numbers stand side by side")
	}
	v, err := ratio(f)
	return sign * (w + v), err
}

func ratio(s string) (float64, error) {
	over, under, isRatio := strings.Cut(s, "/")
	v, err := decimal(over)
	if err != nil || !isRatio {
		return v, err
	}
	d, err := decimal(under)
	if err != nil {
		return 0, err
	}
	if d == 0 {
		return 0, errors.New("which divides by nothing")
	}
	return v / d, nil
}

// decimal reads an unsigned decimal. A comma is a decimal comma; followed by three digits it
// could as well be a thousands mark, and nobody should sand on that guess.
func decimal(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if _, after, ok := strings.Cut(s, ","); ok {
		if len(after) == 3 {
			return 0, errors.New("whose comma could mean thousands or a decimal")
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	if s == "" || strings.Trim(s, "0123456789.") != "" {
		return 0, errors.New("which is not a number")
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, errors.New("which is not a number")
	}
	return v, nil
}

func convert(v float64, name, want string, difference bool) (float64, error) {
	if name == "" {
		return v, nil
	}
	u := units[name]
	if u.canonical != want {
		return 0, fmt.Errorf("whose unit %q is of another kind", name)
	}
	if difference {
		return v * u.factor, nil
	}
	return v*u.factor + u.offset, nil
}

// Format writes r with its unit, rounded to what its width supports: "0.9 ± 0.05 mm", "0.91 mm".
func Format(r interval.Range, unit string) string {
	if r.Half() < 1e-9 {
		return Number(r.Mid(), 4) + " " + unit
	}
	return Number(r.Mid(), 4) + " ± " + Number(r.Half(), 2) + " " + unit
}

// Span writes r by its two ends: "0.6 to 0.64 mm".
func Span(r interval.Range, unit string) string {
	if r.Half() < 1e-9 {
		return Number(r.Mid(), 3) + " " + unit
	}
	return Number(r.Lo, 3) + " to " + Number(r.Hi, 3) + " " + unit
}

// Number writes v with at most digits significant digits and never in scientific notation.
func Number(v float64, digits int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v+0, 'f', -1, 64)
	}
	places := max(digits-1-int(math.Floor(math.Log10(math.Abs(v)))), 0)
	s := strconv.FormatFloat(v, 'f', min(places, 12), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

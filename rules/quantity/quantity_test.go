package quantity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules/quantity"
)

func TestQuantitiesAsPeopleTypeThem(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		lo, hi     float64
		stated     bool
	}{
		{"0.6 mm", "mm", 0.6, 0.6, false},
		{"0,6mm", "mm", 0.6, 0.6, false},
		{"0.6", "mm", 0.6, 0.6, false},
		{".6 mm", "mm", 0.6, 0.6, false},
		{"1/28 in", "mm", 25.4 / 28, 25.4 / 28, false},
		{`1 1/2"`, "mm", 38.1, 38.1, false},
		{"1-1/2 inches", "mm", 38.1, 38.1, false},
		{"25 thou", "mm", 0.635, 0.635, false},
		{"120 µm", "mm", 0.12, 0.12, false},
		{"2.5 cm", "mm", 25, 25, false},
		{"0.9 ± 0.05 mm", "mm", 0.85, 0.95, true},
		{"0.9 mm +/- 0.05", "mm", 0.85, 0.95, true},
		{"1/28 in ± 2 thou", "mm", 25.4/28 - 0.0508, 25.4/28 + 0.0508, true},
		{"0.5 to 0.7 mm", "mm", 0.5, 0.7, true},
		{"0.5–0.7 mm", "mm", 0.5, 0.7, true},
		{"68 °F", "°C", 20, 20, false},
		{"68F ± 9", "°C", 15, 25, true},
		{"-5 °C", "°C", -5, -5, false},
		{"55%", "%", 55, 55, false},
		{"7.5 lb/gal", "g/L", 898.7, 898.7, false},
		{"0.9 kg/L", "g/L", 900, 900, false},
		{"1 to 2 days", "min", 1440, 2880, true},
		{"1010 lbf", "N", 4492.7, 4492.7, false},
		{"13 sq ft", "m²", 1.208, 1.208, false},
		{"1.2 m2", "m²", 1.2, 1.2, false},
		{"1 lb", "kg", 0.4536, 0.4536, false},
		{"250 to 300 g", "kg", 0.25, 0.3, true},
		{"100 psi", "kPa", 689.48, 689.48, false},
		{"30 kg/m", "N/m", 294.2, 294.2, false},
		{"500 mA", "A", 0.5, 0.5, false},
		{"2 days", "min", 2880, 2880, false},
		{"45 deg", "°", 45, 45, false},
		{"92 dB(A)", "dB", 92, 92, false},
		{"50 ppm", "ppm", 50, 50, false},
		{"5 mg/m3", "mg/m³", 5, 5, false},
		{"0.7 g/cm3", "kg/m³", 700, 700, false},
		{"8.5 lb/ft3", "kg/m³", 136.16, 136.16, false},
		{"1200 MPa", "MPa", 1200, 1200, false},
		{"10 mph", "m/s", 4.47, 4.47, false},
		{"100 ft/min", "m/s", 0.508, 0.508, false},
		{"400 cfm", "m³/h", 679.6, 679.6, false},
		{"400 sq ft/gal", "m²/L", 9.817, 9.817, false},
		{"35 m2/kg", "m²/kg", 35, 35, false},
		{"3", "", 3, 3, false},
		{"2 to 4", "", 2, 4, true},
	} {
		v, err := quantity.Parse(c.text, c.unit)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.lo, v.Lo, 0.01, c.text)
		assert.InDelta(t, c.hi, v.Hi, 0.01, c.text)
		assert.Equal(t, c.stated, v.Stated, c.text)
	}
}

func TestQuantitiesRefused(t *testing.T) {
	for text, says := range map[string]string{
		"":                "no number",
		"thin":            "no number",
		"0.6 ells":        `unit "ells" is not known`,
		"20 °C":           "another kind",
		"1,500 mm":        "thousands or a decimal",
		"1/0 in":          "divides by nothing",
		"0.9 ± -0.1 mm":   "negative",
		"0.7 to 0.5 mm":   "wrong way round",
		"0.6 0.7 mm":      "side by side",
		"9999999999999 m": "out of all bounds",
		"1e9 mm":          "not known",
		"0.9 mm ± ":       "no number",
		"1.2.3 mm":        "not a number",
		"NaN mm":          "no number",
	} {
		_, err := quantity.Parse(text, "mm")
		require.Error(t, err, text)
		assert.ErrorContains(t, err, says, text)
		assert.ErrorContains(t, err, "expected a quantity such as 0.6 mm", text)
	}
}

// TestPlainNumbersTakeNoUnit: a count of coats in millimetres is a slip, and no fact is a plain number.
func TestPlainNumbersTakeNoUnit(t *testing.T) {
	_, err := quantity.Parse("3 mm", "")
	assert.ErrorContains(t, err, "another kind")
	assert.False(t, quantity.Known(""))
}

func TestFormatKeepsTheUnitAndTheDigitsThatCount(t *testing.T) {
	v, err := quantity.Parse("1/28 in ± 0.05 mm", "mm")
	require.NoError(t, err)
	assert.Equal(t, "0.9071 ± 0.05 mm", quantity.Format(v.Range, "mm"))
	assert.Equal(t, "0.857 to 0.957 mm", quantity.Span(v.Range, "mm"))
	assert.Equal(t, "0", quantity.Number(-0.0000000000001, 2))
	assert.Equal(t, "1200", quantity.Number(1200, 2))
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"0.6 mm", "1/28 in", "1 1/2\"", "0.9 ± 0.05 mm", "68 °F", "55%", "-3", "1,5", "±", "1/0", "9–", "\xff", "0.5 to 0.7 mm", "30 ml", "1400 cu ft", "1.5 h"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, unit := range []string{"mm", "°C", "%", "N", "L", "m³", "m²", "kg", "kPa", "N/m", "A", "min"} {
			v, err := quantity.Parse(s, unit)
			if err != nil {
				if err.Error() == "" {
					t.Fatal("an error that says nothing")
				}
				continue
			}
			if !v.Valid() {
				t.Fatalf("%q gave the range %v", s, v.Range)
			}
			// What is echoed must be understood as the same value again.
			again, err := quantity.Parse(quantity.Format(v.Range, unit), unit)
			if err != nil {
				t.Fatalf("%q echoed as %q: %v", s, quantity.Format(v.Range, unit), err)
			}
			if d := again.Mid() - v.Mid(); d > 1e-3*max(1, abs(v.Mid())) || -d > 1e-3*max(1, abs(v.Mid())) {
				t.Fatalf("%q was read as %v and echoed as %v", s, v, again)
			}
		}
	})
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

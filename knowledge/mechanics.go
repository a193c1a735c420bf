package knowledge

import (
	"mendwright/engine/mechanics"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// MechanicsTables types the tables of a rulebook for the arithmetic of mechanics, pounds and
// inches turned into its units. The error names the table, row or column that is missing.
func MechanicsTables(book *rules.Book) (mechanics.Tables, error) {
	r := reader{book: book}
	t := mechanics.Tables{
		Timbers:   map[string]mechanics.Timber{},
		Clamping:  map[string]mechanics.Clamping{},
		Dowels:    map[string]interval.Range{},
		SagLimits: map[string]float64{},
		Spans:     map[string]float64{},
	}
	times := func(v interval.Range, by float64) interval.Range { return v.Mul(interval.Exact(by)) }
	for _, row := range r.rows("timbers-strength") {
		t.Timbers[row.Key] = mechanics.Timber{
			Stiffness: times(r.rng(row, "stiffness_mpsi"), 1000*mechanics.PSI),
			Rupture:   times(r.rng(row, "rupture_psi"), mechanics.PSI),
			Gravity:   r.rng(row, "gravity"),
		}
	}
	for i, row := range r.rows("lift-frequency") {
		if i > 0 && r.number(row, "per_minute") <= t.Frequencies[i-1].PerMinute && r.err == nil {
			r.err = row.Pos.Error("the rows must go from rare to often")
		}
		t.Frequencies = append(t.Frequencies, mechanics.Frequency{
			PerMinute: r.number(row, "per_minute"),
			Below: [3]float64{
				mechanics.UpToEightHours: r.number(row, "eight_below"),
				mechanics.UpToTwoHours:   r.number(row, "two_below"),
				mechanics.UpToOneHour:    r.number(row, "hour_below"),
			},
			At: [3]float64{
				mechanics.UpToEightHours: r.number(row, "eight_at"),
				mechanics.UpToTwoHours:   r.number(row, "two_at"),
				mechanics.UpToOneHour:    r.number(row, "hour_at"),
			},
		})
	}
	for _, row := range r.rows("clamping") {
		t.Clamping[row.Key] = mechanics.Clamping{Pressure: r.rng(row, "pressure_kpa"), Other: r.rng(row, "other_kpa")}
	}
	for _, row := range r.rows("dowels") {
		t.Dowels[row.Key] = r.rng(row, "shear_mpa")
	}
	for _, row := range r.rows("sag-limits") {
		t.SagLimits[row.Key] = r.number(row, "span_over_sag")
	}
	for _, row := range r.rows("shelf-spans") {
		t.Spans[row.Key] = r.number(row, "span_mm")
	}
	return t, r.err
}

// Package interval holds closed ranges of real numbers: the form in which every measured or
// computed value travels, so that what is not known exactly stays visible to the end.
package interval

import "math"

// Range is the closed range from Lo to Hi. The zero Range is exactly 0.
type Range struct {
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
}

// Exact is the range that holds v alone.
func Exact(v float64) Range { return Range{v, v} }

// Around is v plus and minus half; the sign of half is ignored.
func Around(v, half float64) Range {
	half = math.Abs(half)
	return Range{v - half, v + half}
}

// Valid reports whether both ends are finite and in order.
func (r Range) Valid() bool {
	return r.Lo <= r.Hi && !math.IsInf(r.Lo, 0) && !math.IsInf(r.Hi, 0)
}

// Mid is the middle of r.
func (r Range) Mid() float64 { return r.Lo + (r.Hi-r.Lo)/2 }

// Half is the half-width of r.
func (r Range) Half() float64 { return (r.Hi - r.Lo) / 2 }

// Std is the standard uncertainty of a value that may lie anywhere in r with equal chance:
// half-width over the square root of three (JCGM 100:2008, 4.3.7).
func (r Range) Std() float64 { return r.Half() / math.Sqrt(3) }

// Add is the range of sums of a value from r and one from o.
func (r Range) Add(o Range) Range { return Range{r.Lo + o.Lo, r.Hi + o.Hi} }

// Sub is the range of differences of a value from r and one from o.
func (r Range) Sub(o Range) Range { return Range{r.Lo - o.Hi, r.Hi - o.Lo} }

// Mul is the range of products of a value from r and one from o.
func (r Range) Mul(o Range) Range {
	a, b, c, d := r.Lo*o.Lo, r.Lo*o.Hi, r.Hi*o.Lo, r.Hi*o.Hi
	return Range{min(a, b, c, d), max(a, b, c, d)}
}

// Hull is the least range that holds both r and o.
func (r Range) Hull(o Range) Range { return Range{min(r.Lo, o.Lo), max(r.Hi, o.Hi)} }

// Clamp is r with both ends moved into o, where they lie outside it.
func (r Range) Clamp(o Range) Range {
	return Range{min(max(r.Lo, o.Lo), o.Hi), min(max(r.Hi, o.Lo), o.Hi)}
}

// Within reports whether every value of r lies in o.
func (r Range) Within(o Range) bool { return o.Lo <= r.Lo && r.Hi <= o.Hi }

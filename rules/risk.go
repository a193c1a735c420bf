package rules

// Severities are the severity categories of MIL-STD-882E, table I, gravest first.
var Severities = []string{"catastrophic", "critical", "marginal", "negligible"}

// Levels are the probability levels A to F of MIL-STD-882E, table II, most likely first.
var Levels = []string{"frequent", "probable", "occasional", "remote", "improbable", "eliminated"}

// Eliminated is the level of a harm whose cause is absent.
const Eliminated = 5

// Risk is a cell of the risk matrix; a lower Risk is worse. The zero Risk is the worst.
type Risk int

// The risks of MIL-STD-882E, table III.
const (
	High Risk = iota
	Serious
	Medium
	Low
	None // eliminated
)

func (r Risk) String() string {
	return [...]string{"high", "serious", "medium", "low", "eliminated"}[r]
}

// matrix is MIL-STD-882E, table III: rows are levels A to F, columns severities 1 to 4.
// 3E is settled as medium by the risk index of MIL-STD-882D, table A-III (value 17).
var matrix = [6][4]Risk{
	{High, High, Serious, Medium},
	{High, High, Serious, Medium},
	{High, Serious, Medium, Low},
	{Serious, Medium, Medium, Low},
	{Medium, Medium, Medium, Low},
	{None, None, None, None},
}

// RiskOf combines a severity (0 catastrophic to 3 negligible) and a level (0 frequent to
// 5 eliminated) by the matrix of MIL-STD-882E.
func RiskOf(severity, level int) Risk { return matrix[level][severity] }

// LevelOf turns the probability p of one treatment of one piece into a level by the
// quantitative bands of MIL-STD-882D, appendix A. An edge belongs to the worse level; a chance
// of exactly nothing is still only improbable, since arithmetic eliminates no hazard.
func LevelOf(p float64) int {
	for level, edge := range []float64{1e-1, 1e-2, 1e-3, 1e-6} {
		if p >= edge {
			return level
		}
	}
	return 4
}

package coat

import (
	"fmt"

	"mendwright/rules/interval"
)

// Cross-cut test of how a film holds (ISO 2409, ASTM D3359 method B): a lattice is cut, tape
// pulls, and the share of the lattice that came off gives the class. ISO runs from 0, best, to 5;
// ASTM from 5 (5B), best, to 0 (0B). It is for a hidden place only.

// classUpTo are the shares in per cent up to which the classes 0 to 4 reach.
var classUpTo = [...]float64{0, 5, 15, 35, 65}

// CrossCut is what a share of the lattice rates.
type CrossCut struct {
	ISO  Span // 0 best, 5 worst
	ASTM Span // the number before the B; 5 best, 0 worst
}

// CrossCutOf rates the share of the lattice that came off, 0 to 100 %. The upper limit belongs to
// a class, but for one: at 5 % exactly the wording of the one standard gives ISO 1 (not more than
// 5) and that of the other ASTM 3B (4B is less than 5). For wood the ISO class counts, since only
// that standard is written for it. The error says that the share is out of range.
func CrossCutOf(percent interval.Range) (CrossCut, error) {
	if err := latticeLost.holds(percent); err != nil {
		return CrossCut{}, err
	}
	class := func(p float64) int {
		for i, limit := range classUpTo {
			if p <= limit+play*limit {
				return i
			}
		}
		return len(classUpTo)
	}
	astm := func(p float64) int {
		if c := class(p); c != 1 || p < classUpTo[1]*(1-play) {
			return 5 - c
		}
		return 3
	}
	return CrossCut{
		ISO:  Span{class(percent.Lo), class(percent.Hi)},
		ASTM: Span{astm(percent.Hi), astm(percent.Lo)},
	}, nil
}

var latticeLost = quantity{"the share of the lattice that came off", "%", 0, 100}

// SquaresLost is the share in per cent of a lattice of n cuts each way (2 to 11; both standards
// take 6 on thin films) of which so many whole squares, or their worth in parts, came off: squares
// over (n - 1)^2. It rises with the squares. The error says which input is out of range. The
// formula is geometry.
func SquaresLost(cuts int, squares interval.Range) (interval.Range, error) {
	if cuts < 2 || cuts > 11 {
		return interval.Range{}, fmt.Errorf("the cuts each way read %d; expected 2 to 11", cuts)
	}
	all := float64((cuts - 1) * (cuts - 1))
	if err := (quantity{"the squares that came off", "squares", 0, all}).holds(squares); err != nil {
		return interval.Range{}, err
	}
	return rising(squares, func(s float64) float64 { return s / all * 100 }), nil
}

// Thickest films in micrometres for the cross-cut test (the standards' scopes), and the film up to
// which cuts on a soft ground such as wood stand 2 mm apart; on a thicker one they stand 3 mm
// apart (from memory).
const (
	CrossCutISOMost  = 250.0
	CrossCutASTMMost = 125.0
	crossCutNear     = 120.0
)

// CrossCutTest says whether the cross-cut test is meant for a film.
type CrossCutTest struct {
	ISO, ASTM Truth
	SpacingMM interval.Range // between the cuts of the ISO test on wood; says nothing where ISO is No
}

// CrossCutSuits says for a film of 0 to 5000 µm whether either standard's test is meant for it,
// and how far apart the cuts stand, which rises with the film. The error says that the film is out
// of range.
func CrossCutSuits(film interval.Range) (CrossCutTest, error) {
	if err := dryFilm.holds(film); err != nil {
		return CrossCutTest{}, err
	}
	spacing := rising(film, func(f float64) float64 {
		if f <= crossCutNear*(1+play) {
			return 2
		}
		return 3
	})
	return CrossCutTest{above(film, CrossCutISOMost).not(), above(film, CrossCutASTMMost).not(), spacing}, nil
}

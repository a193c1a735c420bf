package mechanics

import (
	"errors"

	"mendwright/rules/interval"
)

// Board is what a beam is made of, as far as creep goes. The zero Board is Seasoned.
type Board int

// The boards.
const (
	Seasoned Board = iota // wood dry when it was loaded
	Unseasoned
	Particleboard
)

// creeps is how many times its first sag a board comes to on average.
var creeps = [...]interval.Range{
	Seasoned:      {Lo: 1.5, Hi: 1.5},
	Unseasoned:    {Lo: 2, Hi: 2},
	Particleboard: {Lo: 2, Hi: 3},
}

// Crept is a sag after years of load, in mm.
type Crept struct {
	Usual  interval.Range // on average
	Bounds interval.Range // from no creep to the worst
	Set    interval.Range // what stays of the usual sag when the load is taken off
}

// Creep is what a sag (mm, 0 to 1000) grows to under a load that stays for years: on average 1.5
// times in wood that was seasoned and 2 times in wood that was not, from 1 to 3 times at the
// extremes; about half of what was added stays when the load goes. American Wood Council on creep.
// Particleboard creeps more, 2 to 3 times from memory. All rise with the sag, so the answers span
// exactly what it allows. Errors: a range outside these limits, or an unknown board.
func Creep(first interval.Range, board Board) (Crept, error) {
	if err := check("first sag", first, 0, 1000, "mm"); err != nil {
		return Crept{}, err
	}
	if board < 0 || int(board) >= len(creeps) {
		return Crept{}, errors.New("read an unknown board; expected seasoned or unseasoned wood, or particleboard")
	}
	c := creeps[board]
	return Crept{
		Usual:  first.Mul(c),
		Bounds: interval.Range{Lo: first.Lo, Hi: first.Hi * 3},
		Set:    interval.Range{Lo: first.Lo * (c.Lo - 1) / 2, Hi: first.Hi * (c.Hi - 1) / 2},
	}, nil
}

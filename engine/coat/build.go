package coat

import (
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// MostCoats is the most coats that are counted; what needs more needs another finish.
const MostCoats = 60

var (
	scuffTake = quantity{"what scuffing takes", "µm", 0, 1000}
	sunk      = quantity{"the share of the first coat that sinks in", "%", 0, 100}
)

// Build is how a film grows coat by coat. Its zero value builds nothing.
type Build struct {
	Coat  interval.Range // dry film of one coat, above 0 to 5000 µm
	Scuff interval.Range // what scuffing takes before each further coat, 0 to 1000 µm; 0 if the coats melt together
	Sinks interval.Range // share of the first coat that sinks into bare wood, 0 to 100 %; 0 over an old film
}

// Usual figures, in micrometres and per cent: what a light scuff with P320 takes, and how much of
// the first coat bare wood drinks. Both are choices of this program; one finisher reckons with
// 0.3 mil of a coat of 0.9 mil for the scuff, about twice as much.
var (
	LightScuff = interval.Range{Lo: 3, Hi: 5}
	BareWood   = interval.Exact(50)
)

func (b Build) check() error {
	if err := first(dryFilm.positive(b.Coat), scuffTake.holds(b.Scuff), sunk.holds(b.Sinks)); err != nil {
		return err
	}
	if b.Scuff.Hi >= b.Coat.Lo {
		return fmt.Errorf("scuffing takes up to %g µm and a coat leaves from %g µm; expected the scuff to take less", b.Scuff.Hi, b.Coat.Lo)
	}
	return nil
}

func total(n int, coat, scuff, sinks float64) float64 {
	return (float64(n)-sinks/100)*coat - float64(n-1)*scuff
}

// Total is the dry film in micrometres after n coats (1 to MostCoats): n coats, less the share of
// the first that sinks in, less a scuff between any two. It rises with the coat and falls with
// scuff and share; each further coat adds. The error says which input is out of range, or that
// scuffing would take what a coat leaves. The formula is the balance of what is laid on and taken
// off, as finishers reckon it.
func (b Build) Total(n int) (interval.Range, error) {
	if err := b.check(); err != nil {
		return interval.Range{}, err
	}
	if n < 1 || n > MostCoats {
		return interval.Range{}, fmt.Errorf("the number of coats reads %d; expected 1 to %d", n, MostCoats)
	}
	return interval.Range{
		Lo: total(n, b.Coat.Lo, b.Scuff.Hi, b.Sinks.Hi),
		Hi: total(n, b.Coat.Hi, b.Scuff.Lo, b.Sinks.Lo),
	}, nil
}

// Coats is the least number of coats whose Total reaches a dry film (0 to 5000 µm): from the
// number that may do to the number that will. It rises with film, scuff and share and falls with
// the coat. The errors are those of Total, and that more than MostCoats would be needed.
func (b Build) Coats(film interval.Range) (Span, error) {
	if err := first(b.check(), dryFilm.holds(film)); err != nil {
		return Span{}, err
	}
	s := Span{
		Lo: count(film.Lo, b.Coat.Hi, b.Scuff.Lo, b.Sinks.Lo),
		Hi: count(film.Hi, b.Coat.Lo, b.Scuff.Hi, b.Sinks.Hi),
	}
	if s.Hi > MostCoats {
		return Span{}, fmt.Errorf("the film reads to %g µm and a coat adds from %g µm; expected at most %d coats to reach it", film.Hi, b.Coat.Lo-b.Scuff.Hi, MostCoats)
	}
	return s, nil
}

// count is the least number of coats that reach film; MostCoats + 1 if none does.
func count(film, coat, scuff, sinks float64) int {
	for n := 1; n <= MostCoats; n++ {
		if total(n, coat, scuff, sinks) >= film-play*math.Abs(film) {
			return n
		}
	}
	return MostCoats + 1
}

// TooThick says whether a dry film of 0 to 5000 µm is more than a finish stands before it cracks.
// The most it stands is a range, since its makers disagree; the zero range is no such limit. The
// error says which input is out of range.
func TooThick(film, most interval.Range) (Truth, error) {
	if err := first(dryFilm.holds(film), dryFilm.holds(most)); err != nil {
		return Unknown, err
	}
	switch {
	case most == interval.Range{} || film.Hi <= most.Lo*(1+play):
		return No, nil
	case film.Lo > most.Hi*(1+play):
		return Yes, nil
	}
	return Unknown, nil
}

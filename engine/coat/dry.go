package coat

import (
	"fmt"
	"math"
	"slices"

	"mendwright/rules/interval"
)

// Drying is what turns a wet coat hard. The zero Drying is not given.
type Drying int

// The ways of drying.
const (
	_            Drying = iota
	ByOxygen            // oil, varnish, alkyd, one-part polyurethane: takes up oxygen
	ByReaction          // two-part and catalysed: crosslinks
	BySolvent           // shellac, lacquer: solvent leaves
	ByWater             // waterborne: water leaves, droplets flow together
	ByCooling           // wax
	countDryings int    = iota
)

var dryings = [countDryings]string{"", "oxygen", "reaction", "solvent", "water", "cooling"}

func (d Drying) String() string { return dryings[d] }

// ParseDrying reads the name of a way of drying. The error says what was read and what is
// expected.
func ParseDrying(name string) (Drying, error) {
	if i := slices.Index(dryings[1:], name); i >= 0 {
		return Drying(i + 1), nil
	}
	return 0, fmt.Errorf("the way of drying reads %q; expected one of %q", name, dryings[1:])
}

// What times are printed for, and how they change. That a film which takes up oxygen or
// crosslinks dries twice as fast for every 10 °C is known of the oxidation of oil; as a rule of
// drying times it is a choice of this program, as are the figures for the others.
const (
	RatedAir      = 23.0 // °C
	RatedHumidity = 50.0 // %
	doublesPer    = 10.0 // °C
	solventFactor = 1.3  // for every 10 °C
	NoGainAbove   = 25.0 // °C
	DampFrom      = 70.0 // % above which a waterborne coat takes twice as long
	dampFactor    = 2.0
)

// TimeFactor is by how much a printed drying time grows: 2^((23 - air)/10) for films that take up
// oxygen or crosslink, 1.3^((23 - air)/10) for the others, and twice that for a waterborne coat
// above 70 % humidity. Air is -20 to 60 °C, humidity 0 to 100 %. It falls with the air and rises
// with the humidity. The error says which input is out of range, or that the way of drying is not
// given. The rate of oil oxidation is that of fire investigators' notes on rags; the rest is a
// choice of this program.
func TimeFactor(d Drying, air, damp interval.Range) (interval.Range, error) {
	if err := first(temperature.holds(air), humidity.holds(damp)); err != nil {
		return interval.Range{}, err
	}
	per := solventFactor
	switch d {
	case ByOxygen, ByReaction:
		per = 2
	case BySolvent, ByWater, ByCooling:
	default:
		return interval.Range{}, fmt.Errorf("the way of drying reads %d; expected one of %q", int(d), dryings[1:])
	}
	f := falling(air, func(t float64) float64 { return math.Pow(per, (RatedAir-t)/doublesPer) })
	if d == ByWater {
		if above(damp, DampFrom) == Yes {
			f.Lo *= dampFactor
		}
		if above(damp, DampFrom) != No {
			f.Hi *= dampFactor
		}
	}
	return f, nil
}

// Times are the hours after which something may be done with a coat. A zero range is "no such
// figure".
type Times struct {
	Touch, Recoat, Sand, Cure interval.Range // from these on
	Closes                    interval.Range // up to this the next coat may follow without a scuff
	Slower                    interval.Range // by what the printed hours, but for Closes, were multiplied
}

// Times are the coat's drying times in hours in a room of the given air (-20 to 60 °C) and
// humidity (0 to 100 %): its printed ones times the TimeFactor. Warmth above 25 °C is not
// credited, since a skin is not a dry film. The time at which the window closes is only ever
// shortened, and by warmth never to before the time from which the next coat may follow; otherwise
// a hot room would put that coat off until the film can be sanded. All fall with the air and rise
// with the humidity. The errors are those of TimeFactor.
func (c Coat) Times(air, damp interval.Range) (Times, error) {
	if err := temperature.holds(air); err != nil {
		return Times{}, err
	}
	slow, err := TimeFactor(c.Dries, interval.Range{Lo: min(air.Lo, NoGainAbove), Hi: min(air.Hi, NoGainAbove)}, damp)
	if err != nil {
		return Times{}, err
	}
	dry, err := TimeFactor(c.Dries, air, interval.Exact(RatedHumidity))
	if err != nil {
		return Times{}, err
	}
	fast := interval.Range{Lo: min(dry.Lo, 1), Hi: min(dry.Hi, 1)}
	t := Times{
		Touch: c.Touch.Mul(slow), Recoat: c.Recoat.Mul(slow), Sand: c.Sand.Mul(slow), Cure: c.Cure.Mul(slow),
		Closes: c.Closes.Mul(fast), Slower: slow,
	}
	t.Closes.Lo = max(t.Closes.Lo, min(t.Recoat.Lo, c.Closes.Lo))
	t.Closes.Hi = max(t.Closes.Hi, min(t.Recoat.Hi, c.Closes.Hi))
	return t, nil
}

// Bonding is how the next coat holds on the one before. The zero Bonding is not given.
type Bonding int

// The ways of holding.
const (
	_             Bonding = iota
	ByMelting             // melts in, within the window or without one
	InWindow              // bonds while the window is open, and needs a scuff after it
	ByScuff               // always needs a scuff
	ByWiping              // is wiped or buffed on; nothing to scuff
	countBondings int     = iota
)

var bondings = [countBondings]string{"", "melts", "window", "scuff", "wipes"}

func (b Bonding) String() string { return bondings[b] }

// ParseBonding reads the name of a way of holding. The error says what was read and what is
// expected.
func ParseBonding(name string) (Bonding, error) {
	if i := slices.Index(bondings[1:], name); i >= 0 {
		return Bonding(i + 1), nil
	}
	return 0, fmt.Errorf("the way of bonding reads %q; expected one of %q", name, bondings[1:])
}

// Window is where the time since the last coat lies. The zero Window is WindowUnknown: the
// figures of the coat, or what was measured, allow more than one.
type Window int

// The windows.
const (
	WindowUnknown Window = iota
	TooSoon              // wait
	Open                 // the next coat may follow
	Closed               // the next coat may follow after a scuff
)

func (w Window) String() string { return [...]string{"unknown", "too-soon", "open", "closed"}[w] }

// Recoating says whether the next coat may follow.
type Recoating struct {
	Window Window
	Soon   Truth          // whether it is too soon
	Scuff  Truth          // whether the film must be scuffed first
	From   interval.Range // h since the last coat from which it may follow
	Until  interval.Range // h up to which it may follow without a scuff; zero if the window does not close
	Sand   interval.Range // h from which the film can be scuffed once the window has closed
}

// Recoating says whether the next coat of the same finish may follow the given hours (0 to 100000)
// after the last, in a room of the given air and humidity, and whether the film must be scuffed
// first: always for a finish that holds by scuffing, and for every other once its window has
// closed; then it must also be dry enough to sand. The errors are those of Times, or that the
// hours are out of range.
func (c Coat) Recoating(since, air, damp interval.Range) (Recoating, error) {
	if err := hours.holds(since); err != nil {
		return Recoating{}, err
	}
	times, err := c.Times(air, damp)
	if err != nil {
		return Recoating{}, err
	}
	r := Recoating{From: times.Recoat, Until: times.Closes, Sand: times.Sand}
	never := c.Closes == interval.Range{}
	open, late := never || since.Hi <= r.Until.Lo, !never && since.Lo > r.Until.Hi
	ready := interval.Range{Lo: max(r.From.Lo, r.Sand.Lo), Hi: max(r.From.Hi, r.Sand.Hi)}
	switch {
	case since.Hi < r.From.Lo, late && since.Hi < ready.Lo:
		r.Window, r.Soon = TooSoon, Yes
	case open && since.Lo >= r.From.Hi:
		r.Window, r.Soon = Open, No
	case late && since.Lo >= ready.Hi:
		r.Window, r.Soon = Closed, No
	case since.Lo >= ready.Hi:
		r.Soon = No // open or closed, it has dried long enough for either
	}
	switch {
	case c.Bonds == ByScuff || late:
		r.Scuff = Yes
	case open:
		r.Scuff = No
	}
	return r, nil
}

// Schedule is the hours from the first of n coats (1 to MostCoats) until the last can be touched,
// and until it is hard, in a room of the given air and humidity: n - 1 waits between coats and the
// one after the last. It falls with the air and rises with the humidity and the number of coats.
// The errors are those of Times, or that the number is out of range.
func (c Coat) Schedule(n int, air, damp interval.Range) (touch, cured interval.Range, err error) {
	if n < 1 || n > MostCoats {
		return touch, cured, fmt.Errorf("the number of coats reads %d; expected 1 to %d", n, MostCoats)
	}
	times, err := c.Times(air, damp)
	if err != nil {
		return touch, cured, err
	}
	waits := times.Recoat.Mul(interval.Exact(float64(n - 1)))
	return waits.Add(times.Touch), waits.Add(times.Cure), nil
}

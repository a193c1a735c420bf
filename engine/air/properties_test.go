package air_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

// form is a formula of the package over measured inputs. Its signs say of each input whether the
// result rises (+) or falls (-) with it, so they also say at which ends the ends of the result lie.
type form struct {
	name  string
	signs string
	from  []interval.Range // what each input may be
	of    func(x []interval.Range) (interval.Range, error)
}

func between(lo, hi float64) interval.Range { return interval.Range{Lo: lo, Hi: hi} }

func exact(v float64) interval.Range { return interval.Exact(v) }

var (
	some    = between(0, 500)
	atAll   = between(0.01, 500)
	molar   = between(17, 170)
	density = between(0.5, 1.4)
	volume  = between(5, 200)
	changes = between(0, 40)
	blowing = between(0.1, 40)
	mixing  = between(1, 10)
	hours   = between(0, 8)
	shopAir = between(-20, 50)
	damp    = between(0, 100)
	ratio   = between(0, 1)
	hPa     = between(850, 1050)
)

// solvent has the round constants of a liquid that does not exist.
var solvent = air.Antoine{A: 7, B: 1300, C: 220, Fits: between(10, 130)}

func in(volume, changes, mixing interval.Range) air.Room {
	return air.Room{Volume: volume, Changes: changes, Mixing: mixing}
}

// one makes a form of a function of one input.
func one(f func(interval.Range) (interval.Range, error)) func([]interval.Range) (interval.Range, error) {
	return func(x []interval.Range) (interval.Range, error) { return f(x[0]) }
}

// two makes a form of a function of two inputs.
func two(f func(a, b interval.Range) (interval.Range, error)) func([]interval.Range) (interval.Range, error) {
	return func(x []interval.Range) (interval.Range, error) { return f(x[0], x[1]) }
}

// three makes a form of a function of three inputs.
func three(f func(a, b, c interval.Range) (interval.Range, error)) func([]interval.Range) (interval.Range, error) {
	return func(x []interval.Range) (interval.Range, error) { return f(x[0], x[1], x[2]) }
}

func firstOf(doses []air.Dose, err error) (interval.Range, error) {
	if err != nil {
		return interval.Range{}, err
	}
	return doses[0].Grams, nil
}

func ranges(r ...interval.Range) []interval.Range { return r }

func judged(part func(air.Reading) interval.Range) func([]interval.Range) (interval.Range, error) {
	return func(x []interval.Range) (interval.Range, error) {
		doses := []air.Dose{{Substance: "quick", Grams: x[0]}, {Substance: "slow", Grams: x[1]}}
		r, err := bench().Judge(doses, in(x[2], x[3], x[4]), x[5], x[6])
		return part(r), err
	}
}

var judgedFrom = ranges(some, some, volume, changes, mixing, shopAir, between(0, 500))

var forms = []form{
	{"MolarVolumeAt", "+-", ranges(between(-50, 100), between(80, 110)), two(air.MolarVolumeAt)},
	{"ToMG", "++", ranges(some, molar), two(air.ToMG)},
	{"ToPPM", "+-", ranges(some, molar), two(air.ToPPM)},
	{"VapourLitres", "+-", ranges(some, molar), two(air.VapourLitres)},
	{"PPMOf", "+--", ranges(some, molar, volume), three(air.PPMOf)},
	{"LiquidFor", "++-", ranges(some, molar, density), three(air.LiquidFor)},
	{"MMHg", "+", ranges(between(-50, 200)), one(solvent.MMHg)},
	{"Celsius", "+", ranges(between(0.01, 3000)), one(solvent.Celsius)},
	{"ReachesLEL", "+", ranges(between(0.5, 15)), one(solvent.ReachesLEL)},
	{"SaturatedPPM", "+", ranges(between(0, 2000)), one(air.SaturatedPPM)},
	{"SaturatedLEL", "+-", ranges(between(0, 500), between(0.5, 15)), two(air.SaturatedLEL)},
	{"Saturation", "+", ranges(shopAir), one(func(t interval.Range) (interval.Range, error) { return bench().Saturation("quick", t) })},

	{"Fresh", "+-", ranges(changes, mixing), two(func(c, k interval.Range) (interval.Range, error) { return in(exact(1), c, k).Fresh() })},
	{"Rise", "++--+", ranges(some, hours, volume, changes, mixing), func(x []interval.Range) (interval.Range, error) {
		return in(x[2], x[3], x[4]).Rise(x[0], x[1])
	}},
	{"Steady", "+--+", ranges(some, volume, blowing, mixing), func(x []interval.Range) (interval.Range, error) {
		return in(x[1], x[2], x[3]).Steady(x[0])
	}},
	{"Fall", "+--+", ranges(some, hours, changes, mixing), func(x []interval.Range) (interval.Range, error) {
		return in(exact(30), x[2], x[3]).Fall(x[0], x[1])
	}},
	{"HoursToFall", "+--+", ranges(atAll, atAll, blowing, mixing), func(x []interval.Range) (interval.Range, error) {
		return in(exact(30), x[2], x[3]).HoursToFall(x[0], x[1])
	}},
	{"HoursToRise", "-+++-", ranges(atAll, between(0, 50), volume, changes, mixing), func(x []interval.Range) (interval.Range, error) {
		return in(x[2], x[3], x[4]).HoursToRise(x[0], x[1])
	}},

	{"FlowFor", "+-+", ranges(some, atAll, mixing), three(air.FlowFor)},
	{"HandbookFlow", "+++--", ranges(density, between(0.001, 1), mixing, molar, atAll), func(x []interval.Range) (interval.Range, error) {
		return air.HandbookFlow(x[0], x[1], x[2], x[3], x[4])
	}},
	{"FlowOfHalfLife", "+-", ranges(volume, atAll), two(air.FlowOfHalfLife)},
	{"Changes", "+-", ranges(some, volume), two(air.Changes)},
	{"DoorFlow", "++", ranges(between(0, 10), between(0, 20)), two(air.DoorFlow)},
	{"FaceVelocity", "+-", ranges(some, between(0.1, 10)), two(air.FaceVelocity)},

	{"ShareOfLimits", "+-+-", ranges(some, atAll, some, atAll), func(x []interval.Range) (interval.Range, error) {
		return air.ShareOfLimits([]air.Part{{Amount: x[0], Limit: x[1]}, {Amount: x[2], Limit: x[3]}})
	}},
	{"DayAverage", "++++", ranges(hours, some, hours, some), func(x []interval.Range) (interval.Range, error) {
		return air.DayAverage([]air.Span{{Hours: x[0], Level: x[1]}, {Hours: x[2], Level: x[3]}})
	}},
	{"LongDayLimit", "-", ranges(between(1, 24)), one(func(h interval.Range) (interval.Range, error) { return air.LongDayLimit(50, h) })},

	{"Coat", "++++", ranges(between(0, 10), between(0, 200), density, ratio), func(x []interval.Range) (interval.Range, error) {
		return air.Coat{Area: x[0], Spread: x[1], Density: x[2], Solvent: x[3]}.Grams()
	}},
	{"Release", "--+", ranges(between(1, 60), between(60, 300), between(0, 400)), func(x []interval.Range) (interval.Range, error) {
		return air.Release{Half: x[0], All: x[1]}.Share(x[2])
	}},
	{"Mist", "++--", ranges(some, ratio, ratio, volume), func(x []interval.Range) (interval.Range, error) {
		return air.Mist(x[0], x[1], x[2], x[3])
	}},
	{"Can", "++", ranges(some, between(0, 0.5)), two(func(g, p interval.Range) (interval.Range, error) {
		return firstOf(air.Can{Grams: g, Propellant: p, Solvent: exact(0.5)}.Doses("gas", "quick"))
	})},
	{"FromLitres", "++", ranges(some, ratio), two(func(l, s interval.Range) (interval.Range, error) {
		return firstOf(bench().FromLitres(l, []air.Share{{Substance: "slow", Of: s}}))
	})},
	{"Judge: ppm", "++--++-", judgedFrom, judged(func(r air.Reading) interval.Range { return r.PPM })},
	{"Judge: share of limits", "++--++-", judgedFrom, judged(func(r air.Reading) interval.Range { return r.OfLimit })},
	{"Judge: share of the explosive limit", "++--++-", judgedFrom, judged(func(r air.Reading) interval.Range { return r.OfLEL })},

	{"Cloud", "++-", ranges(between(0, 5), between(0, 500), between(2, 4)), three(air.Cloud)},
	{"DustShare", "+", ranges(some), one(func(mg interval.Range) (interval.Range, error) { return bench().DustShare(mg, "strict") })},

	{"WaterPascals", "+", ranges(between(-30, 60)), one(air.WaterPascals)},
	{"DewPoint", "++", ranges(shopAir, damp), two(air.DewPoint)},
	{"Spread", "+-", ranges(shopAir, damp), two(air.Spread)},
	{"HumidityOfSpread", "+-", ranges(shopAir, between(0, 40)), two(air.HumidityOfSpread)},
	{"HumidityOfWetBulb", "-+-", ranges(between(20, 21), between(14, 19), hPa), three(air.HumidityOfWetBulb)},
	{"WetBulb", "+++", ranges(between(-10, 50), damp, hPa), three(air.WetBulb)},
	{"margin over the dew point", "--+", ranges(shopAir, damp, shopAir), three(func(t, h, surface interval.Range) (interval.Range, error) {
		o, err := air.Weather{Air: t, Humidity: h, Surface: surface}.For(air.CoatWeather{})
		return o.Margin, err
	})},
	{"DryFactor", "-", ranges(between(-10, 50)), one(air.DryFactor)},

	{"Hours, NIOSH", "-", ranges(between(60, 130)), one(air.NIOSH.Hours)},
	{"Hours, OSHA", "-", ranges(between(60, 130)), one(air.OSHA.Hours)},
	{"Dose", "++", ranges(hours, between(60, 130)), two(func(h, db interval.Range) (interval.Range, error) {
		return air.NIOSH.Dose([]air.Span{{Hours: h, Level: db}})
	})},
	{"BehindPlugs", "+", ranges(between(0, 130)), one(func(db interval.Range) (interval.Range, error) { return air.BehindPlugs(db, 33) })},
	{"HighestUse", "+", ranges(atAll), one(func(l interval.Range) (interval.Range, error) { return air.HighestUse(50, l) })},
	{"LeadPPM", "+", ranges(between(0, 100)), one(air.LeadPPM)},
	{"LeadOnSurface", "+++", ranges(between(0, 100), some, density), three(air.LeadOnSurface)},
	{"ScaldTime: third degree", "-", ranges(between(45, 70)), one(func(t interval.Range) (interval.Range, error) {
		s, err := bench().ScaldTime(t)
		return s.Third, err
	})},
	{"ScaldTime: second degree", "-", ranges(between(45, 60)), one(func(t interval.Range) (interval.Range, error) {
		s, err := bench().ScaldTime(t)
		return s.Second, err
	})},
}

// dealer deals measurements, the same every time.
type dealer struct{ *rand.Rand }

func deal() dealer { return dealer{rand.New(rand.NewPCG(1723, 1798))} }

func (d dealer) value(r interval.Range) float64 {
	return min(r.Hi, r.Lo+d.Float64()*(r.Hi-r.Lo))
}

// within is a range inside r; one in four is exact.
func (d dealer) within(r interval.Range) interval.Range {
	a := d.value(r)
	if d.IntN(4) == 0 {
		return exact(a)
	}
	b := d.value(r)
	return between(min(a, b), max(a, b))
}

func (d dealer) all(from []interval.Range) []interval.Range {
	x := make([]interval.Range, len(from))
	for i, r := range from {
		x[i] = d.within(r)
	}
	return x
}

const tries = 2000

// nearly allows for the rounding of the arithmetic.
func nearly(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b))
}

func atMost(a, b float64) bool { return a <= b || nearly(a, b) }

func TestAResultReachesWhatItsInputsAllowAndNoFurther(t *testing.T) {
	for _, f := range forms {
		t.Run(f.name, func(t *testing.T) {
			d := deal()
			for range tries {
				x := d.all(f.from)
				got, err := f.of(x)
				require.NoError(t, err, "%v", x)
				lo, hi := make([]interval.Range, len(x)), make([]interval.Range, len(x))
				for i, r := range x {
					lo[i], hi[i] = exact(r.Lo), exact(r.Hi)
					if f.signs[i] == '-' {
						lo[i], hi[i] = hi[i], lo[i]
					}
				}
				least, err := f.of(lo)
				require.NoError(t, err)
				most, err := f.of(hi)
				require.NoError(t, err)
				assert.True(t, nearly(least.Lo, got.Lo) && nearly(most.Hi, got.Hi), "%v: got %v, the corners give %v and %v", x, got, least, most)
				assert.LessOrEqual(t, got.Lo, got.Hi, "%v", x)
			}
		})
	}
}

func TestACloserMeasurementStaysInsideTheCoarserOnes(t *testing.T) {
	for _, f := range forms {
		t.Run(f.name, func(t *testing.T) {
			d := deal()
			for range tries {
				x := d.all(f.from)
				coarse, err := f.of(x)
				require.NoError(t, err)
				close, err := f.of(d.all(x))
				require.NoError(t, err)
				assert.True(t, atMost(coarse.Lo, close.Lo) && atMost(close.Hi, coarse.Hi), "%v: %v is not inside %v", x, close, coarse)
			}
		})
	}
}

func TestResultsRiseAndFallAsTheirFormulasSay(t *testing.T) {
	for _, f := range forms {
		t.Run(f.name, func(t *testing.T) {
			d := deal()
			for range tries {
				x := make([]interval.Range, len(f.from))
				for i, r := range f.from {
					x[i] = exact(d.value(r))
				}
				i := d.IntN(len(x))
				more := slices.Clone(x)
				more[i] = exact(d.value(between(x[i].Lo, f.from[i].Hi)))
				a, err := f.of(x)
				require.NoError(t, err)
				b, err := f.of(more)
				require.NoError(t, err)
				if f.signs[i] == '-' {
					a, b = b, a
				}
				assert.True(t, atMost(a.Lo, b.Lo), "%v, then %v: %v, then %v", x, more, a, b)
			}
		})
	}
}

func TestEveryFormRefusesWhatIsNoRange(t *testing.T) {
	for _, f := range forms {
		for i := range f.from {
			x := slices.Clone(f.from)
			for j := range x {
				x[j] = exact(f.from[j].Mid())
			}
			for _, broken := range ranges(between(2, 1), exact(math.NaN()), between(0, math.Inf(1)), exact(-1e6)) {
				x[i] = broken
				_, err := f.of(x)
				assert.Error(t, err, "%s takes %v as input %d", f.name, broken, i)
			}
		}
	}
}

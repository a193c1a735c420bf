package plan_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/plan"
	"mendwright/rules/interval"
)

// asked are the questions about a deal, each with a profit to be left where it wants one.
var asked = map[string]func(plan.Deal) (interval.Range, error){
	"net":           plan.Deal.Net,
	"profit":        plan.Deal.Profit,
	"break-even":    plan.Deal.BreakEven,
	"highest bid":   func(d plan.Deal) (interval.Range, error) { return d.HighestBid(interval.Range{Lo: 10, Hi: 20}) },
	"hour earns":    plan.Deal.HourEarns,
	"hours allowed": func(d plan.Deal) (interval.Range, error) { return d.HoursAllowed(interval.Range{Lo: 0, Hi: 5}) },
	"margin":        plan.Deal.Margin,
	"profit by luck": func(d plan.Deal) (interval.Range, error) {
		o, err := d.Outlook(interval.Range{Lo: 10, Hi: 30}, interval.Range{Lo: 0, Hi: 2})
		return o.Profit, err
	},
	"its scatter": func(d plan.Deal) (interval.Range, error) {
		o, err := d.Outlook(interval.Range{Lo: 10, Hi: 30}, interval.Range{Lo: 0, Hi: 2})
		return o.Std, err
	},
	"chance": func(d plan.Deal) (interval.Range, error) {
		o, err := d.Outlook(interval.Range{Lo: 10, Hi: 30}, interval.Range{Lo: 0, Hi: 2})
		return o.Chance, err
	},
}

func anyRange(r *rand.Rand, lo, hi float64) interval.Range {
	a, b := lo+r.Float64()*(hi-lo), lo+r.Float64()*(hi-lo)
	return interval.Range{Lo: min(a, b), Hi: max(a, b)}
}

func anyDeal(r *rand.Rand) plan.Deal {
	return plan.Deal{Price: anyRange(r, 1, 500), Fee: anyRange(r, 0, 50), Bought: anyRange(r, 0, 100), Materials: anyRange(r, 0, 80),
		Fixed: anyRange(r, 0, 40), Rate: anyRange(r, 1, 50), Hours: anyRange(r, 1, 20)}
}

// TestACloserSumNeverContradicts: what is known closer gives an answer inside that of the wider.
func TestACloserSumNeverContradicts(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 6))
	within := func(o interval.Range) interval.Range { return anyRange(r, o.Lo, o.Hi) }
	for range 500 {
		wide := anyDeal(r)
		narrow := plan.Deal{Price: within(wide.Price), Fee: within(wide.Fee), Bought: within(wide.Bought), Materials: within(wide.Materials),
			Fixed: within(wide.Fixed), Rate: within(wide.Rate), Hours: within(wide.Hours)}
		for what, ask := range asked {
			w, err := ask(wide)
			require.NoError(t, err, what)
			n, err := ask(narrow)
			require.NoError(t, err, what)
			require.LessOrEqual(t, w.Lo, n.Lo+1e-9, what)
			require.GreaterOrEqual(t, w.Hi, n.Hi-1e-9, what)
			require.LessOrEqual(t, n.Lo, n.Hi, what)
		}
	}
}

// TestTheSumsOfADealFitEachOther: at the price that breaks even nothing is left; bought at the
// highest bid the wanted profit is; at the rate that an hour earns, or with the hours allowed,
// nothing.
func TestTheSumsOfADealFitEachOther(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 7))
	for range 500 {
		d := anyDeal(r)
		for _, v := range []*interval.Range{&d.Price, &d.Fee, &d.Bought, &d.Materials, &d.Fixed, &d.Rate, &d.Hours} {
			v.Hi = v.Lo
		}
		profit := func(d plan.Deal) float64 {
			p, err := d.Profit()
			require.NoError(t, err)
			require.InDelta(t, p.Lo, p.Hi, 1e-9)
			return p.Mid()
		}
		even, err := d.BreakEven()
		require.NoError(t, err)
		at := d
		at.Price = even
		require.InDelta(t, 0, profit(at), 1e-9)
		margin, err := d.Margin()
		require.NoError(t, err)
		require.InDelta(t, profit(d)/d.Price.Lo*100, margin.Mid(), 1e-9)
		bid, err := d.HighestBid(exact(25))
		require.NoError(t, err)
		if bid.Lo >= 0 {
			at = d
			at.Bought = bid
			require.InDelta(t, 25, profit(at), 1e-9)
		}
		earns, err := d.HourEarns()
		require.NoError(t, err)
		allowed, err := d.HoursAllowed(exact(25))
		require.NoError(t, err)
		if earns.Lo >= 0 {
			at = d
			at.Rate = earns
			require.InDelta(t, 0, profit(at), 1e-9)
		}
		if allowed.Lo > 0 {
			at = d
			at.Hours = allowed
			require.InDelta(t, 25, profit(at), 1e-9)
		}
		sure, err := d.Outlook(exact(0), exact(0))
		require.NoError(t, err)
		want := 0.0
		if profit(d) >= 0 {
			want = 1
		}
		require.Equal(t, exact(want), sure.Chance)
	}
}

// TestMarkupAndMargin: of a profit of half the cost a third of the price is left, and never all.
func TestMarkupAndMargin(t *testing.T) {
	for markup, margin := range map[float64]float64{0: 0, 50: 100.0 / 3, 100: 50, 10000: 10000.0 / 101} {
		got, err := plan.MarginOf(exact(markup))
		require.NoError(t, err)
		assert.InDelta(t, margin, got.Lo, 1e-9)
		assert.Equal(t, got.Lo, got.Hi)
	}
}

// TestPiecesAreWhole: nobody sells half a tin, and rounding never asks for one more.
func TestPiecesAreWhole(t *testing.T) {
	for _, c := range []struct {
		need, each interval.Range
		want       interval.Range
	}{
		{exact(1.2), exact(.75), exact(2)},
		{exact(1.5), exact(.75), exact(2)},
		{exact(0), exact(.75), exact(0)},
		{exact(2.1), exact(.7), exact(3)}, // a hair above 3 as the machine divides
		{exact(.3), exact(.1), exact(3)},  // and a hair below 3
		{interval.Range{Lo: 1, Hi: 2}, interval.Range{Lo: .3, Hi: .5}, interval.Range{Lo: 2, Hi: 7}},
	} {
		got, err := plan.Pieces(c.need, c.each)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v at %v", c.need, c.each)
	}
	got, err := plan.PiecesToBreakEven(exact(1000), exact(12))
	require.NoError(t, err)
	assert.Equal(t, exact(84), got)
}

// TestASumThatCannotBeIsNamed.
func TestASumThatCannotBeIsNamed(t *testing.T) {
	good := plan.Deal{Price: exact(1), Rate: exact(1), Hours: exact(1)}
	for what, spoil := range map[string]func(*plan.Deal){
		"price":     func(d *plan.Deal) { d.Price = exact(-1) },
		"fee":       func(d *plan.Deal) { d.Fee = exact(96) },
		"bought":    func(d *plan.Deal) { d.Bought = exact(-1) },
		"materials": func(d *plan.Deal) { d.Materials = interval.Range{Lo: 2, Hi: 1} },
		"fixed":     func(d *plan.Deal) { d.Fixed = exact(2e9) },
		"rate":      func(d *plan.Deal) { d.Rate = exact(-1) },
		"hours":     func(d *plan.Deal) { d.Hours = exact(10001) },
	} {
		d := good
		spoil(&d)
		for question, ask := range asked {
			_, err := ask(d)
			if what == "bought" && question == "highest bid" {
				assert.NoError(t, err, "it does not count")
				continue
			}
			assert.ErrorContains(t, err, what, question)
			assert.ErrorContains(t, err, "expected between", question)
		}
	}
	failing := map[string]func() (any, error){
		"hours":                  func() (any, error) { return plan.Deal{Price: exact(1)}.HourEarns() },
		"rate":                   func() (any, error) { return plan.Deal{Price: exact(1)}.HoursAllowed(exact(0)) },
		"price":                  func() (any, error) { return plan.Deal{}.Margin() },
		"wanted profit":          func() (any, error) { return good.HighestBid(exact(-1)) },
		"scatter of the price":   func() (any, error) { return good.Outlook(exact(-1), exact(0)) },
		"scatter of the hours":   func() (any, error) { return good.Outlook(exact(0), exact(-1)) },
		"markup":                 func() (any, error) { return plan.MarginOf(exact(-1)) },
		"fixed costs":            func() (any, error) { return plan.PiecesToBreakEven(exact(-1), exact(1)) },
		"contribution":           func() (any, error) { return plan.PiecesToBreakEven(exact(1), exact(0)) },
		"cost of a piece":        func() (any, error) { return plan.Contribution(exact(1), exact(-1)) },
		"need":                   func() (any, error) { return plan.Pieces(exact(-1), exact(1)) },
		"that one piece is good": func() (any, error) { return plan.Pieces(exact(1), exact(0)) },
	}
	for says, fail := range failing {
		_, err := fail()
		assert.ErrorContains(t, err, says)
	}
}

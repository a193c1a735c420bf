package plan

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// Limits of what is asked about. MostMoney is meant for no price; it keeps the arithmetic finite.
const (
	MostMoney = 1e8
	MostFee   = 95
	MostWork  = 10000 // h
)

// Deal is a piece that is bought, worked on and sold. Sums are in the caller's money, 0 to
// MostMoney. The zero Deal brings nothing and costs nothing. The formulas are plain bookkeeping.
//
// Every answer spans exactly what the ranges allow. Its error says which of them is out of range.
type Deal struct {
	Price     interval.Range // what it fetches
	Fee       interval.Range // share of the price that others keep, 0 to MostFee %
	Bought    interval.Range // paid for it
	Materials interval.Range
	Fixed     interval.Range // per piece: transport, stand, disposal
	Rate      interval.Range // what an hour of one's own is to earn, money per h
	Hours     interval.Range // hands-on, 0 to MostWork h
}

func money(what string, r interval.Range) error { return check(what, r, 0, MostMoney, "of money") }

func (d Deal) valid() error {
	return errors.Join(
		money("price", d.Price), check("fee", d.Fee, 0, MostFee, "%"), money("sum it was bought for", d.Bought),
		money("materials", d.Materials), money("fixed cost", d.Fixed), check("rate", d.Rate, 0, MostMoney, "of money per h"),
		check("hours", d.Hours, 0, MostWork, "h"),
	)
}

// kept is what is left of 1 of the price after the fee.
func (d Deal) kept() interval.Range {
	return interval.Range{Lo: 1 - d.Fee.Hi/100, Hi: 1 - d.Fee.Lo/100}
}

// spent is all but the fee and one's own hours.
func (d Deal) spent() interval.Range { return d.Bought.Add(d.Materials).Add(d.Fixed) }

// work is what one's own hours are to earn.
func (d Deal) work() interval.Range { return d.Rate.Mul(d.Hours) }

// Net is what is left of the price after the fee: price x (1 - fee/100).
func (d Deal) Net() (interval.Range, error) {
	return d.Price.Mul(d.kept()), d.valid()
}

// Profit is what is left when all is paid, one's own hours too: net - bought - materials - fixed -
// rate x hours. Below 0 it is a loss.
func (d Deal) Profit() (interval.Range, error) {
	return d.Price.Mul(d.kept()).Sub(d.spent()).Sub(d.work()), d.valid()
}

// BreakEven is the price at which nothing is lost or gained: (bought + materials + fixed + rate x
// hours)/(1 - fee/100). The Price does not count.
func (d Deal) BreakEven() (interval.Range, error) {
	if err := d.valid(); err != nil {
		return interval.Range{}, err
	}
	cost, kept := d.spent().Add(d.work()), d.kept()
	return interval.Range{Lo: cost.Lo / kept.Hi, Hi: cost.Hi / kept.Lo}, nil
}

// HighestBid is the most to pay for the piece so that a profit of 0 to MostMoney is left: net -
// materials - fixed - rate x hours - profit. Below 0 it does not pay even as a gift. What it was
// Bought for does not count.
func (d Deal) HighestBid(profit interval.Range) (interval.Range, error) {
	d.Bought = interval.Range{}
	bid, err := d.Profit()
	return bid.Sub(profit), errors.Join(err, money("wanted profit", profit))
}

// HourEarns is what an hour brings when all else is paid: (net - bought - materials - fixed)/hours,
// money per h. The Rate does not count. The error says too that no hours were given.
func (d Deal) HourEarns() (interval.Range, error) {
	if err := errors.Join(d.valid(), check("hours", d.Hours, leastHours, MostWork, "h")); err != nil {
		return interval.Range{}, err
	}
	left := d.Price.Mul(d.kept()).Sub(d.spent())
	return left.Mul(interval.Range{Lo: 1 / d.Hours.Hi, Hi: 1 / d.Hours.Lo}), nil
}

// leastHours and leastMoney are the least that is divided by.
const (
	leastHours = 0.01
	leastMoney = 0.01
)

// HoursAllowed is how many hours the work may take so that a profit of 0 to MostMoney is left:
// (net - bought - materials - fixed - profit)/rate, 0 if nothing is left for the work. The Hours do
// not count. The error says too that an hour is to earn nothing.
func (d Deal) HoursAllowed(profit interval.Range) (interval.Range, error) {
	if err := errors.Join(d.valid(), money("wanted profit", profit), check("rate", d.Rate, leastMoney, MostMoney, "of money per h")); err != nil {
		return interval.Range{}, err
	}
	left := d.Price.Mul(d.kept()).Sub(d.spent()).Sub(profit)
	return interval.Range{Lo: max(0, left.Lo) / d.Rate.Hi, Hi: max(0, left.Hi) / d.Rate.Lo}, nil
}

// Margin is the profit as a share of the price in per cent: below 0 for a loss. It rises with the
// price. The error says too that the price is nothing.
func (d Deal) Margin() (interval.Range, error) {
	if err := errors.Join(d.valid(), check("price", d.Price, leastMoney, MostMoney, "of money")); err != nil {
		return interval.Range{}, err
	}
	cost, kept := d.spent().Add(d.work()), d.kept()
	at := func(price, cost, kept float64) float64 { return 100 * (kept - cost/price) }
	return interval.Range{Lo: at(d.Price.Lo, cost.Hi, kept.Lo), Hi: at(d.Price.Hi, cost.Lo, kept.Hi)}, nil
}

// Outlook is a profit as a matter of luck.
type Outlook struct {
	Profit interval.Range // expected
	Std    interval.Range // its standard deviation, money
	Chance interval.Range // of no loss, 0 to 1
}

// Outlook is the profit when the price and the hours scatter about those of the deal with standard
// deviations of 0 to MostMoney and of 0 to MostWork h, taken as independent and their sum as normal:
// std² = ((1 - fee/100) x price's)² + (rate x hours')². Of a price that may lie anywhere between
// two ends, take their middle and its Std; of hours by three points, the mean and Std of Total. The
// chance spans what the ends of all ranges allow, and may span more.
func (d Deal) Outlook(price, hours interval.Range) (Outlook, error) {
	profit, err := d.Profit()
	if err = errors.Join(err, money("scatter of the price", price), check("scatter of the hours", hours, 0, MostWork, "h")); err != nil {
		return Outlook{}, err
	}
	kept := d.kept()
	o := Outlook{Profit: profit, Std: interval.Range{
		Lo: math.Hypot(kept.Lo*price.Lo, d.Rate.Lo*hours.Lo),
		Hi: math.Hypot(kept.Hi*price.Hi, d.Rate.Hi*hours.Hi),
	}}
	o.Chance = interval.Range{Lo: 1, Hi: 0}
	for _, mean := range []float64{profit.Lo, profit.Hi} {
		for _, std := range []float64{o.Std.Lo, o.Std.Hi} {
			chance := Spread{-mean, std * std}.Chance(0) // of a loss of at most nothing, to the last digit of a small one
			o.Chance = interval.Range{Lo: min(o.Chance.Lo, chance), Hi: max(o.Chance.Hi, chance)}
		}
	}
	return o, nil
}

// MarginOf is the margin (profit over price) in per cent of a markup (profit over all costs, the
// fee among them) of 0 to 10000 %: markup/(1 + markup/100). It rises with the markup. The error
// says that it is out of range.
func MarginOf(markup interval.Range) (interval.Range, error) {
	if err := check("markup", markup, 0, 10000, "%"); err != nil {
		return interval.Range{}, err
	}
	at := func(m float64) float64 { return m / (1 + m/100) }
	return interval.Range{Lo: at(markup.Lo), Hi: at(markup.Hi)}, nil
}

// Contribution is what one piece adds towards the costs of the year: price less what it alone
// costs, both 0 to MostMoney. The error says which is out of range.
func Contribution(price, variable interval.Range) (interval.Range, error) {
	return price.Sub(variable), errors.Join(money("price", price), money("cost of a piece", variable))
}

// PiecesToBreakEven is how many whole pieces pay the fixed costs of a year, 0 to MostMoney, at a
// contribution of 0.01 to MostMoney each. The error says which is out of range.
func PiecesToBreakEven(fixed, contribution interval.Range) (interval.Range, error) {
	if err := errors.Join(money("fixed costs", fixed), check("contribution of a piece", contribution, leastMoney, MostMoney, "of money")); err != nil {
		return interval.Range{}, err
	}
	return wholes(fixed, contribution), nil
}

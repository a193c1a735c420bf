package plan

import "mendwright/rules/interval"

// Deal is a piece that is bought, worked on and sold. Sums are in the caller's money. The zero
// Deal brings nothing and costs nothing.
type Deal struct {
	Price     interval.Range // what it fetches
	Fee       interval.Range // share of the price that others keep, 0 to 95 %
	Bought    interval.Range // paid for it
	Materials interval.Range
	Fixed     interval.Range // per piece: transport, stand, disposal
	Rate      interval.Range // what an hour of one's own is to earn, money per h
	Hours     interval.Range // hands-on h
}

// Net is what is left of the price after the fee: price x (1 - fee/100).
func (d Deal) Net() (interval.Range, error)

// Profit is what is left when everything is paid, one's own hours too.
func (d Deal) Profit() (interval.Range, error)

// BreakEven is the price at which nothing is lost and nothing gained.
func (d Deal) BreakEven() (interval.Range, error)

// HighestBid is the most to pay for the piece if a profit is to be left. Below 0 it is not worth
// having as a gift. What was Bought does not count.
func (d Deal) HighestBid(profit interval.Range) (interval.Range, error)

// HourEarns is what an hour brings when the rest is paid, money per h. The Rate does not count.
func (d Deal) HourEarns() (interval.Range, error)

// HoursAllowed is how many hours the work may take if a profit is to be left; 0 if none. The
// Hours do not count.
func (d Deal) HoursAllowed(profit interval.Range) (interval.Range, error)

// Margin is the profit as a share of the price, in per cent.
func (d Deal) Margin() (interval.Range, error)

// Outlook is the profit as a matter of luck: every range counts as rectangular, the hours by a
// three-point estimate instead of d.Hours. 1 - Chance(0) is the chance of a profit.
func (d Deal) Outlook(hours Estimate) (Spread, error)

// MarginOf is the margin in per cent of a markup (profit over cost) in per cent.
func MarginOf(markup interval.Range) (interval.Range, error)

// PiecesToBreakEven is how many pieces a year pay a year's fixed cost.
func PiecesToBreakEven(fixed, price, variable interval.Range) (interval.Range, error)

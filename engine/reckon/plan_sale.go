package reckon

import (
	"math"

	"mendwright/engine/plan"
	"mendwright/rules/interval"
)

// What sums are in: nobody says which money, so it is that of whoever asks.
const (
	inMoney        = "in your money"
	inMoneyPerHour = "in your money an hour"
)

// sum is an input of money; left out it is taken as what stands for it, if anything does.
func sum(name, means, left, example string) Input {
	return Input{Name: name, Means: means + ", in your money", Range: between(0, plan.MostMoney), Default: left, Example: example}
}

var (
	priceInput     = sum("price", "what it fetches", "", "300 to 380")
	feeInput       = Input{Name: "fee", Means: "share of the price that a shop, a sale or a site keeps", Unit: "%", Range: between(0, plan.MostFee), Default: "0 %", Example: "10 %"}
	boughtInput    = sum("bought", "what was paid for it", "", "60")
	materialsInput = sum("materials", "what is used up on it", "0", "45")
	fixedInput     = sum("fixed", "what else it costs: transport, a stand, disposal", "0", "20")
	rateInput      = sum("rate", "what an hour of yours is to earn", "", "18")
	workInput      = Input{Name: "work", Means: "hands-on time for all of it", Unit: "min", Range: between(0, plan.MostWork*60), Example: "8 to 10 h"}
	wantedInput    = sum("wanted", "what is to be left over", "0", "50")
)

const saleHolds = "Taxes and the rent of the shop are not in it, unless they stand in the sums given."

var saleCalculations = []*Calculation{
	{
		ID: "piece-profit", Field: Plan,
		Ask:     "What is left of a piece that is bought, mended and sold?",
		Inputs:  []Input{priceInput, feeInput, boughtInput, materialsInput, fixedInput, rateInput, workInput},
		Sources: []string{"bookkeeping"},
		Holds:   saleHolds,
		Reckon:  pieceProfit,
	},
	{
		ID: "profit-chance", Field: Plan,
		Ask: "How likely is it that a piece brings no loss?",
		Inputs: []Input{priceInput, sum("price-off", "how far the price may be off, up or down", "0", "40"), feeInput, boughtInput, materialsInput, fixedInput, rateInput,
			shortest, likeliest, slowest},
		Sources: []string{"bookkeeping", "jcgm-100", "three-point", "normal-table"},
		Holds:   "With the price anywhere between its ends alike and the hours by three guesses. " + saleHolds,
		Reckon:  profitChance,
	},
	{
		ID: "break-even-price", Field: Plan,
		Ask:     "At which price does a piece neither gain nor lose?",
		Inputs:  []Input{feeInput, boughtInput, materialsInput, fixedInput, rateInput, workInput},
		Sources: []string{"bookkeeping"},
		Holds:   saleHolds,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			d := costs(g)
			d.Rate, d.Hours = g.Range("rate"), hours(g.Range("work"))
			return only("price", "price that just covers it", inMoney)(d.BreakEven())
		},
	},
	{
		ID: "highest-bid", Field: Plan,
		Ask:     "What is the most to pay for a piece that is to be mended and sold?",
		Inputs:  []Input{priceInput, feeInput, materialsInput, fixedInput, rateInput, workInput, wantedInput},
		Sources: []string{"bookkeeping"},
		Holds:   saleHolds + " Below 0 it does not pay even as a gift.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			d := plan.Deal{Price: g.Range("price"), Fee: g.Range("fee"), Materials: g.Range("materials"), Fixed: g.Range("fixed"),
				Rate: g.Range("rate"), Hours: hours(g.Range("work"))}
			return only("bid", "the most to pay", inMoney)(d.HighestBid(g.Range("wanted")))
		},
	},
	{
		ID: "hour-earns", Field: Plan,
		Ask: "What does an hour of work on a piece earn?",
		Inputs: []Input{priceInput, feeInput, boughtInput, materialsInput, fixedInput,
			{Name: "work", Means: workInput.Means, Unit: "min", Range: between(1, plan.MostWork*60), Example: workInput.Example}},
		Sources: []string{"bookkeeping"},
		Holds:   saleHolds,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			d := costs(g)
			d.Price, d.Hours = g.Range("price"), hours(g.Range("work"))
			return only("earns", "an hour earns", inMoneyPerHour)(d.HourEarns())
		},
	},
	{
		ID: "hours-allowed", Field: Plan,
		Ask: "How many hours may the work on a piece take?",
		Inputs: []Input{priceInput, feeInput, boughtInput, materialsInput, fixedInput,
			{Name: "rate", Means: rateInput.Means, Range: between(0.01, plan.MostMoney), Example: rateInput.Example}, wantedInput},
		Sources: []string{"bookkeeping"},
		Holds:   saleHolds,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			d := costs(g)
			d.Price, d.Rate = g.Range("price"), g.Range("rate")
			return only("hours", "hands-on time it may take", ofWork)(d.HoursAllowed(g.Range("wanted")))
		},
	},
	{
		ID: "margin-of-markup", Field: Plan,
		Ask: "Which share of the price is profit, at a markup on the cost?",
		Inputs: []Input{
			{Name: "markup", Means: "what is put on top of all it costs", Unit: "%", Range: between(0, 10000), Example: "50 %"}},
		Sources: []string{"bookkeeping"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("margin", "profit of the price", "%")(plan.MarginOf(g.Range("markup")))
		},
	},
	{
		ID: "pieces-to-break-even", Field: Plan,
		Ask: "How many pieces pay for a year of the shop?",
		Inputs: []Input{sum("fixed", "what the shop costs in a year whatever is sold", "", "1200"), sum("price", "what one piece fetches", "", "200 to 260"),
			sum("cost", "what one piece alone costs", "", "110 to 120")},
		Sources: []string{"contribution-margin"},
		Holds:   "If the pieces are alike on the whole.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			each, err := plan.Contribution(g.Range("price"), g.Range("cost"))
			if err != nil {
				return nil, err
			}
			pieces, err := plan.PiecesToBreakEven(g.Range("fixed"), each)
			return []Figure{
				Amount("contribution", "what one piece adds", inMoney, each),
				Amount("pieces", "pieces in a year", "", pieces),
			}, err
		},
	},
}

// costs are what most of these ask for. The price, the rate and the hours are for the caller.
func costs(g Given) plan.Deal {
	return plan.Deal{Fee: g.Range("fee"), Bought: g.Range("bought"), Materials: g.Range("materials"), Fixed: g.Range("fixed")}
}

func pieceProfit(_ *Tables, g Given) ([]Figure, error) {
	d := costs(g)
	d.Price, d.Rate, d.Hours = g.Range("price"), g.Range("rate"), hours(g.Range("work"))
	net, err := d.Net()
	if err != nil {
		return nil, err
	}
	profit, err := d.Profit()
	if err != nil {
		return nil, err
	}
	margin, err := d.Margin()
	return []Figure{
		Amount("net", "left of the price after the fee", inMoney, net),
		Amount("profit", "left when all is paid, your hours too", inMoney, profit),
		Amount("margin", "that is, of the price", "%", margin),
		pays(profit),
	}, err
}

// pays says whether anything is left over at the best and at the worst end.
func pays(profit interval.Range) Figure {
	word := func(v float64) string {
		if v < 0 {
			return "loses"
		}
		return "pays"
	}
	return settled("verdict", "the piece", word(profit.Hi), word(profit.Lo), map[string]string{
		"pays": "it costs no more than it brings", "loses": "it costs more than it brings",
	})
}

func profitChance(_ *Tables, g Given) ([]Figure, error) {
	var mean, std []float64
	err := eachEstimate(g, func(s plan.Spread) error {
		mean, std = append(mean, s.Mean), append(std, s.Std())
		return nil
	})
	if err != nil {
		return nil, err
	}
	d := costs(g)
	d.Price, d.Rate, d.Hours = g.Range("price"), g.Range("rate"), spanning(mean)
	// A price that may lie anywhere within so much of another scatters by that over the root of three.
	o, err := d.Outlook(times(g.Range("price-off"), 1/math.Sqrt(3)), spanning(std))
	return []Figure{
		Amount("profit", "expected to be left when all is paid", inMoney, o.Profit),
		Amount("scatter", "give or take (one standard deviation)", inMoney, o.Std),
		Amount("chance", "chance of no loss", "%", percent(o.Chance)),
	}, err
}

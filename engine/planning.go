package engine

import (
	"time"

	"mendwright/engine/plan"
	"mendwright/rules/interval"
)

// Planning is what the person says about time and money. The zero Planning says nothing: the plan then
// has no dates and no verdict on whether it is worth it.
type Planning struct {
	Start time.Time // of the work, on the clock of the shop; zero: not said
	// Hours are when the person works, by weekday from Sunday.
	Hours plan.Week
	Money *Money // nil: nothing was said
	// Repairs are those picked for marks that a plan finds by itself, by their ids.
	Repairs map[string]string
	// Done are the steps that are done and mend no mark of the job, as the plan calls them.
	Done []string
}

// Works reports whether the person said when the work is done.
func (p *Planning) Works() bool {
	for _, day := range p.Hours {
		if len(day) > 0 {
			return true
		}
	}
	return false
}

// Money is what the person says of prices, in a currency of their own.
type Money struct {
	Currency string
	Paid     float64        // for the piece
	Fetches  interval.Range // what it may fetch, or what another like it would cost
	Fee      float64        // what selling takes, as a share of the price
	Other    float64        // transport, stand, disposal
	Hour     float64        // what an hour of work shall earn
	// Prices are those of a unit of what is bought, by the id of the good.
	Prices map[string]float64
}

package reckon

import (
	"slices"
	"strings"

	"mendwright/engine/air"
	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

var dryingHolds = "Printed times at 23 °C and 50 %, stretched or shortened by a rule of this program; the label wins."

var recoatCalculations = []*Calculation{
	{
		ID: "coat-drying", Field: Coat,
		Ask:     "How long does a coat take to dry in this room?",
		Inputs:  []Input{coatInput, dryingAir, dryingDamp},
		Sources: timeSources,
		Holds:   dryingHolds,
		Caution: finishCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			times, err := c.Times(g.Range("air"), g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			figures := []Figure{
				Amount("touch", "it can be touched after", "h", times.Touch),
				Amount("recoat", "the next coat may follow after", "h", times.Recoat),
			}
			if c.Closes != (interval.Range{}) {
				figures = append(figures, Amount("closes", "without a scuff it may follow until", "h", times.Closes))
			}
			if c.Sand != (interval.Range{}) {
				figures = append(figures, Amount("sand", "it can be sanded after", "h", times.Sand))
			}
			return append(figures, Amount("cure", "it is hard after", "h", times.Cure)), nil
		},
	},
	{
		ID: "next-coat", Field: Coat,
		Ask: "May the next coat of the same finish follow now, and with a scuff?",
		Inputs: []Input{coatInput,
			{Name: "since", Means: "time since the last coat", Unit: "min", Range: between(0, 6e6), Example: "20 to 24 h"}, dryingAir, dryingDamp},
		Sources: timeSources,
		Holds:   dryingHolds,
		Caution: finishCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			r, err := c.Recoating(hours(g.Range("since")), g.Range("air"), g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			figures := []Figure{
				judged("window", "the next coat", r.Window, map[string]string{
					"too-soon": "wait", "open": "it may follow", "closed": "it may follow after a scuff",
					NotKnown: "the figures leave it open; wait, or ask the label",
				}),
				judged("scuff", "scuff first", r.Scuff, map[string]string{
					"yes": "it holds on a scuff alone", "no": "it melts in or bonds by itself", NotKnown: "the figures leave it open; scuff",
				}),
				Amount("from", "it may follow after", "h", r.From),
			}
			if c.Closes != (interval.Range{}) {
				figures = append(figures, Amount("until", "without a scuff until", "h", r.Until))
			}
			return figures, nil
		},
	},
	{
		ID: "whole-finish", Field: Coat,
		Ask: "How long do all coats take until the piece can be touched and is hard?",
		Inputs: []Input{coatInput,
			{Name: "coats", Means: "number of coats", Range: between(1, coat.MostCoats), Example: "3"}, dryingAir, dryingDamp},
		Sources: timeSources,
		Holds:   dryingHolds,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			fewest, most, err := whole("coats", g.Range("coats"))
			if err != nil {
				return nil, err
			}
			touch, cured, err := c.Schedule(fewest, g.Range("air"), g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			lastTouch, lastCured, err := c.Schedule(most, g.Range("air"), g.Range("humidity"))
			return []Figure{
				Amount("touch", "from the first coat until it can be touched", "h", over(touch, lastTouch)),
				Amount("cured", "from the first coat until it is hard", "h", over(cured, lastCured)),
			}, err
		},
	},
	{
		ID: "coat-today", Field: Coat,
		Ask: "Is today's weather right for a finish?",
		Inputs: []Input{coatInput,
			{Name: "air", Means: "temperature of the air", Unit: "°C", Range: between(-20, 60), Example: "18 to 20 °C"},
			{Name: "humidity", Means: "relative humidity of the air", Unit: "%", Range: between(0, 100), Example: "55 ± 3 %"},
			{Name: "surface", Means: "temperature of the wood", Unit: "°C", Range: between(-20, 60), Example: "17 °C"},
			{Name: "spray", Means: "sprayed, or not", Words: words("no", "yes"), Optional: true, Example: "yes"}},
		Sources: weatherSources,
		Caution: finishCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			dew, err := air.DewPoint(g.Range("air"), g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			margin, err := coat.DewMargin(g.Range("surface"), dew)
			if err != nil {
				return nil, err
			}
			best, worst := coat.Wait, coat.Go
			var against []string
			for _, spray := range g.Words("spray") {
				w, err := c.Judge(coat.Day{Air: g.Range("air"), Surface: g.Range("surface"), Humidity: g.Range("humidity"), DewMargin: margin, Spray: map[string]coat.Truth{"yes": coat.Yes, "no": coat.No}[spray]})
				if err != nil {
					return nil, err
				}
				best, worst = min(best, w.Best), max(worst, w.Worst)
				for _, r := range w.Reasons {
					if !slices.Contains(against, r.Why) {
						against = append(against, r.Why)
					}
				}
			}
			because := ""
			if len(against) > 0 {
				because = ": " + strings.Join(against, "; ")
			}
			return []Figure{
				Amount("margin", "the wood stands above the dew point by", "°C", margin),
				settled("verdict", "today", best.String(), worst.String(), map[string]string{
					"go": "nothing measured speaks against it", "care": "it will do, with care" + because, "wait": "not today" + because,
				}),
			}, nil
		},
	},
	{
		ID: "finish-over-finish", Field: Coat,
		Ask: "May a new finish go over the old one?",
		Inputs: []Input{
			{Name: "new", Means: "the new finish", Words: func(t *Tables) []string {
				return column(t.Coat.Over, func(o coat.Over) []string { return []string{o.New} })
			}, Example: "waterborne"},
			{Name: "old", Means: "the old finish, the top one of several", Words: func(t *Tables) []string {
				return column(t.Coat.Over, func(o coat.Over) []string { return []string{o.Old} })
			}, Example: "varnish"},
			{Name: "dried", Means: "how long the old one has dried", Unit: "min", Range: between(0, 6e6), Optional: true, Example: "72 h"},
			{Name: "barrier", Means: "a thin coat of dewaxed shellac lies between", Words: words("no", "yes"), Default: "no", Example: "no"},
		},
		Sources: []string{"design-choice", "finish-compatibility", "memory", "polyurethane-sheet", "waterborne-conditions"},
		Holds:   "What is uncertain goes on a test patch first.",
		Reckon:  overOld,
	},
}

func overOld(t *Tables, g Given) ([]Figure, error) {
	o, err := t.Coat.Pair(g.Word("new"), g.Word("old"))
	if err != nil {
		return nil, err
	}
	now, err := o.Now(hours(g.Range("dried")), g.Word("barrier") == "yes")
	if err != nil {
		return nil, err
	}
	figures := []Figure{
		judged("may", "it may go over it", o.May, map[string]string{
			"no": "the old one must come off: " + o.Why, "mist": "in mist coats only: " + o.Why, "spray": "sprayed only: " + o.Why, "yes": o.Why,
		}),
	}
	if o.May == coat.MayNot {
		return figures, nil
	}
	figures = append(figures,
		Verdict("scuff", "scuff the old one first", yesNo(o.Scuff), map[bool]string{true: "it needs a key", false: "no key is needed"}[o.Scuff]),
		judged("barrier", "thin coat of dewaxed shellac between", o.Barrier, map[string]string{
			"no": "none is needed", "or-wait": "that, or the whole wait", "yes": "needed whatever the wait", "if-unknown": "only if it is not certain what the old finish is",
		}))
	for _, wait := range []struct {
		name, means string
		h           interval.Range
	}{{"wait", "the old one must have dried for", o.Wait}, {"under", "with that coat between, for", o.Under}} {
		if wait.h != (interval.Range{}) {
			figures = append(figures, Amount(wait.name, wait.means, "h", wait.h))
		}
	}
	return append(figures, judged("now", "now", now, map[string]string{
		"yes": "it has dried long enough, and the barrier is as it should be", "no": "not yet", NotKnown: "the wait is in doubt; wait longer",
	})), nil
}

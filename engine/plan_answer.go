package engine

import (
	"mendwright/rules/interval"
)

// Plan is one order of work for a whole piece. Lists are in a fixed order: the same job gives the same Plan,
// whatever the order of its defects.
type Plan struct {
	Rulebook RulebookID `json:"rulebook"`
	Job      string     `json:"job,omitempty"`
	// Refused says that the repairs a person picked go through a layer or are ruled out in this order.
	Refused  bool             `json:"refused"`
	Marks    []PlannedMark    `json:"marks"`
	Steps    []PlanStep       `json:"steps"`
	Clashes  []Clash          `json:"clashes"`
	Surfaces []SurfacePlan    `json:"surfaces"`
	Time     PlanTime         `json:"time"`
	Buy      []Purchase       `json:"buy"`
	AtHand   []string         `json:"at_hand"` // what else the steps use up
	Tools    []string         `json:"tools"`
	Wear     []string         `json:"wear"`
	Worth    *Worth           `json:"worth,omitempty"` // nil: nothing was said of money
	Warnings []WarningView    `json:"warnings"`
	Sources  map[string]Cited `json:"sources"`
}

// MarkState says what a plan does about a mark.
type MarkState string

// What a plan does about a mark.
const (
	Planned   MarkState = "planned"
	LookAgain MarkState = "look_again" // planned, if it still holds after an earlier step
	Gone      MarkState = "gone"       // an earlier step takes it away
	OpenMark  MarkState = "open"       // no repair is ready
	Refusal   MarkState = "refused"    // the repair picked is ruled out, alone or in this order
	Finished  MarkState = "mended"
)

// PlannedMark is a mark and what the plan does about it.
type PlannedMark struct {
	ID    string    `json:"id"`
	On    string    `json:"on,omitempty"`
	Is    []string  `json:"is"` // what it is, or may be
	State MarkState `json:"state"`
	// Arises says that it is not a mark of the job: an earlier step leaves it.
	Arises bool   `json:"arises,omitempty"`
	Method string `json:"method,omitempty"`
	Name   string `json:"name,omitempty"`
	What   string `json:"what,omitempty"`
	Risk   string `json:"risk,omitempty"`
	Picked bool   `json:"picked,omitempty"` // by the person
	// Because is why it stands so: what is open, what takes it away, what another repair would have been.
	Because string   `json:"because,omitempty"`
	Missing []string `json:"missing,omitempty"`
	Reasons []Reason `json:"reasons,omitempty"` // why the repair is ready, or why it is refused
	Harms   []Hazard `json:"harms,omitempty"`
	// Avoid are repairs that are ruled out, each with its first reason.
	Avoid []Avoid `json:"avoid,omitempty"`
	// IfNot is what comes next if the repair is not enough.
	IfNot   []Rung   `json:"if_not_enough,omitempty"`
	Sanding *Sanding `json:"sanding,omitempty"`
}

// Avoid is a repair not to be done, and why.
type Avoid struct {
	Method string `json:"method"`
	Name   string `json:"name"`
	Why    Reason `json:"why"`
}

// PlanStep is one step of the work.
type PlanStep struct {
	ID   string `json:"id"`
	Kind string `json:"kind"` // repair, chore or between
	// Rule is the method, the chore or the pair that it comes from.
	Rule    string      `json:"rule"`
	Name    string      `json:"name"`
	On      string      `json:"on,omitempty"` // "" the whole piece
	Marks   []string    `json:"marks"`
	Stage   string      `json:"stage"`
	Because string      `json:"because,omitempty"` // of a chore
	After   []StepAfter `json:"after"`
	Minutes [3]float64  `json:"minutes"` // hands-on: low, likely, high
	Waits   []WaitView  `json:"waits,omitempty"`
	WaitH   float64     `json:"wait_h"` // what is allowed for them
	// EarlyH and SlackH are when it can begin at the earliest and how much later it may, in hours from the start
	// with hands enough.
	EarlyH   float64 `json:"early_h"`
	SlackH   float64 `json:"slack_h"`
	Critical bool    `json:"critical,omitempty"`
	// Work are the sessions in working hours, Ready when its wait is over; by the clock of the shop.
	Work      []Session  `json:"work,omitempty"`
	Ready     string     `json:"ready,omitempty"`
	Meanwhile []string   `json:"meanwhile,omitempty"` // steps to do while it waits
	Do        []WorkStep `json:"do"`
	Compare   []string   `json:"compare,omitempty"`
	Materials []string   `json:"materials,omitempty"`
	Tools     []string   `json:"tools,omitempty"`
	Wear      []string   `json:"wear,omitempty"`
	Risk      string     `json:"risk,omitempty"`
	Harms     []Hazard   `json:"harms,omitempty"`
	Warnings  []string   `json:"warnings,omitempty"` // ids
	Sources   []string   `json:"sources,omitempty"`
}

// StepAfter is a step that comes before, and why.
type StepAfter struct {
	Step    string   `json:"step"`
	Rule    string   `json:"rule,omitempty"` // the pair; "" the usual order of work
	Because string   `json:"because"`
	Hard    bool     `json:"hard"` // it is spoilt otherwise
	Sources []string `json:"sources,omitempty"`
}

// Session is a stretch of work, by the clock of the shop.
type Session struct {
	From string `json:"from"` // 2006-01-02 15:04
	To   string `json:"to"`
}

// Clash is two repairs that spoil each other.
type Clash struct {
	Rule    string   `json:"rule"` // the pair; "" where the surface goes through a stage once
	On      string   `json:"on,omitempty"`
	Marks   []string `json:"marks"`
	First   string   `json:"first"`
	Next    string   `json:"next"`
	Because string   `json:"because"`
	// Saved is swap where another repair was taken, and "" if nothing saves both by itself.
	Saved   string   `json:"saved"`
	Text    string   `json:"text"`
	Sources []string `json:"sources,omitempty"`
}

// SurfacePlan is what the repairs of a surface take off its layer together.
type SurfacePlan struct {
	Surface  string          `json:"surface"`
	Cuts     []PlanCut       `json:"cuts"`
	BeforeMM *interval.Range `json:"before_mm,omitempty"`
	LeftMM   *interval.Range `json:"left_mm,omitempty"`
	KeepMM   float64         `json:"keep_mm,omitempty"`
	FilmMM   *interval.Range `json:"film_mm,omitempty"`
	Layer    string          `json:"layer,omitempty"`
	// Refused says that all cuts together go through, where each alone would not.
	Refused bool `json:"refused,omitempty"`
}

// PlanCut is one cut into a surface.
type PlanCut struct {
	Step   string         `json:"step"`
	Marks  []string       `json:"marks"`
	Across bool           `json:"across"` // the whole surface
	TakeMM interval.Range `json:"take_mm"`
}

// PlanTime is how long it takes.
type PlanTime struct {
	LowH     float64      `json:"hands_on_low_h"`
	LikelyH  float64      `json:"hands_on_likely_h"`
	HighH    float64      `json:"hands_on_high_h"`
	MeanH    float64      `json:"hands_on_mean_h"`
	StdH     float64      `json:"hands_on_std_h"`
	ElapsedH float64      `json:"elapsed_h"` // day and night, one worker
	InARowH  float64      `json:"in_a_row_h"`
	Path     []string     `json:"critical_path"`
	Start    string       `json:"start,omitempty"`
	Done     string       `json:"done,omitempty"`
	Missed   []MissedStep `json:"missed,omitempty"`
	Over     []string     `json:"over,omitempty"` // whole steps that fit into no session
	Problem  string       `json:"problem,omitempty"`
	Sources  []string     `json:"sources,omitempty"` // of the arithmetic
}

// MissedStep is a step that begins after its window has closed.
type MissedStep struct {
	Step   string `json:"step"`
	After  string `json:"after"`
	Latest string `json:"latest"`
	Begins string `json:"begins"`
}

// Purchase is something to buy.
type Purchase struct {
	Good   string          `json:"good"`
	Name   string          `json:"name"`
	Unit   string          `json:"unit"`
	Amount *interval.Range `json:"amount,omitempty"` // nil: it cannot be reckoned
	// Needs are the facts that the amount waits for.
	Needs   []string `json:"needs,omitempty"`
	Steps   []string `json:"steps"`
	Keep    string   `json:"keep,omitempty"`
	Discard string   `json:"discard,omitempty"`
	Price   float64  `json:"price,omitempty"` // of a unit
	Sources []string `json:"sources"`
}

// Worth is whether the work pays.
type Worth struct {
	Currency   string         `json:"currency,omitempty"`
	Materials  interval.Range `json:"materials"`
	Unpriced   []string       `json:"unpriced,omitempty"` // bought, and nobody said for how much
	Profit     interval.Range `json:"profit"`
	MeanProfit float64        `json:"profit_mean"`
	StdProfit  float64        `json:"profit_std"`
	Chance     float64        `json:"chance_of_profit"`
	HourEarns  interval.Range `json:"hour_earns"`
	BreakEven  interval.Range `json:"break_even_price"`
	HighestBid interval.Range `json:"highest_price_to_pay"`
	Verdict    string         `json:"verdict"` // repair, simplify or leave
	Because    string         `json:"because"`
	Drives     []string       `json:"drives"` // what widens the range most, most first
}

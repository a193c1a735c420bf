package engine

import (
	"mendwright/rules"
	"mendwright/rules/interval"
)

// Version is the form of an Answer. It changes when a field changes its meaning.
const Version = "1"

// Answer is the triage of a job. Lists are in a fixed order: the same job gives the same Answer.
type Answer struct {
	Rulebook  RulebookID       `json:"rulebook"`
	Job       string           `json:"job,omitempty"`
	Defects   []DefectAnswer   `json:"defects"`
	Mended    []Mended         `json:"mended,omitempty"` // defects on which nothing is left to do
	Warnings  []WarningView    `json:"warnings"`
	Conflicts []Conflict       `json:"conflicts,omitempty"`
	Sources   map[string]Cited `json:"sources"`
}

// RulebookID says which rulebook gave an answer.
type RulebookID struct {
	Version string `json:"version"`
	Digest  Digest `json:"digest"`
	// Overrides are the built-in kinds and methods that a shop's own stand in the place of.
	Overrides []string `json:"overrides,omitempty"`
}

func rulebookID(book *rules.Book) RulebookID {
	return RulebookID{Version, Digest{of: book}, book.Overrides}
}

// Digest is the digest of all files of a rulebook, a shop's own among them. It is worked out when it is written:
// that takes longer than many an answer.
type Digest struct {
	of   *rules.Book
	read string
}

func (d Digest) String() string {
	if d.of == nil {
		return d.read
	}
	return d.of.Digest()
}

// MarshalText writes the digest.
func (d Digest) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads a digest that was written.
func (d *Digest) UnmarshalText(text []byte) error {
	*d = Digest{read: string(text)}
	return nil
}

// Cited is what stands behind a source id.
type Cited struct {
	Kind  string `json:"kind"`
	Title string `json:"title"`
	Where string `json:"where,omitempty"`
}

// Mended is a defect that was mended, and by what.
type Mended struct {
	ID     string `json:"id"`
	On     string `json:"on"`
	Method string `json:"method"`
	Name   string `json:"name"`
	Day    string `json:"day,omitempty"` // YYYY-MM-DD
}

// DefectAnswer is the triage of one defect.
type DefectAnswer struct {
	ID      string     `json:"id"`
	On      string     `json:"on"`
	Kinds   []KindView `json:"kinds"`
	Leave   []LeaveIt  `json:"leave"`
	Repairs []Repair   `json:"repairs"`
	// Sanding is the check of sanding the mark out; nil where the surface is not sanded at all.
	Sanding   *Sanding   `json:"sanding,omitempty"`
	Ladder    []Rung     `json:"ladder,omitempty"`
	Questions []Question `json:"questions"`
}

// KindView is a kind the defect is, or may be; in an explanation also one that it is not.
type KindView struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	What string `json:"what"`
	// Own says that the kind is a shop's own, and whether it overrides a built-in one.
	Own     rules.Own `json:"own,omitempty"`
	Certain bool      `json:"certain"`
	Not     bool      `json:"ruled_out,omitempty"`
	Signs   []Reason  `json:"signs"`
	Tell    []Tell    `json:"tell,omitempty"`
}

// Tell tells a kind from another that looks like it.
type Tell struct {
	From string `json:"from"`
	By   string `json:"by"`
}

// LeaveIt is what happens if nothing is done.
type LeaveIt struct {
	Kind    string   `json:"kind"`
	Text    string   `json:"text"`
	Urgency string   `json:"urgency"`
	Use     string   `json:"use"`
	Sources []string `json:"sources"`
}

// State says whether a repair can be recommended.
type State string

// The states of a repair.
const (
	Ready       State = "ready"
	NeedsAnswer State = "needs_answer"
	RuledOut    State = "ruled_out"
)

// Repair is a method judged for a defect.
type Repair struct {
	Method   string    `json:"method"`
	Name     string    `json:"name"`
	What     string    `json:"what"`
	Own      rules.Own `json:"own,omitempty"`
	For      []string  `json:"for"` // the candidate kinds it treats
	State    State     `json:"state"`
	Rank     int       `json:"rank,omitempty"` // from 1; 0 if ruled out
	MeetsAim string    `json:"meets_aim"`      // yes, no or unknown
	Risk     string    `json:"risk,omitempty"`
	Harms    []Hazard  `json:"harms"`
	// Because is why it is ready, or every reason why it is ruled out.
	Because []Reason `json:"because"`
	// ShopOnly says of a repair that is ruled out that nothing but the shop stands against it.
	ShopOnly bool `json:"shop_only,omitempty"`
	// Open are the conditions that an answer must settle first.
	Open      []Reason        `json:"open,omitempty"`
	Missing   []string        `json:"missing"`
	Achieves  string          `json:"achieves"`
	Undo      string          `json:"undo"`
	RemovesMM *interval.Range `json:"removes_mm,omitempty"` // unknown if absent
	Minutes   [3]float64      `json:"minutes"`
	Waits     []WaitView      `json:"waits,omitempty"`
	Sanding   *Sanding        `json:"sanding,omitempty"`
	Vapour    *Vapour         `json:"vapour,omitempty"`
	CoatDay   *CoatDay        `json:"coat_today,omitempty"`
	Pairing   *Pairing        `json:"coat_over,omitempty"`
	Stage     string          `json:"stage"`
	// Tried says that it was done to this mark and was not enough.
	Tried bool `json:"tried,omitempty"`
	mends bool
}

// Mends reports whether the repair is ready and mends something, or does all that the piece's aim asks for.
func (r *Repair) Mends() bool { return r.mends }

// Reason is a condition of the rulebook with how it came out.
type Reason struct {
	Rule    string   `json:"rule"` // the condition
	Outcome string   `json:"outcome"`
	Because string   `json:"because"`
	RestsOn []Rest   `json:"rests_on,omitempty"`
	Missing []string `json:"missing,omitempty"`
	// WouldDo says, of a ban that rests on the shop, what in the shop would each lift it alone.
	WouldDo []string `json:"would_do,omitempty"`
	Sources []string `json:"sources"`
}

// Rest is a fact that a reason rests on.
type Rest struct {
	Fact   string `json:"fact"`
	Answer string `json:"answer"`
	How    string `json:"how"` // answered, finding, table, computed, left by the step before
	// Why is what derived the fact, if it was derived.
	Why *Reason `json:"why,omitempty"`
}

// Hazard is a harm with its risk as it stands.
type Hazard struct {
	ID       string   `json:"harm"`
	What     string   `json:"what"`
	To       string   `json:"to"`
	Severity string   `json:"severity"`
	Level    string   `json:"probability"`
	Risk     string   `json:"risk"`
	Because  []string `json:"because,omitempty"`
	// Lowers are the facts whose answer could lower the level shown.
	Lowers  []string `json:"could_lower,omitempty"`
	Sources []string `json:"sources"`
}

// WaitView is a time to let pass.
type WaitView struct {
	For   string         `json:"for"`
	Hours interval.Range `json:"hours"`
	// SettlesPC is the moisture at which wood comes to rest in the air of the shop, where it is wood
	// that dries and the air is known.
	SettlesPC *interval.Range `json:"wood_settles_percent,omitempty"`
	Because   string          `json:"because"`
	Sources   []string        `json:"sources"`
}

// Rung is one step of a ladder: a repair judged on what the rungs before leave.
type Rung struct {
	Method string `json:"method"`
	Name   string `json:"name"`
	State  State  `json:"state"`
	Risk   string `json:"risk"`
	// Leaves says what it leaves if it was not enough.
	Leaves []Left `json:"leaves,omitempty"`
}

// Left is a fact as a rung leaves it.
type Left struct {
	Fact    string   `json:"fact"`
	Answer  string   `json:"answer"`
	Because string   `json:"because"`
	Sources []string `json:"sources"`
}

// WarningView is a danger that one of the repairs, or the mark itself, brings.
type WarningView struct {
	Warning string    `json:"warning"`
	Signal  string    `json:"signal"`
	Text    string    `json:"text"`
	Wear    []string  `json:"wear,omitempty"`
	IfWrong string    `json:"if_wrong"`
	Own     rules.Own `json:"own,omitempty"`
	// Certain is false where an answer could still lift the warning.
	Certain bool     `json:"certain"`
	Missing []string `json:"missing,omitempty"`
	Defects []string `json:"defects"`
	Methods []string `json:"methods,omitempty"`
	Sources []string `json:"sources"`
}

// Question is a fact worth asking next.
type Question struct {
	Fact    string   `json:"fact"`
	Ask     string   `json:"ask"`
	Tell    string   `json:"tell"`
	Effort  string   `json:"effort"`
	Harms   string   `json:"harms,omitempty"`
	Answers []Option `json:"answers,omitempty"`
	Unit    string   `json:"unit,omitempty"`
	// Closer is true where the fact is known, but not closely enough.
	Closer bool `json:"closer,omitempty"`
	// Guard is true where it decides whether the repair that is ready is a danger to somebody.
	Guard bool `json:"guard,omitempty"`
	// Decides are the rules that wait for it.
	Decides []string `json:"decides"`
}

// Option is one answer to a question.
type Option struct {
	ID    string `json:"id"`
	Means string `json:"means"`
}

// Conflict is a direct answer that a finding contradicts. The fact counts as unknown.
type Conflict struct {
	Fact     string   `json:"fact"`
	On       string   `json:"on"` // the surface or defect
	Answered string   `json:"answered"`
	Found    string   `json:"found"`
	Because  string   `json:"because"`
	Sources  []string `json:"sources"`
}

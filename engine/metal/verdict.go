package metal

import (
	"errors"
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// Verdict is what may be done with a part and a bath, worst first. The zero Verdict is Never.
type Verdict int

// The verdicts.
const (
	Never     Verdict = iota
	TakeApart         // the metals are judged each by itself once they are apart
	Dab               // on the spot with a swab, for minutes; no soak
	Watch             // it may soak, and somebody watches for the end
	Allowed
)

var verdicts = []string{"never", "take-apart", "dab", "watch", "allowed"}

func (v Verdict) String() string { return verdicts[v] }

// VerdictNamed is the verdict that is written so. The error lists the names.
func VerdictNamed(name string) (Verdict, error) {
	i := slices.Index(verdicts, name)
	if i < 0 {
		return Never, fmt.Errorf("read verdict %q; expected one of %v", name, verdicts)
	}
	return Verdict(i), nil
}

// BathRule is what one bath does to one kind of part.
type BathRule struct {
	Bath, Part string
	Verdict    Verdict
	Why        string
}

// Judgement is the worst verdict over all that a part is, and the rules that give it.
type Judgement struct {
	Verdict Verdict
	Rules   []BathRule
}

// Judge is the verdict on a bath for a part, given everything that the part is or could be: a
// hardened spring under zinc, or brass that may be brass-plated zinc. The worst verdict wins, so
// that ruling a kind out never makes it worse. The error names a bath and part without a rule,
// or says that no part was named. Source: the table of baths.
func (t Tables) Judge(bath string, parts ...string) (Judgement, error) {
	if len(parts) == 0 {
		return Judgement{}, errors.New("read no part; expected at least one kind of part to judge")
	}
	judged := Judgement{Verdict: Allowed}
	for _, part := range parts {
		i := slices.IndexFunc(t.Baths, func(r BathRule) bool { return r.Bath == bath && r.Part == part })
		if i < 0 {
			return Judgement{}, fmt.Errorf("read bath %q and part %q; expected a pair that the table of baths holds", bath, part)
		}
		rule := t.Baths[i]
		switch {
		case rule.Verdict < judged.Verdict:
			judged = Judgement{rule.Verdict, []BathRule{rule}}
		case rule.Verdict == judged.Verdict:
			judged.Rules = append(judged.Rules, rule)
		}
	}
	return judged, nil
}

// AmmoniaOnBrass says whether brass with a share of zinc, 0 to 50 %, cracks under moist ammonia:
// Inside up to 15 %, Above when it is refused. The error names a share out of range.
// Source: conservation distribution list, January 1998, on brass polishes and ammonia.
func AmmoniaOnBrass(zincShare interval.Range) (Place, error) {
	if err := need("the share of zinc", "%", zincShare, interval.Range{Lo: 0, Hi: 50}); err != nil {
		return Unsettled, err
	}
	return place(zincShare, interval.Range{Lo: 0, Hi: 15}), nil
}

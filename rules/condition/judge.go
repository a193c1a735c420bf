package condition

import (
	"fmt"
	"slices"
)

// Outcome is the result of a condition.
type Outcome int

// The three outcomes; the zero Outcome is Unknown.
const (
	Unknown Outcome = iota
	False
	True
)

func (o Outcome) String() string { return [...]string{"unknown", "false", "true"}[o] }

// Lookup returns the answer to a fact, and false if it is not known.
type Lookup func(id string) (Value, bool)

// Eval judges the condition. The missing facts are sorted, and empty unless the outcome is
// Unknown. The error is that of an answer that is not of its fact's kind.
func (c *Condition) Eval(lookup Lookup) (Outcome, []string, error) {
	var missing []string
	out, err := c.tree.judge(lookup, &missing)
	if err != nil {
		return Unknown, nil, fmt.Errorf("condition %q: %w", c.Text, err)
	}
	if out != Unknown {
		return out, nil, nil
	}
	slices.Sort(missing)
	return out, slices.Compact(missing), nil
}

// judge adds to missing what an unknown outcome waits for, and nothing if it is known.
func (t *Tree) judge(lookup Lookup, missing *[]string) (Outcome, error) {
	switch t.Op {
	case Not:
		out, err := t.Parts[0].judge(lookup, missing)
		return denied[out], err
	case And:
		return t.join(lookup, missing, False, True)
	case Or:
		return t.join(lookup, missing, True, False)
	}
	v, known := lookup(t.Fact)
	if !known {
		*missing = append(*missing, t.Fact)
		return Unknown, nil
	}
	if want := t.kind(); v.kind != want {
		return Unknown, fmt.Errorf("the answer to %s is a %s, not a %s", t.Fact, v.kind, want)
	}
	if t.Op == Is {
		return of(t.holds(v)), nil
	}
	always, never := t.cut(v)
	if !always && !never {
		*missing = append(*missing, t.Fact) // a closer measurement is
		return Unknown, nil
	}
	return of(always), nil
}

// join judges parts of which one that comes out as settles settles the whole.
func (t *Tree) join(lookup Lookup, missing *[]string, settles, otherwise Outcome) (Outcome, error) {
	n, out := len(*missing), otherwise
	for _, part := range t.Parts {
		o, err := part.judge(lookup, missing)
		if err != nil {
			return Unknown, err
		}
		switch o {
		case settles:
			*missing = (*missing)[:n]
			return settles, nil
		case Unknown:
			out = Unknown
		}
	}
	return out, nil
}

var denied = [...]Outcome{Unknown: Unknown, False: True, True: False}

func of(yes bool) Outcome {
	if yes {
		return True
	}
	return False
}

// kind is the kind of fact that a test reads.
func (t *Tree) kind() Kind {
	switch {
	case t.Op == Cut:
		return Quantity
	case t.several:
		return Several
	case len(t.Answers) > 0:
		return Choice
	}
	return YesNo
}

// holds reports whether an answer is what a test asks for.
func (t *Tree) holds(v Value) bool {
	switch v.kind {
	case YesNo:
		return v.yes
	case Several:
		return slices.Contains(v.set, t.Answers[0])
	}
	return slices.Contains(t.Answers, v.Choice())
}

// cut compares a range as a whole: neither always nor never where it straddles the number.
func (t *Tree) cut(v Value) (always, never bool) {
	switch n, r := t.Number, v.rng; t.Than {
	case "<":
		return r.Hi < n, r.Lo >= n
	case "<=":
		return r.Hi <= n, r.Lo > n
	case ">":
		return r.Lo > n, r.Hi <= n
	default:
		return r.Lo >= n, r.Hi < n
	}
}

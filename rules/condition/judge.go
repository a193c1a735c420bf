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

// Answers gives the answer to a fact by its place among the names of the vocabulary (see Env.Names); nil if
// it is not known. Nobody may change what it gives.
type Answers interface{ Answer(at int) *Value }

// Judge judges the condition without saying what is missing. The error is that of an answer that is not of
// its fact's kind.
func (c *Condition) Judge(by Answers) (Outcome, error) {
	j := judging{by: by}
	return c.end(j.judge(c.tree, nil))
}

// Missing adds to into the places of the facts that an unknown outcome waits for, in order; nothing if it is known.
func (c *Condition) Missing(by Answers, into []int) []int {
	j, n := judging{by: by}, len(into)
	if out, err := j.judge(c.tree, &into); err != nil || out != Unknown {
		return into[:n]
	}
	slices.Sort(into[n:])
	return into[:n+len(slices.Compact(into[n:]))]
}

// Eval judges the condition. The missing facts are sorted, and empty unless the outcome is
// Unknown. The error is that of an answer that is not of its fact's kind.
func (c *Condition) Eval(lookup Lookup) (Outcome, []string, error) {
	j := judging{lookup: lookup}
	var at []int
	out, err := c.end(j.judge(c.tree, &at))
	if err != nil || out != Unknown {
		return out, nil, err
	}
	slices.Sort(at)
	var missing []string
	for _, at := range slices.Compact(at) {
		missing = append(missing, c.env.names[at])
	}
	return out, missing, nil
}

func (c *Condition) end(out Outcome, err error) (Outcome, error) {
	if err != nil {
		return Unknown, fmt.Errorf("condition %q: %w", c.Text, err)
	}
	return out, nil
}

// judging is one judgement by answers, which are looked up by place or, where by is nil, by name.
type judging struct {
	by     Answers
	lookup Lookup
}

func (j *judging) answer(t *Tree) *Value {
	if j.by != nil {
		return j.by.Answer(t.at)
	}
	if v, known := j.lookup(t.Fact); known {
		return &v
	}
	return nil
}

// open says that a test is unknown.
func (t *Tree) open(missing *[]int) Outcome {
	if missing != nil {
		*missing = append(*missing, t.at)
	}
	return Unknown
}

// judge adds to missing, if it is not nil, the places of what an unknown outcome waits for, and nothing if
// the outcome is known.
func (j *judging) judge(t *Tree, missing *[]int) (Outcome, error) {
	switch t.Op {
	case Not:
		out, err := j.judge(t.Parts[0], missing)
		return denied[out], err
	case And:
		return j.join(t, missing, False, True)
	case Or:
		return j.join(t, missing, True, False)
	}
	v := j.answer(t)
	if v == nil {
		return t.open(missing), nil
	}
	if want := t.kind(); v.kind != want {
		return Unknown, fmt.Errorf("the answer to %s is a %s, not a %s", t.Fact, v.kind, want)
	}
	if t.Op == Is {
		return of(t.holds(v)), nil
	}
	always, never := t.cut(v)
	if !always && !never {
		return t.open(missing), nil // a closer measurement is
	}
	return of(always), nil
}

// join judges parts of which one that comes out as settles settles the whole.
func (j *judging) join(t *Tree, missing *[]int, settles, otherwise Outcome) (Outcome, error) {
	n, out := 0, otherwise
	if missing != nil {
		n = len(*missing)
	}
	for _, part := range t.Parts {
		o, err := j.judge(part, missing)
		if err != nil {
			return Unknown, err
		}
		switch o {
		case settles:
			if missing != nil {
				*missing = (*missing)[:n]
			}
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
func (t *Tree) holds(v *Value) bool {
	switch v.kind {
	case YesNo:
		return v.yes
	case Several:
		return slices.Contains(v.set, t.Answers[0])
	}
	return slices.Contains(t.Answers, v.Choice())
}

// cut compares a range as a whole: neither always nor never where it straddles the number.
func (t *Tree) cut(v *Value) (always, never bool) {
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

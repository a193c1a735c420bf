package condition

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/rules/interval"
)

// Kind is what sort of answer a fact takes.
type Kind uint8

// The kinds of fact.
const (
	Choice   Kind = iota // one of the declared answers
	Several              // any number of the declared answers
	YesNo                // yes or no
	Quantity             // a range of numbers in the fact's unit
)

func (k Kind) String() string { return [...]string{"choice", "several", "yes-no", "quantity"}[k] }

// Value is one known answer. Make it with Pick, PickSeveral, Yes or Measured.
type Value struct {
	set  []string
	rng  interval.Range
	kind Kind
	yes  bool
}

// Pick is the answer id of a choice.
func Pick(id string) Value {
	return Value{kind: Choice, set: []string{id}}
}

// PickSeveral is the complete set of answers that hold; the order does not matter.
func PickSeveral(ids ...string) Value {
	set := slices.Sorted(slices.Values(ids))
	return Value{kind: Several, set: set}
}

// Yes is the answer of a yes-no fact.
func Yes(yes bool) Value { return Value{kind: YesNo, yes: yes} }

// Measured is the answer of a quantity, in the fact's unit.
func Measured(r interval.Range) Value { return Value{kind: Quantity, rng: r} }

// Kind tells which kind of fact v answers.
func (v Value) Kind() Kind { return v.kind }

// Choice returns the answer id of a choice, or "".
func (v Value) Choice() string {
	if v.kind != Choice || len(v.set) == 0 {
		return ""
	}
	return v.set[0]
}

// Set returns the sorted answers of a several-of fact.
func (v Value) Set() []string { return v.set }

// IsYes reports whether v is a plain yes.
func (v Value) IsYes() bool { return v.kind == YesNo && v.yes }

// Range returns the range of a quantity.
func (v Value) Range() interval.Range { return v.rng }

// Equal reports whether v and o are the same answer.
func (v Value) Equal(o Value) bool {
	return v.kind == o.kind && v.yes == o.yes && v.rng == o.rng && slices.Equal(v.set, o.set)
}

// String writes v without its unit.
func (v Value) String() string {
	switch v.kind {
	case YesNo:
		if v.yes {
			return "yes"
		}
		return "no"
	case Quantity:
		return fmt.Sprintf("%g to %g", v.rng.Lo, v.rng.Hi)
	}
	return strings.Join(v.set, ", ")
}

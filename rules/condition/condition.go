// Package condition is the rule language's conditions: CEL expressions over facts that may be
// unknown. A condition is true, false, or unknown with the facts that are missing.
//
// It is the only package that imports cel-go (v0.31.0, the last under this import path).
package condition

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/operators"
)

// Fact is what a condition needs to know of a fact.
type Fact struct {
	ID      string
	Kind    Kind
	Answers []string // of a choice or several-of
}

// Env compiles conditions over a vocabulary. Its CEL environment is made when the first
// condition is compiled.
type Env struct {
	facts map[string]Fact
	names []string
	once  sync.Once
	cel   *cel.Env
	err   error
}

// NewEnv returns an environment over facts.
func NewEnv(facts []Fact) *Env {
	e := &Env{facts: make(map[string]Fact, len(facts))}
	for _, f := range facts {
		e.facts[f.ID] = f
		e.names = append(e.names, f.ID)
	}
	slices.Sort(e.names)
	return e
}

// Fact returns the fact called id.
func (e *Env) Fact(id string) (Fact, bool) { f, ok := e.facts[id]; return f, ok }

// Names returns the ids of all facts, sorted.
func (e *Env) Names() []string { return e.names }

// place is where a fact that there is stands among the names.
func (e *Env) place(id string) int {
	at, _ := slices.BinarySearch(e.names, id)
	return at
}

func (e *Env) env() (*cel.Env, error) {
	e.once.Do(func() {
		opts := []cel.EnvOption{cel.ClearMacros()}
		kinds := map[Kind]*cel.Type{
			Choice: cel.StringType, Several: cel.ListType(cel.StringType), YesNo: cel.BoolType, Quantity: cel.OpaqueType("quantity"),
		}
		for _, id := range e.names {
			opts = append(opts, cel.Variable(id, kinds[e.facts[id].Kind]))
		}
		// The language has nothing but this: no standard library, no macro, no conversion.
		boolean := []*cel.Type{cel.BoolType, cel.BoolType}
		same := []*cel.Type{cel.TypeParamType("T"), cel.TypeParamType("T")}
		opts = append(opts,
			cel.Function(operators.LogicalAnd, cel.Overload("logical_and", boolean, cel.BoolType)),
			cel.Function(operators.LogicalOr, cel.Overload("logical_or", boolean, cel.BoolType)),
			cel.Function(operators.LogicalNot, cel.Overload("logical_not", boolean[:1], cel.BoolType)),
			cel.Function(operators.Equals, cel.Overload("equals", same, cel.BoolType)),
			cel.Function(operators.NotEquals, cel.Overload("not_equals", same, cel.BoolType)),
			cel.Function(operators.In, cel.Overload("in_list", []*cel.Type{cel.TypeParamType("T"), cel.ListType(cel.TypeParamType("T"))}, cel.BoolType)),
			cel.Function(operators.Negate, cel.Overload("negate_double", []*cel.Type{cel.DoubleType}, cel.DoubleType)),
		)
		for name, op := range orderings {
			opts = append(opts, cel.Function(name, cel.Overload("quantity_"+op, []*cel.Type{cel.OpaqueType("quantity"), cel.DoubleType}, cel.BoolType)))
		}
		e.cel, e.err = cel.NewCustomEnv(opts...)
	})
	return e.cel, e.err
}

// Error is what is wrong with a condition and how many characters into its text.
type Error struct {
	Offset int
	Msg    string
}

func (e *Error) Error() string { return e.Msg }

// Condition is a compiled condition.
type Condition struct {
	Text string
	// Facts are the facts the condition reads, sorted, and Places their places among the names of the vocabulary.
	Facts  []string
	Places []int
	// Cuts are the numbers that a quantity is compared with, by fact: between them it makes no
	// difference where the quantity lies.
	Cuts map[string][]float64
	tree *Tree
	env  *Env
}

// MaxLen is the longest condition that is compiled, in bytes.
const MaxLen = 2000

// Compile checks text against the vocabulary and readies it for evaluation.
func (e *Env) Compile(text string) (*Condition, *Error) {
	if len(text) > MaxLen {
		return nil, &Error{0, fmt.Sprintf("the condition is longer than %d characters", MaxLen)}
	}
	tree := quick(e, text)
	if tree == nil {
		var err *Error
		if tree, err = e.check(text); err != nil {
			return nil, err
		}
	}
	c := &Condition{Text: text, tree: tree, env: e}
	tree.each(func(test *Tree) {
		test.at = e.place(test.Fact)
		c.Facts = append(c.Facts, test.Fact)
		if test.Op == Cut {
			if c.Cuts == nil {
				c.Cuts = map[string][]float64{}
			}
			c.Cuts[test.Fact] = append(c.Cuts[test.Fact], test.Number)
		}
	})
	slices.Sort(c.Facts)
	c.Facts = slices.Compact(c.Facts)
	for _, id := range c.Facts {
		c.Places = append(c.Places, e.place(id))
	}
	return c, nil
}

// check has CEL read a condition, and refuses what is CEL but not of the rule language.
func (e *Env) check(text string) (*Tree, *Error) {
	env, err := e.env()
	if err != nil {
		return nil, &Error{0, "the vocabulary cannot be used: " + err.Error()}
	}
	parsed, iss := env.Parse(text)
	if iss.Err() != nil {
		return nil, celError(iss)
	}
	// The walk comes before the type check: its messages speak of facts and answers.
	w := walker{env: e, info: parsed.NativeRep().SourceInfo()}
	w.boolean(parsed.NativeRep().Expr())
	if w.err != nil {
		return nil, w.err
	}
	checked, iss := env.Check(parsed)
	if iss.Err() != nil {
		return nil, celError(iss)
	}
	return treeOf(checked.NativeRep().Expr()), nil
}

func celError(iss *cel.Issues) *Error {
	first := iss.Errors()[0]
	msg, _, _ := strings.Cut(first.Message, "\n")
	msg, _, _ = strings.Cut(strings.TrimPrefix(msg, "Syntax error: "), " expecting {") // a list of the parser's own words
	msg = strings.NewReplacer("mismatched input '<EOF>'", "it breaks off", "'<EOF>'", "the end").Replace(msg)
	return &Error{max(first.Location.Column(), 0), "not readable as a condition: " + msg}
}

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
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/functions"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
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
	// unknowns holds the one unknown that stands for each fact while it is not known.
	unknowns map[string]*types.Unknown
	once     sync.Once
	cel      *cel.Env
	err      error
}

// NewEnv returns an environment over facts.
func NewEnv(facts []Fact) *Env {
	e := &Env{facts: make(map[string]Fact, len(facts)), unknowns: make(map[string]*types.Unknown, len(facts))}
	for _, f := range facts {
		e.facts[f.ID] = f
		e.unknowns[f.ID] = types.NewUnknown(1, types.NewAttributeTrail(f.ID))
		e.names = append(e.names, f.ID)
	}
	slices.Sort(e.names)
	return e
}

// Fact returns the fact called id.
func (e *Env) Fact(id string) (Fact, bool) { f, ok := e.facts[id]; return f, ok }

// Names returns the ids of all facts, sorted.
func (e *Env) Names() []string { return e.names }

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
			cel.Function(operators.LogicalAnd, cel.Overload("logical_and", boolean, cel.BoolType, cel.OverloadIsNonStrict())),
			cel.Function(operators.LogicalOr, cel.Overload("logical_or", boolean, cel.BoolType, cel.OverloadIsNonStrict())),
			cel.Function(operators.LogicalNot, cel.Overload("logical_not", boolean[:1], cel.BoolType,
				cel.UnaryBinding(func(v ref.Val) ref.Val { return v.(types.Bool).Negate() }))),
			cel.Function(operators.Equals, cel.Overload("equals", same, cel.BoolType)),
			cel.Function(operators.NotEquals, cel.Overload("not_equals", same, cel.BoolType)),
			cel.Function(operators.In, cel.Overload("in_list", []*cel.Type{cel.TypeParamType("T"), cel.ListType(cel.TypeParamType("T"))}, cel.BoolType,
				cel.BinaryBinding(contains))),
			cel.Function(operators.Negate, cel.Overload("negate_double", []*cel.Type{cel.DoubleType}, cel.DoubleType,
				cel.UnaryBinding(func(v ref.Val) ref.Val { return v.(types.Double).Negate() }))),
		)
		for op, name := range map[string]string{"<": operators.Less, "<=": operators.LessEquals, ">": operators.Greater, ">=": operators.GreaterEquals} {
			opts = append(opts, cel.Function(name, cel.Overload("quantity_"+name, []*cel.Type{cel.OpaqueType("quantity"), cel.DoubleType},
				cel.BoolType, cel.BinaryBinding(functions.BinaryOp(ordering(op))))))
		}
		e.cel, e.err = cel.NewCustomEnv(opts...)
	})
	return e.cel, e.err
}

// contains reports whether the list on the right holds the value on the left.
func contains(value, list ref.Val) ref.Val {
	l, ok := list.(interface{ Contains(ref.Val) ref.Val })
	if !ok {
		return types.MaybeNoSuchOverloadErr(list)
	}
	return l.Contains(value)
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
	// Facts are the facts the condition reads, sorted.
	Facts []string
	// Cuts are the numbers that a quantity is compared with, by fact: between them it makes no
	// difference where the quantity lies.
	Cuts map[string][]float64
	prg  cel.Program
	expr ast.Expr
	env  *Env
}

// MaxLen is the longest condition that is compiled, in bytes.
const MaxLen = 2000

// Compile checks text against the vocabulary and readies it for evaluation.
func (e *Env) Compile(text string) (*Condition, *Error) {
	if len(text) > MaxLen {
		return nil, &Error{0, fmt.Sprintf("the condition is longer than %d characters", MaxLen)}
	}
	env, err := e.env()
	if err != nil {
		return nil, &Error{0, "the vocabulary cannot be used: " + err.Error()}
	}
	parsed, iss := env.Parse(text)
	if iss.Err() != nil {
		return nil, celError(iss)
	}
	// The walk comes before the type check: its messages speak of facts and answers.
	w := walker{env: e, info: parsed.NativeRep().SourceInfo(), facts: map[string]bool{}, cuts: map[string][]float64{}}
	w.boolean(parsed.NativeRep().Expr())
	if w.err != nil {
		return nil, w.err
	}
	checked, iss := env.Check(parsed)
	if iss.Err() != nil {
		return nil, celError(iss)
	}
	prg, err := env.Program(checked)
	if err != nil {
		return nil, &Error{0, err.Error()}
	}
	c := &Condition{Text: text, Cuts: w.cuts, prg: prg, expr: checked.NativeRep().Expr(), env: e}
	for f := range w.facts {
		c.Facts = append(c.Facts, f)
	}
	slices.Sort(c.Facts)
	return c, nil
}

func celError(iss *cel.Issues) *Error {
	first := iss.Errors()[0]
	msg, _, _ := strings.Cut(first.Message, "\n")
	msg, _, _ = strings.Cut(strings.TrimPrefix(msg, "Syntax error: "), " expecting {") // a list of the parser's own words
	msg = strings.NewReplacer("mismatched input '<EOF>'", "it breaks off", "'<EOF>'", "the end").Replace(msg)
	return &Error{max(first.Location.Column(), 0), "not readable as a condition: " + msg}
}

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

// activation answers every name: with a value or with an unknown that carries the name.
type activation struct {
	lookup   Lookup
	unknowns map[string]*types.Unknown
}

func (a activation) ResolveName(name string) (any, bool) {
	v, ok := a.lookup(name)
	if !ok {
		return a.unknowns[name], true
	}
	if q, isQuantity := v.val.(quantity); isQuantity {
		q.fact = name
		return q, true
	}
	return v.val, true
}

func (a activation) Parent() cel.Activation { return nil }

// Eval judges the condition. The missing facts are sorted, and empty unless the outcome is
// Unknown. The error is that of a rule that cannot be evaluated at all.
func (c *Condition) Eval(lookup Lookup) (Outcome, []string, error) {
	out, _, err := c.prg.Eval(activation{lookup, c.env.unknowns})
	if u, ok := out.(*types.Unknown); ok {
		return Unknown, missing(u), nil
	}
	if err != nil {
		return Unknown, nil, fmt.Errorf("condition %q: %w", c.Text, err)
	}
	switch out {
	case types.True:
		return True, nil, nil
	case types.False:
		return False, nil, nil
	}
	return Unknown, nil, fmt.Errorf("condition %q gives %v, not yes or no", c.Text, out)
}

// missing collects the fact names of an unknown; cel-go keeps them in map order.
func missing(u *types.Unknown) []string {
	var names []string
	for _, id := range u.IDs() {
		trails, _ := u.GetAttributeTrails(id)
		for _, t := range trails {
			names = append(names, t.String())
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

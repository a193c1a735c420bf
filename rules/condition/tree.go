package condition

import (
	"slices"
	"strconv"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// tree is a condition taken apart, to be changed and written again.
type tree struct {
	op   string  // && || ! == != in has < <= > >=, or "" for a yes-or-no fact alone
	kids []*tree // of && and ||, any number; of !, one
	fact string  // of all others
	// answers are what a choice is compared with, or the one that a several-of fact has.
	answers []string
	number  float64 // what a quantity is compared with
}

// taken takes the condition apart, reading its text again: no answer needs this.
func (c *Condition) taken() *tree {
	parsed, _ := c.env.cel.Parse(c.Text)
	return taken(parsed.NativeRep().Expr())
}

// taken takes apart an expression that the walker has passed.
func taken(e ast.Expr) *tree {
	if e.Kind() != ast.CallKind {
		name, _ := dotted(e)
		return &tree{fact: name}
	}
	args := e.AsCall().Args()
	switch op := e.AsCall().FunctionName(); op {
	case operators.LogicalAnd, operators.LogicalOr:
		t := &tree{op: map[string]string{operators.LogicalAnd: "&&", operators.LogicalOr: "||"}[op]}
		for _, a := range args {
			if kid := taken(a); kid.op == t.op { // a && b && c is one clause of three
				t.kids = append(t.kids, kid.kids...)
			} else {
				t.kids = append(t.kids, kid)
			}
		}
		return t
	case operators.LogicalNot:
		return &tree{op: "!", kids: []*tree{taken(args[0])}}
	case operators.Equals, operators.NotEquals:
		name, _ := dotted(args[0])
		return &tree{op: map[string]string{operators.Equals: "==", operators.NotEquals: "!="}[op], fact: name, answers: []string{text(args[1])}}
	case operators.In:
		if args[0].Kind() == ast.LiteralKind {
			name, _ := dotted(args[1])
			return &tree{op: "has", fact: name, answers: []string{text(args[0])}}
		}
		name, _ := dotted(args[0])
		t := &tree{op: "in", fact: name}
		for _, a := range args[1].AsList().Elements() {
			t.answers = append(t.answers, text(a))
		}
		return t
	default:
		name, _ := dotted(args[0])
		t := &tree{op: strings.Trim(op, "_"), fact: name}
		sign, n := 1.0, args[1]
		if n.Kind() == ast.CallKind {
			sign, n = -1, n.AsCall().Args()[0]
		}
		if d, ok := n.AsLiteral().(types.Double); ok {
			t.number = sign * float64(d)
		}
		return t
	}
}

func text(e ast.Expr) string {
	s, _ := e.AsLiteral().(types.String)
	return string(s)
}

// String writes the tree as a condition.
func (t *tree) String() string {
	switch t.op {
	case "":
		return t.fact
	case "&&", "||":
		parts := make([]string, len(t.kids))
		for i, k := range t.kids {
			parts[i] = k.within(t.op)
		}
		return strings.Join(parts, " "+t.op+" ")
	case "!":
		return "!" + t.kids[0].within("!")
	case "has":
		return strconv.Quote(t.answers[0]) + " in " + t.fact
	case "in":
		quoted := make([]string, len(t.answers))
		for i, a := range t.answers {
			quoted[i] = strconv.Quote(a)
		}
		return t.fact + " in [" + strings.Join(quoted, ", ") + "]"
	case "==", "!=":
		return t.fact + " " + t.op + " " + strconv.Quote(t.answers[0])
	}
	n := strconv.FormatFloat(t.number, 'f', -1, 64)
	if !strings.Contains(n, ".") {
		n += ".0"
	}
	return t.fact + " " + t.op + " " + n
}

// within writes the tree as a part of op, in parentheses where it needs them.
func (t *tree) within(op string) string {
	wide := op == "!" && t.op != "" && t.op != "!" || op == "&&" && t.op == "||"
	if wide {
		return "(" + t.String() + ")"
	}
	return t.String()
}

// opposite of an operator that compares.
var opposite = map[string]string{"==": "!=", "!=": "==", "<": ">=", ">=": "<", ">": "<=", "<=": ">"}

func (t *tree) negated() *tree {
	if t.op == "!" {
		return t.kids[0]
	}
	if op, ok := opposite[t.op]; ok {
		n := *t
		n.op = op
		return &n
	}
	return &tree{op: "!", kids: []*tree{t}}
}

// eval judges the tree as Condition.Eval would, without what is missing.
func (t *tree) eval(lookup Lookup) Outcome {
	switch t.op {
	case "&&", "||":
		settles := map[string]Outcome{"&&": False, "||": True}[t.op]
		out := False + True - settles
		for _, k := range t.kids {
			switch o := k.eval(lookup); o {
			case settles:
				return o
			case Unknown:
				out = Unknown
			}
		}
		return out
	case "!":
		return [...]Outcome{Unknown, True, False}[t.kids[0].eval(lookup)]
	}
	v, known := lookup(t.fact)
	if !known {
		return Unknown
	}
	switch t.op {
	case "":
		return truth(v.yes)
	case "==":
		return truth(v.Choice() == t.answers[0])
	case "!=":
		return truth(v.Choice() != t.answers[0])
	case "in":
		return truth(slices.Contains(t.answers, v.Choice()))
	case "has":
		return truth(slices.Contains(v.set, t.answers[0]))
	}
	switch ordering(t.op)(quantity{rng: v.rng}, types.Double(t.number)) {
	case types.True:
		return True
	case types.False:
		return False
	}
	return Unknown
}

func truth(yes bool) Outcome {
	if yes {
		return True
	}
	return False
}

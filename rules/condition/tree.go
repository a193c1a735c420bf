package condition

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// Op is what a node of a Tree does.
type Op int

// The nodes of a Tree.
const (
	Is  Op = iota // a choice is one of Answers, several hold all of them (it is one), a yes or no is yes
	Cut           // a quantity stands as Than says to Number
	Not           // of its only part
	And
	Or
)

// Tree is a condition as it was checked, for those who reason about conditions instead of judging
// them. It says nothing of CEL.
type Tree struct {
	Op      Op
	Parts   []*Tree
	Fact    string
	Answers []string
	Than    string // one of < <= > >=
	Number  float64
	several bool // Fact takes several answers
	at      int  // the place of Fact among the names of the vocabulary, in a condition that was compiled
}

// Tree returns the condition's tree; && and || of many parts lie flat. Nobody may change it.
func (c *Condition) Tree() *Tree { return c.tree }

// each calls do for every test in the tree, from left to right.
func (t *Tree) each(do func(*Tree)) {
	if t.Op == Is || t.Op == Cut {
		do(t)
	}
	for _, p := range t.Parts {
		p.each(do)
	}
}

// treeOf relies on the walk that every condition has passed.
func treeOf(e ast.Expr) *Tree {
	if e.Kind() != ast.CallKind {
		name, _ := dotted(e)
		return &Tree{Op: Is, Fact: name}
	}
	call := e.AsCall()
	args := call.Args()
	switch op := call.FunctionName(); op {
	case operators.LogicalNot:
		return &Tree{Op: Not, Parts: []*Tree{treeOf(args[0])}}
	case operators.LogicalAnd, operators.LogicalOr:
		t := &Tree{Op: map[string]Op{operators.LogicalAnd: And, operators.LogicalOr: Or}[op]}
		for _, a := range args {
			if part := treeOf(a); part.Op == t.Op {
				t.Parts = append(t.Parts, part.Parts...)
			} else {
				t.Parts = append(t.Parts, part)
			}
		}
		return t
	case operators.Equals, operators.NotEquals:
		name, _ := dotted(args[0])
		is := &Tree{Op: Is, Fact: name, Answers: []string{text(args[1])}}
		if op == operators.NotEquals {
			return &Tree{Op: Not, Parts: []*Tree{is}}
		}
		return is
	case operators.In:
		if args[0].Kind() == ast.LiteralKind {
			name, _ := dotted(args[1])
			return &Tree{Op: Is, Fact: name, Answers: []string{text(args[0])}, several: true}
		}
		name, _ := dotted(args[0])
		is := &Tree{Op: Is, Fact: name}
		for _, a := range args[1].AsList().Elements() {
			is.Answers = append(is.Answers, text(a))
		}
		return is
	default:
		name, _ := dotted(args[0])
		return &Tree{Op: Cut, Fact: name, Than: orderings[op], Number: number(args[1])}
	}
}

var orderings = map[string]string{operators.Less: "<", operators.LessEquals: "<=", operators.Greater: ">", operators.GreaterEquals: ">="}

func text(e ast.Expr) string {
	s, _ := e.AsLiteral().(types.String)
	return string(s)
}

func number(e ast.Expr) float64 {
	if e.Kind() == ast.CallKind {
		return -number(e.AsCall().Args()[0])
	}
	d, _ := e.AsLiteral().(types.Double)
	return float64(d)
}

// String writes the tree as a condition that compiles to it.
func (t *Tree) String() string {
	switch t.Op {
	case Is:
		switch {
		case len(t.Answers) == 0:
			return t.Fact
		case t.several:
			return fmt.Sprintf("%q in %s", t.Answers[0], t.Fact)
		case len(t.Answers) == 1:
			return fmt.Sprintf("%s == %q", t.Fact, t.Answers[0])
		}
		return fmt.Sprintf(`%s in ["%s"]`, t.Fact, strings.Join(t.Answers, `", "`))
	case Cut:
		n := strconv.FormatFloat(t.Number, 'f', -1, 64)
		if !strings.Contains(n, ".") {
			n += ".0"
		}
		return t.Fact + " " + t.Than + " " + n
	case Not:
		part := t.Parts[0]
		switch {
		case part.Op == Is && len(part.Answers) == 1 && !part.several:
			return fmt.Sprintf("%s != %q", part.Fact, part.Answers[0])
		case part.Op == Is && len(part.Answers) == 0:
			return "!" + part.Fact
		}
		return "!(" + part.String() + ")"
	}
	texts := make([]string, len(t.Parts))
	for i, p := range t.Parts {
		texts[i] = p.String()
		if p.Op == And || p.Op == Or {
			texts[i] = "(" + texts[i] + ")"
		}
	}
	return strings.Join(texts, map[Op]string{And: " && ", Or: " || "}[t.Op])
}

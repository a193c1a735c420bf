package condition

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"

	"mendwright/rules/strictyaml"
)

// walker checks that an expression stays within the rule language.
type walker struct {
	env  *Env
	info *ast.SourceInfo
	err  *Error
}

func (w *walker) fail(e ast.Expr, format string, args ...any) {
	if w.err == nil {
		w.err = &Error{int(w.start(e)), fmt.Sprintf(format, args...)}
	}
}

// start is the leftmost character of an expression; cel-go places a call at its operator.
func (w *walker) start(e ast.Expr) int32 {
	r, ok := w.info.GetOffsetRange(e.ID())
	if !ok {
		return 0
	}
	at := r.Start
	if e.Kind() == ast.SelectKind {
		at = w.start(e.AsSelect().Operand())
	}
	return at
}

const allowed = "a condition may use facts, answers, numbers, == != in < <= > >= && || ! and parentheses"

// boolean checks an expression that must be true or false.
func (w *walker) boolean(e ast.Expr) {
	switch e.Kind() {
	case ast.IdentKind, ast.SelectKind:
		if f, ok := w.fact(e); ok && f.Kind != YesNo {
			w.fail(e, "%s is a %s and cannot stand alone as yes or no", f.ID, f.Kind)
		}
	case ast.CallKind:
		w.call(e)
	default:
		w.fail(e, "%s", allowed)
	}
}

func (w *walker) call(e ast.Expr) {
	call := e.AsCall()
	args := call.Args()
	switch op := call.FunctionName(); op {
	case operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot:
		for _, a := range args {
			w.boolean(a)
		}
	case operators.Equals, operators.NotEquals:
		w.equality(e, args)
	case operators.In:
		w.membership(e, args)
	case operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals:
		f, ok := w.fact(args[0])
		if !ok {
			return
		}
		if f.Kind != Quantity {
			w.fail(args[0], "%s is a %s; only a quantity can be more or less than something", f.ID, f.Kind)
		}
		w.number(args[1])
	default:
		w.fail(e, "%s", allowed)
	}
}

// number checks the right side of an ordering: a number with a decimal point.
func (w *walker) number(e ast.Expr) {
	if e.Kind() == ast.CallKind && e.AsCall().FunctionName() == operators.Negate {
		e = e.AsCall().Args()[0]
	}
	if e.Kind() == ast.IdentKind || e.Kind() == ast.SelectKind {
		w.fail(e, "a quantity is compared with a number, not with another fact; what joins two facts is a computed fact")
		return
	}
	if e.Kind() != ast.LiteralKind {
		w.fail(e, "a quantity is compared with a number")
		return
	}
	switch v := e.AsLiteral().(type) {
	case types.Double:
	case types.Int:
		w.fail(e, "write the number with a decimal point, such as %d.0", v)
	default:
		w.fail(e, "a quantity is compared with a number")
	}
}

func (w *walker) equality(e ast.Expr, args []ast.Expr) {
	f, ok := w.fact(args[0])
	if !ok {
		return
	}
	switch f.Kind {
	case Choice:
		w.answer(f, args[1])
	case YesNo:
		w.fail(args[0], "%s is yes or no; write it alone, or with ! before it", f.ID)
	case Quantity:
		w.fail(args[0], "%s is measured, and no measurement is exact; use < <= > or >=", f.ID)
	case Several:
		w.fail(args[0], `%s has several answers; write "answer" in %s`, f.ID, f.ID)
	}
}

func (w *walker) membership(e ast.Expr, args []ast.Expr) {
	if args[0].Kind() == ast.LiteralKind { // "answer" in several-of fact
		if f, ok := w.fact(args[1]); ok {
			if f.Kind != Several {
				w.fail(args[1], "%s does not have several answers", f.ID)
				return
			}
			w.answer(f, args[0])
		}
		return
	}
	f, ok := w.fact(args[0])
	if !ok {
		return
	}
	if f.Kind != Choice {
		w.fail(args[0], "%s is a %s; only a choice can be one of a list", f.ID, f.Kind)
		return
	}
	if args[1].Kind() != ast.ListKind || args[1].AsList().Size() == 0 {
		w.fail(args[1], "expected a list of answers in brackets")
		return
	}
	for _, a := range args[1].AsList().Elements() {
		w.answer(f, a)
	}
}

// answer checks that e is one of the answers f declares.
func (w *walker) answer(f Fact, e ast.Expr) {
	if e.Kind() == ast.IdentKind || e.Kind() == ast.SelectKind {
		w.fail(e, "%s is compared with one of its answers in quotes, not with another fact", f.ID)
		return
	}
	s, ok := types.String(""), false
	if e.Kind() == ast.LiteralKind {
		s, ok = e.AsLiteral().(types.String)
	}
	if !ok {
		w.fail(e, "expected an answer of %s in quotes", f.ID)
		return
	}
	if !slices.Contains(f.Answers, string(s)) {
		w.fail(e, "%q is not an answer of %s%s; its answers are %s", string(s), f.ID, strictyaml.Nearest(string(s), f.Answers), strings.Join(f.Answers, ", "))
	}
}

// fact resolves e as the name of a fact.
func (w *walker) fact(e ast.Expr) (Fact, bool) {
	name, ok := dotted(e)
	if !ok {
		w.fail(e, "expected a fact such as surface.layer on the left")
		return Fact{}, false
	}
	f, ok := w.env.facts[name]
	if !ok {
		w.fail(e, "there is no fact %q%s", name, strictyaml.Nearest(name, w.env.names))
		return Fact{}, false
	}
	return f, true
}

func dotted(e ast.Expr) (string, bool) {
	switch e.Kind() {
	case ast.IdentKind:
		return e.AsIdent(), true
	case ast.SelectKind:
		s := e.AsSelect()
		if s.IsTestOnly() {
			return "", false
		}
		left, ok := dotted(s.Operand())
		return left + "." + s.FieldName(), ok
	}
	return "", false
}

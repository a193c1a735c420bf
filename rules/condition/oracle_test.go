package condition

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/functions"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules/interval"
)

// oracle has CEL itself judge conditions, with unknowns for what is not known, so that the trees of
// this package can be held to what CEL makes of the same text.
func oracle(t testing.TB, e *Env) *cel.Env {
	t.Helper()
	env, err := e.env()
	require.NoError(t, err)
	boolean := []*cel.Type{cel.BoolType, cel.BoolType}
	opts := []cel.EnvOption{
		cel.Function(operators.LogicalNot, cel.Overload("logical_not", boolean[:1], cel.BoolType,
			cel.UnaryBinding(func(v ref.Val) ref.Val { return v.(types.Bool).Negate() }))),
		cel.Function(operators.In, cel.Overload("in_list", []*cel.Type{cel.TypeParamType("T"), cel.ListType(cel.TypeParamType("T"))}, cel.BoolType,
			cel.BinaryBinding(func(v, list ref.Val) ref.Val { return list.(interface{ Contains(ref.Val) ref.Val }).Contains(v) }))),
		cel.Function(operators.Negate, cel.Overload("negate_double", []*cel.Type{cel.DoubleType}, cel.DoubleType,
			cel.UnaryBinding(func(v ref.Val) ref.Val { return v.(types.Double).Negate() }))),
	}
	for name, op := range orderings {
		opts = append(opts, cel.Function(name, cel.Overload("quantity_"+op, []*cel.Type{cel.OpaqueType("quantity"), cel.DoubleType},
			cel.BoolType, cel.BinaryBinding(functions.BinaryOp(ordering(op))))))
	}
	env, err = env.Extend(opts...)
	require.NoError(t, err)
	return env
}

// asCEL judges a condition with CEL.
func asCEL(t testing.TB, env *cel.Env, text string, lookup Lookup) (Outcome, []string) {
	t.Helper()
	checked, iss := env.Compile(text)
	require.NoError(t, iss.Err(), text)
	prg, err := env.Program(checked)
	require.NoError(t, err, text)
	out, _, err := prg.Eval(activation{lookup})
	if u, ok := out.(*types.Unknown); ok {
		var names []string
		for _, id := range u.IDs() {
			trails, _ := u.GetAttributeTrails(id)
			for _, trail := range trails {
				names = append(names, trail.String())
			}
		}
		slices.Sort(names)
		return Unknown, slices.Compact(names)
	}
	require.NoError(t, err, text)
	return of(bool(out.(types.Bool))), nil
}

// activation answers every name: with a value or with an unknown that carries the name.
type activation struct{ lookup Lookup }

func (a activation) ResolveName(name string) (any, bool) {
	v, ok := a.lookup(name)
	if !ok {
		return types.NewUnknown(1, types.NewAttributeTrail(name)), true
	}
	switch v.kind {
	case Choice:
		return types.String(v.Choice()), true
	case Several:
		return types.NewStringList(types.DefaultTypeAdapter, v.set), true
	case YesNo:
		return types.Bool(v.yes), true
	}
	return quantity{name, v}, true
}

func (a activation) Parent() cel.Activation { return nil }

// quantity is a measured value as CEL is shown it.
type quantity struct {
	fact string
	v    Value
}

func ordering(op string) func(lhs, rhs ref.Val) ref.Val {
	return func(lhs, rhs ref.Val) ref.Val {
		q := lhs.(quantity)
		r, n := q.v.rng, float64(rhs.(types.Double))
		var lo, hi bool
		switch op {
		case "<":
			lo, hi = r.Lo < n, r.Hi < n
		case "<=":
			lo, hi = r.Lo <= n, r.Hi <= n
		case ">":
			lo, hi = r.Lo > n, r.Hi > n
		case ">=":
			lo, hi = r.Lo >= n, r.Hi >= n
		}
		if lo != hi { // it straddles the number
			return types.NewUnknown(1, types.NewAttributeTrail(q.fact))
		}
		return types.Bool(lo)
	}
}

func (q quantity) ConvertToNative(reflect.Type) (any, error) { return nil, fmt.Errorf("no") }
func (q quantity) ConvertToType(ref.Type) ref.Val            { return types.NewErr("no") }
func (q quantity) Equal(ref.Val) ref.Val                     { return types.NewErr("no") }
func (q quantity) Type() ref.Type                            { return types.NewObjectType("quantity") }
func (q quantity) Value() any                                { return q.v }

// answersTo are answers to a fact that a condition can tell apart, with not known as the nil.
func answersTo(f Fact, cuts []float64) []*Value {
	out := []*Value{nil}
	add := func(v Value) { out = append(out, &v) }
	switch f.Kind {
	case YesNo:
		add(Yes(true))
		add(Yes(false))
	case Choice:
		for _, a := range f.Answers {
			add(Pick(a))
		}
	case Several:
		add(PickSeveral())
		add(PickSeveral(f.Answers...))
		for _, a := range f.Answers {
			add(PickSeveral(a))
		}
	case Quantity:
		for _, c := range cuts {
			add(Measured(rangeOf(c, c)))
			add(Measured(rangeOf(c-1, c)))
			add(Measured(rangeOf(c, c+1)))
			add(Measured(rangeOf(c-2, c-1)))
			add(Measured(rangeOf(c+1, c+2)))
			add(Measured(rangeOf(c-1, c+1)))
		}
	}
	return out
}

// agrees holds one condition to what CEL makes of it: the same tree, and over many combinations of
// answers, known and not, the same outcome for want of the same facts.
func agrees(t testing.TB, e *Env, env *cel.Env, text string) {
	t.Helper()
	is := quick(e, text)
	if is == nil {
		return
	}
	want, refused := e.check(text)
	require.Nil(t, refused, "read, but CEL refuses it: %q", text)
	require.Equal(t, want, is, text)
	c, refused := e.Compile(text)
	require.Nil(t, refused)
	var choices [][]*Value
	for _, id := range c.Facts {
		choices = append(choices, answersTo(e.facts[id], c.Cuts[id]))
	}
	step := 1
	all := 1
	for _, vs := range choices {
		if all *= len(vs); all > 1<<20 {
			all = 1 << 20
		}
	}
	if all > 40 {
		step = all/40 | 1
	}
	for n := 0; n < all; n += step {
		at, given := n, map[string]*Value{}
		for i, id := range c.Facts {
			given[id] = choices[i][at%len(choices[i])]
			at /= len(choices[i])
		}
		lookup := func(id string) (Value, bool) {
			if v := given[id]; v != nil {
				return *v, true
			}
			return Value{}, false
		}
		out, missing, err := c.Eval(lookup)
		require.NoError(t, err)
		wantOut, wantMissing := asCEL(t, env, text, lookup)
		assert.Equal(t, wantOut, out, "%s with %v", text, given)
		assert.Equal(t, wantMissing, missing, "%s with %v", text, given)

		by := places{e, lookup}
		out, err = c.Judge(by)
		require.NoError(t, err)
		assert.Equal(t, wantOut, out, "%s by place with %v", text, given)
		waits := c.Missing(by, []int{-1})
		require.Len(t, waits, 1+len(wantMissing), "%s by place with %v", text, given)
		for i, id := range wantMissing {
			assert.Equal(t, id, e.Names()[waits[i+1]], "%s by place with %v", text, given)
		}
	}
}

// places looks answers up by place.
type places struct {
	env    *Env
	lookup Lookup
}

func (p places) Answer(at int) *Value {
	if v, ok := p.lookup(p.env.Names()[at]); ok {
		return &v
	}
	return nil
}

var quoted = regexp.MustCompile(`"([^"]*)"`)

// TestPlainConditionsAreJudgedAsCELJudgesThem takes the conditions of the built-in rulebook and those at the
// edge of what is read without CEL.
func TestPlainConditionsAreJudgedAsCELJudgesThem(t *testing.T) {
	e := NewEnv(edgeFacts)
	env := oracle(t, e)
	for _, text := range edges {
		agrees(t, e, env, text)
	}
	e, texts := builtIn(t)
	env = oracle(t, e)
	left := 0
	for _, text := range texts {
		if quick(e, text) == nil {
			left++
		}
		agrees(t, e, env, text)
	}
	assert.Less(t, 20*left, len(texts), "too many are left to CEL")
}

var edgeFacts = []Fact{{"surface.waxed", YesNo, nil}, {"surface.layer", Choice, []string{"solid", "veneer", "foil"}}, {"surface.film_mm", Quantity, nil},
	{"shop.tools", Several, []string{"iron", "plane"}}, {"shop.in", YesNo, nil}}

var edges = []string{
	"surface.waxed", "!surface.waxed", "!!surface.waxed", "(surface.waxed)", "((surface.waxed))", "surface.waxed || !surface.waxed && surface.waxed", "!(surface.waxed || surface.film_mm < 1.0)",
	`surface.layer == "solid"`, `surface.layer=="solid"`, `surface.layer != "foil"`, `surface.layer in ["solid","foil"]`, `surface.layer in []`, `surface.layer in ["solid",]`, `! surface.layer == "solid"`,
	`surface.layer == 'solid'`, `surface.layer == "oak"`, `"iron" in shop.tools`, `"iron" in surface.layer`, `iron in shop.tools`, "surface.film_mm < 1", "surface.film_mm < 1.0", "surface.film_mm<-1.0",
	"surface.film_mm < - 1.0", "surface.film_mm <= 1.", "surface.film_mm <= .5", "surface.film_mm > 1.5e3", "surface.film_mm >= 2.0.1", "1.0 < surface.film_mm", "surface.film_mm == 1.0",
	"shop.in", "surface . waxed", "surface.waxed == true", "surface.waxed &&", "surface.waxed & surface.waxed", "surface.waxed surface.waxed", `surface.layerin ["solid"]`, `surface.layer in["solid"]`, `surface.layer=="solid"&&surface.waxed`,
	`"iron"in shop.tools`, `"iron" inshop.tools`, "!surface.waxed == surface.waxed", "!(surface.waxed) in shop.tools", "surface.film_mm < 1.0 < 2.0", "surface.waxed // yes", "surface.waxed ? surface.waxed : surface.waxed", "", " ", "(", ")", "!",
	"surface.film_mm < 1.0u", "surface.film_mm < 01.0", "surface.film_mm < 1_0.0", `surface.layer == "so" + "lid"`, `surface.layer == b"solid"`, `surface.waxed[0]`, `surface.waxed.layer`, `.surface.waxed`, "surface.film_mm < 1.0&&surface.waxed", "surface.film_mm < 1.0in",
	"-surface.waxed", "surface.waxed||surface.waxed||surface.waxed", "(surface.waxed || surface.waxed) || surface.waxed",
}

// builtIn returns the conditions of the built-in rulebook with facts of their names, read from them as
// text: this package knows no rulebook.
func builtIn(t testing.TB) (*Env, []string) {
	t.Helper()
	facts := map[string]*Fact{}
	var texts []string
	paths, err := filepath.Glob("../../knowledge/*/*.yaml")
	require.NoError(t, err)
	name := regexp.MustCompile(`\b(?:piece|surface|defect|shop|air|coat|sand|sanding|vapour|weather|pairing|equilibrium)\.[a-z_0-9]+`)
	when := regexp.MustCompile(`(?m)(?:when|suits|applies): ("(?:[^"\\]|\\.)*"|[^\n]*)$`)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, m := range when.FindAllStringSubmatch(string(data), -1) {
			text := m[1]
			if strings.HasPrefix(text, `"`) {
				text = strings.NewReplacer(`\"`, `"`, `\\`, `\`).Replace(text[1 : len(text)-1])
			}
			if !name.MatchString(text) || strings.HasPrefix(text, "{") {
				continue
			}
			texts = append(texts, text)
			for _, id := range name.FindAllString(text, -1) {
				if facts[id] == nil {
					facts[id] = &Fact{ID: id, Kind: YesNo}
				}
			}
			for _, m := range regexp.MustCompile(`([a-z]+\.[a-z_0-9]+) *(==|!=|in|<=|>=|<|>) *(\[[^\]]*\]|"[^"]*"|-?[0-9.]+)`).FindAllStringSubmatch(text, -1) {
				f := facts[m[1]]
				if strings.ContainsAny(m[2], "<>") {
					f.Kind = Quantity
					continue
				}
				f.Kind = Choice
				for _, a := range quoted.FindAllStringSubmatch(m[3], -1) {
					if !slices.Contains(f.Answers, a[1]) {
						f.Answers = append(f.Answers, a[1])
					}
				}
			}
		}
	}
	require.Greater(t, len(texts), 300)
	var all []Fact
	for _, f := range facts {
		all = append(all, *f)
	}
	return NewEnv(all), texts
}

// FuzzQuickCondition looks for a text that is read otherwise than CEL reads it.
func FuzzQuickCondition(f *testing.F) {
	for _, text := range edges {
		f.Add(text)
	}
	e := NewEnv(edgeFacts)
	env := oracle(f, e)
	f.Fuzz(func(t *testing.T, text string) { agrees(t, e, env, text) })
}

func rangeOf(lo, hi float64) interval.Range { return interval.Range{Lo: lo, Hi: hi} }

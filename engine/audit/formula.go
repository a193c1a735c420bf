package audit

import "slices"

// op is what a node of a formula does.
type op int

const (
	never op = iota
	always
	within // the variable is in one of the cells
	both   // all parts
	either // at least one part
)

// formula is a statement about variables with finitely many cells. It needs no "not": what is not
// in some cells is in the others.
type formula struct {
	op    op
	of    *variable
	cells cells
	parts []*formula
	not   *formula // the opposite, once it was asked for
}

var no, yes = &formula{op: never}, &formula{op: always}

func in(v *variable, c cells) *formula {
	switch {
	case c.empty():
		return no
	case c.count() == v.size():
		return yes
	}
	return &formula{op: within, of: v, cells: c}
}

func all(parts ...*formula) *formula  { return join(both, never, always, parts) }
func some(parts ...*formula) *formula { return join(either, always, never, parts) }

// join makes a node whose value is that of a deciding part, and of nothing but idle parts is idle.
func join(o, decides, idle op, parts []*formula) *formula {
	out := make([]*formula, 0, len(parts))
	for _, p := range parts {
		switch {
		case p.op == decides:
			return p
		case p.op == idle:
		case p.op == o:
			out = append(out, p.parts...)
		default:
			out = append(out, p)
		}
	}
	switch len(out) {
	case 0:
		if idle == always {
			return yes
		}
		return no
	case 1:
		return out[0]
	}
	return &formula{op: o, parts: out}
}

// opposite is true where f is not.
func opposite(f *formula) *formula {
	if f.not != nil {
		return f.not
	}
	var n *formula
	switch f.op {
	case never:
		return yes
	case always:
		return no
	case within:
		n = in(f.of, allOf(f.of.size()).without(f.cells))
	default:
		parts := make([]*formula, len(f.parts))
		for i, p := range f.parts {
			parts[i] = opposite(p)
		}
		if f.op == both {
			n = some(parts...)
		} else {
			n = all(parts...)
		}
	}
	f.not = n
	if n.op > always {
		n.not = f
	}
	return n
}

// atLeast is true where k of the parts are.
func atLeast(k int, parts []*formula) *formula {
	open := make([]*formula, 0, len(parts))
	for _, p := range parts {
		switch p.op {
		case always:
			k--
		case never:
		default:
			open = append(open, p)
		}
	}
	// have[j] is "at least j of those that were looked at".
	if k <= 0 {
		return yes
	}
	if k > len(open) {
		return no
	}
	have := make([]*formula, k+1)
	have[0] = yes
	for j := 1; j <= k; j++ {
		have[j] = no
	}
	for _, p := range open {
		for j := k; j > 0; j-- {
			have[j] = some(have[j], all(have[j-1], p))
		}
	}
	return have[k]
}

// variables lists those of the formulas, each once, in the order in which they were made.
func variables(fs ...*formula) []*variable {
	seen := map[*variable]bool{}
	done := map[*formula]bool{}
	var out []*variable
	var walk func(f *formula)
	walk = func(f *formula) {
		if done[f] {
			return
		}
		done[f] = true
		if f.op == within && !seen[f.of] {
			seen[f.of] = true
			out = append(out, f.of)
		}
		for _, p := range f.parts {
			walk(p)
		}
	}
	for _, f := range fs {
		walk(f)
	}
	slices.SortFunc(out, func(a, b *variable) int { return a.index - b.index })
	return out
}

package audit

import (
	"slices"
	"strings"

	"mendwright/rules"
)

// best finds methods that are never the best, once everything is answered that applies: whenever one
// is ready, another that is ready ranks before it. A method may say under `beside` why it stands
// although that one other always comes first; then it must be the best but for it.
//
// Everything is tried that could make it the best: what is reckoned of a repair may come out in any
// way. So what is reported is so.
func (a *audit) best() {
	for _, m := range a.book.Methods() {
		if a.deadFor[m] {
			continue
		}
		var beside *rules.Method
		if m.Beside != nil {
			beside = a.book.Method(m.Beside.Method)
		}
		var shown []string
		var witness Witness
		can, ever := false, false
		for _, d := range a.treats(m) {
			r := a.bestFor(m, d, beside)
			if r.best || !r.known {
				can = true
				break
			}
			if r.ready {
				ever = true
				shown = append(shown, d.ID+" behind "+strings.Join(r.behind, ", "))
				if witness.Answers == nil {
					witness = r.witness
				}
			}
		}
		switch {
		case !can && ever:
			but := ""
			if beside != nil {
				but = ", even without " + beside.ID
			}
			a.fault("never-best", m.Pos, witness, "%s is never the best%s: for %s", m.ID, but, strings.Join(shown, "; for "))
		case can && beside != nil && a.bestAnywhere(m):
			a.note("idle", m.Beside.Pos, Witness{}, "%s can be the best as it is; it needs no beside", m.ID)
		}
	}
}

// standing is what was found of a method and a kind.
type standing struct {
	known, ready, best bool
	behind             []string // the methods that between them always come first
	witness            Witness  // answers under which one of them does
	world              world    // in which it is the best
}

// bestFor looks for answers under which a method is the best for a kind, leaving one rival out.
// Rivals come in one by one, as they turn out to stand in the way.
func (a *audit) bestFor(m *rules.Method, d *rules.Defect, besides *rules.Method) standing {
	w := a.weigh(m)
	fs := []*formula{w.kinds[d], w.ready}
	var in []*rules.Method
	var example Witness
	for {
		world, found, known := a.solve(fs...)
		if !known {
			return standing{}
		}
		if !found {
			break
		}
		world = a.settle(world)
		i := slices.IndexFunc(a.book.Methods(), func(o *rules.Method) bool {
			if o == m || o == besides || slices.Contains(in, o) || !world.shows(a.weigh(o).certain) || !world.shows(a.weigh(o).ready) {
				return false
			}
			return world.shows(a.before(o, m))
		})
		if i < 0 {
			return standing{known: true, ready: true, best: true, world: world}
		}
		rival := a.book.Methods()[i]
		if in == nil {
			lead := []*formula{w.kinds[d], w.ready, a.beats(rival, m)}
			example = a.example(world, lead...)
		}
		in = append(in, rival)
		fs = append(fs, opposite(a.beats(rival, m)))
	}
	s := standing{known: true, ready: len(in) > 0, witness: example}
	// Name only those rivals that are needed.
	for i := 0; i < len(in); {
		rest := slices.Delete(slices.Clone(in), i, i+1)
		fs := []*formula{w.kinds[d], w.ready}
		for _, o := range rest {
			fs = append(fs, opposite(a.beats(o, m)))
		}
		if a.possible(fs...) {
			i++
		} else {
			in = rest
		}
	}
	for _, o := range in {
		s.behind = append(s.behind, o.ID)
	}
	return s
}

// beats is true where x is ready and ranks before y.
func (a *audit) beats(x, y *rules.Method) *formula {
	w := a.weigh(x)
	return all(w.certain, w.ready, a.before(x, y))
}

// bestAnywhere reports whether a method is the best for some kind with all rivals in.
func (a *audit) bestAnywhere(m *rules.Method) bool {
	return slices.ContainsFunc(a.treats(m), func(d *rules.Defect) bool { return a.bestFor(m, d, nil).best })
}

// settle answers what a world leaves open.
func (a *audit) settle(w world) world {
	w = slices.Concat(w, make(world, len(a.vars)-len(w)))
	for _, v := range a.vars {
		c := w.cells(v)
		first := 0
		for !c.has(first) {
			first++
		}
		w[v.index] = cellsOf(v.n, func(i int) bool { return i == first })
	}
	return w
}

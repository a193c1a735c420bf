package audit

// world is a set of answers: for each variable, by its index, the cells that it may lie in; nil where all are open.
type world []cells

func (w world) cells(v *variable) cells {
	if v.index < len(w) && w[v.index] != nil {
		return w[v.index]
	}
	return v.whole
}

// holds reports whether f is true, and whether it is false, wherever in the world one looks.
func (w world) holds(f *formula) (is, not bool) {
	switch f.op {
	case never:
		return false, true
	case always:
		return true, false
	case within:
		c := w.cells(f.of)
		return c.within(f.cells), !c.meets(f.cells)
	}
	undecided := false
	for _, p := range f.parts {
		t, n := w.holds(p)
		switch {
		case f.op == both && n:
			return false, true
		case f.op == either && t:
			return true, false
		case !t && !n:
			undecided = true
		}
	}
	if undecided {
		return false, false
	}
	return f.op == both, f.op == either
}

// shows reports whether f is true in the world, whatever is still open.
func (w world) shows(f *formula) bool {
	t, _ := w.holds(f)
	return t
}

// maxTries bounds a search. The hardest question of a rulebook takes some dozens.
const maxTries = 5000

// search looks for a world in which formulas are true. It branches on the parts of an "either"
// and keeps what follows as it goes; failures tell it where to branch first.
type search struct {
	world world
	trail []step
	tries int
	fails map[int]int // by the place of the formula asked for
}

type step struct {
	at  int
	was cells
}

// task is what is left of one of the formulas asked for.
type task struct {
	f    *formula
	from int
}

// solve finds a world in which all formulas are true. known is false where the search was given up.
func (a *audit) solve(fs ...*formula) (w world, found, known bool) {
	s := &search{world: make(world, len(a.vars)), fails: map[int]int{}}
	tasks := make([]task, len(fs))
	for i, f := range fs {
		tasks[i] = task{f, i}
	}
	found = s.run(tasks)
	if s.tries > maxTries {
		a.undecided++
		return nil, false, false
	}
	return s.world, found, true
}

// possible reports whether some world makes all formulas true; where nobody knows, it is taken to be.
func (a *audit) possible(fs ...*formula) bool {
	_, found, known := a.solve(fs...)
	return found || !known
}

func (s *search) run(tasks []task) bool {
	s.tries++
	if s.tries > maxTries {
		return false
	}
	for again := true; again; {
		again = false
		var open []task
		for _, t := range tasks {
			f := s.reduce(t.f)
			parts := []*formula{f}
			if f.op == both {
				parts = f.parts
			}
			for _, p := range parts {
				switch p.op {
				case never:
					s.fails[t.from]++
					return false
				case always:
				case within:
					if !s.narrow(p) {
						s.fails[t.from]++
						return false
					}
					again = true
				default:
					open = append(open, task{p, t.from})
				}
			}
		}
		tasks = open
	}
	if len(tasks) == 0 {
		return true
	}
	best := 0
	for i, t := range tasks {
		b := tasks[best]
		if (1+s.fails[t.from])*len(b.f.parts) > (1+s.fails[b.from])*len(t.f.parts) {
			best = i
		}
	}
	chosen := tasks[best]
	rest := append(append([]task{}, tasks[:best]...), tasks[best+1:]...)
	mark := len(s.trail)
	for _, p := range chosen.f.parts {
		at := len(s.trail)
		if s.run(append([]task{{p, chosen.from}}, rest...)) {
			return true
		}
		s.undo(at)
		// This part was tried in vain; where it can be said in one word, it need not be tried again.
		if n := s.reduce(opposite(p)); n.op == never || n.op == within && !s.narrow(n) {
			break
		}
	}
	s.undo(mark)
	return false
}

// narrow keeps a variable to cells; false if none are left.
func (s *search) narrow(f *formula) bool {
	was := s.world.cells(f.of)
	now := was.and(f.cells)
	if now.empty() {
		return false
	}
	s.trail = append(s.trail, step{f.of.index, s.world[f.of.index]})
	s.world[f.of.index] = now
	return true
}

func (s *search) undo(to int) {
	for len(s.trail) > to {
		last := s.trail[len(s.trail)-1]
		s.trail = s.trail[:len(s.trail)-1]
		s.world[last.at] = last.was
	}
}

// reduce is what the world leaves of a formula.
func (s *search) reduce(f *formula) *formula {
	switch f.op {
	case never, always:
		return f
	case within:
		switch c := s.world.cells(f.of); {
		case c.within(f.cells):
			return yes
		case !c.meets(f.cells):
			return no
		}
		return f
	}
	var out []*formula // nil while nothing has changed
	for i, p := range f.parts {
		r := s.reduce(p)
		switch {
		case f.op == both && r.op == never || f.op == either && r.op == always:
			return r
		case out == nil && r == p:
			continue
		case out == nil:
			out = append(make([]*formula, 0, len(f.parts)), f.parts[:i]...)
		}
		out = append(out, r)
	}
	if out == nil {
		return f
	}
	if f.op == both {
		return all(out...)
	}
	return some(out...)
}

package engine

import "mendwright/rules"

// citedBy looks up what stands behind the source ids that each yields.
func citedBy(book *rules.Book, ids func(func([]string))) map[string]Cited {
	out := map[string]Cited{}
	ids(func(list []string) {
		for _, id := range list {
			if src := book.Sources[id]; src != nil {
				out[id] = Cited{src.Kind, src.Title, src.Where}
			}
		}
	})
	return out
}

// CitedBy looks up what stands behind source ids; one that is not declared is left out.
func CitedBy(book *rules.Book, ids []string) map[string]Cited {
	return citedBy(book, func(yield func([]string)) { yield(ids) })
}

func (a *Answer) sources() func(func([]string)) {
	return func(yield func([]string)) {
		for _, d := range a.Defects {
			for _, k := range d.Kinds {
				reasons(k.Signs, yield)
			}
			for _, l := range d.Leave {
				yield(l.Sources)
			}
			for i := range d.Repairs {
				d.Repairs[i].sources(yield)
			}
			for _, r := range d.Ladder {
				for _, l := range r.Leaves {
					yield(l.Sources)
				}
			}
		}
		for _, w := range a.Warnings {
			yield(w.Sources)
		}
		for _, c := range a.Conflicts {
			yield(c.Sources)
		}
	}
}

func (r *Repair) sources(yield func([]string)) {
	reasons(r.Because, yield)
	reasons(r.Open, yield)
	for _, h := range r.Harms {
		yield(h.Sources)
	}
	for _, w := range r.Waits {
		yield(w.Sources)
	}
}

func reasons(rs []Reason, yield func([]string)) {
	for _, r := range rs {
		yield(r.Sources)
		for _, rest := range r.RestsOn {
			if rest.Why != nil {
				reasons([]Reason{*rest.Why}, yield)
			}
		}
	}
}

func (e *Explanation) sources() func(func([]string)) {
	return func(yield func([]string)) {
		e.Repair.sources(yield)
		for _, k := range e.Kinds {
			reasons(k.Signs, yield)
		}
		reasons(e.Suits, yield)
		reasons(e.Never, yield)
		for _, h := range e.Harms {
			yield(h.Sources)
		}
		for _, w := range e.Warnings {
			yield(w.Sources)
		}
	}
}

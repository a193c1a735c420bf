package engine

import (
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// asks turns missing facts into the facts that can be asked to fill them: a fact that a person
// can answer stands for itself; one that is looked up, computed or only derived, and one that the
// person could not tell, stands for what it rests on.
func (s *scene) asks(missing []int) []int {
	if len(missing) == 0 {
		return nil
	}
	w := asking{scene: s, seen: make([]uint64, s.book.CountFacts()/64+1)}
	for _, m := range missing {
		w.walk(s.book.FactAt(m))
	}
	slices.Sort(w.out)
	return slices.Compact(w.out)
}

// ids are facts by their ids; nil of none.
func (s *scene) ids(facts []int) []string {
	if len(facts) == 0 {
		return nil
	}
	out := make([]string, len(facts))
	for i, at := range facts {
		out[i] = s.book.FactAt(at).ID
	}
	return out
}

// asking is a walk from missing facts to those that can be asked.
type asking struct {
	scene *scene
	seen  []uint64 // facts, one bit each by index
	out   []int
}

func (w *asking) each(facts []int) {
	for _, at := range facts {
		w.walk(w.scene.book.FactAt(at))
	}
}

func (w *asking) named(ids []string) {
	for _, id := range ids {
		if f := w.scene.book.Facts[id]; f != nil {
			w.walk(f)
		}
	}
}

func (w *asking) walk(decl *rules.Fact) {
	s, at := w.scene, decl.Index
	if w.seen[at>>6]&(1<<(at&63)) != 0 {
		return
	}
	w.seen[at>>6] |= 1 << (at & 63)
	f := s.resolved(decl)
	if f.known {
		switch {
		case decl.Kind != condition.Quantity:
		case decl.Asked():
			w.out = append(w.out, at) // known, but not closely enough
		case strings.HasPrefix(decl.Computed, "sanding."):
			w.named(s.rough())
		}
		return
	}
	if _, changed := s.after[decl.ID]; changed {
		w.out = append(w.out, at)
		return
	}
	if decl.Asked() && !s.subject(decl.ID).CannotTell[decl.ID] {
		switch s.eval(decl.Applies) {
		case condition.True:
			w.out = append(w.out, at)
		case condition.Unknown: // first what may make it meaningless
			n := len(w.out)
			missing := s.lacks(decl.Applies, nil)
			w.each(missing)
			if len(w.out) == n && !slices.ContainsFunc(missing, func(m int) bool { return slices.Contains(w.out, m) }) {
				w.out = append(w.out, at) // nobody can tell whether it is meaningless
			}
		}
		return
	}
	switch finding := s.book.FindingFor(decl.ID); {
	case decl.Lookup != nil:
		w.named([]string{decl.Lookup.By})
	case decl.Computed != "":
		calculator, _, _ := strings.Cut(decl.Computed, ".")
		if r := s.reckon(calculator); r != nil {
			w.named(r.lacks())
		}
	case finding != nil && !f.conflict:
		for _, b := range finding.Branches {
			if s.eval(b.When) == condition.Unknown {
				w.each(s.lacks(b.When, nil))
				break
			}
		}
	}
}

// rough lists the measured inputs of the sanding calculator that a closer measurement could narrow.
func (s *scene) rough() []string {
	var out []string
	for _, id := range s.calculator("sanding").Inputs {
		if f := s.resolve(id); f.known && f.value.Kind() == condition.Quantity && f.value.Range().Half() > 0 {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

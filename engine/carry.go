package engine

import (
	"maps"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// Carry returns the job as it stands after what was done to its marks: what each repair leaves, and over that
// what was found. A fact so known is confirmed, so that a finding that rests on older answers does not
// contradict it. The job itself is not changed; without anything done it is returned as it is.
func Carry(book *rules.Book, tables *Tables, job *Job) *Job {
	any := false
	for _, m := range job.Defects {
		any = any || len(m.Done) > 0
	}
	if !any {
		return job
	}
	now := *job
	now.Piece, now.Shop = job.Piece.clone(), job.Shop.clone()
	now.Surfaces = map[string]*Surface{}
	for name, s := range job.Surfaces {
		now.Surfaces[name] = &Surface{Subject: s.Subject.clone(), Programme: s.Programme}
	}
	now.Defects = nil
	for _, m := range job.Defects {
		c := *m
		c.Subject = m.Subject.clone()
		now.Defects = append(now.Defects, &c)
	}
	for _, m := range now.Defects {
		for _, d := range m.Done {
			s := newScene(book, tables, &now, m, now.Surfaces[m.On], nil)
			left := map[string]*condition.Value{}
			if method := book.Method(d.Method); method != nil && d.CameOut != Failed {
				for _, l := range method.Leaves {
					left[l.Fact] = s.left(l)
				}
			}
			for _, id := range slices.Sorted(maps.Keys(left)) {
				s.subject(id).become(id, left[id])
			}
			for _, id := range slices.Sorted(maps.Keys(d.Found.Answers)) {
				v := d.Found.Answers[id]
				s.subject(id).become(id, &v)
			}
			for id := range d.Found.CannotTell {
				s.subject(id).become(id, nil)
				s.subject(id).CannotTell[id] = true
			}
		}
	}
	return &now
}

// become makes a fact of the subject known, or unknown with nil.
func (s *Subject) become(id string, v *condition.Value) {
	delete(s.CannotTell, id)
	if v == nil {
		delete(s.Answers, id)
		delete(s.Confirmed, id)
		return
	}
	s.Answers[id], s.Confirmed[id] = *v, true
}

func (s *Subject) clone() Subject {
	out := Subject{maps.Clone(s.Answers), maps.Clone(s.CannotTell), maps.Clone(s.Confirmed)}
	if out.Answers == nil {
		out.Answers = map[string]condition.Value{}
	}
	if out.CannotTell == nil {
		out.CannotTell = map[string]bool{}
	}
	if out.Confirmed == nil {
		out.Confirmed = map[string]bool{}
	}
	return out
}

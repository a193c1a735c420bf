package engine

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// Next says what to ask next about one mark of the job, by its id; nil if nothing that is open could
// change what triage says of it. What was answered, or could not be told, is never asked again. The
// error is that of a rule that cannot be evaluated.
func Next(book *rules.Book, tables *Tables, job *Job, mark string) (*Question, error) {
	scenes, err := scenesOf(book, tables, job)
	if err != nil {
		return nil, err
	}
	for _, s := range scenes {
		if s.mark.ID != mark {
			continue
		}
		qs := s.standing().questions(1)
		if s.err != nil {
			return nil, s.err
		}
		if len(qs) > 0 {
			return &qs[0], nil
		}
	}
	return nil, nil
}

// AddQuestions fills in, in the triage a of the job, what to ask next of each mark, and what was measured
// but not closely enough. It tries answers, which takes longer than the triage itself.
func AddQuestions(book *rules.Book, tables *Tables, job *Job, a *Answer) error {
	scenes, err := scenesOf(book, tables, job)
	if err != nil {
		return err
	}
	for i, s := range scenes {
		b := s.standing()
		b.closer = true
		a.Defects[i].Questions = b.questions(maxQuestions)
		if s.err != nil {
			return s.err
		}
	}
	return nil
}

// matters reports whether some answer to a fact would bring anything further.
func (b *standing) matters(f *rules.Fact) bool {
	if hs, ok := b.tried[f]; ok {
		return slices.ContainsFunc(hs, func(h *standing) bool { return b.differs(h, f.ID) })
	}
	return slices.ContainsFunc(b.trials(f), func(v condition.Value) bool { return b.differs(b.suppose(f.ID, v), f.ID) })
}

// after is the standing after each of the answers to a fact that can be tried.
func (b *standing) after(f *rules.Fact) []*standing {
	if got, ok := b.tried[f]; ok {
		return got
	}
	var out []*standing
	for _, v := range b.trials(f) {
		out = append(out, b.suppose(f.ID, v))
	}
	if b.tried == nil {
		b.tried = map[*rules.Fact][]*standing{}
	}
	b.tried[f] = out
	return out
}

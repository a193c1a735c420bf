package interview

import (
	"bytes"
	"encoding/json"
	"maps"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

// idle lists, in the words of their questions, the answers that mattered to the mark of the talk
// before a change and matter no more: without them the triage says the same.
func (v *Interview) idle(changed step, was, now *jobfile.File) ([]string, error) {
	var out []string
	for _, u := range v.inView(now) {
		if u.Answer == "cannot tell" || u.Of == changed.of && u.Fact == changed.fact {
			continue
		}
		before, err := v.matters(was.Job, u)
		if err != nil {
			return nil, err
		}
		if !before {
			continue
		}
		after, err := v.matters(now.Job, u)
		if err != nil {
			return nil, err
		}
		if !after {
			out = append(out, v.Book.Facts[u.Fact].Ask+" "+screen.Glue(u.Answer))
		}
	}
	return out, nil
}

// matters reports whether the triage of the mark of the talk says something else without an answer.
// What to ask next does not count.
func (v *Interview) matters(job *engine.Job, u jobfile.Understood) (bool, error) {
	with, err := v.said(job)
	if err != nil {
		return false, err
	}
	without, err := v.said(lacking(job, u))
	return !bytes.Equal(with, without), err
}

// said is what the triage says of the mark of the talk, without the questions.
func (v *Interview) said(job *engine.Job) ([]byte, error) {
	one := *job
	one.Defects = nil
	for _, m := range job.Defects {
		if m.ID == v.mark {
			one.Defects = append(one.Defects, m)
		}
	}
	a, err := engine.Triage(v.Book, v.Tables, &one)
	if err != nil {
		return nil, err
	}
	for i := range a.Defects {
		a.Defects[i].Questions = nil
	}
	return json.Marshal(a)
}

// lacking is the job without an answer.
func lacking(job *engine.Job, u jobfile.Understood) *engine.Job {
	out := *job
	drop := func(s engine.Subject) engine.Subject {
		s.Answers = maps.Clone(s.Answers)
		delete(s.Answers, u.Fact)
		return s
	}
	switch subject(u.Fact) {
	case "piece":
		out.Piece = drop(job.Piece)
	case "shop":
		out.Shop = drop(job.Shop)
	case "surface":
		out.Surfaces = maps.Clone(job.Surfaces)
		on := *job.Surfaces[u.Of]
		on.Subject = drop(on.Subject)
		out.Surfaces[u.Of] = &on
	case "defect":
		out.Defects = nil
		for _, m := range job.Defects {
			if m.ID == u.Of {
				c := *m
				c.Subject = drop(c.Subject)
				m = &c
			}
			out.Defects = append(out.Defects, m)
		}
	}
	return &out
}

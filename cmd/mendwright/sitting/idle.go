package sitting

import (
	"bytes"
	"encoding/json"
	"maps"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules"
)

// Idle lists, in the words of their questions, the answers that mattered to a mark before the answer to
// fact about of was changed and matter no more: without them the triage says the same.
func Idle(book *rules.Book, tables *engine.Tables, mark, of, fact string, was, now *jobfile.File) ([]string, error) {
	var out []string
	for _, u := range InView(now, mark) {
		if u.Answer == "cannot tell" || u.Of == of && u.Fact == fact {
			continue
		}
		before, err := matters(book, tables, mark, was.Job, u)
		if err != nil {
			return nil, err
		}
		if !before {
			continue
		}
		after, err := matters(book, tables, mark, now.Job, u)
		if err != nil {
			return nil, err
		}
		if !after {
			out = append(out, book.Facts[u.Fact].Ask+" "+screen.Glue(u.Answer))
		}
	}
	return out, nil
}

// matters reports whether the triage of a mark says something else without an answer. What to ask next
// does not count.
func matters(book *rules.Book, tables *engine.Tables, mark string, job *engine.Job, u jobfile.Understood) (bool, error) {
	with, err := said(book, tables, mark, job)
	if err != nil {
		return false, err
	}
	without, err := said(book, tables, mark, lacking(job, u))
	return !bytes.Equal(with, without), err
}

// said is what the triage says of a mark, without the questions.
func said(book *rules.Book, tables *engine.Tables, mark string, job *engine.Job) ([]byte, error) {
	a, err := engine.Triage(book, tables, OneMark(job, mark))
	if err != nil {
		return nil, err
	}
	for i := range a.Defects {
		a.Defects[i].Questions = nil
	}
	return json.Marshal(a)
}

// OneMark is the job with one of its marks alone.
func OneMark(job *engine.Job, mark string) *engine.Job {
	one := *job
	one.Defects = nil
	for _, m := range job.Defects {
		if m.ID == mark {
			one.Defects = append(one.Defects, m)
		}
	}
	return &one
}

// lacking is the job without an answer.
func lacking(job *engine.Job, u jobfile.Understood) *engine.Job {
	out := *job
	drop := func(s engine.Subject) engine.Subject {
		s.Answers = maps.Clone(s.Answers)
		delete(s.Answers, u.Fact)
		return s
	}
	switch Subject(u.Fact) {
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

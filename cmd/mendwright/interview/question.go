package interview

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// put asks one question until it is answered, passed over or left for something else.
func (v *Interview) put(at step, q *engine.Question, before *engine.Answer) error {
	f := v.Book.Facts[q.Fact]
	file, err := v.Doc.Read()
	if err != nil {
		return err
	}
	old, shown := sitting.Stands(file, f, at.of)
	at.old = old
	screen.Asked(v.Page, at.of, f, q, shown)
	for {
		text, err := v.line()
		if err != nil {
			return err
		}
		switch text {
		case "":
			if old != nil {
				v.Page.Text(2, "kept: "+shown)
				return nil
			}
			v.Page.Text(2, "Type an answer; - if you cannot tell; h for help.")
			continue
		case "?", "why":
			screen.WhyAsked(v.Page, q)
			continue
		}
		if f.Kind == condition.YesNo && text == "n" {
			v.Page.Text(2, "n could be either: type no (or 2) for no, next for the next mark.")
			continue
		}
		switch did, err := v.command(text); {
		case err != nil:
			return err
		case did == stay:
			continue
		case did == move:
			return nil
		}
		texts, err := answerTexts(f, q, text)
		give := func(d *jobfile.Doc) error { return d.Set(at.of, at.fact, texts...) }
		if err == nil {
			err = give(v.Doc)
		}
		if err != nil {
			v.Page.Text(2, strings.ReplaceAll(err.Error(), f.ID, "this"))
			continue
		}
		if err := v.save(give); err != nil {
			return err
		}
		v.given = append(v.given, at)
		return v.settled(at, file, before)
	}
}

// answerTexts turns what was typed into an answer as a job file has it: numbers into the words they
// stand for, several of them in a row for a several-of question.
func answerTexts(f *rules.Fact, q *engine.Question, text string) ([]string, error) {
	if text == "-" {
		return []string{"cannot tell"}, nil
	}
	if len(q.Answers) == 0 {
		return []string{text}, nil
	}
	if f.Kind != condition.Several {
		word, err := answerWord(f, q, text)
		return []string{word}, err
	}
	if strings.EqualFold(text, "none") && !slices.ContainsFunc(q.Answers, func(o engine.Option) bool { return o.ID == "none" }) {
		return []string{}, nil
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' })
	if fields := strings.Fields(text); len(parts) == 1 && !slices.ContainsFunc(fields, func(s string) bool { _, err := strconv.Atoi(s); return err != nil }) {
		parts = fields
	}
	var words []string
	for _, p := range parts {
		word, err := answerWord(f, q, strings.TrimSpace(p))
		if err != nil {
			return nil, err
		}
		if word == "cannot tell" && len(parts) > 1 {
			return nil, fmt.Errorf("read %q; an answer together with cannot tell says nothing", text)
		}
		words = append(words, word)
	}
	return words, nil
}

// answerWord is the word that a number in the list of answers stands for, or what was typed if it
// is an answer.
func answerWord(f *rules.Fact, q *engine.Question, text string) (string, error) {
	n, err := strconv.Atoi(strings.TrimRight(text, ".)"))
	switch choices := len(q.Answers); {
	case err == nil && n == choices+1:
		return "cannot tell", nil
	case err == nil && 1 <= n && n <= choices:
		return q.Answers[n-1].ID, nil
	}
	var words []string
	for _, o := range q.Answers {
		if strings.EqualFold(text, o.Means) {
			return o.ID, nil
		}
		words = append(words, o.ID)
	}
	if _, _, err := f.ReadAnswer(text); err != nil {
		return "", fmt.Errorf("read %q; expected a number from 1 to %d, or the word of an answer%s", text, len(words)+1, strictyaml.Nearest(strings.ToLower(text), words))
	}
	return text, nil
}

// settled says in one line what an answer settled, or after a change of one all that it changed.
func (v *Interview) settled(at step, was *jobfile.File, before *engine.Answer) error {
	file, now, err := v.triage()
	if err != nil {
		return err
	}
	var said []string
	f := v.Book.Facts[at.fact]
	if read := sitting.ReadAs(file, f, at.of); read != "" {
		said = append(said, read)
	}
	d, old := sitting.Of(now, at.mark), sitting.Of(before, at.mark)
	if at.change {
		if len(said) > 0 {
			v.Page.Text(2, said[0]+".")
		}
		idle, err := sitting.Idle(v.Book, v.Tables, at.mark, at.of, at.fact, was, file)
		if err != nil {
			return err
		}
		screen.Changed(v.Page, before, now, idle)
	} else {
		if d != nil && old != nil {
			said = append(said, screen.Settled(old, d, screen.WarningsOf(before, at.mark), screen.WarningsOf(now, at.mark))...)
		}
		switch {
		case len(said) == 0:
			v.Page.Text(2, "Noted.")
		default:
			v.Page.Text(2, strings.Join(said[:min(len(said), 2)], "; ")+".")
		}
	}
	return nil
}

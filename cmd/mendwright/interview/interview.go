// Package interview asks a restorer, line by line, for what a job file does not say yet, and saves
// after every answer. It decides nothing: what to ask next is the triage's own list of questions.
package interview

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules"
)

// Interview is one sitting over one job file.
type Interview struct {
	Doc    *jobfile.Doc
	Book   *rules.Book
	Tables *engine.Tables
	Page   *screen.Page

	lines *bufio.Scanner
	given []step          // what was answered in this sitting, for going back
	ready map[string]bool // defects of which it was said that a repair is ready
}

// step is one answer given.
type step struct{ of, fact string }

// errLeave says that the person has had enough, or that the input has ended. Everything is saved.
var errLeave = errors.New("leave")

// Run asks until nothing open could change the answer, or until the person leaves. It ends with the
// file and its triage; everything that was answered is on the disk. The error is that of the file
// or the disk.
func (v *Interview) Run(in io.Reader) (*jobfile.File, *engine.Answer, error) {
	v.lines = bufio.NewScanner(in)
	v.ready = map[string]bool{}
	err := v.begin()
	if err == nil {
		err = v.ask()
	}
	if err != nil && !errors.Is(err, errLeave) {
		return nil, nil, err
	}
	return v.triage()
}

func (v *Interview) triage() (*jobfile.File, *engine.Answer, error) {
	file, err := v.Doc.Read()
	if err != nil {
		return nil, nil, err
	}
	a, err := engine.Triage(v.Book, v.Tables, file.Job)
	if err != nil {
		return nil, nil, err
	}
	return file, a, nil
}

// begin asks for a surface and a mark where the file has none.
func (v *Interview) begin() error {
	file, err := v.Doc.Read()
	if err != nil {
		return err
	}
	for len(file.Job.Defects) == 0 {
		v.Page.Text(0, "Type a short answer and Enter; ? explains a question, b goes back, l lists what was answered, s saves and leaves.")
		on, err := v.name("Which surface is the mark on? A short name, such as top or left leg.", func(name string) error {
			if _, known := file.Job.Surfaces[name]; known {
				return nil
			}
			return v.Doc.AddSurface(name)
		})
		if err != nil {
			return err
		}
		if _, err := v.name("What do you call the mark? A short name, such as dent or ring.", func(name string) error {
			return v.Doc.AddDefect(name, on)
		}); err != nil {
			return err
		}
		if err := v.Doc.Save(); err != nil {
			return err
		}
		if file, err = v.Doc.Read(); err != nil {
			return err
		}
	}
	return nil
}

// name asks for a name until take accepts one.
func (v *Interview) name(ask string, take func(string) error) (string, error) {
	for {
		v.Page.Text(0, ask)
		text, err := v.line()
		if err != nil {
			return "", err
		}
		if err := take(text); err != nil {
			v.Page.Text(2, err.Error())
			continue
		}
		return text, nil
	}
}

// line reads what was typed, or errLeave at the end of the input.
func (v *Interview) line() (string, error) {
	fmt.Fprint(v.Page.W, "> ")
	if !v.lines.Scan() {
		fmt.Fprintln(v.Page.W)
		return "", errLeave
	}
	text := strings.TrimSpace(v.lines.Text())
	if text == "s" {
		return "", errLeave
	}
	return text, nil
}

// ask puts one question after another.
func (v *Interview) ask() error {
	file, a, err := v.triage()
	for err == nil {
		var d *engine.DefectAnswer
		var q *engine.Question
		if d, q, err = v.next(file, a); err != nil {
			return err
		}
		if q == nil {
			return nil
		}
		if err := v.question(d, q); err != nil {
			return err
		}
		var now *engine.Answer
		if file, now, err = v.triage(); err == nil {
			v.settled(a, now)
			a = now
		}
	}
	return err
}

// next is the first question of the first mark that has one.
func (v *Interview) next(file *jobfile.File, a *engine.Answer) (*engine.DefectAnswer, *engine.Question, error) {
	for i := range a.Defects {
		d := &a.Defects[i]
		q, err := engine.Next(v.Book, v.Tables, file.Job, d.ID)
		if err != nil || q != nil {
			return d, q, err
		}
	}
	return nil, nil, nil
}

// question puts one question until it is answered, passed over or taken back.
func (v *Interview) question(d *engine.DefectAnswer, q *engine.Question) error {
	of := map[string]string{"surface": d.On, "defect": d.ID}
	subject, _, _ := strings.Cut(q.Fact, ".")
	at := step{of[subject], q.Fact}
	if at.of == "" {
		at.of = subject
	}
	screen.Asked(v.Page, at.of, q)
	for {
		text, err := v.line()
		if err != nil {
			return err
		}
		switch text {
		case "":
			continue
		case "?":
			screen.WhyAsked(v.Page, q)
			continue
		case "l":
			if err := v.list(); err != nil {
				return err
			}
			continue
		case "b":
			if len(v.given) == 0 {
				v.Page.Text(2, "There is nothing to go back to in this sitting.")
				continue
			}
			last := v.given[len(v.given)-1]
			v.given = v.given[:len(v.given)-1]
			if err := v.Doc.Clear(last.of, last.fact); err != nil {
				return err
			}
			return v.Doc.Save()
		}
		if n, ok := strings.CutPrefix(text, "c "); ok {
			taken, err := v.takeBack(strings.TrimSpace(n))
			if err != nil {
				return err
			}
			if taken {
				return v.Doc.Save()
			}
			continue
		}
		if err := v.answer(at, q, text); err != nil {
			v.Page.Text(2, err.Error())
			continue
		}
		v.given = append(v.given, at)
		return v.Doc.Save()
	}
}

// list numbers the answers that the file holds.
func (v *Interview) list() error {
	file, err := v.Doc.Read()
	if err != nil {
		return err
	}
	for i, u := range file.Understood {
		v.Page.Item(2, strconv.Itoa(i+1), 6, fmt.Sprintf("%s: %s is %s", u.Of, u.Fact, u.Answer))
	}
	v.Page.Text(2, "c and a number takes one back; it is asked again if it still matters.")
	return nil
}

// takeBack takes an answer out by its number in the list. What depended on it is reckoned anew.
func (v *Interview) takeBack(number string) (bool, error) {
	file, err := v.Doc.Read()
	if err != nil {
		return false, err
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(file.Understood) {
		v.Page.Text(2, fmt.Sprintf("read %q; expected the number of an answer from 1 to %d, as l lists them", number, len(file.Understood)))
		return false, nil
	}
	u := file.Understood[n-1]
	subject := u.Of
	switch {
	case file.Job.Surfaces[u.Of] != nil:
		subject = "surface"
	case u.Of != "piece" && u.Of != "shop":
		subject = "defect"
	}
	fact := u.Fact
	if !strings.Contains(fact, ".") {
		fact = subject + "." + fact
	}
	v.given = slices.DeleteFunc(v.given, func(s step) bool { return s == step{u.Of, fact} })
	return true, v.Doc.Clear(u.Of, fact)
}

// answer writes what was typed: the number of an answer, its word, or a measurement.
func (v *Interview) answer(at step, q *engine.Question, text string) error {
	n, err := strconv.Atoi(text)
	switch choices := len(q.Answers); {
	case choices > 0 && err == nil && n == choices+1, text == "-":
		return v.Doc.CannotTell(at.of, at.fact)
	case choices > 0 && err == nil && 1 <= n && n <= choices:
		return v.Doc.Set(at.of, at.fact, q.Answers[n-1].ID)
	case choices > 0 && err == nil:
		return fmt.Errorf("read %q; expected a number from 1 to %d", text, choices+1)
	}
	return v.Doc.Set(at.of, at.fact, text)
}

// settled says in a line what an answer changed.
func (v *Interview) settled(before, now *engine.Answer) {
	for i := range now.Defects {
		d := &now.Defects[i]
		if i >= len(before.Defects) {
			break
		}
		if was, is := kinds(&before.Defects[i]), kinds(d); was != is {
			v.Page.Text(2, d.ID+": "+is+".")
		}
		if len(d.Repairs) > 0 && d.Repairs[0].State == engine.Ready && !v.ready[d.ID] {
			v.ready[d.ID] = true
			v.Page.Text(2, fmt.Sprintf("%s: a repair is ready: %s, risk %s. What follows may find a better one or lower the risk; s leaves.", d.ID, d.Repairs[0].Name, d.Repairs[0].Risk))
		}
		if n := ruledOut(d) - ruledOut(&before.Defects[i]); n > 0 {
			v.Page.Text(2, fmt.Sprintf("%s: rules out %d more.", d.ID, n))
		}
	}
}

// kinds says what a mark is, as far as it is settled.
func kinds(d *engine.DefectAnswer) string {
	var sure []string
	for _, k := range d.Kinds {
		if k.Certain {
			sure = append(sure, k.Name)
		}
	}
	if len(sure) == 0 {
		return fmt.Sprintf("may still be %d kinds of mark", len(d.Kinds))
	}
	return "it is: " + strings.Join(sure, ", ")
}

func ruledOut(d *engine.DefectAnswer) int {
	n := 0
	for i := range d.Repairs {
		if d.Repairs[i].State == engine.RuledOut {
			n++
		}
	}
	return n
}

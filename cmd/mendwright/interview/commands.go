package interview

import (
	"fmt"
	"strconv"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
)

// did is what became of a line: nothing, it was no command; or the same prompt stays; or the talk
// moves on to something else.
type did int

const (
	nothing did = iota
	stay
	move
)

// command does what a command says that can be typed at every question.
func (v *Interview) command(text string) (did, error) {
	switch text {
	case "h", "help":
		v.help()
		return stay, nil
	case "l", "list":
		return stay, v.list()
	case "n", "next":
		v.pause = true
		return move, nil
	case "b", "back":
		return v.back()
	}
	for _, word := range []string{"c", "change"} {
		if n, ok := strings.CutPrefix(text, word); ok && (n == "" || n[0] == ' ') {
			return v.change(strings.TrimSpace(n))
		}
	}
	return nothing, nil
}

// help lists every command.
func (v *Interview) help() {
	for _, c := range [][2]string{
		{"1 2 3", "an answer by its number, or its word"},
		{"-", "cannot tell"},
		{"?", "how to look, and why it is asked"},
		{"b", "back: takes the last answer back"},
		{"l", "lists the answers so far"},
		{"c 4", "changes answer 4 of that list"},
		{"n", "next: another mark, or finish"},
		{"s", "saves and leaves"},
	} {
		v.Page.Item(2, c[0], 9, c[1])
	}
}

// list numbers the answers in view.
func (v *Interview) list() error {
	file, err := v.Doc.Read()
	if err != nil {
		return err
	}
	answers := sitting.InView(file, v.mark)
	for i, u := range answers {
		v.Page.Item(2, strconv.Itoa(i+1), 6, fmt.Sprintf("%s: %s %s", u.Of, v.Book.Facts[u.Fact].Ask, screen.Glue(u.Answer)))
	}
	if len(answers) == 0 {
		v.Page.Text(2, "Nothing is answered yet.")
		return nil
	}
	v.Page.Text(2, "c and a number changes one, such as c\u00a01.")
	return nil
}

// change puts an answer of the list anew.
func (v *Interview) change(number string) (did, error) {
	file, err := v.Doc.Read()
	if err != nil {
		return stay, err
	}
	answers := sitting.InView(file, v.mark)
	if len(answers) == 0 {
		v.Page.Text(2, "Nothing is answered yet.")
		return stay, nil
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(answers) {
		v.Page.Text(2, fmt.Sprintf("read %q; expected c and the number of an answer from 1 to %d, as l lists them", "c "+number, len(answers)))
		return stay, nil
	}
	u := answers[n-1]
	v.again = &step{mark: v.mark, of: u.Of, fact: u.Fact, change: true}
	return move, nil
}

// back takes the last answer of this sitting back and asks it again; where it had changed an
// earlier one, that holds again.
func (v *Interview) back() (did, error) {
	if len(v.given) == 0 {
		v.Page.Text(2, "There is nothing to go back to in this sitting; l lists the answers, c changes one.")
		return stay, nil
	}
	last := v.given[len(v.given)-1]
	undo := func(d *jobfile.Doc) error {
		if last.old != nil {
			return d.Set(last.of, last.fact, last.old...)
		}
		return d.Clear(last.of, last.fact)
	}
	if err := undo(v.Doc); err != nil {
		v.Page.Text(2, err.Error())
		return stay, nil
	}
	v.given = v.given[:len(v.given)-1]
	if err := v.save(undo); err != nil {
		return stay, err
	}
	v.mark, v.pause = last.mark, false
	if last.old != nil {
		v.Page.Text(2, fmt.Sprintf("%s: %s %s again.", last.of, v.Book.Facts[last.fact].Ask, joined(last.old)))
		return move, nil
	}
	v.again = &step{mark: last.mark, of: last.of, fact: last.fact}
	return move, nil
}

func joined(words []string) string { return strings.Join(words, ", ") }

// count writes a number with its noun.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

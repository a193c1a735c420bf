package interview

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
)

// listed is how many marks a menu lists; more than that are gone on with by name.
const listed = 9

// choice is a line of the menu.
type choice struct {
	text string
	do   func() error
}

// menu asks what to do where a mark has nothing more to ask, or the person wants another.
func (v *Interview) menu(file *jobfile.File, a *engine.Answer) error {
	choices := []choice{{"another mark", func() error { return v.addMark(file, "") }}}
	if len(file.Job.Defects) > 0 {
		text := "another mark like one there"
		if len(file.Job.Defects) == 1 {
			text = "another mark like " + file.Job.Defects[0].ID
		}
		choices = append(choices, choice{text, func() error { return v.likeOne(file) }})
	}
	left := 0
	for _, m := range file.Job.Defects {
		open, err := v.open(file, m.ID)
		switch {
		case err != nil:
			return err
		case !open:
		case left == listed:
			left++
		default:
			left++
			state := ""
			if d := sitting.Of(a, m.ID); d != nil && sitting.IsReady(d) {
				state = "; a repair is ready"
			}
			choices = append(choices, choice{fmt.Sprintf("go on with %s on %s%s", m.ID, m.On, state), func() error { return v.goTo(m.ID) }})
		}
	}
	finish := "finish"
	if left > 0 {
		finish = "finish; what is open stays open"
	}
	choices = append(choices, choice{finish, func() error { return errLeave }})
	v.Page.Blank()
	v.Page.Text(0, "What now?")
	for i, c := range choices {
		v.Page.Item(2, strconv.Itoa(i+1), 5, c.text)
	}
	return v.choose(file, choices)
}

// choose reads which line of a menu it is; a mark goes on by its name as well.
func (v *Interview) choose(file *jobfile.File, choices []choice) error {
	for {
		text, err := v.line()
		if err != nil {
			return err
		}
		n, err := strconv.Atoi(text)
		if err == nil && 1 <= n && n <= len(choices) {
			if err := choices[n-1].do(); !errors.Is(err, errBack) {
				return err
			}
			v.pause = true
			return nil
		}
		if slices.ContainsFunc(file.Job.Defects, func(m *engine.Mark) bool { return m.ID == text }) {
			return v.goTo(text)
		}
		if text != "n" && text != "next" {
			switch did, err := v.command(text); {
			case err != nil || did == move:
				return err
			case did == stay:
				continue
			}
		}
		v.Page.Text(2, fmt.Sprintf("read %q; expected a number from 1 to %d", text, len(choices)))
	}
}

// goTo goes on with a mark.
func (v *Interview) goTo(mark string) error {
	v.mark, v.pause = mark, false
	return nil
}

// likeOne adds a mark that looks like another.
func (v *Interview) likeOne(file *jobfile.File) error {
	like := file.Job.Defects[0].ID
	if len(file.Job.Defects) > 1 {
		v.Page.Blank()
		v.Page.Text(0, "Like which one?")
		for i, m := range file.Job.Defects {
			v.Page.Item(2, strconv.Itoa(i+1), 5, m.ID+" on "+m.On)
		}
		_, err := v.name("A number, or the name of a mark.", func(text string) error {
			for i, m := range file.Job.Defects {
				if text == m.ID || text == strconv.Itoa(i+1) {
					like = m.ID
					return nil
				}
			}
			return fmt.Errorf("read %q; expected a number from 1 to %d, or a name of that list", text, len(file.Job.Defects))
		})
		if err != nil {
			return err
		}
	}
	return v.addMark(file, like)
}

// open reports whether anything is left to ask of a mark.
func (v *Interview) open(file *jobfile.File, mark string) (bool, error) {
	q, err := engine.Next(v.Book, v.Tables, file.Job, mark)
	return q != nil, err
}

// alreadyReady notes which marks have a ready repair from before and says how many.
func (v *Interview) alreadyReady(a *engine.Answer) string {
	n := 0
	for i := range a.Defects {
		if sitting.IsReady(&a.Defects[i]) {
			v.ready[a.Defects[i].ID] = true
			n++
		}
	}
	switch n {
	case 0:
		return "no mark has"
	case 1:
		return "1 mark has"
	}
	return fmt.Sprintf("%d marks have", n)
}

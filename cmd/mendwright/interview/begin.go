package interview

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/sitting"
)

// begin names a new piece and its first mark, or says where an old one stands.
func (v *Interview) begin() error {
	if v.Doc == nil || !v.onDisk() {
		v.Page.Text(0, "Type a number or a few words, then Enter. h lists what else can be typed; s saves and leaves.")
		if err := v.piece(); err != nil {
			return err
		}
	}
	file, a, err := v.triage()
	if err != nil {
		return err
	}
	if len(file.Understood) > 0 || len(a.Defects) > 0 {
		v.Page.Text(0, fmt.Sprintf("%s: %s, %s, %s; %s a ready repair. h lists what can be typed.", v.Doc.Path(),
			count(len(file.Job.Surfaces), "surface"), count(len(a.Defects), "mark"), count(len(file.Understood), "answer"), v.alreadyReady(a)))
	}
	if n := len(file.Unread); n > 0 {
		v.Page.Text(0, fmt.Sprintf("This program does not know %s of that file; it is kept as it is, and triage refuses it: %s.", count(n, "field"), file.Unread[0]))
	}
	for i := range file.Job.Defects {
		v.mark = file.Job.Defects[i].ID
		if open, err := v.open(file, v.mark); err != nil || open {
			return err
		}
	}
	if v.mark == "" {
		for {
			err := v.addMark(file, "")
			if err == nil || !errors.Is(err, errBack) {
				return err
			}
		}
	}
	return nil
}

// piece asks what the piece is, and names the file after it where there is none.
func (v *Interview) piece() error {
	v.Page.Blank()
	ask := "What is the piece? A short name, such as gate-leg table. Enter alone leaves it out."
	if v.Doc == nil {
		ask = "What is the piece? A short name, such as gate-leg table. The file is named after it."
	}
	_, err := v.name(ask, func(name string) error {
		if v.Doc != nil {
			if name == "" {
				return nil
			}
			return v.store(func(d *jobfile.Doc) error { return d.SetName(name) })
		}
		if name == "" {
			return errors.New("the file needs a name; any word will do")
		}
		doc, err := jobfile.New(free(sitting.FileName(name)), v.Book, v.Tables)
		if err != nil {
			return err
		}
		if err := doc.SetName(name); err != nil {
			return err
		}
		v.Doc = doc
		if err := v.store(func(d *jobfile.Doc) error { return d.SetName(name) }); err != nil {
			return err
		}
		v.Page.Text(2, "The file is "+v.Doc.Path()+".")
		return nil
	})
	if errors.Is(err, errBack) {
		return v.piece()
	}
	return err
}

// errBack says that the person does not want to name anything.
var errBack = errors.New("back")

// diskError is an error of saving: no other name would mend it.
type diskError struct{ error }

func (e diskError) Unwrap() error { return e.error }

// store changes the file and saves it. An error that is no diskError has changed nothing.
func (v *Interview) store(do func(*jobfile.Doc) error) error {
	if err := do(v.Doc); err != nil {
		return err
	}
	if err := v.save(do); err != nil {
		return diskError{err}
	}
	return nil
}

// name asks for a name until take accepts one. The error is errBack for "b".
func (v *Interview) name(ask string, take func(string) error) (string, error) {
	v.Page.Text(0, ask)
	for {
		text, err := v.line()
		if err != nil {
			return "", err
		}
		switch text {
		case "b", "back":
			return "", errBack
		case "h", "help":
			v.help()
			continue
		case "?":
			v.Page.Text(2, "Any short name will do; it stands in the file and in front of the answers.")
			continue
		}
		err = take(text)
		var disk diskError
		if errors.As(err, &disk) {
			return "", disk.error
		}
		if err == nil {
			return text, nil
		}
		v.Page.Text(2, err.Error())
	}
}

// addMark asks where another mark is and what to call it; like names a mark that it looks like, or
// is "". The talk goes on about the new mark.
func (v *Interview) addMark(file *jobfile.File, like string) error {
	on, err := v.surface(file, like)
	if err != nil {
		return err
	}
	id, err := v.name("What do you call the mark? A short name, such as dent or ring.", func(name string) error {
		return v.store(func(d *jobfile.Doc) error {
			if like != "" {
				return d.AddDefectLike(like, name, on)
			}
			return d.AddDefect(name, on)
		})
	})
	if err != nil {
		return err
	}
	v.mark, v.pause = id, false
	if like != "" {
		return v.tookOver(like, id)
	}
	return nil
}

// surface asks for a surface of the file by its number or name, or for a new one.
func (v *Interview) surface(file *jobfile.File, like string) (string, error) {
	known := slices.Sorted(maps.Keys(file.Job.Surfaces))
	same := ""
	for _, m := range file.Job.Defects {
		if m.ID == like {
			same = m.On
		}
	}
	v.Page.Blank()
	v.Page.Text(0, "Which surface is the mark on?")
	for i, name := range known {
		v.Page.Item(2, strconv.Itoa(i+1), 5, name)
	}
	hint := "A short name, such as top or left leg."
	if len(known) > 0 {
		hint = "A number, or the name of a new surface."
	}
	if same != "" {
		hint += " Enter alone: " + same + "."
	}
	on := ""
	_, err := v.name(hint+" Hinges, knobs and brackets count as a surface with a name of their own.", func(text string) error {
		n, err := strconv.Atoi(text)
		switch {
		case text == "" && same != "":
			on = same
		case slices.Contains(known, text):
			on = text
		case err == nil && 1 <= n && n <= len(known):
			on = known[n-1]
		case err == nil:
			return fmt.Errorf("read %q; expected the number of a surface that is listed, or a name with a letter in it", text)
		default:
			on = text
			return v.store(func(d *jobfile.Doc) error { return d.AddSurface(text) })
		}
		return nil
	})
	return on, err
}

// tookOver says what a mark that is like another was given.
func (v *Interview) tookOver(like, id string) error {
	file, err := v.Doc.Read()
	if err != nil {
		return err
	}
	var taken []string
	for _, u := range file.Understood {
		if u.Of == id && sitting.Subject(u.Fact) == "defect" {
			taken = append(taken, u.Answer)
		}
	}
	if len(taken) == 0 {
		v.Page.Text(2, "Nothing was seen or felt of "+like+" yet, so nothing was copied.")
		return nil
	}
	v.Page.Text(2, fmt.Sprintf("Copied from %s: %s. What was measured or tested is asked anew; l lists all.", like, joined(taken)))
	return nil
}

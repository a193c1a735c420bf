package interview

import (
	"fmt"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

// conflict asks which holds where a finding makes something else of a fact than what was answered.
// Either answer ends it, so it is asked once.
func (v *Interview) conflict(c *engine.Conflict) error {
	screen.Contradicted(v.Page, v.Book.Facts[c.Fact], c)
	for {
		text, err := v.line()
		if err != nil {
			return err
		}
		settle := func(d *jobfile.Doc) error { return d.Confirm(c.On, c.Fact) }
		said := "Yours holds from now on: " + c.Answered + "."
		switch text {
		case "1":
		case "2":
			settle = func(d *jobfile.Doc) error { return d.Clear(c.On, c.Fact) }
			said = "Yours is taken back; it counts as " + c.Found + "."
		case "?", "why", "n", "next", "":
			v.Page.Text(2, "While they differ it counts as unknown. Look again, then type 1 or 2; l lists the other answers, c changes one.")
			continue
		default:
			switch did, err := v.command(text); {
			case err != nil || did == move:
				return err
			case did == stay:
				continue
			}
			v.Page.Text(2, fmt.Sprintf("read %q; expected 1 or 2", text))
			continue
		}
		if err := settle(v.Doc); err != nil {
			return err
		}
		if err := v.save(settle); err != nil {
			return err
		}
		v.Page.Text(2, said)
		return nil
	}
}

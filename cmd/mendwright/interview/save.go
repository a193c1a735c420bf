package interview

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
)

// save writes what was just changed by do. What hinders it is told, and the person may try again;
// the answer waits meanwhile. The error is that of the disk if the person leaves it at that.
func (v *Interview) save(do func(*jobfile.Doc) error) error {
	for {
		err := v.Doc.Save()
		switch {
		case err == nil:
			return nil
		case errors.Is(err, jobfile.ErrChanged):
			return v.changed(do)
		}
		if v.Piped && v.Doc.Unsaved() {
			return err
		}
		v.Page.Text(0, err.Error())
		if !v.Doc.Unsaved() {
			return nil // written, and only the disk would not say that it lasts
		}
		v.Page.Text(0, "The answer is still here. Enter tries again; a file name that ends in .yaml saves all of it there; s leaves without it.")
		text, left := v.line()
		switch {
		case errors.Is(left, errLeave):
			return err
		case left != nil:
			return left
		case text != "" && !strings.HasSuffix(text, ".yaml"):
			v.Page.Text(2, fmt.Sprintf("read %q; expected Enter, s or a file name that ends in .yaml", text))
		case text != "":
			if err := v.Doc.SaveAs(text); err != nil {
				v.Page.Text(0, err.Error())
				continue
			}
			v.Page.Text(0, "Saved; the file is now "+text+".")
			return nil
		}
	}
}

// changed settles what to do where another program changed the file since it was read. Who leaves
// here leaves with both, and so does who is not there to choose.
func (v *Interview) changed(do func(*jobfile.Doc) error) error {
	was := v.Doc.Path()
	beside := free(strings.TrimSuffix(was, ".yaml"))
	v.Page.Blank()
	v.Page.Text(0, "Another program changed "+was+" meanwhile; nothing of it was overwritten.")
	v.Page.Item(2, "1", 5, "read it anew and put your last answer there")
	v.Page.Item(2, "2", 5, "save what is here as "+beside+" and go on in that")
	for {
		var text string
		var left error
		if v.Piped {
			text = "2"
		} else {
			text, left = v.line()
		}
		switch {
		case left != nil || text == "2":
			if err := v.Doc.SaveAs(beside); err != nil {
				return err
			}
			v.Page.Text(0, "Saved; the file is now "+beside+".")
			return left
		case text != "1":
			v.Page.Text(2, fmt.Sprintf("read %q; expected 1 or 2", text))
			continue
		}
		doc, err := jobfile.Open(was, v.Book, v.Tables)
		if err == nil {
			err = do(doc)
		}
		if err == nil {
			_, err = doc.Read()
		}
		if err != nil {
			v.Page.Text(2, err.Error()+". That leaves 2.")
			continue
		}
		v.Doc = doc
		return v.save(do)
	}
}

// free is the first of NAME.yaml, NAME-2.yaml and so on that no file has yet.
func free(name string) string {
	path := name + ".yaml"
	for n := 2; ; n++ {
		if _, err := os.Lstat(path); errors.Is(err, os.ErrNotExist) {
			return path
		}
		path = fmt.Sprintf("%s-%d.yaml", name, n)
	}
}

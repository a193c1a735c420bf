// Package interview asks a restorer, line by line, for what a job file does not say yet, and saves
// after every answer. It decides nothing: what to ask next is engine.Next, what is shown is in screen.
package interview

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
	"mendwright/rules"
)

// Interview is one sitting over one job file.
type Interview struct {
	Doc    *jobfile.Doc // nil: the file is named after the piece, in the working folder
	Book   *rules.Book
	Tables *engine.Tables
	Page   *screen.Page
	// Piped says that nobody is at the keys: what was read is written behind the prompt, since no
	// terminal shows it, and lines that were meant for other questions are not taken for a choice
	// when the file cannot be saved.
	Piped bool

	ctx   context.Context
	lines *bufio.Reader
	mark  string // the mark that is asked about
	done  string // the mark of which it was last said that nothing is left to ask
	pause bool   // the menu is wanted before the next question
	again *step  // a question to put next, whatever engine.Next says
	given []step // what was answered in this sitting, for going back
	ready map[string]bool
}

// step is one answer: in the talk about which mark, of what, and what stood there before.
type step struct {
	mark, of, fact string
	old            []string // nil: nothing
	change         bool     // an earlier answer is gone over
}

// errLeave says that the person has had enough, or that the input has ended. Everything is saved.
var errLeave = errors.New("leave")

// Run talks until the person leaves, the input ends or ctx does, and closes with the triage and
// what is still open. Whatever was answered is on the disk. The answer is nil where there is no
// mark yet. The error is the cause of ctx, or that of the file or the disk.
func (v *Interview) Run(ctx context.Context, in io.Reader) (*engine.Answer, error) {
	v.ctx, v.lines, v.ready = ctx, bufio.NewReaderSize(in, maxLine), map[string]bool{}
	err := v.begin()
	if err == nil {
		err = v.talk()
	}
	if stopped := context.Cause(ctx); stopped != nil && errors.Is(err, stopped) {
		v.farewell()
		return nil, err
	}
	if err != nil && !errors.Is(err, errLeave) {
		return nil, err
	}
	return v.end()
}

// talk puts one question after another.
func (v *Interview) talk() error {
	for {
		file, a, err := v.triage()
		if err != nil {
			return err
		}
		if len(a.Conflicts) > 0 && v.again == nil {
			if err := v.conflict(&a.Conflicts[0]); err != nil {
				return err
			}
			continue
		}
		if v.again != nil {
			at := *v.again
			v.again = nil
			if err := v.put(at, sitting.QuestionOf(v.Book.Facts[at.fact]), a); err != nil {
				return err
			}
			continue
		}
		var q *engine.Question
		if !v.pause && sitting.Of(a, v.mark) != nil {
			if q, err = engine.Next(v.Book, v.Tables, file.Job, v.mark); err != nil {
				return err
			}
			if q == nil && v.done != v.mark {
				v.done = v.mark
				v.Page.Blank()
				v.Page.Text(0, v.mark+": nothing more to ask; no open answer would change what is said of it.")
			}
		}
		// Whether the repair is a danger to somebody is asked before it is called ready.
		if q == nil || !q.Guard {
			v.sayReady(a)
		}
		if q == nil {
			err = v.menu(file, a)
		} else {
			err = v.put(v.place(a, q.Fact), q, a)
		}
		if err != nil {
			return err
		}
	}
}

// sayReady says once of a mark that a repair is ready, and that the rest need not be asked.
func (v *Interview) sayReady(a *engine.Answer) {
	d := sitting.Of(a, v.mark)
	if d == nil || !sitting.IsReady(d) || v.ready[v.mark] {
		return
	}
	v.ready[v.mark] = true
	v.Page.Text(2, fmt.Sprintf("A repair is READY: %s, risk %s. More answers may find a better one; n goes to the next mark, s saves and leaves.", screen.Named(d.Repairs[0].Name, d.Repairs[0].Own), d.Repairs[0].Risk))
}

// place is where the answer to a fact belongs while the mark of the talk is asked about.
func (v *Interview) place(a *engine.Answer, fact string) step {
	return step{mark: v.mark, of: sitting.Thing(fact, v.mark, sitting.Of(a, v.mark).On), fact: fact}
}

func (v *Interview) triage() (*jobfile.File, *engine.Answer, error) {
	file, err := v.Doc.Read()
	if err != nil {
		return nil, nil, err
	}
	a, err := engine.Triage(v.Book, v.Tables, file.Job)
	return file, a, err
}

// end writes the triage and what is still open.
func (v *Interview) end() (*engine.Answer, error) {
	v.Page.Blank()
	if v.Doc == nil || !v.onDisk() {
		v.Page.Text(0, "Nothing was answered, so no file was written.")
		return nil, nil
	}
	file, a, err := v.triage()
	if err != nil {
		return nil, err
	}
	if len(a.Defects) > 0 {
		if err := engine.AddRemedies(v.Book, v.Tables, file.Job, a); err != nil {
			return nil, err
		}
		if err := engine.AddQuestions(v.Book, v.Tables, file.Job, a); err != nil {
			return nil, err
		}
		screen.Triage(v.Page, file, a)
		v.Page.Blank()
		screen.StillOpen(v.Page, v.Book, file.Job, a)
	}
	v.Page.Blank()
	v.goOn()
	return a, nil
}

// farewell says, to who breaks off, where the answers are.
func (v *Interview) farewell() {
	switch {
	case v.Doc == nil || !v.onDisk():
		v.Page.Text(0, "Stopped. Nothing was answered, so no file was written.")
		return
	case v.Doc.Unsaved():
		v.Page.Text(0, "Stopped. The last answer could NOT be saved; all before it are in "+v.Doc.Path()+".")
	default:
		v.Page.Text(0, "Stopped. Every answer is saved.")
	}
	v.goOn()
}

func (v *Interview) goOn() {
	path := v.Doc.Path()
	if strings.ContainsAny(path, " '\"$&();<>|*?") {
		path = fmt.Sprintf("%q", path)
	}
	v.Page.Text(0, "To go on:")
	v.Page.Text(2, "mendwright ask "+path)
}

// onDisk reports whether the file is there at all.
func (v *Interview) onDisk() bool {
	_, err := os.Lstat(v.Doc.Path())
	return err == nil
}

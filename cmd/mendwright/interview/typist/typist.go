// Package typist answers an interview in tests as a person would: by what the screen asks, in
// whatever order it asks.
package typist

import (
	"fmt"
	"io"
	"strings"

	"mendwright/rules"
)

// Typist is the input of an interview. It types a line each time one is read.
type Typist struct {
	Book  *rules.Book
	Shown fmt.Stringer // what the interview has written
	// Say types what it returns, in view of what was shown since the last line; if it has nothing
	// to say, the question that was put last is answered.
	Say func(shown string) (line string, ok bool)
	// Answer is the answer about a thing to a fact; "" is that it cannot be told.
	Answer func(of, fact string) string
	// Typed is all that was typed.
	Typed []string

	seen     int
	left     string
	of, fact string // the question that was put last
	refused  int    // how many lines since it was put
}

// Read types a line. Where it has no question to answer and nothing to say, the input ends.
func (t *Typist) Read(p []byte) (int, error) {
	if t.left == "" {
		all := t.Shown.String()
		line, ok := t.line(strings.Join(strings.Fields(all[t.seen:]), " "))
		t.seen = len(all)
		if !ok {
			return 0, io.EOF
		}
		t.Typed = append(t.Typed, line)
		t.left = line + "\n"
	}
	n := copy(p, t.left)
	t.left = t.left[n:]
	return n, nil
}

func (t *Typist) line(shown string) (string, bool) {
	of, fact, put := Question(t.Book, shown)
	if put {
		t.of, t.fact, t.refused = of, fact, 0
	}
	if t.Say != nil {
		if line, ok := t.Say(shown); ok {
			return line, true
		}
	}
	if t.refused++; t.fact == "" || t.refused > 20 {
		return "", false
	}
	if answer := t.Answer(t.of, t.fact); answer != "" {
		return answer, true
	}
	return "-", true
}

// Question finds the last question put in a text without line ends: of what, and which fact.
func Question(book *rules.Book, shown string) (of, fact string, ok bool) {
	last := -1
	for id, f := range book.Facts {
		if !f.Asked() {
			continue
		}
		asked := f.Ask + " ("
		if i := strings.LastIndex(shown, asked); i > last {
			rest, _, closed := strings.Cut(shown[i+len(asked):], ")")
			if closed {
				of, fact, ok, last = rest, id, true, i
			}
		}
	}
	return of, fact, ok
}

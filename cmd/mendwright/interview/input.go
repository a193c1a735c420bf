package interview

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
)

// maxLine is the longest line that is read, in bytes; no answer is as long.
const maxLine = 4096

var errTooLong = fmt.Errorf("a line of more than %d characters was left out; type a short answer", maxLine)

// line reads what was typed behind a prompt. The error is errLeave for "s" and at the end of the
// input, or the cause that ended the context.
func (v *Interview) line() (string, error) {
	for {
		fmt.Fprint(v.Page.W, "> ")
		text, err := v.read()
		switch {
		case errors.Is(err, errTooLong):
			fmt.Fprintln(v.Page.W)
			v.Page.Text(2, err.Error())
			continue
		case err != nil:
			fmt.Fprintln(v.Page.W)
			return "", err
		}
		text = strings.TrimSpace(strings.ReplaceAll(text, "\t", " "))
		if v.Piped {
			v.Page.Typed(text)
		}
		if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) && r != '\u00a0' }) {
			v.Page.Text(2, "Keys that write no letter were read, such as an arrow; type the line anew.")
			continue
		}
		if text == "s" || text == "save" {
			return "", errLeave
		}
		return text, nil
	}
}

// read waits for a line or for the end of the context, whichever comes first.
func (v *Interview) read() (string, error) {
	type result struct {
		text string
		err  error
	}
	got := make(chan result, 1)
	go func() {
		text, err := readLine(v.lines)
		got <- result{text, err}
	}()
	select {
	case <-v.ctx.Done():
		return "", context.Cause(v.ctx)
	case r := <-got:
		return r.text, r.err
	}
}

// readLine reads a line; what is too long is read to its end and refused. A terminal that hangs up
// is the end of the input, as is one that was closed.
func readLine(r *bufio.Reader) (string, error) {
	text, err := r.ReadSlice('\n')
	if errors.Is(err, bufio.ErrBufferFull) {
		for errors.Is(err, bufio.ErrBufferFull) {
			_, err = r.ReadSlice('\n')
		}
		return "", errTooLong
	}
	if err != nil && (!errors.Is(err, io.EOF) || len(text) == 0) {
		return "", errLeave
	}
	return string(text), nil
}

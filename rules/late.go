package rules

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"sync"
)

// Most of a rulebook is methods, and a mark has to do with few of them. A trusted book therefore reads a
// method when somebody first asks for it; before, it knows which kinds of mark each treats, and no more.

// Methods returns all methods, in the order of their ids.
func (b *Book) Methods() []*Method {
	for _, m := range b.every {
		b.whole(m)
	}
	return b.every
}

// Method returns the method called id, nil if there is none.
func (b *Book) Method(id string) *Method { return b.whole(b.methods[id]) }

// Treating returns the methods that treat a kind of defect, in the order of their ids.
func (b *Book) Treating(defect string) []*Method {
	for _, m := range b.treating[defect] {
		b.whole(m)
	}
	return b.treating[defect]
}

// whole reads a method unless it was read.
func (b *Book) whole(m *Method) *Method {
	if read := b.late[m]; read != nil {
		read()
	}
	return m
}

// put adds a method that was read to the book, or fills it in where the book has waited for it.
func (l *loader) put(m *Method) {
	if l.late != nil {
		*l.late = *m
		return
	}
	l.book.every = append(l.book.every, m)
}

// later notes a method of a trusted book and puts off reading it. It reports whether that can be done:
// the file must not be cut short, and which kinds the method treats must stand plainly in one line.
func (l *loader) later(p *page) bool {
	head, last := p.ends(&l.room)
	treats, plain := treated(head)
	if !plain || !strings.HasPrefix(last, "sources: [") || !strings.HasSuffix(last, "]") {
		return false
	}
	m := &Method{ID: strings.TrimSuffix(path.Base(p.name), ".yaml"), Treats: treats}
	l.book.every = append(l.book.every, m)
	l.book.late[m] = sync.OnceFunc(func() {
		late := &loader{trusted: true, book: l.book, late: m}
		if err := late.lately(*p, "cases", (*file).method); err != nil {
			panic(fmt.Sprintf("a rulebook that was said to be verified is wrong: %v", err))
		}
	})
	return true
}

// ends are the beginning of the page, as far as it is the header, and its last line, "" where they cannot be had
// without reading it all.
func (p *page) ends(room *[2048]byte) (head, last string) {
	file, err := p.fsys.Open(p.name)
	if err != nil {
		return "", ""
	}
	defer file.Close()
	f, ok := file.(io.ReadSeeker)
	if !ok {
		return "", ""
	}
	n, err := io.ReadFull(f, room[:])
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return "", ""
	}
	header, _, _ := bytes.Cut(room[:n], []byte("\n\n"))
	head = string(header)
	size, err := f.Seek(0, io.SeekEnd)
	if err != nil {
		return "", ""
	}
	if _, err := f.Seek(max(0, size-int64(len(room))), io.SeekStart); err != nil {
		return "", ""
	}
	if n, err = io.ReadFull(f, room[:]); err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return "", ""
	}
	tail, ended := bytes.CutSuffix(room[:n], []byte("\n"))
	if !ended {
		return head, ""
	}
	return head, string(tail[bytes.LastIndexByte(tail, '\n')+1:])
}

// treated lists the kinds of mark that the text of a method names as treated.
func treated(text string) ([]string, bool) {
	_, list, found := strings.Cut(text, "\ntreats: [")
	list, _, closed := strings.Cut(list, "]\n")
	if !found || !closed || strings.ContainsAny(list, "\n\"'#[") {
		return nil, false
	}
	var out []string
	for kind := range strings.SplitSeq(list, ",") {
		out = append(out, strings.TrimSpace(kind))
	}
	return out, !slices.Contains(out, "")
}

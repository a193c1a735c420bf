package engine

import (
	"mendwright/rules"
	"mendwright/rules/condition"
)

// How a fact became known.
const (
	Answered = "answered"
	Found    = "finding"
	LookedUp = "table"
	Computed = "computed"
	Changed  = "left by the step before"
)

// fact is a fact as resolved in a scene.
type fact struct {
	value condition.Value
	how   string
	// finding and branch that derived or contradict the value
	finding  *rules.Finding
	branch   int32
	conflict bool
	known    bool
	resolved bool
	rest     *Rest // written when first asked for
}

// facts are those that a scene has resolved. A scene resolves few of all there are, so they lie in pages.
type facts struct {
	pages []*[factsPerPage]fact
	// Where only a few can be the scene's own, they are listed.
	listed []listedFact
}

const factsPerPage = 8

type listedFact struct {
	at int
	*fact
}

// at is the place for the fact with an index out of all of the book.
func (fs *facts) at(index, all int) *fact {
	if fs.pages == nil {
		fs.pages = make([]*[factsPerPage]fact, all/factsPerPage+1)
	}
	page := &fs.pages[index/factsPerPage]
	if *page == nil {
		*page = new([factsPerPage]fact)
	}
	return &(*page)[index%factsPerPage]
}

// listedAt is the place for a fact where few are expected.
func (fs *facts) listedAt(index int) *fact {
	for _, f := range fs.listed {
		if f.at == index {
			return f.fact
		}
	}
	f := &fact{}
	fs.listed = append(fs.listed, listedFact{index, f})
	return f
}

// lists are where lists of facts, by index, are made and kept: there are a great many, and most are short.
type lists struct {
	pad  []int // for the one that is being made
	room []int // what is left for those to come
}

// keep is a copy of a list that was made on the pad.
func (l *lists) keep(list []int) []int {
	if cap(list) > cap(l.pad) {
		l.pad = list
	}
	n := len(list)
	if n == 0 {
		return nil
	}
	if n > len(l.room) {
		l.room = make([]int, max(n, 256))
	}
	out := l.room[:n:n]
	l.room = l.room[n:]
	copy(out, list)
	return out
}

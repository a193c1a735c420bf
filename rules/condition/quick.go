package condition

import (
	"slices"
	"strconv"
	"strings"
)

// A program that starts has hundreds of conditions to read, and CEL's parser and checker take far
// longer over one than judging it takes. quick reads the plain ones, which is nearly all of them. It
// reads nothing that CEL would refuse and nothing otherwise than CEL does, which tests and a fuzz test
// hold it to; what it is not sure of it leaves to CEL, and so every message about a mistake is made there.

// quick returns the tree of a plain condition, or nil.
func quick(e *Env, text string) *Tree {
	p := &quickParser{env: e, text: text}
	t := p.or(0)
	if p.space(); p.at < len(text) || p.lost {
		return nil
	}
	return t
}

type quickParser struct {
	env  *Env
	text string
	at   int
	lost bool // it gives up
}

// deepest is how far parentheses may be nested.
const deepest = 20

func (p *quickParser) giveUp() *Tree {
	p.lost = true
	return &Tree{}
}

func (p *quickParser) space() {
	for p.at < len(p.text) && p.text[p.at] == ' ' {
		p.at++
	}
}

// takes goes past a symbol if it stands here.
func (p *quickParser) takes(symbol string) bool {
	if p.space(); strings.HasPrefix(p.text[p.at:], symbol) {
		p.at += len(symbol)
		return true
	}
	return false
}

func (p *quickParser) or(depth int) *Tree {
	return p.joined(Or, "||", depth, p.and)
}

func (p *quickParser) and(depth int) *Tree {
	return p.joined(And, "&&", depth, p.not)
}

// joined reads parts with a symbol between; parts of the same sort lie flat.
func (p *quickParser) joined(op Op, symbol string, depth int, part func(int) *Tree) *Tree {
	first := part(depth)
	if !p.takes(symbol) {
		return first
	}
	t := &Tree{Op: op}
	add := func(part *Tree) {
		if part.Op == op {
			t.Parts = append(t.Parts, part.Parts...)
		} else {
			t.Parts = append(t.Parts, part)
		}
	}
	add(first)
	for {
		add(part(depth))
		if p.lost || !p.takes(symbol) {
			return t
		}
	}
}

func (p *quickParser) not(depth int) *Tree {
	if p.lost || depth > deepest {
		return p.giveUp()
	}
	if p.takes("!") {
		negated := p.parenthesised(depth)
		if negated == nil {
			f := p.fact()
			if f.Kind != YesNo {
				return p.giveUp() // CEL negates the fact before it compares it
			}
			negated = &Tree{Op: Is, Fact: f.ID}
		}
		return &Tree{Op: Not, Parts: []*Tree{negated}}
	}
	if t := p.parenthesised(depth); t != nil {
		return t
	}
	return p.test()
}

// parenthesised reads what stands in parentheses, nil if none open here.
func (p *quickParser) parenthesised(depth int) *Tree {
	if !p.takes("(") {
		return nil
	}
	t := p.or(depth + 1)
	if !p.takes(")") {
		return p.giveUp()
	}
	return t
}

// test reads a fact and what it is compared with.
func (p *quickParser) test() *Tree {
	if p.space(); p.at < len(p.text) && p.text[p.at] == '"' {
		return p.several()
	}
	f := p.fact()
	switch f.Kind {
	case YesNo:
		return &Tree{Op: Is, Fact: f.ID}
	case Quantity:
		for _, than := range []string{"<=", ">=", "<", ">"} {
			if p.takes(than) {
				return &Tree{Op: Cut, Fact: f.ID, Than: than, Number: p.number()}
			}
		}
	case Choice:
		switch {
		case p.takes("=="):
			return &Tree{Op: Is, Fact: f.ID, Answers: []string{p.answer(f)}}
		case p.takes("!="):
			return &Tree{Op: Not, Parts: []*Tree{{Op: Is, Fact: f.ID, Answers: []string{p.answer(f)}}}}
		case p.in() && p.takes("["):
			t := &Tree{Op: Is, Fact: f.ID}
			for {
				t.Answers = append(t.Answers, p.answer(f))
				if p.lost || !p.takes(",") {
					break
				}
			}
			if p.takes("]") {
				return t
			}
		}
	}
	return p.giveUp()
}

// several reads an answer and the fact, one of several answers, that may have it.
func (p *quickParser) several() *Tree {
	id := p.quoted()
	if !p.in() {
		return p.giveUp()
	}
	if f := p.fact(); !p.lost && f.Kind == Several && slices.Contains(f.Answers, id) {
		return &Tree{Op: Is, Fact: f.ID, Answers: []string{id}, several: true}
	}
	return p.giveUp()
}

// in goes past the word.
func (p *quickParser) in() bool {
	return p.takes("in") && p.at < len(p.text) && (p.text[p.at] == ' ' || p.text[p.at] == '[')
}

// reserved words may not be part of a name in CEL.
var reserved = []string{"as", "break", "const", "continue", "else", "false", "for", "function", "if", "import", "in", "let", "loop", "namespace", "null", "package", "return", "true", "var", "void", "while"}

// fact reads the name of a fact.
func (p *quickParser) fact() Fact {
	p.space()
	start := p.at
	for p.at < len(p.text) && (p.text[p.at] == '.' || p.text[p.at] == '_' || p.text[p.at] >= '0' && p.text[p.at] <= '9' || p.text[p.at] >= 'a' && p.text[p.at] <= 'z') {
		p.at++
	}
	f, ok := p.env.facts[p.text[start:p.at]]
	if !ok {
		p.lost = true
	}
	for part := range strings.SplitSeq(f.ID, ".") {
		if slices.Contains(reserved, part) {
			p.lost = true
		}
	}
	return f
}

// answer reads one of the answers of a fact in quotes.
func (p *quickParser) answer(f Fact) string {
	id := p.quoted()
	if !slices.Contains(f.Answers, id) {
		p.lost = true
	}
	return id
}

// quoted reads a word in double quotes.
func (p *quickParser) quoted() string {
	if p.takes(`"`) {
		word, _, closed := strings.Cut(p.text[p.at:], `"`)
		if closed && strings.IndexFunc(word, func(r rune) bool { return r < ' ' || r > '~' || r == '\\' }) < 0 {
			p.at += len(word) + 1
			return word
		}
	}
	p.lost = true
	return ""
}

// number reads digits, a point and digits.
func (p *quickParser) number() float64 {
	p.space()
	start := p.at
	if p.at < len(p.text) && p.text[p.at] == '-' {
		p.at++
	}
	for p.at < len(p.text) && (p.text[p.at] == '.' || p.text[p.at] >= '0' && p.text[p.at] <= '9') {
		p.at++
	}
	word := p.text[start:p.at]
	whole, part, _ := strings.Cut(strings.TrimPrefix(word, "-"), ".")
	v, err := strconv.ParseFloat(word, 64)
	if err != nil || whole == "" || part == "" || p.at < len(p.text) && strings.IndexByte(" )&|", p.text[p.at]) < 0 {
		p.lost = true
	}
	return v
}

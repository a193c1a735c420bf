package engine

import (
	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// CaseRun is what came of the cases beside rules.
type CaseRun struct {
	Rulebook RulebookID `json:"rulebook"`
	Rules    int        `json:"rules"`
	Cases    int        `json:"cases"`
	// Failures are cases that come out otherwise, and conditions that no case has seen both ways.
	Failures []Failure `json:"failures"`
}

// Failure is one mistake at its place.
type Failure struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Says    string `json:"says"`
	Excerpt string `json:"excerpt,omitempty"` // the line itself
}

// RunCases runs the cases of some of the rules (see CheckCases).
func RunCases(book *rules.Book, tables *Tables, of []rules.Rule) *CaseRun {
	run := &CaseRun{Rulebook: rulebookID(book), Rules: len(of), Failures: []Failure{}}
	for _, r := range of {
		run.Cases += len(r.Cases())
	}
	for _, e := range CheckCasesOf(book, tables, of) {
		run.Failures = append(run.Failures, failure(e))
	}
	return run
}

func failure(e *strictyaml.Error) Failure { return Failure{e.File, e.Line, e.Col, e.Msg, e.Excerpt} }

// Error writes the failure as the reading of a file would.
func (f Failure) Error() string {
	return (&strictyaml.Error{File: f.File, Line: f.Line, Col: f.Column, Msg: f.Says, Excerpt: f.Excerpt}).Error()
}

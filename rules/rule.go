package rules

import "mendwright/rules/strictyaml"

// Rule is one rule of a book: exactly one of its parts is set.
type Rule struct {
	Finding *Finding
	Defect  *Defect
	Method  *Method
	Warning *Warning
}

// Rules are all rules of the book: findings, defect kinds, methods, warnings, each by id.
func (b *Book) Rules() []Rule {
	var out []Rule
	for _, f := range b.Findings {
		out = append(out, Rule{Finding: f})
	}
	for _, d := range b.Defects {
		out = append(out, Rule{Defect: d})
	}
	for _, m := range b.Methods() {
		out = append(out, Rule{Method: m})
	}
	for _, w := range b.Warnings {
		out = append(out, Rule{Warning: w})
	}
	return out
}

// ID is the rule's id.
func (r Rule) ID() string {
	switch {
	case r.Finding != nil:
		return r.Finding.ID
	case r.Defect != nil:
		return r.Defect.ID
	case r.Method != nil:
		return r.Method.ID
	}
	return r.Warning.ID
}

// Pos is where the rule stands.
func (r Rule) Pos() strictyaml.Pos {
	switch {
	case r.Finding != nil:
		return r.Finding.Pos
	case r.Defect != nil:
		return r.Defect.Pos
	case r.Method != nil:
		return r.Method.Pos
	}
	return r.Warning.Pos
}

// Cases are the cases beside the rule.
func (r Rule) Cases() []Case {
	switch {
	case r.Finding != nil:
		return r.Finding.Cases
	case r.Defect != nil:
		return r.Defect.Cases
	case r.Method != nil:
		return r.Method.Cases
	}
	return r.Warning.Cases
}

// Survives are the changes of the rule that make no difference to anybody.
func (r Rule) Survives() []Survivor {
	switch {
	case r.Finding != nil:
		return r.Finding.Survives
	case r.Defect != nil:
		return r.Defect.Survives
	case r.Method != nil:
		return r.Method.Survives
	}
	return r.Warning.Survives
}

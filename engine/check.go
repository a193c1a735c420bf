package engine

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// SandingAnswer is a sanding check with what to warn of while sanding.
type SandingAnswer struct {
	Rulebook RulebookID `json:"rulebook"`
	Sanding
	Warnings []WarningView    `json:"warnings"`
	Sources  map[string]Cited `json:"sources"`
}

// CheckSanding checks the sanding programme of a surface of the job: down to the bottom of the
// defect, or only a fresh surface if defect is "". It warns of what sanding
// gives off. The error names the nearest surface or defect if there is none so called.
func CheckSanding(book *rules.Book, tables *Tables, job *Job, surface, defect string) (*SandingAnswer, error) {
	on := job.Surfaces[surface]
	if on == nil {
		var names []string
		for name := range job.Surfaces {
			names = append(names, name)
		}
		slices.Sort(names)
		return nil, fmt.Errorf("the job has no surface %q%s; its surfaces are %s", surface, strictyaml.Nearest(surface, names), strings.Join(names, ", "))
	}
	mark := &Mark{On: surface}
	reach := &rules.Sanding{}
	if defect != "" {
		i := slices.IndexFunc(job.Defects, func(m *Mark) bool { return m.ID == defect && m.On == surface })
		if i < 0 {
			var ids []string
			for _, m := range job.Defects {
				if m.On == surface {
					ids = append(ids, m.ID)
				}
			}
			if len(ids) == 0 {
				return nil, fmt.Errorf("there is no defect %q on %s; it has none", defect, surface)
			}
			return nil, fmt.Errorf("there is no defect %q on %s%s; it has %s", defect, surface, strictyaml.Nearest(defect, ids), strings.Join(ids, ", "))
		}
		mark, reach.ToDefect = job.Defects[i], true
	}
	base := newScene(book, tables, job, mark, on, nil)
	a := &SandingAnswer{Rulebook: rulebookID(book), Warnings: []WarningView{}}
	a.Sanding = *base.forMethod(&rules.Method{Sanding: reach}).sanding()
	w := newWarner(book)
	w.method(base, &verdict{method: &rules.Method{ID: "sanding", GivesOff: book.Terms.Sanding}})
	a.Warnings = append(a.Warnings, w.views()...)
	a.Sources = citedBy(book, func(yield func([]string)) {
		for _, w := range a.Warnings {
			yield(w.Sources)
		}
	})
	return a, base.err
}

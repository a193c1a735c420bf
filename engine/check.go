package engine

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// CheckSanding checks the sanding programme of a surface of the job: down to the bottom of the
// defect, or only a fresh surface if defect is "". The error names the nearest surface or defect
// if there is none so called.
func CheckSanding(book *rules.Book, tables *Tables, job *Job, surface, defect string) (*Sanding, error) {
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
			return nil, fmt.Errorf("there is no defect %q on %s%s; it has %s", defect, surface, strictyaml.Nearest(defect, ids), strings.Join(ids, ", "))
		}
		mark, reach.ToDefect = job.Defects[i], true
	}
	s := newScene(book, tables, job, mark, on, nil).forMethod(&rules.Method{Sanding: reach})
	cut := s.sanding()
	if s.base.err != nil {
		return nil, s.base.err
	}
	return cut, s.err
}

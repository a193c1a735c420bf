package air

import (
	"cmp"
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// Gloves are glove materials for a group of substances.
type Gloves struct {
	Good []string // best first
	Poor []string
}

// GlovesFor returns the materials that hold against all of the substances, in the order of the first, and
// those that give way to any, sorted. Good is empty if no one material does for all. The error names
// an unknown substance.
func (t Tables) GlovesFor(substances ...string) (Gloves, error) {
	var g Gloves
	for i, name := range substances {
		s, err := t.Substance(name)
		if err != nil {
			return Gloves{}, err
		}
		one, err := find(t.Gloves, "group of gloves", s.Gloves)
		if err != nil {
			return Gloves{}, err
		}
		if i == 0 {
			g.Good = slices.Clone(one.Good)
		}
		g.Good = slices.DeleteFunc(g.Good, func(m string) bool { return !slices.Contains(one.Good, m) })
		g.Poor = append(g.Poor, one.Poor...)
	}
	slices.Sort(g.Poor)
	g.Poor = slices.Compact(g.Poor)
	g.Good = slices.DeleteFunc(g.Good, func(m string) bool { return slices.Contains(g.Poor, m) })
	return g, nil
}

// GloveLevel returns the level of EN ISO 374-1, 0 to 6, of a glove that something takes the given minutes
// (0 or more) to get through, at the worst end: more than 10, 30, 60, 120, 240 and 480 minutes.
func GloveLevel(minutes interval.Range) (int, error) {
	if err := atLeast0("the time", "min", minutes); err != nil {
		return 0, err
	}
	level := 0
	for _, more := range []float64{10, 30, 60, 120, 240, 480} {
		if minutes.Lo > more {
			level++
		}
	}
	return level, nil
}

// GloveType returns the type of EN ISO 374-1 by the minutes that test chemicals take to get through, by
// letter: A for 30 minutes against six, B for 30 against three, C for 10 against one, "" for
// less. The error names a letter that is none.
func (t Tables) GloveType(minutes map[string]float64) (string, error) {
	var thirty, ten int
	for letter, m := range minutes {
		if _, ok := t.Letters[letter]; !ok {
			return "", fmt.Errorf("there is no test chemical of the letter %q", letter)
		}
		if err := atLeast0("the time", "min", interval.Exact(m)); err != nil {
			return "", err
		}
		if m >= 30 {
			thirty++
		}
		if m >= 10 {
			ten++
		}
	}
	switch {
	case thirty >= 6:
		return "A", nil
	case thirty >= 3:
		return "B", nil
	case ten >= 1:
		return "C", nil
	}
	return "", nil
}

// Letter returns the test chemical that a letter on a glove stands for.
func (t Tables) Letter(letter string) (string, error) {
	return find(t.Letters, "letter", cmp.Or(letter, "?"))
}

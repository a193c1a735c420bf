package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// Verdict says in one or two sentences what a sanding check came to.
func Verdict(s *engine.Sanding) string {
	grits := strings.Join(s.Grits, "-") + " with " + toolWords(s.Tool)
	if s.Problem != "" {
		problem := strings.ReplaceAll(s.Problem, " mm", "\u00a0mm")
		if s.Verdict == "through" {
			return "REFUSED: " + problem + "."
		}
		return "NOT CHECKED: " + problem + "."
	}
	var text string
	switch s.Verdict {
	case "clear":
		text = "CLEAR: the layer stands " + grits + "; chance of going through " + chance(s.Chances.Hi) + " at worst."
	case "tight":
		text = "TIGHT: " + grits + " may go through; chance up to " + chance(s.Chances.Hi) + ". Measure again after every few passes."
	case "through":
		text = "REFUSED: " + grits + " goes through the keep line"
		if s.Chances != nil {
			text += "; chance " + atLeast(s.Chances.Lo)
		}
		text += "."
	default:
		text = "NOT CLEARED: "
		switch {
		case slices.ContainsFunc(s.Missing, func(id string) bool { return strings.HasSuffix(id, "layer") }):
			text += "what the layer is must be known first."
		case s.Chances != nil && len(s.Missing) == 0:
			text += fmt.Sprintf("how hard the tool cuts leaves it open (chance %s); take a finer first grit and measure after a few strokes.", chances(*s.Chances))
		case s.Chances != nil:
			text += fmt.Sprintf("the measurements leave it open (chance %s); measure more closely: %s.", chances(*s.Chances), strings.Join(s.Missing, ", "))
		default:
			text += "not known: " + strings.Join(s.Missing, ", ") + ". A guess clears nothing."
		}
	}
	if s.Estimate != nil {
		text += " Such a layer is usually " + mm(*s.Estimate) + ", but only a measurement counts."
	}
	if s.TakeMM != nil {
		text += " It takes " + mm(*s.TakeMM)
		if s.LeftMM != nil {
			text += " and leaves " + mm(*s.LeftMM)
		}
		text += "."
	}
	return text
}

// chances writes a range of probabilities.
func chances(r interval.Range) string {
	lo, hi := chance(r.Lo), chance(r.Hi)
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}

func atLeast(p float64) string {
	if p >= 0.995 {
		return chance(p)
	}
	return chance(p) + " or more"
}

// passes counts what the tables call one pass with a tool: by hand it is ten strokes.
func passes(tool string, n int) string {
	if tool == "hand" {
		return count(n*10, "stroke")
	}
	if n == 1 {
		return "1 pass"
	}
	return fmt.Sprintf("%d passes", n)
}

func toolWords(tool string) string {
	switch tool {
	case "hand":
		return "a hand block"
	case "orbital":
		return "an orbital sander"
	case "belt":
		return "a belt sander"
	}
	return tool
}

// Sand writes a sanding check in full, with what to warn of.
func Sand(p *Page, what string, a *engine.SandingAnswer) {
	s := &a.Sanding
	p.Head("Sanding check: " + what)
	p.Item(0, "Verdict", textCol, Verdict(s))
	if s.Problem == "" {
		figures(p, s)
	}
	warningList(p, a.Warnings, a.Sources)
	p.Blank()
	p.Text(0, Deference)
}

// figures writes what a verdict comes from.
func figures(p *Page, s *engine.Sanding) {
	row := func(label string, r *interval.Range, note string) {
		if r != nil && r.Hi != 0 {
			p.Item(0, label, textCol, mm(*r)+note)
		}
	}
	row("Layer", s.ThicknessMM, ", measured")
	if s.KeepMM > 0 {
		keep := fmt.Sprintf("%s must stay", Glue(quantity.Number(s.KeepMM, 3)+" mm"))
		if s.WarnMM > s.KeepMM && (s.LeftMM == nil || s.LeftMM.Lo < s.WarnMM) {
			keep += fmt.Sprintf("; below %s sand by hand only and look often", Glue(quantity.Number(s.WarnMM, 3)+" mm"))
		}
		p.Item(0, "Keep", textCol, keep)
	}
	if s.TakeMM != nil {
		row("Film", s.FilmMM, " cut through first")
		row("Mark", s.MarkMM, " deep")
		row("Scratches", s.ScratchesMM, " so that each grit clears the one before (industrial figures, an upper estimate)")
		row("Takes", s.TakeMM, " in all")
		row("Leaves", s.LeftMM, "")
	}
	if s.Chance != nil {
		p.Item(0, "Chance", textCol, fmt.Sprintf("of going through the keep line: %s (combined standard uncertainty %s); from the best to the worst end of what was measured: %s",
			chance(*s.Chance), Glue(quantity.Number(s.StdMM, 2)+" mm"), chances(*s.Chances)))
	}
	if s.DeepestMM != nil {
		p.Item(0, "Deepest", textCol, fmt.Sprintf("mark that these grits could sand out with a chance of 1 in 100: %s", Glue(quantity.Number(rounded(interval.Exact(*s.DeepestMM)).Lo, 3)+" mm")))
	}
	if s.Cover != nil {
		p.Item(0, "Screws", textCol, mm(*s.Cover)+" of wood would stay over their tips")
	}
	if s.Stiff != nil {
		p.Item(0, "Stiffness", textCol, span(interval.Range{Lo: math.Round(s.Stiff.Lo * 100), Hi: math.Round(s.Stiff.Hi * 100)}, "%")+" of what it was")
	}
	switch {
	case s.Passes == nil || s.Verdict == "through":
	case *s.Passes > 0:
		p.Item(0, "Measure", textCol, fmt.Sprintf("again after %s with %s, or sooner", passes(s.Tool, *s.Passes), s.Grits[0]))
	default:
		p.Item(0, "Measure", textCol, fmt.Sprintf("%s with %s could take more than half of what there is to spare; take a gentler tool or a finer grit", passes(s.Tool, 1), s.Grits[0]))
	}
	grits(p, s)
	if s.Slope != nil && *s.Slope > 0 && (s.Verdict == "clear" || s.Verdict == "tight") {
		p.Item(0, "Hollow", textCol, fmt.Sprintf("sanded over the mark alone it would slope 1 in %s, which shows", quantity.Number(1 / *s.Slope, 2)))
	}
	if len(s.Feather) > 0 && (s.Verdict == "clear" || s.Verdict == "tight") {
		p.Item(0, "Blend", textCol, "the hollow over at least "+feather(s.Feather)+" so that it does not show")
	}
}

func grits(p *Page, s *engine.Sanding) {
	var steps []string
	for _, st := range s.Steps {
		w := map[string]string{"close": "good", "one-skipped": "one grade skipped, takes longer", "too-big": "TOO BIG a jump, scratches stay"}[st.Jump]
		steps = append(steps, fmt.Sprintf("%s to %s: %s (grain %s times coarser)", st.From, st.To, w, quantity.Number(st.Ratio, 3)))
	}
	if len(steps) > 0 {
		p.Item(0, "Grits", textCol, strings.Join(steps, "; "))
	}
}

func feather(widths map[string]float64) string {
	var parts []string
	for _, sheen := range []string{"satin", "semi-gloss", "gloss"} {
		if w, ok := widths[sheen]; ok {
			parts = append(parts, fmt.Sprintf("%s for %s", Glue(quantity.Number(w, 2)+" mm"), sheen))
		}
	}
	return strings.Join(parts, ", ")
}

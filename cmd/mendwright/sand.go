package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules/condition"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// sandFlags are the facts of a cut that can be given on the command line, by flag.
var sandFlags = []struct{ flag, fact, usage string }{
	{"layer", "surface.layer", "what the surface is made of: solid, veneer, plywood"},
	{"thickness", "surface.layer_mm", `measured thickness of that layer, such as "0.9 ± 0.05 mm" or "1/28 in"`},
	{"mark", "defect.depth_mm", `depth of the mark to sand out, such as "0.2 mm"`},
	{"width", "defect.width_mm", "width of the mark"},
	{"film", "surface.film_mm", "thickness of the finish that is still on"},
	{"stripped", "surface.stripped", "yes if the finish is off already"},
	{"screwed", "surface.screwed", "yes if screws come up into a solid board from below"},
	{"screw", "surface.screw_mm", "how deep the longest of them goes into it"},
	{"age", "piece.age", "when the piece was made, such as 1900-1950; only for what such layers usually measure"},
}

func newSand() *cobra.Command {
	var asJSON bool
	var grits, tool, keep string
	values := map[string]*string{}
	cmd := &cobra.Command{
		Use:   "sand [JOB SURFACE [DEFECT]]",
		Short: "Check a sanding programme against what the layer can lose",
		Long: "Sand checks a cut before it is made: a surface from a job file, or one given by flags. It\n" +
			"says what the grits take, what is left, and the chance of going through. A layer that\nnobody measured is never cleared. It ends with exit code 3 unless the cut is clear or tight.",
		Example: "  mendwright sand --layer veneer --thickness \"0.9 mm\" --mark \"0.1 mm\" --stripped yes --grits 120,150,180\n" +
			"  mendwright sand job.yaml top dent-1 --grits 150,180,220",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 || len(args) > 3 {
				return callError{errors.New("sand takes nothing but flags, or a job file, a surface and perhaps a defect")}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			job, surface, defect := &engine.Job{Surfaces: map[string]*engine.Surface{flagSurface: {}}}, flagSurface, ""
			if len(args) > 0 {
				file, err := jobfile.ReadFile(args[0], k.Book, k.Tables)
				if err != nil {
					return err
				}
				job, surface = file.Job, args[1]
				if len(args) > 2 {
					defect = args[2]
				}
			}
			if on := job.Surfaces[surface]; on != nil {
				if defect, err = applyFlags(cmd, k, job, on, surface, defect, values); err != nil {
					return err
				}
				if err := applyProgramme(k, &on.Programme, grits, tool, keep); err != nil {
					return err
				}
			}
			s, err := engine.CheckSanding(k.Book, k.Tables, job, surface, defect)
			if err != nil {
				return err
			}
			if err := showSand(cmd, surface, defect, s, asJSON); err != nil {
				return err
			}
			if s.Verdict != "clear" && s.Verdict != "tight" {
				return errRefused
			}
			return nil
		},
	}
	for _, f := range sandFlags {
		values[f.flag] = cmd.Flags().String(f.flag, "", f.usage)
	}
	cmd.Flags().StringVar(&grits, "grits", "", "grits from coarse to fine, such as 120,150,180")
	cmd.Flags().StringVar(&tool, "tool", "", "hand, orbital or belt")
	cmd.Flags().StringVar(&keep, "keep", "", "what must stay of the layer")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the check as JSON")
	return cmd
}

func showSand(cmd *cobra.Command, surface, defect string, s *engine.SandingAnswer, asJSON bool) error {
	if asJSON {
		return writeJSON(cmd.OutOrStdout(), s)
	}
	if surface == flagSurface {
		for i, id := range s.Missing {
			for _, f := range sandFlags {
				if f.fact == id {
					s.Missing[i] = "--" + f.flag
				}
			}
		}
	}
	what := surface
	if defect != "" && defect != flagMark {
		what = defect + " on " + surface
	}
	screen.Sand(page(cmd.OutOrStdout()), what, s)
	return nil
}

// flagSurface is the name of a surface that was given by flags alone.
const flagSurface = "the surface"

// flagMark is the id of a mark that was given by flags alone.
const flagMark = "the mark"

// applyFlags lays the facts given as flags over the job and returns the defect to sand to.
func applyFlags(cmd *cobra.Command, k *knowledge.Loaded, job *engine.Job, on *engine.Surface, surface, defect string, values map[string]*string) (string, error) {
	mark := &engine.Mark{ID: flagMark, On: surface}
	for _, m := range job.Defects {
		if m.ID == defect {
			mark = m
		}
	}
	for _, f := range sandFlags {
		if !cmd.Flags().Changed(f.flag) {
			continue
		}
		v, known, err := k.Book.Facts[f.fact].ReadAnswer(*values[f.flag])
		if err != nil {
			return "", callError{fmt.Errorf("--%s: %w", f.flag, err)}
		}
		subject := &on.Subject
		switch prefix, _, _ := strings.Cut(f.fact, "."); prefix {
		case "piece":
			subject = &job.Piece
		case "defect":
			subject = &mark.Subject
		}
		if subject.Answers == nil {
			subject.Answers = map[string]condition.Value{}
		}
		delete(subject.Answers, f.fact)
		if known {
			subject.Answers[f.fact] = v
		}
		if f.flag == "screw" && known {
			if cmd.Flags().Changed("screwed") && !subject.Answers["surface.screwed"].IsYes() {
				return "", callError{errors.New("--screw gives the depth of screws that --screwed says are not there")}
			}
			subject.Answers["surface.screwed"] = condition.Yes(true)
		}
	}
	if defect == "" && (cmd.Flags().Changed("mark") || cmd.Flags().Changed("width")) {
		job.Defects = append(job.Defects, mark)
		return mark.ID, nil
	}
	return defect, nil
}

// applyProgramme lays the programme given as flags over that of the surface.
func applyProgramme(k *knowledge.Loaded, p *engine.Programme, grits, tool, keep string) error {
	if grits != "" {
		p.Grits = nil
		for _, g := range strings.Split(grits, ",") {
			if _, err := k.Tables.Depth.Grain(g); err != nil {
				return callError{fmt.Errorf("--grits: %w; separate them by commas", err)}
			}
			p.Grits = append(p.Grits, strings.TrimSpace(g))
		}
	}
	if tool != "" {
		names := k.Tables.ToolNames()
		if !slices.Contains(names, tool) {
			return callError{fmt.Errorf("--tool: read %q; expected %s%s", tool, strings.Join(names, ", "), strictyaml.Nearest(tool, names))}
		}
		p.Tool = tool
	}
	if keep != "" {
		q, err := quantity.Parse(keep, "mm")
		if err != nil {
			return callError{fmt.Errorf("--keep: %w", err)}
		}
		if q.Lo < 0 {
			return callError{fmt.Errorf("--keep: read %q; what must stay cannot be less than nothing", keep)}
		}
		p.Keep = &q.Hi
	}
	return nil
}

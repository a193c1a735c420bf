package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/check"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

func newSand() *cobra.Command {
	var asJSON bool
	var q check.Sand
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
			job, surface, defect := check.Bare(), check.TheSurface, ""
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
			q.Values = map[string]string{}
			for flag, value := range values {
				if cmd.Flags().Changed(flag) {
					q.Values[flag] = *value
				}
			}
			s, defect, err := q.Ask(k, job, surface, defect)
			if err != nil {
				return inFlags(err)
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
	for _, f := range check.SandFields {
		values[f.Field] = cmd.Flags().String(f.Field, "", f.Usage)
	}
	cmd.Flags().StringVar(&q.Grits, "grits", "", "grits from coarse to fine, such as 120,150,180")
	cmd.Flags().StringVar(&q.Tool, "tool", "", "hand, orbital or belt")
	cmd.Flags().StringVar(&q.Keep, "keep", "", "what must stay of the layer")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the check as JSON")
	return cmd
}

func showSand(cmd *cobra.Command, surface, defect string, s *engine.SandingAnswer, asJSON bool) error {
	if asJSON {
		return writeJSON(cmd.OutOrStdout(), s)
	}
	if surface == check.TheSurface {
		for i, id := range s.Missing {
			for _, f := range check.SandFields {
				if f.Fact == id {
					s.Missing[i] = "--" + f.Field
				}
			}
		}
	}
	what := surface
	if defect != "" && defect != check.TheMark {
		what = defect + " on " + surface
	}
	screen.Sand(page(cmd.OutOrStdout()), what, s)
	return nil
}

// inFlags says of a mistake in a field which flag it stands in; it is one of the call.
func inFlags(err error) error {
	var field *check.FieldError
	switch {
	case errors.Is(err, check.ErrNothingAsked):
		return callError{errors.New("say what evaporates (--solvent, --amount, --room, --place) or which coat (--coat, --humidity), or both")}
	case !errors.As(err, &field):
		return err
	case field.Err == nil:
		return callError{fmt.Errorf("--%s is missing; give it as --%s %q", field.Field, field.Field, field.Example)}
	}
	return callError{fmt.Errorf("--%s: %w", field.Field, field.Err)}
}

// Mendwright triages damage on second-hand wooden furniture: which repair risks least for a mark
// on its wood, and whether there is wood left to do it.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/knowledge"
	"mendwright/rules/strictyaml"
)

// version is set by the linker for a release.
var version = "0.1.0-dev"

// Exit codes.
const (
	exitDone      = 0
	exitFailed    = 1 // a bad file, a bad rulebook
	exitWrongCall = 2
	exitRefused   = 3   // the thing asked about is refused, such as a cut that goes through
	exitStopped   = 128 // and the number of the signal, as shells have it: 130 for Ctrl-C
)

// errRefused ends a command that has already said what it refuses.
var errRefused = errors.New("refused")

// errFaults ends a command that has already shown what is wrong with the rulebook.
var errFaults = errors.New("faults in the rulebook")

// callError is a mistake in how the program was called.
type callError struct{ error }

func main() {
	// Most runs are over before it pays to collect what they threw away; what grows is collected.
	debug.SetGCPercent(-1)
	debug.SetMemoryLimit(128 << 20)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run runs the program and returns its exit code.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	called, err := root.ExecuteC()
	var wrong callError
	var stopped stoppedError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errRefused):
		return exitRefused
	case errors.Is(err, errFaults):
		return exitFailed
	case errors.As(err, &stopped):
		return exitStopped + int(stopped.signal)
	case errors.As(err, &wrong):
		fmt.Fprintf(errOut, "mendwright: %v\nSee '%s --help'.\n", err, called.CommandPath())
		return exitWrongCall
	}
	fmt.Fprintf(errOut, "mendwright: %v\n", err)
	return exitFailed
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "mendwright",
		Short: "A second opinion before each irreversible step on a piece of wooden furniture",
		Long: "Mendwright triages damage on second-hand wooden furniture. It ranks the repairs that would\nwork for a mark by what they risk, says which are ruled out and why, and checks a cut\nagainst what the wood can lose.\n\n" +
			"A second opinion, not a promise. The label and safety data sheet of the product, local\ncodes and licensed practice come first.",
		Version:       version,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				var names []string
				for _, c := range cmd.Commands() {
					names = append(names, c.Name())
				}
				return callError{fmt.Errorf("there is no command %q%s", args[0], strictyaml.Nearest(args[0], names))}
			}
			return cmd.Help()
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return callError{err} })
	root.AddCommand(newTriage(), newPlan(), newSheet(), newDone(), newSand(), newWhy(), newAir(), newCoat(), newReckon(), newAsk(), newServe(), newRules())
	rulebookFlag(root)
	root.SetHelpCommand(&cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Show how to call a command",
		RunE: func(_ *cobra.Command, args []string) error {
			cmd, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return callError{fmt.Errorf("there is no command %q", strings.Join(args, " "))}
			}
			return cmd.Help()
		},
	})
	return root
}

// textFlag adds a flag that takes a text, and refuses it without one: left out, it would mean
// something else.
func textFlag(cmd *cobra.Command, into *string, flag, usage string) {
	cmd.Flags().StringVar(into, flag, "", usage)
	before := cmd.PreRunE
	cmd.PreRunE = func(cmd *cobra.Command, args []string) error {
		if cmd.Flags().Changed(flag) && strings.TrimSpace(*into) == "" {
			return callError{fmt.Errorf("--%s stands without a value; write one (%s), or leave --%s out", flag, usage, flag)}
		}
		if before == nil {
			return nil
		}
		return before(cmd, args)
	}
}

// exactly asks for a number of arguments and says which.
func exactly(names ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != len(names) {
			what := strings.Join(names, " ")
			if what == "" {
				what = "nothing but flags"
			}
			return callError{fmt.Errorf("%s takes %s, read %d arguments", cmd.Name(), what, len(args))}
		}
		return nil
	}
}

// readJob loads the rulebook and a job file.
func readJob(cmd *cobra.Command, path string) (*knowledge.Loaded, *jobfile.File, error) {
	k, err := openRulebook(cmd)
	if err != nil {
		return nil, nil, err
	}
	f, err := jobfile.ReadFile(path, k.Book, k.Tables)
	return k, f, err
}

// page readies a page for out: its width, and emphasis on a terminal only.
func page(out io.Writer) *screen.Page {
	p := &screen.Page{W: out, Width: 80}
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		p.Width = n
	}
	if f, ok := out.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			p.Width = w
		}
		p.Bold = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	}
	return p
}

func writeJSON(out io.Writer, v any) error {
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return fmt.Errorf("writing the answer: %w", err)
	}
	return nil
}

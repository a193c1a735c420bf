package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"mendwright/cmd/mendwright/interview"
	"mendwright/cmd/mendwright/jobfile"
)

// stoppedError says which signal ended a sitting. All that is to be said was said.
type stoppedError struct{ signal syscall.Signal }

func (e stoppedError) Error() string { return "stopped by " + e.signal.String() }

func newAsk() *cobra.Command {
	return &cobra.Command{
		Use:   "ask [JOB]",
		Short: "Answer questions about marks one at a time; the job file is begun or gone on with",
		Long: "Ask puts one question at a time about the marks of a piece and saves after every answer: leave\n" +
			"at any time and go on later. It begins the job file if there is none; without JOB the file is named\n" +
			"after the piece, in the folder you are in. It ends with the triage and what is still open.",
		Example: "  mendwright ask\n  mendwright ask chest.yaml",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return callError{fmt.Errorf("ask takes one JOB or none, read %d arguments", len(args))}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			in := cmd.InOrStdin()
			sitting := &interview.Interview{Book: k.Book, Tables: k.Tables, Page: page(cmd.OutOrStdout()), Piped: !isTerminal(in)}
			if len(args) > 0 {
				sitting.Doc, err = jobfile.Open(args[0], k.Book, k.Tables)
				if errors.Is(err, fs.ErrNotExist) {
					sitting.Doc, err = jobfile.New(args[0], k.Book, k.Tables)
				}
				if err != nil {
					return err
				}
			}
			ctx, done := untilStopped()
			defer done()
			_, err = sitting.Run(ctx, in)
			return err
		},
	}
}

// untilStopped is a context that ends with a stoppedError when the program is to stop. The talk
// ends at its next prompt, with every answer saved.
func untilStopped() (ctx context.Context, done func()) {
	ctx, cancel := context.WithCancelCause(context.Background())
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		select {
		case s := <-signals:
			if n, ok := s.(syscall.Signal); ok {
				cancel(stoppedError{n})
			}
		case <-ctx.Done():
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		cancel(nil)
	}
}

func isTerminal(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

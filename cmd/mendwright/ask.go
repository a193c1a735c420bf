package main

import (
	"errors"
	"io/fs"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/interview"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
)

func newAsk() *cobra.Command {
	return &cobra.Command{
		Use:   "ask JOB",
		Short: "Answer questions about a mark one at a time; the job file is begun or gone on with",
		Long: "Ask puts one question at a time about the marks of a job file, begins the file if there is\n" +
			"none, and saves after every answer: leave at any time and go on later. It ends with the triage.",
		Example: "  mendwright ask chest.yaml",
		Args:    exactly("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := knowledge.Load()
			if err != nil {
				return err
			}
			doc, err := jobfile.Open(args[0], k.Book, k.Tables)
			if errors.Is(err, fs.ErrNotExist) {
				doc, err = jobfile.New(args[0], k.Book, k.Tables)
			}
			if err != nil {
				return err
			}
			sitting := &interview.Interview{Doc: doc, Book: k.Book, Tables: k.Tables, Page: page(cmd.OutOrStdout())}
			file, a, err := sitting.Run(cmd.InOrStdin())
			if err != nil {
				return err
			}
			if err := engine.AddRemedies(k.Book, k.Tables, file.Job, a); err != nil {
				return err
			}
			if err := engine.AddQuestions(k.Book, k.Tables, file.Job, a); err != nil {
				return err
			}
			sitting.Page.Blank()
			screen.Triage(sitting.Page, file, a)
			return nil
		},
	}
}

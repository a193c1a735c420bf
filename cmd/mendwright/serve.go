package main

import (
	"fmt"
	"io"
	"net"
	"path/filepath"
	"runtime/debug"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/jobfile"
	benchpage "mendwright/cmd/mendwright/page"
	"mendwright/cmd/mendwright/photo"
	"mendwright/cmd/mendwright/sheet"
)

func newServe() *cobra.Command {
	var listen string
	cmd := &cobra.Command{
		Use:   "serve [FOLDER]",
		Short: "Open the bench page: questions, triage and checks in a browser",
		Long: "Serve opens a web page for the job files of a folder, the one you are in if none is named: the\n" +
			"questions one at a time, the triage, the sanding check and the air check, with the same answers as\n" +
			"the terminal. Every answer is saved at once. The page is for this machine alone; for a phone at the\n" +
			"bench name the address of this machine in your own network, and type the code that is shown.",
		Example: "  mendwright serve\n  mendwright serve jobs --listen 192.168.1.20:8080",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return callError{fmt.Errorf("serve takes one FOLDER or none, read %d arguments", len(args))}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openRulebook(cmd)
			if err != nil {
				return err
			}
			if listen == "" {
				listen = "127.0.0.1:8080"
			}
			dir := "."
			if len(args) > 0 {
				dir = args[0]
			}
			l, err := net.Listen("tcp", listen)
			if err != nil {
				return callError{fmt.Errorf("--listen: %w; write it like 192.168.1.20:8080", err)}
			}
			// A server lives long, so that what it throws away is collected as usual.
			debug.SetGCPercent(100)
			debug.SetMemoryLimit(1 << 30)
			ctx, done := untilStopped()
			defer done()
			s := &benchpage.Server{Dir: dir, Knowledge: k, Out: cmd.OutOrStdout(), Sheet: func(w io.Writer, file *jobfile.File) error {
				in, err := sheet.Of(k.Book, k.Tables, file)
				if err != nil {
					return err
				}
				// Every job lies in the folder itself, so any name there opens what lies beside it.
				beside := filepath.Join(dir, "job.yaml")
				if in.Photos, err = sheet.PhotosOf(file, func(name string) (io.ReadCloser, error) { return photo.Open(beside, name) }); err != nil {
					return err
				}
				return sheet.Write(w, in)
			}}
			if err := s.Serve(ctx, l); err != nil {
				return err
			}
			fmt.Fprintln(cmd.OutOrStdout(), "Stopped. Every answer is saved.")
			return nil
		},
	}
	textFlag(cmd, &listen, "listen", "address and port; 127.0.0.1:8080 if not given. Any but the loopback asks each device for a code")
	return cmd
}

package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/photo"
	"mendwright/cmd/mendwright/sheet"
)

func newSheet() *cobra.Command {
	var path string
	cmd := &cobra.Command{
		Use:   "sheet JOB",
		Short: "Write the plan of a piece as one HTML file to print and hang on the wall",
		Long: `Sheet writes one HTML file without outside parts: the piece, each mark with its repair and what not to do, the
plan with boxes to tick, dangers at the step where they arise, drawings, shopping and sources. Print it from any
browser, on A4 or Letter.`,
		Example: "  mendwright sheet chest.yaml -o chest.html",
		Args:    exactly("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if ext := strings.ToLower(filepath.Ext(path)); path != "-" && ext != ".html" && ext != ".htm" {
				return callError{fmt.Errorf("read -o %q; expected the name of a file that ends in .html, or - for the output", path)}
			}
			k, _, err := loadRulebook(cmd)
			if err != nil {
				return err
			}
			file, err := jobfile.ReadFile(args[0], k.Book, k.Tables)
			if err != nil {
				return err
			}
			in, err := sheet.Of(k.Book, k.Tables, file)
			if err != nil {
				return err
			}
			open := func(name string) (io.ReadCloser, error) { return photo.Open(args[0], name) }
			if in.Photos, err = sheet.PhotosOf(in.File, open); err != nil {
				return err
			}
			var page bytes.Buffer
			if err := sheet.Write(&page, in); err != nil {
				return err
			}
			if path == "-" {
				_, err = cmd.OutOrStdout().Write(page.Bytes())
			} else {
				err = writeMade("the sheet", path, page.Bytes(), "")
			}
			if err == nil && in.Plan.Refused {
				return errRefused
			}
			return err
		},
	}
	cmd.Flags().StringVarP(&path, "output", "o", "-", "the HTML file to write; - is the output")
	return cmd
}

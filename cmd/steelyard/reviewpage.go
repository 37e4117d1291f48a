package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"steelyard/tutor/review"
	"steelyard/tutor/review/page"
)

// pageFlags ask for a review as a page.
type pageFlags struct {
	file  string
	force bool
}

// add adds the flags to review. A page that may not be written is refused
// before the logs are read, which can take long.
func (f *pageFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.file, "html", "", "write the review as one HTML page to this file, with charts, for a browser or paper")
	c.Flags().BoolVar(&f.force, "force", false, "with --html: write over a file that is there")
	for _, other := range []string{"json", "plain", "file"} {
		c.MarkFlagsMutuallyExclusive("html", other)
	}
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		if f.file == "" && c.Flags().Changed("html") {
			return fmt.Errorf("--html wants the name of a file to write")
		}
		if f.file == "" && f.force {
			return fmt.Errorf("--force goes with --html, the file to write over")
		}
		if _, err := os.Lstat(f.file); err == nil && !f.force {
			return short(fmt.Errorf("%s is there already; name another file, or add --force to write over it", printable(f.file)))
		}
		return nil
	}
}

// write writes the page whole or not at all.
func (f *pageFlags) write(a *app, rep *review.Report) error {
	if err := writeNew(f.file, f.force, func(w io.Writer) error { return page.Write(w, rep) }); err != nil {
		return err
	}
	fmt.Fprintf(a.words, "%s is written; open it in a browser.\n", printable(f.file))
	return nil
}

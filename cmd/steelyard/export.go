package main

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"steelyard/tutor"
	"steelyard/tutor/journal"
)

func (a *app) exportCommand() *cobra.Command {
	var format, file string
	c := &cobra.Command{
		Use:   "export",
		Short: "Write the journal's log, as JSON Lines or CSV",
		Long: `Writes every event of the journal, or of one learner with --learner, to
standard output or to a file. The log is what an instructor reads.`,
		Example: "  steelyard export --file lab3.jsonl\n  steelyard export --format csv --learner kestrel",
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			write, ok := formats[format]
			if !ok {
				return fmt.Errorf("--format is jsonl or csv, not %q", printable(format))
			}
			path, err := a.journalPath()
			if err != nil {
				return short(err)
			}
			if _, err := os.Stat(path); err != nil {
				return short(fmt.Errorf("no journal at %s; name its folder with --data DIR", printable(path)))
			}
			j, err := journal.Open(path)
			if err != nil {
				return short(err)
			}
			defer j.Close()
			if aside := j.SetAside(); aside != "" {
				return short(fmt.Errorf("the journal was damaged; it is kept as %s, and there is nothing else to export", printable(aside)))
			}
			filter := journal.Filter{}
			if c.Flags().Changed("learner") {
				filter.Learner = a.learner
			}
			n, err := a.exportTo(file, func(w io.Writer) (int, error) { return write(w, j.Events(filter)) })
			if err != nil {
				return short(err)
			}
			fmt.Fprintf(a.words, "%d events\n", n)
			return nil
		},
	}
	c.Flags().StringVar(&format, "format", "jsonl", "jsonl or csv")
	c.Flags().StringVar(&file, "file", "", "the file to write (default: standard output)")
	return c
}

// formats are the ways a log can be written.
var formats = map[string]exporter{"jsonl": journal.ExportJSONL, "csv": journal.ExportCSV}

type exporter = func(io.Writer, iter.Seq2[tutor.Event, error]) (int, error)

// exportTo writes to a file that is there whole or not at all, or to standard
// output if no file is named.
func (a *app) exportTo(file string, write func(io.Writer) (int, error)) (int, error) {
	if file == "" {
		return write(a.out)
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".steelyard-*")
	if err != nil {
		return 0, err
	}
	defer os.Remove(tmp.Name())
	n, err := write(tmp)
	if err := errors.Join(err, tmp.Sync(), tmp.Close()); err != nil {
		return n, err
	}
	return n, os.Rename(tmp.Name(), file)
}

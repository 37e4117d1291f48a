package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor/set"
)

func (a *app) checkCommand() *cobra.Command {
	var c checking
	var begin string
	var schema bool
	cmd := &cobra.Command{
		Use:   "check FILE|DIR...",
		Short: "Say what is wrong with scenario files, and what is weak about them",
		Long: `Reads scenario files, the *.toml files of folders, or standard input (-), and
says of each what is wrong and what is weak, with the place and the remedy:

  fault  it is refused, or some of its problems cannot be set
  weak   it works, and teaches less than it could
  note   it may well be meant; you should know

The exit code is 1 if there is a fault; with --strict, if there is a weak
point. An id must not be taken by another file or by the built-in bank.
Nothing is written but with --new, so it may be stopped at any time.`,
		Example: `  steelyard check --new oar-rack       # write oar-rack.toml, to begin from
  steelyard check oar-rack.toml
  steelyard check --strict --json my-bank
  steelyard check --schema > scenario.schema.json   # for an editor`,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case schema:
				_, err := a.out.Write(problems.Schema())
				return short(err)
			case cmd.Flags().Changed("new"):
				return a.newScenario(begin)
			case len(args) == 0:
				return errors.New("check needs a FILE or DIR, or - for standard input")
			}
			return a.check(args, c)
		},
	}
	cmd.Flags().BoolVar(&c.strict, "strict", false, "let weak points fail, too")
	cmd.Flags().BoolVar(&c.asJSON, "json", false, "write one JSON object a line for each finding")
	cmd.Flags().StringVar(&begin, "new", "", "write `NAME`.toml, a working scenario to begin from, with every key explained")
	cmd.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of scenario files, for editors")
	cmd.MarkFlagsMutuallyExclusive("new", "schema")
	return cmd
}

// checking is how findings are told, and how many there are.
type checking struct {
	strict, asJSON bool
	files          int
	found          map[grading.Gravity]int
}

func (a *app) check(args []string, c checking) error {
	c.found = map[grading.Gravity]int{}
	in := grading.NewInspector()
	for _, arg := range args {
		files, err := scenarioFiles(arg)
		if err != nil {
			if err := a.tell(&c, unreadable(arg, err)); err != nil {
				return err
			}
			continue
		}
		for _, file := range files {
			c.files++
			if err := a.checkFile(in, file, &c); err != nil {
				return err
			}
		}
	}
	fmt.Fprintf(a.words, "%s: %s, %s, %s\n", count(c.files, "file"),
		count(c.found[grading.Fault], "fault"), count(c.found[grading.Weak], "weak point"), count(c.found[grading.Note], "note"))
	if c.found[grading.Fault] > 0 || c.strict && c.found[grading.Weak] > 0 {
		return errShort
	}
	return nil
}

func (a *app) checkFile(in *grading.Inspector, file string, c *checking) error {
	data, err := a.readScenario(file)
	if err != nil {
		return a.tell(c, unreadable(file, err))
	}
	inspect := in.Inspect
	if set.Is(data) {
		inspect = a.inspectSet
	}
	for _, f := range inspect(file, data) {
		if err := a.tell(c, f); err != nil {
			return err
		}
	}
	return nil
}

// tell writes a finding as it is made, and counts it.
func (a *app) tell(c *checking, f grading.Finding) error {
	c.found[f.Gravity]++
	if !c.asJSON {
		_, err := fmt.Fprintln(a.out, printable(f.String()))
		return short(err)
	}
	enc := json.NewEncoder(a.out)
	enc.SetEscapeHTML(false)
	return short(enc.Encode(f))
}

func unreadable(file string, err error) grading.Finding {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err // the path is said already
	}
	return grading.Finding{File: file, Gravity: grading.Fault, Code: "file", Message: fmt.Sprintf("cannot be read: %v; name a scenario file, or a folder of them", err)}
}

// scenarioFiles are the files that an argument stands for: itself, or the
// *.toml files of a folder, by name.
func scenarioFiles(arg string) ([]string, error) {
	if arg == "-" {
		return []string{arg}, nil
	}
	info, err := os.Stat(arg)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return []string{arg}, nil
	}
	entries, err := os.ReadDir(arg)
	if err != nil {
		return nil, err
	}
	var files []string
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".toml") {
			files = append(files, filepath.Join(arg, e.Name()))
		}
	}
	if len(files) == 0 {
		return nil, errors.New("there is no *.toml file in this folder")
	}
	return files, nil
}

// readScenario reads a file, or standard input, of no more bytes than a scenario
// may have.
func (a *app) readScenario(file string) ([]byte, error) {
	in := a.in
	if file != "-" {
		info, err := os.Stat(file)
		if err != nil {
			return nil, err
		}
		if !info.Mode().IsRegular() {
			return nil, errors.New("it is no plain file") // a pipe might never end
		}
		f, err := os.Open(file)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, problems.MaxFile+1))
	if err == nil && len(data) > problems.MaxFile {
		err = fmt.Errorf("it has more than %d bytes, too many for a scenario", problems.MaxFile)
	}
	return data, err
}

// newScenario writes the template, under its own id, to a file that must not
// be there yet. The file is there whole or not at all.
func (a *app) newScenario(name string) error {
	id := strings.TrimSuffix(filepath.Base(name), ".toml")
	data, err := problems.Template(id)
	if err != nil {
		return err
	}
	path := filepath.Join(filepath.Dir(name), id+".toml")
	tmp, err := os.CreateTemp(filepath.Dir(path), ".steelyard-*")
	if err != nil {
		return short(err)
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.Write(data)
	if err := errors.Join(err, tmp.Chmod(0o644), tmp.Close()); err != nil {
		return short(err)
	}
	switch err := os.Link(tmp.Name(), path); { // unlike a rename, never over another file
	case errors.Is(err, fs.ErrExist):
		return short(fmt.Errorf("%s is there already, and is left as it is; choose another name", printable(path)))
	case err != nil:
		if err := writeAnew(path, data); err != nil { // a disk without links
			return short(err)
		}
	}
	fmt.Fprintf(a.words, "%s is written; look it over with: steelyard check %s\n", printable(path), printable(path))
	return nil
}

func writeAnew(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// ownBank is the user's own folder of scenarios, steelyard/bank in the user's
// data folder, or "" where there is no such place. It need not exist.
func ownBank() string {
	xdg.Reload() // the environment may have changed since the program began
	if !filepath.IsAbs(xdg.DataHome) {
		return ""
	}
	return filepath.Join(xdg.DataHome, "steelyard", "bank")
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// sameFolder reports whether two paths lead to one folder, so that it is not
// read twice.
func sameFolder(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

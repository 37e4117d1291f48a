// Steelyard is a terminal tutor for setting up equilibrium problems.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// version is the program's own; a release sets it with -ldflags -X.
var version = "0.1.0"

// Exit codes: done, the input fell short, usage.
const (
	exitDone  = 0
	exitShort = 1
	exitUsage = 2
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the program, with its streams named so that tests can drive it.
func run(args []string, in io.Reader, out, words io.Writer) int {
	a := &app{in: in, out: out, words: words}
	root := a.command()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(words)
	err := root.Execute()
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errShort):
		return exitShort // said already
	}
	fmt.Fprintln(words, "steelyard:", err)
	var short *shortError
	if errors.As(err, &short) {
		return exitShort
	}
	fmt.Fprintln(words, "Run steelyard --help for what there is.")
	return exitUsage
}

// errShort ends a command whose input fell short and who has said so.
var errShort = errors.New("the input fell short")

// shortError is an error of the input or the world, not of the command line.
type shortError struct{ error }

func (e *shortError) Unwrap() error { return e.error }

func short(err error) error {
	if err == nil {
		return nil
	}
	return &shortError{err}
}

// app is what the commands share.
type app struct {
	in         io.Reader
	out, words io.Writer

	bankDir string
	dataDir string
	learner string
	ascii   bool
}

func (a *app) command() *cobra.Command {
	root := &cobra.Command{
		Use:   "steelyard",
		Short: "A tutor for setting up equilibrium problems",
		Long: `Steelyard is a tutor for setting up equilibrium problems: isolate the body,
find the forces, choose a pivot, sign each moment, sum to zero, solve, doubt
the answer. It checks every line as it is written and says what kind of
mistake a wrong line is. Run it without a command to begin.`,
		Version:       version,
		Args:          cobra.NoArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	flags := root.PersistentFlags()
	flags.StringVar(&a.bankDir, "bank", "", "a folder of scenario files to read beside the built-in bank")
	flags.StringVar(&a.dataDir, "data", "", "the folder to keep the journal in (default: the user's data folder)")
	flags.StringVar(&a.learner, "learner", "me", "the alias that work is recorded under; no real name is needed")
	flags.BoolVar(&a.ascii, "ascii", false, "use plain ASCII characters only")
	a.tutorCommand(root)
	root.AddCommand(a.listCommand(), a.showCommand(), a.gradeCommand(), a.plainCommand(), a.exportCommand(), a.sheetCommand())
	root.AddCommand(a.checkCommand(), a.importCommand(), a.reviewCommand(), a.planCommand())
	return root
}

// bank reads the scenarios: those that come with the program, those of the
// folder named with --bank, and those of the user's own folder. What could not
// be read is in its Faults.
func (a *app) bank() (*problems.Bank, error) {
	b, err := problems.Open(a.bankDir)
	if err != nil {
		return nil, short(err)
	}
	if dir := ownBank(); dir != "" && !sameFolder(dir, a.bankDir) {
		b.Add(dir)
	}
	return b, nil
}

// sayFaults tells what in the bank could not be read.
func (a *app) sayFaults(b *problems.Bank) {
	for _, f := range b.Faults {
		fmt.Fprintln(a.words, f)
	}
}

// draw makes the problem that an id, a seed and given values name.
func (a *app) draw(b *problems.Bank, id string, seed uint64, given []string) (*problems.Problem, error) {
	s, err := b.Scenario(id)
	if err != nil {
		return nil, short(err)
	}
	p, err := s.Enter(seed, given, discriminates)
	if err != nil {
		return nil, short(err)
	}
	return p, nil
}

func printable(s string) string { return notation.Printable(s) }

package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"steelyard/problems"
	"steelyard/tutor/sheet"
)

// sheetFlags are what a printed sheet may be asked for with.
type sheetFlags struct {
	drawFlags
	variants int
	keyOnly  bool
	noKey    bool
	paper    string
	title    string
	file     string
	force    bool
}

// Bounds of what one document may hold.
const (
	maxVariants = 26 // A to Z
	maxOnSheet  = 200
)

func (a *app) sheetCommand() *cobra.Command {
	var f sheetFlags
	c := &cobra.Command{
		Use:   "sheet ID...",
		Short: "Write problems as a sheet to print, with a worked answer key",
		Long: `Writes one HTML document that needs nothing else: a sheet to work on for each
problem, then the worked key on pages of its own. A browser prints it. With
--variants each variant has other numbers, and the key begins with a table of
all their answers.`,
		Example: `  steelyard sheet davit-arm --seed 7 -o davit.html
  steelyard sheet hull-ladder quay-plank --variants 3 --paper letter --title "Lab 3" -o lab3.html`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: a.completeIDs,
		RunE:              func(_ *cobra.Command, ids []string) error { return a.sheet(ids, f) },
	}
	f.add(c)
	c.Flags().IntVar(&f.variants, "variants", 1, "how many variants, each with numbers of its own")
	c.Flags().BoolVar(&f.keyOnly, "key-only", false, "write the worked key alone")
	c.Flags().BoolVar(&f.noKey, "no-key", false, "leave the worked key out")
	c.Flags().StringVar(&f.paper, "paper", "a4", "a4 or letter")
	c.Flags().StringVar(&f.title, "title", "", "the title of every sheet")
	c.Flags().StringVarP(&f.file, "output", "o", "", "the file to write (default: standard output)")
	c.Flags().BoolVar(&f.force, "force", false, "write over a file that is there")
	c.MarkFlagsMutuallyExclusive("key-only", "no-key")
	return c
}

// completeIDs completes every argument as an id, leaving out those given.
func (a *app) completeIDs(c *cobra.Command, args []string, part string) ([]string, cobra.ShellCompDirective) {
	all, directive := a.completeID(c, args, part)
	return slices.DeleteFunc(all, func(s string) bool {
		id, _, _ := strings.Cut(s, "\t")
		return slices.Contains(args, id)
	}), directive
}

func (a *app) sheet(ids []string, f sheetFlags) error {
	paper, ok := sheet.Papers[strings.ToLower(f.paper)]
	switch {
	case !ok:
		return fmt.Errorf("--paper is a4 or letter, not %q", printable(f.paper))
	case f.variants < 1 || f.variants > maxVariants:
		return fmt.Errorf("--variants is 1 to %d, not %d", maxVariants, f.variants)
	case len(ids)*f.variants > maxOnSheet:
		return fmt.Errorf("%d problems in %d variants are more than the %d one document takes; write several", len(ids), f.variants, maxOnSheet)
	}
	b, err := a.bank()
	if err != nil {
		return err
	}
	a.sayFaults(b)
	variants, err := a.drawVariants(b, ids, f)
	if err != nil {
		return err
	}
	o := sheet.Options{Title: f.title, Paper: paper, Sheet: !f.keyOnly, Key: !f.noKey}
	if f.file == "" {
		return short(sheet.Write(a.out, o, variants))
	}
	return short(writeNew(f.file, f.force, func(w io.Writer) error { return sheet.Write(w, o, variants) }))
}

// drawVariants draws each problem with its seed, and the further variants with
// the seeds after it.
func (a *app) drawVariants(b *problems.Bank, ids []string, f sheetFlags) ([]sheet.Variant, error) {
	out := make([]sheet.Variant, f.variants)
	for i := range out {
		if f.variants > 1 {
			out[i].Label = string(rune('A' + i))
		}
	}
	for _, id := range ids {
		var drawn []*problems.Problem
		for seed := f.seed; len(drawn) < f.variants; seed++ {
			p, err := a.draw(b, id, seed, f.given)
			if err != nil {
				return nil, err
			}
			alike := slices.ContainsFunc(drawn, func(o *problems.Problem) bool { return slices.Equal(o.Values, p.Values) })
			if alike && seed-f.seed >= 20*maxVariants {
				return nil, short(fmt.Errorf("%s has too few numbers to draw for %d variants; ask for fewer, or give fewer values", id, f.variants))
			}
			if !alike {
				drawn = append(drawn, p)
			}
		}
		for i, p := range drawn {
			out[i].Problems = append(out[i].Problems, p)
		}
	}
	return out, nil
}

// writeNew writes a file that is there whole or not at all, and leaves alone
// one that is there already, unless forced.
func writeNew(file string, force bool, write func(io.Writer) error) error {
	exists := fmt.Errorf("%s is there already; name another file, or add --force to write over it", printable(file))
	if _, err := os.Lstat(file); err == nil && !force {
		return exists
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".steelyard-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	if err := errors.Join(write(tmp), tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return err
	}
	if force {
		return os.Rename(tmp.Name(), file)
	}
	// A link, unlike a rename, never replaces what has come meanwhile.
	switch err := os.Link(tmp.Name(), file); {
	case errors.Is(err, fs.ErrExist):
		return exists
	case err != nil: // a file system without links
		return os.Rename(tmp.Name(), file)
	}
	return nil
}

package review

import (
	"context"

	"steelyard/problems"
)

// A Reader collects logs. Read them in, any mix of them, then ask for the
// [Reader.Report].
//
//	r := review.NewReader(bank)
//	err := r.Paths(ctx, os.Stdin, "lab3", "more/*.jsonl", "-")
//	report, err := r.Report(ctx)
type Reader struct {
	// Progress, if not nil, is told how work goes on: Reading, of so many
	// bytes (0 if that is not known), or Grading, of so many sessions.
	Progress func(stage Stage, done, of int64)

	bank    *problems.Bank
	store   *store
	sources []Source
	damage  []Damage
	read    int64 // bytes
	size    int64 // of the sources, as far as they are known
}

// Stage is what a Reader is busy with.
type Stage string

// The stages.
const (
	Reading Stage = "reading"
	Grading Stage = "grading"
)

// NewReader makes a Reader that grades with the scenarios of bank.
func NewReader(bank *problems.Bank) *Reader {
	return &Reader{bank: bank, store: newStore()}
}

func (r *Reader) progress(bytes int) {
	r.read += int64(bytes)
	if r.Progress != nil {
		r.Progress(Reading, r.read, max(r.size, r.read))
	}
}

// Report grades what was read and folds it. The Reader is spent: what is read
// after it is not in a report. The error is that of ctx.
func (r *Reader) Report(ctx context.Context) (*Report, error) {
	st := r.store
	st.settle()
	g := newRegrader(r.bank, st)
	if err := g.run(ctx, r.Progress); err != nil {
		return nil, err
	}
	rep := &Report{Sources: orEmpty(r.sources), Damaged: orEmpty(r.damage), Duplicates: st.duplicates,
		Altered: orEmpty(g.altered()), NotInBank: orEmpty(g.missing()), Regraded: g.regraded}
	for _, s := range r.sources {
		rep.DamagedLines += s.Damaged
	}
	c := newClass(st, g)
	c.summary(rep)
	rep.Slips = orEmpty(c.slipCosts())
	rep.Headline = rep.Slips[:min(3, len(rep.Slips))]
	rep.Problems = orEmpty(c.problems())
	rep.Unpredicted = orEmpty(c.unpredicted())
	rep.Skills = orEmpty(c.skills())
	rep.Alike = orEmpty(c.alike())
	rep.Students = orEmpty(c.students())
	rep.Items = orEmpty(c.items())
	rep.Reasons = orEmpty(c.reasons())
	return rep, ctx.Err()
}

// orEmpty is list, or an empty list where there is none: JSON has no null then.
func orEmpty[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// Any reports whether any event was read.
func (r *Reader) Any() bool { return r.store.n > 0 }

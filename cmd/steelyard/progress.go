package main

import (
	"fmt"
	"io"
	"iter"
	"os"
	"strings"
	"time"

	"github.com/charmbracelet/x/term"

	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// patience is how long work takes before it is shown how it goes on, and often
// how often after that.
const (
	patience = 500 * time.Millisecond
	often    = 100 * time.Millisecond
)

// progress shows on a terminal how work goes on, if it takes more than a moment.
// A nil progress shows nothing.
type progress struct {
	to       io.Writer
	now      func() time.Time
	next     time.Time
	stage    string
	done, of int64
	shown    bool
}

// progress begins to show how work goes on; nil where words go to no terminal.
func (a *app) progress() *progress {
	if !isTerminal(a.words) {
		return nil
	}
	return newProgress(a.words, time.Now)
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(f.Fd())
}

func newProgress(to io.Writer, now func() time.Time) *progress {
	return &progress{to: to, now: now, next: now().Add(patience)}
}

// begin begins a stage of so many parts.
func (p *progress) begin(stage string, of int64) {
	if p != nil {
		p.stage, p.done, p.of = stage, 0, of
	}
}

// add tells of parts that are done.
func (p *progress) add(n int64) {
	if p == nil {
		return
	}
	p.done += n
	if at := p.now(); at.After(p.next) {
		p.next = at.Add(often)
		p.draw()
	}
}

// barCells is how wide the bar is.
const barCells = 30

func (p *progress) draw() {
	part := 0.0
	if p.of > 0 {
		part = min(float64(p.done)/float64(p.of), 1)
	}
	full := int(barCells * part)
	fmt.Fprintf(p.to, "\r%-8s [%s%s] %3.0f %%", p.stage, strings.Repeat("#", full), strings.Repeat(".", barCells-full), 100*part)
	p.shown = true
}

// end takes away what was shown, before anything else is said.
func (p *progress) end() {
	if p != nil && p.shown {
		fmt.Fprintf(p.to, "\r%*s\r", barCells+18, "")
		p.shown = false
	}
}

// counted is a reader that tells of the bytes read.
type counted struct {
	io.Reader
	to *progress
}

func (c *counted) Read(b []byte) (int, error) {
	n, err := c.Reader.Read(b)
	c.to.add(int64(n))
	return n, err
}

// sizeOf is how many bytes files have together, as far as they have a size.
func sizeOf(files []string) int64 {
	total := int64(0)
	for _, f := range files {
		if info, err := os.Stat(f); err == nil && info.Mode().IsRegular() {
			total += info.Size()
		}
	}
	return total
}

// events are those of the journal that are to be written, with what was written
// told of.
func (x *exporting) events() iter.Seq2[tutor.Event, error] {
	return func(yield func(tutor.Event, error) bool) {
		for e, err := range x.journal.Events(x.filter) {
			x.progress.add(1)
			if !yield(e, err) {
				return
			}
		}
	}
}

// writing begins to show how far writing has come, of all the events of the
// sessions to be written.
func (x *exporting) writing() {
	if x.progress == nil {
		return
	}
	x.progress.begin("Writing", int64(sum(x.sessions(), func(s journal.SessionSummary) int { return s.Events })))
}

// marking begins to show how far marking has come.
func (x *exporting) marking() {
	if x.progress != nil {
		x.progress.begin("Marking", int64(len(x.sessions())))
	}
}

// sessions are those to be written. Where they cannot be read, what reads them
// next says so.
func (x *exporting) sessions() []journal.SessionSummary {
	all, _ := x.journal.Sessions(x.filter.Learner)
	return all
}

func sum[T any](list []T, of func(T) int) int {
	total := 0
	for _, v := range list {
		total += of(v)
	}
	return total
}

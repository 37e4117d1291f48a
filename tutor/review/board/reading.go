package board

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// reading is logs being read while the screen is up.
type reading struct {
	ended chan struct{} // closed when nothing is read any more
	rep   *review.Report
	err   error

	mu    sync.Mutex
	stage review.Stage
	done  int64
	of    int64
}

type (
	readMsg struct {
		rep *review.Report
		err error
	}
	tickMsg struct{}
)

// read begins to read.
func read(ctx context.Context, from func(context.Context, func(review.Stage, int64, int64)) (*review.Report, error)) *reading {
	r := &reading{ended: make(chan struct{}), stage: review.Reading}
	go func() {
		defer close(r.ended)
		r.rep, r.err = from(ctx, r.progress)
	}()
	return r
}

func (r *reading) progress(stage review.Stage, done, of int64) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.stage, r.done, r.of = stage, done, of
}

func (r *reading) wait() tea.Cmd {
	return func() tea.Msg {
		<-r.ended
		return readMsg{r.rep, r.err}
	}
}

// tick looks at the progress now and then; a frame that is as it was is not
// sent.
func (r *reading) tick() tea.Cmd {
	return tea.Tick(100*time.Millisecond, func(time.Time) tea.Msg { return tickMsg{} })
}

var stageWords = map[review.Stage]string{review.Reading: "Reading the logs", review.Grading: "Grading every line again"}

// View is how far the reading is.
func (r *reading) View(l *screen.Look, width int) []string {
	r.mu.Lock()
	stage, done, of := r.stage, r.done, r.of
	r.mu.Unlock()
	share := 0.0
	if of > 0 {
		share = min(1, float64(done)/float64(of))
	}
	full, empty := "█", "░"
	if l.ASCII() {
		full, empty = "#", "."
	}
	cells := max(min(40, width-10), 1)
	n := int(share * float64(cells))
	return []string{
		l.Paint(screen.Heading, "Review"), "",
		stageWords[stage],
		l.Paint(screen.Accent, strings.Repeat(full, n)) + l.Paint(screen.Quiet, strings.Repeat(empty, cells-n)) + fmt.Sprintf(" %3.0f %%", 100*share), "",
		l.Paint(screen.Quiet, "Ctrl+C stops. Nothing is written."),
	}
}

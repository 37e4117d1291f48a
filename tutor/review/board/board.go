// Package board is the interactive screen of a review: the slips that cost a
// class most, and from there, by keys, all that its logs say.
//
// It is made of places: a grid of rows that can be sorted, filtered and opened,
// or a page that is read. Opening a row lays another place on top. Texts of a
// report come from logs; none reaches the terminal but through the look's Text,
// which takes from it whatever would act there.
package board

import (
	"context"
	"errors"
	"io"
	"os/signal"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// How a file is to be written.
type How int

const (
	New   How = iota // only if there is none of that name: else the error is fs.ErrExist
	Over             // in place of what is there
	AtEnd            // after what is there
)

// Options is what the board needs of the rest of the program.
type Options struct {
	// Read reads the logs, and tells how it goes on. With a report, an error
	// says what could not be read.
	Read     func(ctx context.Context, progress func(stage review.Stage, done, of int64)) (*review.Report, error)
	Lines    func(learner string) []review.TypedLine // after Read
	Sessions func(learner string) []review.SessionOf // likewise
	Page     func(w io.Writer, rep *review.Report) error
	Save     func(file string, how How, write func(io.Writer) error) error // whole or not at all
	ASCII    bool                                                          // use no character beyond ASCII
}

// ErrStopped says that the board was left before the logs were read.
var ErrStopped = errors.New("stopped; nothing was written")

// Model is the whole screen, a [tea.Model].
type Model struct {
	o      Options
	look   *screen.Look
	keys   keyMap
	width  int
	height int

	reading *reading // nil once the logs are read
	err     error    // why they could not be, or not all
	data    *data
	views   []place // by the table of views, each as it was left
	view    int
	over    []place // laid on top, the last one in sight
	ask     *ask    // a line is being typed
	said    []string
	failed  bool // what is said is that something could not be done
}

func newModel(o Options, l *screen.Look, r *reading) Model {
	return Model{o: o, look: l, keys: newKeys(l.ASCII()), width: 80, height: 24, reading: r}
}

// Init waits for the logs.
func (m Model) Init() tea.Cmd { return tea.Batch(m.reading.wait(), m.reading.tick()) }

// Update hands a message to the part it is for.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		m.fit()
	case tickMsg:
		if m.reading != nil {
			return m, m.reading.tick()
		}
	case readMsg:
		return m.opened(msg)
	case tea.KeyMsg:
		return m.pressAll(msg)
	}
	return m, nil
}

// opened shows what was read, or leaves where nothing could be.
func (m Model) opened(msg readMsg) (tea.Model, tea.Cmd) {
	m.err = msg.err
	if msg.rep == nil {
		return m, tea.Quit
	}
	m.reading = nil
	m.data = newData(m.look, msg.rep, m.o)
	m.views = make([]place, len(views))
	for i, v := range views {
		m.views[i] = v.make(m.data)
	}
	if msg.err != nil {
		m.tell(true, "Not all could be read; 0 shows what. What was read is here.")
	}
	m.fit()
	return m, nil
}

// tell says something until the next key.
func (m *Model) tell(failed bool, text string) {
	m.said, m.failed = []string{text}, failed
}

// top is the place in sight.
func (m *Model) top() *place {
	if n := len(m.over); n > 0 {
		return &m.over[n-1]
	}
	return &m.views[m.view]
}

// fit tells the place in sight its size. The others are told when they are
// come back to.
func (m *Model) fit() {
	if m.data != nil {
		m.top().resize(m.inner(), m.room())
	}
}

// mostWait bounds the wait for reading to end: a stream that says nothing may
// hold it for ever.
const mostWait = 2 * time.Second

// Run reads the logs and shows them until the reader of the screen leaves, the
// context ends or the terminal goes away. The error is [ErrStopped], that of
// the terminal, or what could not be read. When it returns nothing is being
// read any more, but for a stream that says nothing.
func Run(ctx context.Context, o Options, in io.Reader, out io.Writer) error {
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGHUP, syscall.SIGTERM)
	defer stop()
	reads, cancel := context.WithCancel(ctx)
	r := read(reads, o.Read)
	p := tea.NewProgram(newModel(o, screen.NewLook(o.ASCII), r), tea.WithContext(ctx), tea.WithInput(in), tea.WithOutput(out), tea.WithAltScreen())
	last, err := p.Run()
	cancel()
	select {
	case <-r.ended: // what it keeps for the time being is taken away by then
	case <-time.After(mostWait):
	}
	m, _ := last.(Model)
	switch {
	case errors.Is(err, tea.ErrProgramKilled) && ctx.Err() != nil, errors.Is(err, tea.ErrInterrupted):
		err = nil // asked for
	case err != nil:
		return err
	}
	if m.data == nil && m.err == nil {
		return ErrStopped
	}
	return m.err
}

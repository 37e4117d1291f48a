// Package screen is the tutor's full-screen interface: the list of problems,
// the screen a problem is worked on, and the one it ends with.
//
// Each screen is a small value with an Update and a View; it asks for what is
// beyond it (another screen, a new problem) with a message that [Model] acts
// on. What the learner does goes through a [tutor.Desk], which records it
// before the screen says anything about it.
package screen

import (
	"context"
	"errors"
	"io"
	"os/signal"
	"sync"
	"syscall"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"steelyard/problems"
	"steelyard/tutor"
)

// Unfinished is a problem left before its end, as it is offered.
type Unfinished struct {
	Session string
	Problem string // the scenario's id
	Title   string
	When    string // "yesterday", "12 May"
}

// Options is what the screen needs of the rest of the program.
type Options struct {
	Cards       []*problems.Card                                  // of the problems there are to choose from
	Learner     string                                            // the alias that work is recorded under
	Start       func(id string, seed uint64) (*tutor.Desk, error) // begins a problem
	Resume      func(session string) (*tutor.Desk, error)         // goes on with one
	Unfinished  []Unfinished                                      // newest first
	Done        map[string]int                                    // how often each problem was finished before, by id
	Reload      func() ([]Unfinished, map[string]int, error)      // both, anew, each time the list is come back to; may be nil
	NewSeed     func() uint64
	Open        *tutor.Desk // when not nil, the problem to open on
	ASCII       bool        // use no character beyond ASCII
	NoColor     bool        // as NO_COLOR does, which is heeded anyway
	Notice      string      // shown first, until a key is pressed
	Walkthrough bool        // take the learner round first: what the tutor is, in four short pages

	Progress func() Progress // how far a set is, if one is worked; nil if none is
	Unseen   bool            // a problem is not to be read before it is begun

	now  func() time.Time // nil for the clock
	tick func() tea.Cmd   // sends a tickMsg in a second; nil for the clock's
}

type stage int

const (
	choosing stage = iota
	working
	finishing
)

// Model is the whole screen, a [tea.Model].
type Model struct {
	o      Options
	look   *look
	width  int
	height int

	stage  stage
	choose choose
	work   work
	finish finish
	page   *page // help, over the rest
	tour   *tour // likewise
	notice string
	quit   key.Binding
	mouse  key.Binding
	left   bool // the learner has gone, and that is recorded

	unmoused bool // the terminal has the mouse
	ticking  bool // a second is being waited for
}

// New makes the screen for the standard terminal.
func New(o Options) tea.Model { return newModel(o, known(o)) }

func newModel(o Options, s surface) Model {
	m := Model{o: o.wound(), look: newLook(s), notice: o.Notice, quit: quitKeys(), mouse: mouseKeys(), width: 80, height: 24}
	if o.Open != nil {
		m.open(o.Open)
	} else {
		m.choose = newChoose(m.look, m.o, o.Unfinished, o.Done, m.width, m.height)
	}
	if o.Walkthrough {
		t := newTour(m.look, m.width, m.height)
		m.tour = &t
	}
	return m
}

// Init waits for nothing.
func (m Model) Init() tea.Cmd { return nil }

// open sits down at a desk. A paper whose time is up is handed in first.
func (m *Model) open(d *tutor.Desk) {
	up, err := d.Tick(m.o.now())
	m.work = newWork(m.look, d, m.o.now(), m.width, m.height)
	m.stage = working
	switch {
	case d.Finished():
		m.end(said{})
	case err != nil:
		m.work.say(m.look.unsaved("that time is up", err))
	}
	if up {
		m.finish.said = []said{m.look.timeIsUp()}
	}
}

// end goes to the screen that a problem ends with.
func (m *Model) end(last said) {
	m.finish = newFinish(m.look, m.work.desk, last, m.width, m.height)
	m.stage = finishing
}

// list goes to the list of problems.
func (m *Model) list() {
	left, done := m.o.Unfinished, m.o.Done
	var failed []said
	if m.o.Reload != nil {
		nowLeft, nowDone, err := m.o.Reload()
		if err != nil {
			failed = []said{{wrong, m.look.marks.wrong, "What was left unfinished could not be looked up.", m.look.text(err.Error())}}
		}
		left, done = nowLeft, nowDone
	}
	m.choose = newChoose(m.look, m.o, left, done, m.width, m.height)
	m.choose.said = failed
	m.stage = choosing
}

// update hands a message to the part it is for, or does what a part asks.
func (m Model) update(msg tea.Msg) (tea.Model, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.resize(msg)
		return m, nil
	case tickMsg:
		m.second()
		return m, nil
	case listMsg:
		m.list()
		return m, nil
	case beginMsg:
		d, err := m.o.Start(msg.problem, m.o.NewSeed())
		m.sit(d, err)
		return m, nil
	case resumeMsg:
		d, err := m.o.Resume(msg.session)
		m.sit(d, err)
		return m, nil
	case finishMsg:
		m.end(msg.last)
		return m, nil
	case helpMsg:
		p := newPage(m.look, msg.about, m.width, m.height)
		m.page = &p
		return m, nil
	case tourMsg:
		t := newTour(m.look, m.width, m.height)
		m.tour = &t
		return m, nil
	case backMsg:
		if m.tour != nil {
			m.tour = nil
		} else {
			m.page = nil
		}
		return m, nil
	case leaveMsg:
		m.left = true
		return m, tea.Quit
	case tea.MouseMsg:
		if then := m.click(msg); then != nil {
			return m.update(then)
		}
		return m, nil
	case tea.KeyMsg:
		if pressed(msg, m.mouse) {
			return m, m.turnMouse()
		}
		if pressed(msg, m.quit) { // whatever lies over the screen, the screen itself sees to leaving
			m.notice, m.tour, m.page = "", nil, nil
		}
		if m.notice != "" {
			m.notice = ""
			return m, nil
		}
	}
	switch {
	case m.tour != nil:
		var t tour
		t, cmd = m.tour.Update(msg)
		m.tour = &t
	case m.page != nil:
		var p page
		p, cmd = m.page.Update(msg)
		m.page = &p
	case m.stage == choosing:
		m.choose, cmd = m.choose.Update(msg)
	case m.stage == working:
		m.work, cmd = m.work.Update(msg)
	default:
		m.finish, cmd = m.finish.Update(msg)
	}
	return m, cmd
}

// sit opens a desk, or says why there is none.
func (m *Model) sit(d *tutor.Desk, err error) {
	if err == nil {
		m.open(d)
		return
	}
	s := said{wrong, m.look.marks.wrong, "Not opened.", m.look.text(err.Error())}
	if why := (*tutor.Refusal)(nil); errors.As(err, &why) {
		s = said{heading, m.look.marks.open, m.look.text(why.Message) + ".", ""}
	}
	if m.stage == finishing {
		m.finish.said = []said{s}
		return
	}
	m.choose.said = []said{s}
}

// resize tells every part its size; nothing typed is touched.
func (m *Model) resize(msg tea.WindowSizeMsg) {
	m.width, m.height = msg.Width, msg.Height
	m.choose, _ = m.choose.Update(msg)
	m.work, _ = m.work.Update(msg)
	if m.stage == finishing {
		m.finish, _ = m.finish.Update(msg)
	}
	if m.page != nil {
		p, _ := m.page.Update(msg)
		m.page = &p
	}
	if m.tour != nil {
		t, _ := m.tour.Update(msg)
		m.tour = &t
	}
}

// View is the frame: never wider or higher than the terminal.
func (m Model) View() string {
	if m.width < 1 || m.height < 1 {
		return ""
	}
	var lines []string
	switch {
	case m.notice != "":
		lines = m.look.notice(m.notice, m.width, m.height)
	case m.tour != nil:
		lines = m.tour.View()
	case m.page != nil:
		lines = m.page.View()
	case m.stage == choosing:
		lines = m.choose.View()
	case m.stage == working:
		lines = m.work.View()
	default:
		lines = m.finish.View()
	}
	return m.look.fit(lines, m.width, m.height)
}

// late is a screen whose options are still being got ready. The terminal is
// set up, and waits for its first tick, in the meantime. If there can be no
// options it leaves at once.
type late struct{ ready func() (tea.Model, error) }

func (l late) Init() tea.Cmd { return nil }

func (l late) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m, err := l.ready()
	if err != nil {
		return l, tea.Quit
	}
	return m.Update(msg)
}

func (l late) View() string {
	m, err := l.ready()
	if err != nil {
		return ""
	}
	return m.View()
}

// Run shows the screen until the learner quits, the context ends, or the
// terminal goes away. In every case it is recorded that the learner left; an
// error is that of the terminal, or of recording this. options is called once,
// while the terminal is being set up, so that the first frame does not wait
// for one after the other; its error is given back, with nothing shown.
func Run(ctx context.Context, options func() (Options, error), in io.Reader, out io.Writer) error {
	ready := sync.OnceValues(func() (tea.Model, error) {
		o, err := options()
		if err != nil {
			return nil, err
		}
		return New(o), nil
	})
	go ready()
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGHUP, syscall.SIGTERM)
	defer stop()
	// Twice as often as is usual: a key waits half as long for its frame, and a
	// frame that has not changed is not sent.
	p := tea.NewProgram(late{ready}, tea.WithContext(ctx), tea.WithInput(in), tea.WithOutput(out), tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithFPS(120))
	last, err := p.Run()
	if _, none := ready(); none != nil {
		return none
	}
	var unrecorded error
	if m, ok := last.(Model); ok && m.stage == working && !m.left {
		unrecorded = m.work.desk.Leave()
	}
	if errors.Is(err, tea.ErrProgramKilled) && ctx.Err() != nil || errors.Is(err, tea.ErrInterrupted) {
		err = nil // asked for
	}
	return errors.Join(err, unrecorded)
}

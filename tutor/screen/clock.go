package screen

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Where the time is limited the screen looks at the clock once a second. What
// it shows of it changes once a minute, so that the terminal is sent nothing
// in between.

// tickMsg says that a second has passed.
type tickMsg struct{}

// wound are the options with a clock.
func (o Options) wound() Options {
	if o.now == nil {
		o.now = time.Now
	}
	if o.tick == nil {
		o.tick = func() tea.Cmd { return tea.Tick(time.Second, func(time.Time) tea.Msg { return tickMsg{} }) }
	}
	return o
}

// Update does what a message asks, at the time that it is.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if m.timed() {
		m.work.now = m.o.now()
	}
	next, cmd := m.update(msg)
	m = next.(Model)
	if m.ticking || !m.timed() {
		return m, cmd
	}
	m.ticking = true
	return m, tea.Batch(cmd, m.o.tick())
}

// timed reports whether what is shown has a time that runs.
func (m Model) timed() bool {
	switch m.stage {
	case choosing:
		return m.choose.set != nil && m.choose.set.Timed
	case working:
		_, limited := m.work.desk.Remaining(m.work.now)
		return limited
	}
	return false
}

// second looks at the clock. When the time of the problem in hand is up it is
// handed in, whatever lies over it.
func (m *Model) second() {
	m.ticking = false
	switch m.stage {
	case choosing:
		m.choose.follow(m.o)
	case working:
		up, err := m.work.desk.Tick(m.o.now())
		switch {
		case err != nil:
			m.work.say(m.look.unsaved("that time is up", err))
		case up:
			m.notice, m.page, m.tour = "", nil, nil
			m.end(m.look.timeIsUp())
		}
	}
}

func (l *look) timeIsUp() said {
	return said{heading, l.marks.open, "Time is up. The paper is handed in.", ""}
}

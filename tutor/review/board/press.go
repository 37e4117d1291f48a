package board

import (
	"errors"
	"io/fs"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor/screen"
)

// pressAll takes letters that arrive all at once, as over a slow line, one
// after another. What is pasted is no key.
func (m Model) pressAll(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	if k.Type != tea.KeyRunes || k.Paste || k.Alt {
		return m.press(k)
	}
	var cmd tea.Cmd
	for _, r := range k.Runes {
		var next tea.Model
		if next, cmd = m.press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}); cmd != nil {
			return next, cmd
		}
		m = next.(Model)
	}
	return m, cmd
}

// press does what a key is for.
func (m Model) press(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	if screen.Pressed(k, m.keys.Leave) || m.reading != nil && screen.Pressed(k, m.keys.Quit) {
		return m, tea.Quit
	}
	if m.reading != nil {
		return m, nil
	}
	m.said, m.failed = nil, false
	if m.ask != nil {
		m.answer(k)
		m.fit()
		return m, nil
	}
	switch p := m.top(); {
	case screen.Pressed(k, m.keys.Quit):
		return m, tea.Quit
	case screen.Pressed(k, m.keys.Pick):
		m.turnTo((int(k.Runes[0]-'0') + 9) % 10)
	case screen.Pressed(k, m.keys.Next):
		m.turnTo((m.view + 1) % len(m.views))
	case screen.Pressed(k, m.keys.Prev):
		m.turnTo((m.view + len(m.views) - 1) % len(m.views))
	case screen.Pressed(k, m.keys.Back):
		m.over = m.over[:max(len(m.over)-1, 0)]
	case screen.Pressed(k, m.keys.Help):
		if p.name != helpName {
			m.over = append(m.over, m.data.help(m.keys))
		}
	case screen.Pressed(k, m.keys.Write):
		m.ask = m.askFor(toPage, "review.html")
	case screen.Pressed(k, m.keys.Offer):
		if p.offer != "" {
			m.ask = m.askFor(toSlip, "")
		}
	case p.grid != nil && screen.Pressed(k, m.keys.Open):
		if next, ok := p.grid.open(); ok {
			m.over = append(m.over, next)
		}
	case p.grid != nil && screen.Pressed(k, m.keys.Filter):
		m.ask = m.askFor(toFilter, p.grid.filter)
	default:
		p.Update(k, m.keys)
	}
	m.fit()
	return m, nil
}

// turnTo goes to a part, as it was left.
func (m *Model) turnTo(view int) {
	if view < len(m.views) {
		m.view, m.over = view, nil
	}
}

// What a typed line is for.
type purpose int

const (
	toFilter purpose = iota
	toPage
	toSlip
)

// ask is a line that is typed for a purpose.
type ask struct {
	purpose purpose
	entry   screen.Entry
	there   string // a file that is there: Enter again writes to it
}

// questions are what is asked, by purpose, and what Enter and Esc do then.
var questions = map[purpose]struct{ text, hint, enter, esc string }{
	toFilter: {"Show rows that hold these words", "for example davit, or an alias", "keep", "show all"},
	toPage:   {"Write the review as a page with charts to which file?", "for example review.html", "write", "leave it"},
	toSlip:   {"Write the slip to which file? The scenario's own keeps what it holds", "for example davit-arm.toml", "write", "leave it"},
}

func (m *Model) askFor(p purpose, first string) *ask {
	a := &ask{purpose: p, entry: screen.NewEntry(m.look)}
	a.entry.Set(first)
	if p == toPage {
		a.entry.Hold(0) // typing another name replaces it
	}
	return a
}

// answer types on the line, or does what it is for.
func (m *Model) answer(k tea.KeyMsg) {
	a := m.ask
	switch {
	case screen.Pressed(k, m.keys.Cancel):
		if m.ask = nil; a.purpose == toFilter {
			m.top().grid.filterBy("")
		}
	case screen.Pressed(k, m.keys.Done) && a.purpose == toFilter:
		m.ask = nil
	case screen.Pressed(k, m.keys.Done):
		m.save(a)
	default:
		if a.entry = a.entry.Update(k); a.purpose == toFilter {
			m.top().grid.filterBy(a.entry.Value())
		}
	}
}

// save writes the page or the slip. A file that is there is named first, and
// written to when Enter is pressed again.
func (m *Model) save(a *ask) {
	file := a.entry.Value()
	if file == "" {
		m.tell(true, "Name a file, or press Esc.")
		return
	}
	how := New
	if a.there == file {
		how = map[purpose]How{toPage: Over, toSlip: AtEnd}[a.purpose]
	}
	write, done := m.page, "is written; open it in a browser."
	if a.purpose == toSlip {
		write, done = m.slip, "holds the slip now; look it over with: steelyard check"
	}
	shown := m.look.Text(file)
	switch err := m.o.Save(file, how, write); {
	case errors.Is(err, fs.ErrExist):
		a.there = file
		again := "Enter again writes over it; or change the name."
		if a.purpose == toSlip {
			again = "Enter again adds the slip at its end; or change the name."
		}
		m.tell(true, shown+" is there already. "+again)
	case err != nil:
		m.tell(true, "Not written: "+m.look.Text(err.Error()))
	default:
		m.ask = nil
		m.tell(false, shown+" "+done)
	}
}

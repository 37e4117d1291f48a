package board

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor/screen"
)

// page is text that is read, folded to the width it is given. It knows the
// height too, so that it may leave out what there is no room for.
type page struct {
	text func(width, height int) []string
	port viewport.Model
}

func (p *page) resize(width, height int) {
	height = max(height, 1)
	at := p.port.YOffset
	if p.port.Width == 0 {
		p.port = viewport.New(width, height)
	}
	p.port.Width, p.port.Height = width, height
	p.port.SetContent(strings.Join(p.text(width, height), "\n"))
	p.port.SetYOffset(at)
}

// scrolls reports whether there is more than is in sight.
func (p *page) scrolls() bool { return p.port.TotalLineCount() > p.port.Height }

// more is which lines are in sight.
func (p *page) more() string {
	if !p.scrolls() {
		return ""
	}
	return fmt.Sprintf("lines %d to %d of %d", p.port.YOffset+1, p.port.YOffset+p.port.VisibleLineCount(), p.port.TotalLineCount())
}

// Update scrolls.
func (p *page) Update(k tea.KeyMsg, keys keyMap) {
	switch {
	case screen.Pressed(k, keys.Up):
		p.port.ScrollUp(1)
	case screen.Pressed(k, keys.Down):
		p.port.ScrollDown(1)
	case screen.Pressed(k, keys.PageUp):
		p.port.PageUp()
	case screen.Pressed(k, keys.PageDown):
		p.port.PageDown()
	case screen.Pressed(k, keys.Top):
		p.port.GotoTop()
	case screen.Pressed(k, keys.Bottom):
		p.port.GotoBottom()
	}
}

// View is the part in sight.
func (p *page) View() []string {
	lines := strings.Split(p.port.View(), "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return lines
}

package board

import (
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor/screen"
)

// place is one thing in sight: a grid of rows with something said above them,
// or a page that is read.
type place struct {
	look  *screen.Look
	name  string
	above func(width int) []string // over the rows; may be nil
	grid  *grid
	page  page
	offer string // a slip for the scenario file, as TOML; "" if there is none

	width, height int
}

func (p *place) resize(width, height int) {
	p.width, p.height = width, height
	if p.grid == nil {
		p.page.resize(width, height-1)
		return
	}
	p.grid.resize(width, max(height-1-len(p.lead()), 2))
}

// leastRows is how many lines of the room are the rows' own.
const leastRows = 8

// lead is what is said above the rows, cut so that there is room for them.
func (p *place) lead() []string {
	if p.above == nil {
		return nil
	}
	lines := p.above(p.width)
	if most := max(p.height-1-leastRows, p.height/2-1, 0); len(lines) > most {
		lines = lines[:most]
		if most > 0 {
			lines[most-1] = p.look.Cut(lines[most-1], p.width-4) + " ..."
		}
	}
	return lines
}

// Update moves in the place.
func (p *place) Update(k tea.KeyMsg, keys keyMap) {
	if p.grid != nil {
		p.grid.Update(k, keys)
		return
	}
	p.page.Update(k, keys)
}

// View is the place as lines, its name first.
func (p *place) View() []string {
	if p.grid == nil {
		return append([]string{p.banner(p.page.more())}, p.page.View()...)
	}
	return append(append([]string{p.banner(p.grid.more())}, p.lead()...), p.grid.View()...)
}

// banner is the name, which gives way to what more there is to say.
func (p *place) banner(more string) string {
	return p.look.Banner(p.look.Cut(p.name, max(p.width-ansi.StringWidth(more)-4, 8)), more, p.width)
}

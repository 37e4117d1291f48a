package board

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor/screen"
)

// column is a column of a grid. Where there is no room for all, those of the
// highest rank go first, and of rank 0 none; then those with a least width
// shrink to it.
type column struct {
	name   string
	number bool // set to the right, and sorted from the most down
	rank   int
	least  int  // 0 for one that does not shrink
	end    bool // what does not fit is cut from the beginning, as of the name of a file
}

// cell is an entry of a grid.
type cell struct {
	text string
	sort float64 // of a number
}

// row is a row of a grid, with what it opens to; nil for nothing.
type row struct {
	cells []cell
	open  func() place
}

// grid is rows of which one is in hand. They can be sorted by any column and
// filtered by words.
type grid struct {
	look   *screen.Look
	cols   []column
	rows   []row
	none   string // what is said where there is no row
	order  []int  // of the rows shown
	at     int    // in order
	by     int    // the column that is sorted by; -1 for the order as given
	turned bool
	filter string
	wide   []int // natural width of each column

	width, height int
}

func newGrid(l *screen.Look, none string, cols []column, rows []row) *grid {
	g := &grid{look: l, cols: cols, rows: rows, none: none, by: -1, width: 80, height: 20}
	for i, c := range cols {
		wide := ansi.StringWidth(c.name)
		for _, r := range rows {
			wide = max(wide, ansi.StringWidth(r.cells[i].text))
		}
		g.wide = append(g.wide, min(wide, widest))
	}
	g.list()
	return g
}

// widest bounds a column by what anybody would read in one.
const widest = 60

// list gathers the rows that the filter lets through, in order.
func (g *grid) list() {
	words := strings.Fields(strings.ToLower(g.filter))
	wide := g.widths()
	g.order = g.order[:0:0]
	for i := range g.rows {
		if g.rows[i].has(words, wide) {
			g.order = append(g.order, i)
		}
	}
	if g.by >= 0 {
		slices.SortStableFunc(g.order, func(a, b int) int { return g.compare(g.rows[a].cells[g.by], g.rows[b].cells[g.by]) })
	} else if g.turned {
		slices.Reverse(g.order)
	}
	g.at = 0
}

func (g *grid) compare(a, b cell) int {
	n := cmp.Compare(strings.ToLower(a.text), strings.ToLower(b.text))
	if g.cols[g.by].number {
		n = cmp.Compare(b.sort, a.sort)
	}
	if g.turned {
		return -n
	}
	return n
}

// has reports whether all words occur in a row, in the columns in sight.
func (r *row) has(words []string, wide []int) bool {
	if len(words) == 0 {
		return true
	}
	var b strings.Builder
	for i, c := range r.cells {
		if wide[i] > 0 {
			b.WriteString(strings.ToLower(c.text))
			b.WriteByte(' ')
		}
	}
	for _, w := range words {
		if !strings.Contains(b.String(), w) {
			return false
		}
	}
	return true
}

// resize keeps the row in hand, as far as the filter still finds it.
func (g *grid) resize(width, height int) {
	g.height = height
	if width == g.width {
		return
	}
	g.width = width
	if g.filter == "" {
		return
	}
	was := -1
	if g.at < len(g.order) {
		was = g.order[g.at]
	}
	g.list()
	g.at = max(slices.Index(g.order, was), 0)
}

func (g *grid) filterBy(words string) {
	if words != g.filter {
		g.filter = words
		g.list()
	}
}

// opens reports whether the row in hand opens to something.
func (g *grid) opens() bool { return g.at < len(g.order) && g.rows[g.order[g.at]].open != nil }

// open is what the row in hand opens to.
func (g *grid) open() (place, bool) {
	if !g.opens() {
		return place{}, false
	}
	return g.rows[g.order[g.at]].open(), true
}

// Update moves, sorts, or shows all.
func (g *grid) Update(k tea.KeyMsg, keys keyMap) {
	last := max(len(g.order)-1, 0)
	switch {
	case screen.Pressed(k, keys.Up):
		g.at = max(g.at-1, 0)
	case screen.Pressed(k, keys.Down):
		g.at = min(g.at+1, last)
	case screen.Pressed(k, keys.PageUp):
		g.at = max(g.at-max(g.height-2, 1), 0)
	case screen.Pressed(k, keys.PageDown):
		g.at = min(g.at+max(g.height-2, 1), last)
	case screen.Pressed(k, keys.Top):
		g.at = 0
	case screen.Pressed(k, keys.Bottom):
		g.at = last
	case screen.Pressed(k, keys.Sort):
		g.by, g.turned = g.after(g.by), false
		g.list()
	case screen.Pressed(k, keys.Turn):
		g.turned = !g.turned
		g.list()
	case screen.Pressed(k, keys.All):
		g.filterBy("")
	}
}

// after is the next column in sight to sort by, or -1 after the last.
func (g *grid) after(by int) int {
	wide := g.widths()
	for by++; by < len(wide); by++ {
		if wide[by] > 0 {
			return by
		}
	}
	return -1
}

// more is how many rows there are, of how many, in which order.
func (g *grid) more() string {
	var out []string
	switch {
	case g.filter != "":
		out = append(out, fmt.Sprintf("%d of %d rows", len(g.order), len(g.rows)), "filtered by "+g.look.Text(g.filter))
	case len(g.rows) > 1:
		out = append(out, fmt.Sprintf("%d rows", len(g.rows)))
	}
	switch {
	case g.by >= 0 && g.cols[g.by].number:
		out = append(out, "sorted by "+g.cols[g.by].name+", "+either(g.turned, "least first", "most first"))
	case g.by >= 0:
		out = append(out, "sorted by "+g.cols[g.by].name+", "+either(g.turned, "Z to A", "A to Z"))
	case g.turned:
		out = append(out, "last first")
	}
	return strings.Join(out, "; ")
}

func either(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// widths is how wide each column is; 0 for one that there is no room for.
func (g *grid) widths() []int {
	const lead, gap = 2, 2
	room := g.width - lead
	need := make([]int, len(g.cols))
	total := -gap
	for i, c := range g.cols {
		need[i] = g.wide[i]
		if c.least > 0 {
			need[i] = min(need[i], c.least)
		}
		total += need[i] + gap
	}
	for total > room {
		drop := -1
		for i, c := range g.cols {
			if c.rank > 0 && need[i] > 0 && (drop < 0 || c.rank >= g.cols[drop].rank) {
				drop = i
			}
		}
		if drop < 0 {
			break
		}
		total -= need[drop] + gap
		need[drop] = 0
	}
	for i := range g.cols {
		if more := min(g.wide[i]-need[i], room-total); more > 0 && need[i] > 0 {
			need[i] += more
			total += more
		}
	}
	return need
}

// line is cells in their columns.
func (g *grid) line(wide []int, text func(i int) string) string {
	var parts []string
	for i, c := range g.cols {
		if wide[i] == 0 {
			continue
		}
		t := text(i)
		if c.end {
			t = g.look.End(t, wide[i])
		}
		t = g.look.Cut(t, wide[i])
		blanks := strings.Repeat(" ", max(0, wide[i]-ansi.StringWidth(t)))
		if c.number {
			t = blanks + t
		} else {
			t += blanks
		}
		parts = append(parts, t)
	}
	return strings.Join(parts, "  ")
}

// View is the names of the columns, and the rows about the one in hand.
func (g *grid) View() []string {
	if len(g.rows) == 0 {
		return g.look.Wrapped(screen.Plain, g.none, g.width)
	}
	wide := g.widths()
	head := g.line(wide, func(i int) string { return g.cols[i].name })
	out := []string{g.look.Cut("  "+g.look.Paint(screen.Heading, head), g.width)}
	if len(g.order) == 0 {
		return append(out, g.look.Paint(screen.Quiet, g.look.Cut("  No row holds that. A shows all.", g.width)))
	}
	room := g.height - 1
	from := min(max(g.at-room/2, 0), max(len(g.order)-room, 0))
	for k := from; k < min(from+room, len(g.order)); k++ {
		r := &g.rows[g.order[k]]
		line := g.line(wide, func(i int) string { return r.cells[i].text })
		if k == g.at {
			out = append(out, g.look.Paint(screen.Here, g.look.Pad(g.look.Now()+" "+line, g.width)))
		} else {
			out = append(out, g.look.Cut("  "+line, g.width))
		}
	}
	return out
}

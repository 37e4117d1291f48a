package screen

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"steelyard/problems"
)

// choose is the list of problems: what was left unfinished, then the bank by
// family and level. Typing searches it.
type choose struct {
	look    *look
	keys    chooseKeys
	cards   []*problems.Card
	learner string
	left    []Unfinished
	done    map[string]int // how often each problem was finished before
	search  entry
	offers  []offer
	set     *Progress // of the set that is worked; nil if none is
	unseen  bool      // a problem is not to be read before it is begun
	all     int       // how many offers there are when nothing is searched for
	at      int
	said    []said
	width   int
	height  int
}

// offer is one thing to choose.
type offer struct {
	group string // what it stands under
	title string
	aside string
	left  *Unfinished
	what  *problems.Card // nil if the bank no longer has it
}

func newChoose(l *look, o Options, left []Unfinished, done map[string]int, width, height int) choose {
	c := choose{look: l, keys: newChooseKeys(l), cards: o.Cards, learner: l.text(o.Learner), left: left, done: done, search: newEntry(l), unseen: o.Unseen, width: width, height: height}
	c.follow(o)
	c.list()
	return c
}

const unfinishedGroup = "Go on with"

// list gathers what the search has found.
func (c *choose) list() {
	c.offers, c.at = nil, 0
	for i := range c.left {
		u := &c.left[i]
		o := offer{group: unfinishedGroup, title: c.look.text(u.Title), aside: c.look.text(u.When), left: u}
		if i := slices.IndexFunc(c.cards, func(s *problems.Card) bool { return s.ID == u.Problem }); i >= 0 {
			o.what = c.cards[i]
		}
		c.offers = append(c.offers, o)
	}
	for i, s := range c.cards {
		o := offer{group: c.look.text(s.Family), title: c.look.text(s.Title), aside: before(c.done[s.ID]) + fmt.Sprintf("level %d", s.Level), what: s}
		if c.set != nil {
			o.group, o.aside = ofSet, c.set.state(c.look, i)
		}
		c.offers = append(c.offers, o)
	}
	c.all = len(c.offers)
	words := strings.Fields(strings.ToLower(c.search.Value()))
	var found []offer
	for _, o := range c.offers {
		if o.has(words) {
			found = append(found, o)
		}
	}
	c.offers = found
}

// before says how often a problem was done, as far as that needs saying.
func before(times int) string {
	switch times {
	case 0:
		return ""
	case 1:
		return "done, "
	}
	return fmt.Sprintf("done %d times, ", times)
}

// has reports whether all words occur in what an offer says.
func (o offer) has(words []string) bool {
	text := o.group + " " + o.title + " " + o.aside
	if o.what != nil {
		text += " " + o.what.ID + " " + strings.Join(o.what.Skills, " ")
	}
	text = strings.ToLower(text)
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// Update moves, searches, or begins.
func (c choose) Update(msg tea.Msg) (choose, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		c.width, c.height = msg.Width, msg.Height
	case tea.KeyMsg:
		return c.press(msg)
	case offerMsg:
		if msg.at == c.at {
			return c, c.start()
		}
		c.at = msg.at
	}
	return c, nil
}

// start begins the problem chosen, or goes on with it.
func (c choose) start() tea.Cmd {
	if c.at >= len(c.offers) {
		return nil
	}
	if o := c.offers[c.at]; o.left != nil {
		return send(resumeMsg{o.left.Session})
	} else {
		return send(beginMsg{o.what.ID})
	}
}

func (c choose) press(k tea.KeyMsg) (choose, tea.Cmd) {
	last := len(c.offers) - 1
	switch {
	case pressed(k, c.keys.Quit):
		return c, send(leaveMsg{})
	case pressed(k, c.keys.Help):
		return c, send(helpMsg{})
	case pressed(k, c.keys.Up):
		c.at = max(c.at-1, 0)
	case pressed(k, c.keys.Down):
		c.at = max(min(c.at+1, last), 0)
	case pressed(k, c.keys.Family):
		c.at = c.family(1)
	case pressed(k, c.keys.FamilyBack):
		c.at = c.family(-1)
	case pressed(k, c.keys.PageUp):
		c.at = max(c.at-8, 0)
	case pressed(k, c.keys.PageDown):
		c.at = max(min(c.at+8, last), 0)
	case pressed(k, c.keys.Clear):
		c.search.Set("")
		c.said = nil
		c.list()
	case pressed(k, c.keys.Start):
		return c, c.start()
	default:
		before := c.search.Value()
		if c.search = c.search.Update(k); c.search.Value() != before {
			c.said = nil
			c.list()
		}
	}
	return c, nil
}

// family is the first offer of the next group, or of this one or the one before
// it.
func (c choose) family(way int) int {
	at := c.at
	if way < 0 {
		for at = max(at-1, 0); at > 0 && c.offers[at-1].group == c.offers[at].group; at-- {
		}
		return at
	}
	for at < len(c.offers) && c.offers[at].group == c.offers[c.at].group {
		at++
	}
	if at >= len(c.offers) {
		return c.at
	}
	return at
}

// View is the screen as lines.
func (c choose) View() []string {
	width, height := max(c.width-2, 1), c.height
	if c.width < 20 || c.height < 8 {
		width, height = c.width, c.height
	}
	keys := c.look.keyLines(c.keys.ShortHelp(), width)
	if height < 12 {
		keys = nil
	}
	var lines []string
	if height >= 12 {
		lines = append(lines, c.look.ends(c.look.paint(heading, "Steelyard")+"  "+c.look.paint(quiet, "set up an equilibrium problem, line by line"),
			c.look.paint(quiet, "recorded as "+c.learner), width))
	}
	lines = append(lines, c.set.lines(c.look, width)...)
	for _, s := range c.said {
		lines = append(lines, s.lines(c.look, width)...)
	}
	if height >= 10 {
		found := fmt.Sprintf("%d to choose from", c.all)
		if len(c.offers) < c.all {
			found = fmt.Sprintf("%d of %d found", len(c.offers), c.all)
		}
		if room := width - ansi.StringWidth(found) - 2; room >= 36 {
			lines = append(lines, c.look.ends(c.search.View(room, "type to search: a word, a family, level 2"), c.look.paint(quiet, found), width), "")
		} else {
			lines = append(lines, c.search.View(width, "type to search: a word, a family, level 2"), "")
		}
	}
	room := height - len(lines) - len(keys)
	var body []string
	if c.wide() {
		left := width * 45 / 100
		list := c.lines(left, room)
		body = c.look.beside(list, c.about(width-left-3, room), left, "   ")
	} else {
		most := max(room*55/100, min(room, 3))
		body = c.lines(width, most)
		if room-len(body) > 2 {
			body = append(body, c.about(width, room-len(body))...)
		}
	}
	for len(body) < room {
		body = append(body, "")
	}
	lines = append(append(lines, body[:max(room, 0)]...), keys...)
	if width < c.width {
		for i, line := range lines {
			if line != "" {
				lines[i] = " " + line
			}
		}
	}
	return lines
}

func (c choose) wide() bool { return c.width >= wideWidth }

// lines are the offers under their groups, as many as fit about the chosen
// one.
func (c choose) lines(width, height int) []string {
	if len(c.offers) == 0 {
		return []string{c.look.paint(quiet, c.look.cut("Nothing found. Esc shows all.", width))}
	}
	var out []string
	var heads []string // of each line, the head of its group
	focus, head := 0, ""
	for i, o := range c.offers {
		if i == 0 || o.group != c.offers[i-1].group {
			head = c.head(i, width)
			out, heads = append(out, head), append(heads, head)
		}
		text := "   " + o.title
		if i == c.at {
			text = " " + c.look.marks.now + " " + o.title
			focus = len(out)
		}
		aside := o.aside // gives way to the title
		if room := width - ansi.StringWidth(text) - 3; ansi.StringWidth(aside) > room {
			if aside = ""; room >= 8 {
				aside = c.look.cut(o.aside, room)
			}
		}
		line := c.look.pad(c.look.ends(text, aside, width-1), width)
		if i == c.at {
			line = c.look.paint(here, line)
		}
		out, heads = append(out, c.look.touch(offerMsg{i}, line)), append(heads, head)
	}
	// The chosen one stands in the middle, with what comes before and after it.
	from := min(max(focus-height/2, 0), max(len(out)-height, 0))
	part := append([]string{}, out[from:min(from+max(height, 0), len(out))]...)
	if len(part) > 2 && focus > from {
		part[0] = heads[from] // a group begun above is named all the same
		if heads[from+1] != heads[from] {
			part[0] = c.look.paint(quiet, "   "+c.look.marks.more+" more above")
		}
	}
	if last := from + len(part) - 1; last < len(out)-1 && focus < last && len(part) > 2 {
		part[len(part)-1] = c.look.paint(quiet, "   "+c.look.marks.more+" more below")
	}
	return part
}

// head is the name of the group that begins at an offer, with how many of it
// were done.
func (c choose) head(at, width int) string {
	group, all, done := c.offers[at].group, 0, 0
	for _, o := range c.offers[at:] {
		if o.group != group || o.left != nil {
			break
		}
		all++
		if c.done[o.what.ID] > 0 {
			done++
		}
	}
	aside := ""
	if done > 0 && c.set == nil {
		aside = c.look.paint(quiet, fmt.Sprintf("%d of %d done", done, all))
	}
	return c.look.ends(c.look.paint(heading, c.look.cut(sentence(group), width)), aside, width-1)
}

// about tells the chosen problem.
func (c choose) about(width, height int) []string {
	if len(c.offers) == 0 || height < 2 {
		return nil
	}
	o := c.offers[c.at]
	head := c.look.banner(o.title, o.aside, width)
	if o.what == nil {
		return []string{head, c.look.cut("The bank no longer has this problem.", width)}
	}
	if c.unseen && !slices.ContainsFunc(c.left, func(u Unfinished) bool { return u.Problem == o.what.ID }) {
		text := "It is told when it is begun."
		if c.done[o.what.ID] > 0 {
			text = "It is handed in."
		}
		return append([]string{head}, c.look.painted(quiet, text, width)...)
	}
	lines := []string{head}
	lines = append(lines, wrap(c.look.text(o.what.Statement), width)...)
	if o.what.Caution != "" {
		lines = append(lines, c.look.painted(shown, "Caution: "+c.look.text(o.what.Caution), width)...)
	}
	if len(lines) > height {
		lines = lines[:height]
		lines[height-1] = c.look.paint(quiet, c.look.cut(c.look.marks.more+" the whole statement stands with the problem", width))
	}
	return lines
}

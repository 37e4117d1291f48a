package screen

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/grading"
	"steelyard/tutor"
)

// What the parts ask of the screen they are on.
type (
	listMsg   struct{}                    // show the list of problems
	finishMsg struct{ last said }         // the problem is done
	helpMsg   struct{ about *tutor.Desk } // show help
	beginMsg  struct{ problem string }    // begin a problem with a new seed
	resumeMsg struct{ session string }    // go on with one
	tourMsg   struct{}                    // take the tour
	placeMsg  struct{ place }             // go to a line
	bodyMsg   struct{ name string }       // take a body in hand
	offerMsg  struct{ at int }            // choose a problem, or begin the one chosen
	backMsg   struct{}                    // leave help or the tour
	leaveMsg  struct{}                    // quit; the desk has been left
)

func send(msg tea.Msg) tea.Cmd { return func() tea.Msg { return msg } }

// place is a task by name: tasks come and go as the list of forces changes.
type place struct {
	body string // "" for values and doubts
	step tutor.Step
	cell string
}

// placeOf is where a step and cell are, with a body in hand.
func placeOf(body string, step tutor.Step, cell string) place {
	if !step.OfBody() {
		body = ""
	}
	return place{body, step, cell}
}

// work is the screen on which a problem is worked. Every action is the desk's,
// which records before it confirms.
type work struct {
	look    *look
	desk    *tutor.Desk
	keys    workKeys
	entry   entry
	drawing *drawing
	told    statement

	at     place            // the task that the entry is for
	drafts map[place]string // what was typed for the others
	said   []said           // of the last line, and hints since
	live   reading          // of the line as it stands
	view   view             // what is shown where not all fits
	chosen bool             // the learner chose the view
	scroll int

	turning bool   // the tilt of the axes is asked for, before the line in hand
	armed   string // what a second press of the same key confirms

	now time.Time // by the clock, where the time is limited

	width, height int
}

func newWork(l *look, d *tutor.Desk, now time.Time, width, height int) work {
	d.ASCII = l.ascii
	w := work{look: l, desk: d, keys: newWorkKeys(l, d), entry: newEntry(l), drawing: &drawing{look: l},
		told: statement{l, d.Problem()}, drafts: map[place]string{}, now: now, width: width, height: height}
	w.at = w.current()
	w.settle()
	w.said = w.brief()
	return w
}

func (w *work) current() place {
	if w.turning {
		return place{w.desk.Body().Name, tutor.StepAxes, ""}
	}
	if at, asking := w.atReason(); asking {
		return at
	}
	if t := w.desk.Current(); t != nil {
		return place{t.Body, t.Step, t.Cell}
	}
	return place{}
}

// settle follows the desk to the task it is now at: what was typed for the
// other stays with it, and what was typed here before comes back.
func (w *work) settle() {
	if now := w.current(); now != w.at {
		if v := w.entry.Value(); v != "" {
			w.drafts[w.at] = v
		} else {
			delete(w.drafts, w.at)
		}
		if w.sets(w.at) != w.sets(now) && !w.turning || w.at.body != now.body && w.at.body != "" && now.body != "" {
			w.chosen = false
		}
		w.at, w.scroll = now, 0
		w.entry.Set(w.drafts[now])
	}
	if !w.chosen {
		w.view = viewBoth
		if w.sets(w.at) || w.turning && w.desk.Find(tutor.StepForces, "").Status == tutor.Open {
			w.view = viewFigure
		}
	}
	w.keys.suit(w.desk)
	w.read()
}

// setup reports whether a step comes before there is a ledger to look at.
func setup(s tutor.Step) bool { return s == tutor.StepPivot || s == tutor.StepForces }

// Update does what a message asks.
func (w work) Update(msg tea.Msg) (work, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		w.width, w.height = msg.Width, msg.Height
	case tea.KeyMsg:
		return w.press(msg)
	case placeMsg:
		w.turning = false
		w.settle()
		w.move(w.desk.Find(msg.step, msg.cell))
	case bodyMsg:
		w.turning = false
		w.settle()
		if msg.name != w.desk.Body().Name {
			w.turn(msg.name)
		}
	}
	return w, nil
}

func (w work) press(k tea.KeyMsg) (work, tea.Cmd) {
	armed := w.armed
	w.armed = ""
	if w.turning && w.pressTurning(k) {
		return w, nil
	}
	if cmd, done := w.pressWondering(k); done {
		return w, cmd
	}
	switch {
	case pressed(k, w.keys.Check):
		return w.check()
	case pressed(k, w.keys.Ready):
		if now, sure := w.ready(armed); sure {
			return now.submit(mannerOf(w.desk).word, false)
		} else {
			return now, nil
		}
	case pressed(k, w.keys.Mend) && w.mendTaken():
	case pressed(k, w.keys.Quit):
		return w.leave("quit", armed, leaveMsg{})
	case pressed(k, w.keys.List):
		return w.leave("list", armed, listMsg{})
	case pressed(k, w.keys.Help):
		return w, send(helpMsg{w.desk})
	case pressed(k, w.keys.Next):
		w.move(w.vertical(1))
	case pressed(k, w.keys.Prev):
		w.move(w.vertical(-1))
	case pressed(k, w.keys.Forth):
		w.move(w.along(1))
	case pressed(k, w.keys.Back):
		w.move(w.along(-1))
	case pressed(k, w.keys.Body):
		w.nextBody()
	case pressed(k, w.keys.Hint):
		return w.hint()
	case pressed(k, w.keys.Undo):
		w.undo()
	case pressed(k, w.keys.Clear):
		w.entry.Clear()
		w.read()
	case pressed(k, w.keys.Pivot):
		w.pivot()
	case pressed(k, w.keys.Signs):
		w.signs(armed)
	case pressed(k, w.keys.Axes):
		w.axes()
	case pressed(k, w.keys.View):
		w.view, w.chosen, w.scroll = w.next(), true, 0
	case pressed(k, w.keys.PageDown):
		w.scroll += 5
	case pressed(k, w.keys.PageUp):
		w.scroll = max(0, w.scroll-5)
	default:
		w.entry = w.entry.Update(k)
		w.read()
	}
	return w, nil
}

// say puts something in place of what was said before.
func (w *work) say(s said) { w.said = []said{s} }

// check has the line graded, or kept.
func (w work) check() (work, tea.Cmd) {
	if _, asking := w.wondered(); w.desk.Current() == nil && !asking {
		return w, nil
	}
	if w.entry.spent && w.entry.Value() != "" {
		w.entry.note = "This line has been checked as it stands. Type a new one, or mend it with " + w.keys.Mend.Help().Key + "."
		return w, nil
	}
	if t := w.desk.Current(); t != nil && t.Status == tutor.Taken && w.at.step == t.Step && w.entry.Value() == "" { // it stays as it is
		w.move(w.along(1))
		return w, nil
	}
	return w.submit(w.entry.Value(), true)
}

// submit hands a line to the desk: the one on the entry, or a word that a key
// stands for.
func (w work) submit(text string, entered bool) (work, tea.Cmd) {
	body, before := w.desk.Body().Name, ways(w.desk)
	r, err := w.desk.Answer(text)
	if err != nil && r.Outcome == "" {
		w.say(w.look.unsaved("this line", err))
		return w, nil
	}
	title := ""
	if r.Step != "" {
		title = w.desk.Title(&tutor.Task{Step: r.Step, Cell: r.Cell})
	}
	last := w.look.replied(title, r)
	if r.Step == tutor.StepReason {
		last = w.look.reasoned(r)
	}
	if !entered && r.Outcome == grading.Unreadable { // it was no line, that could be read or not
		last = said{quiet, w.look.marks.open, w.look.text(r.Message), ""}
	}
	w.say(last)
	switch {
	case r.Earned() || r.IsTaken() || r.Step == tutor.StepChecking:
		if entered {
			w.entry.Set("")
			delete(w.drafts, placeOf(body, r.Step, r.Cell))
		}
		if news, ok := w.turned(before, body); ok {
			w.said = append(w.said, news)
		}
	case entered:
		w.entry.Hold(r.At)
		w.entry.spent = true
	}
	w.settle()
	if t := w.desk.Current(); t != nil && closes(t.Step) { // what is asked stands below anyway
		w.said[0].head = strings.TrimSpace(strings.TrimSuffix(w.said[0].head, w.desk.Prompt(t)))
	}
	w.recall()
	return w.done(last, err)
}

// done leaves for the last screen if nothing is left to do.
func (w work) done(last said, err error) (work, tea.Cmd) {
	if err != nil {
		w.said = append(w.said, w.look.unsaved("the end of the problem", err))
	}
	if _, asking := w.wondered(); w.desk.Finished() && !asking {
		return w, send(finishMsg{last})
	}
	return w, nil
}

func (w work) hint() (work, tea.Cmd) {
	t := w.desk.Current()
	if t == nil {
		return w, nil
	}
	if t.Done() {
		w.say(said{quiet, w.look.marks.open, "This line is done; there is nothing to hint at.", ""})
		return w, nil
	}
	depth, title := t.Hints+1, w.desk.Title(t)
	body, before := w.desk.Body().Name, ways(w.desk)
	text, err := w.desk.Hint()
	switch {
	case err != nil && text == "":
		w.say(w.look.unsaved("the hint", err))
		return w, nil
	case text == "":
		w.say(said{quiet, w.look.marks.open, "There is no hint here.", ""})
		return w, nil
	}
	if t.Hints < depth { // none was given, and why is said
		w.say(said{quiet, w.look.marks.open, w.look.text(text), ""})
		return w, nil
	}
	most := w.desk.Terms().Hints
	last := w.look.hinted(title, depth, most, text)
	if depth == 2 && most > depth {
		last.body += " (One more shows the line, which is then not earned.)"
	}
	if len(w.said) > 0 && w.said[0].role == wrong && depth < 3 {
		w.said = []said{w.said[0], last}
	} else {
		w.say(last)
	}
	if news, ok := w.turned(before, body); ok {
		w.said = append(w.said, news)
	}
	w.settle()
	return w.done(last, err)
}

// undo takes back the line earned last, or the force listed last, and puts it
// on the entry, to mend.
func (w *work) undo() {
	e, ok := w.desk.Session.Undo()
	if !ok {
		w.say(said{quiet, w.look.marks.open, "There is nothing to take back.", ""})
		return
	}
	if p := placeOf(e.Body, tutor.Step(e.Step), e.Cell); p.body != "" && p.body != w.desk.Body().Name {
		if !w.turn(p.body) { // its list of forces is at hand only on that body
			return
		}
		e, _ = w.desk.Session.Undo()
	}
	p := placeOf(e.Body, tutor.Step(e.Step), e.Cell)
	title := w.desk.Title(&tutor.Task{Step: p.step, Cell: p.cell})
	typed := ""
	switch lines := w.desk.Lines(); {
	case p.step != tutor.StepForces:
		typed = w.desk.Find(p.step, p.cell).Typed
	case p.cell == "" && mannerOf(w.desk).later: // the list stays; that it is whole is what is taken back
		typed = "done"
	case p.cell != "": // one force, off a list that is being written
		typed = lines[len(lines)-1]
	default:
		typed = strings.Join(lines, "; ")
	}
	if _, err := w.desk.Undo(); err != nil {
		w.say(w.look.unsaved("taking it back", err))
		return
	}
	w.settle()
	if w.at == p {
		w.entry.Set(typed)
		w.entry.Hold(0)
		w.read()
	}
	w.say(said{quiet, w.look.marks.open, "Taken back: " + w.look.text(title) + ".", "It is on the line again, to mend or to send as it is."})
}

// leave records that the learner goes. If that cannot be recorded it says so,
// and goes at the second asking.
func (w work) leave(which, armed string, then tea.Msg) (work, tea.Cmd) {
	if err := w.desk.Leave(); err != nil && armed != which {
		s := w.look.unsaved("that you leave", err)
		s.body = "The reason: " + w.look.text(err.Error()) + ". Lines confirmed before are safe. The same key once more leaves all the same."
		w.say(s)
		w.armed = which
		return w, nil
	}
	return w, send(then)
}

package main

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/journal"
	"steelyard/tutor/plain"
)

// pick is which problem a run opens on.
type pick struct {
	problem string
	set     string // a set's file
	drawFlags
	drawn  bool // a seed was asked for
	spoken bool // plain lines say signs in words
}

func (p *pick) add(c *cobra.Command) {
	c.Flags().StringVar(&p.problem, "problem", "", "the problem to open on")
	c.Flags().StringVar(&p.set, "set", "", "an instructor's set of problems to work, a `FILE`")
	p.drawFlags.add(c)
	c.MarkFlagsMutuallyExclusive("set", "seed")
	c.MarkFlagsMutuallyExclusive("set", "given")
}

func (a *app) tutorCommand(root *cobra.Command) {
	var p pick
	root.AddCommand(a.receiptCommand())
	p.add(root)
	root.RunE = func(c *cobra.Command, _ []string) error {
		p.drawn = c.Flags().Changed("seed") || c.Flags().Changed("given")
		return a.teach(p, a.roomForScreen())
	}
	if err := root.RegisterFlagCompletionFunc("problem", a.completeID); err != nil {
		panic(err)
	}
}

func (a *app) plainCommand() *cobra.Command {
	var p pick
	c := &cobra.Command{
		Use:   "plain",
		Short: "Run the tutor as lines of text, for screen readers, pipes and scripts",
		Args:  cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			p.drawn = c.Flags().Changed("seed") || c.Flags().Changed("given")
			return a.teach(p, false)
		},
	}
	p.add(c)
	c.Flags().BoolVar(&p.spoken, "spoken", false, "say signs, units and functions in words, for a screen reader")
	if err := c.RegisterFlagCompletionFunc("problem", a.completeID); err != nil {
		panic(err)
	}
	return c
}

// The least terminal that the full screen fits.
const (
	leastWidth  = 60
	leastHeight = 18
)

// roomForScreen reports whether both streams are a terminal, and it is large
// enough.
func (a *app) roomForScreen() bool {
	in, ok1 := a.in.(*os.File)
	out, ok2 := a.out.(*os.File)
	if !ok1 || !ok2 || !term.IsTerminal(in.Fd()) || !term.IsTerminal(out.Fd()) {
		return false
	}
	w, h, err := term.GetSize(out.Fd())
	return err == nil && w >= leastWidth && h >= leastHeight
}

// teach runs the tutor, on the screen or in plain lines. If no journal can be
// kept the learner is told, and asked whether to go on without.
func (a *app) teach(p pick, screen bool) error {
	if strings.TrimSpace(a.learner) == "" || len(a.learner) > 64 || printable(a.learner) != a.learner {
		return errors.New("--learner is an alias of 1 to 64 printing characters")
	}
	in := bufio.NewReader(a.in)
	h := &house{app: a}
	defer h.close()
	if p.set != "" {
		if err := h.readSet(p.set); err != nil {
			return err
		}
		h.round.onScreen = screen
	}
	err := h.run(p, screen, in)
	var bad *journal.UnwritableError
	if h.journal != nil || !errors.As(err, &bad) {
		return err
	}
	if err := h.goOnWithout(bad, in); err != nil {
		return err
	}
	return h.run(p, screen, in)
}

// run opens what is needed and runs one of the fronts. The screen opens it
// while the terminal is being set up.
func (h *house) run(p pick, screen bool, in *bufio.Reader) error {
	if screen {
		if err := h.app.runScreen(h, p); err != nil {
			return short(err)
		}
		return h.farewell()
	}
	open, err := h.open(p)
	if err != nil {
		return err
	}
	if err := h.readBank(); err != nil {
		return err
	}
	if err := plain.Run(plain.Options{House: h.house(), Open: open, ASCII: h.app.ascii, Spoken: p.spoken}, in, h.app.out); err != nil {
		return short(err)
	}
	return h.farewell()
}

// open opens the journal, and begins the problem picked, if one was.
func (h *house) open(p pick) (*tutor.Desk, error) {
	if err := h.openJournal(); err != nil {
		return nil, err
	}
	if h.round != nil {
		return h.openSet(p.problem)
	}
	if p.problem == "" {
		return nil, nil
	}
	if !p.drawn {
		p.seed = newSeed()
	}
	return h.begin(p.problem, p.seed, p.given)
}

func (h *house) openJournal() error {
	if h.journal != nil {
		return nil
	}
	path, err := h.app.journalPath()
	if err != nil {
		return short(err)
	}
	if h.journal, err = journal.Open(path); err != nil {
		h.journal = nil
		return short(err)
	}
	if aside := h.journal.SetAside(); aside != "" {
		h.notices = append(h.notices, fmt.Sprintf("The journal was damaged. It is kept as %s, and a new one is begun.", aside))
	}
	return nil
}

// goOnWithout says that no journal can be kept, and keeps one in memory if the
// learner agrees.
func (h *house) goOnWithout(bad error, in *bufio.Reader) error {
	fmt.Fprintf(h.app.words, "%v.\nName another folder with --data DIR.\nGo on without a record? Nothing will be kept. Type yes to go on: ", bad)
	line, _ := in.ReadString('\n')
	if !strings.EqualFold(strings.TrimSpace(line), "yes") {
		return short(errors.New("not begun, since nothing could be recorded"))
	}
	var err error
	h.journal, err = journal.OpenMemory()
	h.notices = append(h.notices, "Nothing is being recorded: this work is lost when you leave.")
	return short(err)
}

func (h *house) close() {
	if h.journal != nil {
		h.journal.Close()
	}
}

func (a *app) journalPath() (string, error) {
	if a.dataDir != "" {
		return filepath.Join(a.dataDir, "journal.db"), nil
	}
	return journal.DefaultPath()
}

func newSeed() uint64 { return uint64(rand.IntN(100_000)) }

// house wires the bank and the journal to the fronts.
type house struct {
	app      *app
	bank     *problems.Bank
	journal  *journal.Journal
	notices  []string           // to be said first
	newcomer bool               // the learner has no work in the journal
	round    *round             // the set being worked, if one is
	last     *problems.Scenario // of the problem begun or gone on with last
}

// cards are those of the problems there are. The built-in bank need not be read
// for them, if there is no other.
func (h *house) cards() ([]*problems.Card, error) {
	if h.bank == nil && h.app.bankDir == "" && !isFolder(ownBank()) {
		return problems.Cards(), nil
	}
	if err := h.readBank(); err != nil {
		return nil, err
	}
	return h.bank.Cards(), nil
}

// edition is the hash of a scenario there is a card of.
func (h *house) edition(id string) string {
	if h.bank == nil {
		return problems.Edition(id)
	}
	s, err := h.bank.Scenario(id)
	if err != nil {
		return ""
	}
	return s.Hash
}

// readBank reads the bank, once, and notes what in it could not be read.
func (h *house) readBank() error {
	if h.bank != nil {
		return nil
	}
	b, err := h.app.bank()
	if err != nil {
		return err
	}
	h.bank = b
	for _, f := range b.Faults {
		h.notices = append(h.notices, f.Error())
	}
	return nil
}

func (h *house) house() tutor.House {
	if h.round != nil {
		return h.setHouse()
	}
	return tutor.House{
		Bank: h.bank,
		Begin: func(id string, seed uint64) (*tutor.Desk, error) {
			return h.begin(id, seed, nil)
		},
		Resume:     h.resume,
		Unfinished: h.unfinished,
		Done:       h.done,
		NewSeed:    newSeed,
		Notices:    h.notices,
	}
}

func (h *house) begin(id string, seed uint64, given []string) (*tutor.Desk, error) {
	if h.round != nil {
		return h.beginItem(id)
	}
	p, err := h.draw(id, seed, given)
	if err != nil {
		return nil, err
	}
	terms, err := h.ownTerms()
	if err != nil {
		return nil, err
	}
	s, err := tutor.Start(p, terms)
	if err != nil {
		return nil, err
	}
	d, err := tutor.Sit(s, h.journal.Recorder(h.app.learner, ""), nil)
	return d, short(err)
}

// resume goes on with a session where it was left.
func (h *house) resume(session string) (*tutor.Desk, error) {
	if h.round != nil {
		return h.resumeItem(session)
	}
	var events []tutor.Event
	for e, err := range h.journal.Events(journal.Filter{Session: session}) {
		if err != nil {
			return nil, short(err)
		}
		events = append(events, e)
	}
	if len(events) == 0 {
		return nil, short(fmt.Errorf("no session %s in the journal", printable(session)))
	}
	first := events[0]
	p, err := h.draw(first.Problem, first.Seed, strings.Fields(first.Given))
	if err != nil {
		return nil, err
	}
	if p.Hash != first.ScenarioHash {
		return nil, short(fmt.Errorf("%s has changed since this was begun, so it cannot be gone on with; begin it anew", p.ID))
	}
	s, err := tutor.Resume(p, events)
	if err != nil {
		return nil, short(err)
	}
	return tutor.Sit(s, h.journal.Recorder(h.app.learner, session), events)
}

// draw draws a problem of the bank, and lets go of what was kept of the one
// before.
func (h *house) draw(id string, seed uint64, given []string) (*problems.Problem, error) {
	if err := h.readBank(); err != nil {
		return nil, err
	}
	p, err := h.app.draw(h.bank, id, seed, given)
	if err != nil {
		return nil, err
	}
	if h.last != nil && h.last != p.Scenario {
		grading.Forget(h.last)
	}
	h.last = p.Scenario
	return p, nil
}

// done is how often each problem was finished, by id.
func (h *house) done() (map[string]int, error) {
	all, err := h.journal.Sessions(h.app.learner)
	if err != nil {
		return nil, short(err)
	}
	return finished(all), nil
}

func finished(all []journal.SessionSummary) map[string]int {
	out := map[string]int{}
	for _, s := range all {
		if s.Finished {
			out[s.Problem]++
		}
	}
	return out
}

// unfinished lists what may be gone on with, as far as the bank still has it
// unchanged.
func (h *house) unfinished() ([]tutor.Unfinished, error) {
	all, err := h.journal.Sessions(h.app.learner)
	if err != nil {
		return nil, short(err)
	}
	return h.leftOpen(all)
}

// leftOpen is those of all sessions that may be gone on with.
func (h *house) leftOpen(all []journal.SessionSummary) ([]tutor.Unfinished, error) {
	h.newcomer = len(all) == 0
	if h.round != nil {
		return h.leftInSet(), nil
	}
	cards, err := h.cards()
	if err != nil {
		return nil, err
	}
	var out []tutor.Unfinished
	for _, u := range all {
		if u.Finished || u.Set != "" { // what is of a set is gone on with through it
			continue
		}
		at := slices.IndexFunc(cards, func(c *problems.Card) bool { return c.ID == u.Problem })
		if at < 0 || u.Attempts == 0 && u.Hints == 0 || h.edition(u.Problem) != u.ScenarioHash {
			continue
		}
		out = append(out, tutor.Unfinished{Session: u.Session, Problem: u.Problem, Title: cards[at].Title, Seed: u.Seed, At: u.Last})
	}
	return out, nil
}

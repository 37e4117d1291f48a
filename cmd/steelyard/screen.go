package main

import (
	"context"
	"runtime/debug"
	"strings"
	"time"

	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/screen"
)

// runScreen runs the full screen until the learner leaves.
func (a *app) runScreen(h *house, p pick) error {
	return screen.Run(context.Background(), func() (screen.Options, error) { return h.options(p) }, a.in, a.out)
}

// options is what the screen needs, or why there can be none.
func (h *house) options(p pick) (screen.Options, error) {
	go problems.Cards() // read while the journal is opened
	open, err := h.open(p)
	if err != nil {
		return screen.Options{}, err
	}
	unfinished, done, err := h.offered()
	if err != nil {
		h.notices = append(h.notices, err.Error())
	}
	cards, err := h.cards()
	if err != nil {
		return screen.Options{}, err
	}
	time.AfterFunc(onceItStands, settle)
	return screen.Options{
		Cards:      cards,
		Learner:    h.app.learner,
		Start:      func(id string, seed uint64) (*tutor.Desk, error) { return h.begin(id, seed, nil) },
		Resume:     h.resume,
		Unfinished: unfinished,
		Done:       done,
		Reload:     h.offered,
		NewSeed:    newSeed,
		Open:       open,
		ASCII:      h.app.ascii,
		Notice:     strings.Join(h.notices, "\n"),
		// Who has no work here yet is taken round first.
		Walkthrough: open == nil && h.newcomer && !h.inExam(),
		Progress:    h.progress(),
		Unseen:      h.inExam(),
	}, nil
}

// onceItStands is when the first frame is on the screen, and nobody has chosen
// yet.
const onceItStands = 100 * time.Millisecond

// settle does what the first frame does not wait for: it reads the bank. From
// then on memory is collected more often. One learner types, so that this costs
// nothing that shows, and a third of the memory is saved.
func settle() {
	debug.SetGCPercent(40)
	problems.Builtin()
}

// offered is what was left unfinished, as the screen offers it, and how often
// each problem was finished.
func (h *house) offered() ([]screen.Unfinished, map[string]int, error) {
	all, err := h.journal.Sessions(h.app.learner)
	if err != nil {
		return nil, nil, short(err)
	}
	var out []screen.Unfinished
	left, err := h.leftOpen(all)
	if err != nil {
		return nil, nil, err
	}
	for _, u := range left {
		out = append(out, screen.Unfinished{Session: u.Session, Problem: u.Problem, Title: u.Title, When: ago(time.Now(), u.At)})
	}
	if h.round != nil {
		return out, h.doneInSet(), nil
	}
	return out, finished(all), nil
}

// ago says when something was, as far back as matters to who left it.
func ago(now, then time.Time) string {
	now, then = now.Local(), then.Local()
	midnight := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, now.Location())
	switch {
	case now.Sub(then) < 2*time.Minute:
		return "just now"
	case !then.Before(midnight):
		return "today, " + then.Format("15:04")
	case !then.Before(midnight.AddDate(0, 0, -1)):
		return "yesterday, " + then.Format("15:04")
	case then.Year() == now.Year():
		return then.Format("2 January")
	}
	return then.Format("2 January 2006")
}

package screen

import (
	"slices"

	"steelyard/tutor"
)

// move goes to a task. One of another body takes that body in hand first; a
// body come to from the one before it is met at its first open line.
func (w *work) move(t *tutor.Task) {
	if t == nil || t == w.desk.Current() {
		return
	}
	if t.Body != "" && t.Body != w.desk.Body().Name {
		forward := slices.Index(w.desk.Bodies(), t.Body) > slices.Index(w.desk.Bodies(), w.desk.Body().Name)
		if !w.turn(t.Body) || forward || t == w.desk.Current() {
			return
		}
	}
	if _, err := w.desk.Go(t.Step, t.Cell); err != nil {
		w.say(w.look.unsaved("the move", err))
		return
	}
	w.said = nil
	w.settle()
	w.recall()
}

// along is the task before or after the current one, leaving out those that
// nothing is asked of.
func (w *work) along(way int) *tutor.Task {
	tasks := w.desk.Tasks()
	i := slices.Index(tasks, w.desk.Current())
	for i += way; i >= 0 && i < len(tasks); i += way {
		if tasks[i].Status != tutor.Covered {
			return tasks[i]
		}
	}
	return nil
}

// vertical is the entry above or below in the same column; past its ends, and
// outside the ledger, the line before or after.
func (w *work) vertical(way int) *tutor.Task {
	t := w.desk.Current()
	if t == nil || !t.IsCell() {
		return w.along(way)
	}
	list := w.desk.Listed()
	for i, f := range list {
		if f.Symbol != t.Cell {
			continue
		}
		for i += way; i >= 0 && i < len(list); i += way {
			if n := w.desk.Find(t.Step, list[i].Symbol); n != nil && n.Status != tutor.Covered {
				return n
			}
		}
	}
	if way < 0 {
		return w.desk.Find(tutor.StepForces, "")
	}
	tasks := w.desk.Tasks()
	for _, n := range tasks[slices.Index(tasks, t):] {
		if !n.IsCell() && n.Status != tutor.Covered {
			return n
		}
	}
	return nil
}

package screen

import (
	"errors"
	"fmt"
	"strings"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// reading is what the line being typed is understood as, or where and why it
// is not.
type reading struct {
	step   tutor.Step // what it would be taken for: an entry, an equation or a value
	cell   string
	as     string
	stood  string // how it read before it could not be read
	at     int    // 1-based column; 0 if it can be read
	reason string
}

// read reads the line as it stands. Only mathematics is read back.
func (w *work) read() {
	before := w.live
	w.live = reading{}
	defer func() {
		// Half a symbol is not read; what was before it still stands.
		if w.live.at > 0 && !w.entry.held && w.live.step == before.step && w.live.cell == before.cell {
			w.live.stood = before.as + before.stood // one of them is empty
		}
	}()
	text, t := w.entry.Value(), w.desk.Current()
	if w.turning && strings.TrimSpace(text) != "" {
		w.readTilt(text)
		return
	}
	if _, asking := w.wondered(); asking {
		return
	}
	if t == nil || w.turning || strings.TrimSpace(text) == "" || !t.IsCell() && t.Step != tutor.StepEquation && t.Step != tutor.StepValue {
		return
	}
	w.live.step, w.live.cell = t.Step, t.Cell
	as, err := w.readAs(t, text)
	if err == nil {
		w.live.as = w.look.text(as)
		return
	}
	if word := mannerOf(w.desk).word; word != "" && strings.HasPrefix(word, strings.ToLower(strings.TrimSpace(text))) {
		w.live = reading{} // perhaps the word is being typed
		return
	}
	w.live.at, w.live.reason = 1, w.look.text(err.Error())
	var e *notation.Error
	if errors.As(err, &e) {
		w.live.at, w.live.reason = max(e.At, 1), w.look.text(e.Reason)
		if e.Suggestion != "" {
			w.live.reason = fmt.Sprintf("%s; %s", w.live.reason, w.look.text(e.Suggestion))
		}
	}
}

// readAs reads a line as what it would be taken for.
func (w *work) readAs(t *tutor.Task, text string) (string, error) {
	table, ascii := w.desk.Problem().Table, w.look.ascii
	equals := strings.Contains(text, "=")
	if q, err := table.ParseValue(text); t.Step == tutor.StepValue || equals && err == nil && q.Symbol != "" && len(notation.Symbols(q.Expr)) == 0 {
		if err != nil {
			return "", err
		}
		as := strings.TrimSpace(notation.ReadBack(q.Expr, ascii) + " " + q.Unit.Name)
		if q.Symbol != "" && (q.Symbol != t.Cell || t.Step != tutor.StepValue) {
			w.live.step, w.live.cell = tutor.StepValue, q.Symbol
		}
		return as, nil
	}
	if equals {
		if t.IsCell() {
			w.live.step, w.live.cell = tutor.StepEquation, string(t.Step)
		}
		l, r, err := table.ParseEquation(text)
		if err != nil {
			return "", err
		}
		return notation.ReadBackEquation(l, r, ascii), nil
	}
	n, err := table.Parse(text)
	if err != nil {
		return "", err
	}
	return notation.ReadBack(n, ascii), nil
}

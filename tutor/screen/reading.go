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
	as     string
	at     int // 1-based column; 0 if it can be read
	reason string
}

// read reads the line as it stands. Only mathematics is read back.
func (w *work) read() {
	w.live = reading{}
	text, t := w.entry.Value(), w.desk.Current()
	if t == nil || strings.TrimSpace(text) == "" {
		return
	}
	table := w.desk.Problem().Table
	var as string
	var err error
	switch {
	case t.Step == tutor.StepValue:
		var q notation.Quantity
		if q, err = table.ParseValue(text); err == nil {
			as = strings.TrimSpace(notation.ReadBack(q.Expr, w.look.ascii) + " " + q.Unit.Name)
			if q.Symbol != "" {
				as = notation.Display(q.Symbol, w.look.ascii) + " = " + as
			}
		}
	case !t.IsCell() && t.Step != tutor.StepEquation:
		return
	case strings.Contains(text, "="):
		var l, r notation.Node
		if l, r, err = table.ParseEquation(text); err == nil {
			as = notation.ReadBackEquation(l, r, w.look.ascii)
		}
	default:
		var n notation.Node
		if n, err = table.Parse(text); err == nil {
			as = notation.ReadBack(n, w.look.ascii)
		}
	}
	if err == nil {
		w.live.as = w.look.text(as)
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

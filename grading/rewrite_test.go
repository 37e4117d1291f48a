package grading

import (
	"testing"

	"pgregory.net/rapid"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// The properties here rewrite lines at random, as algebra allows, and ask for
// the same verdict. How many lines is rapid's to say: -rapid.checks=10000.

// anyScenario draws one by its id, which is short to print.
func anyScenario(t *rapid.T) *problems.Scenario {
	var ids []string
	for _, s := range problems.Builtin().Scenarios {
		ids = append(ids, s.ID)
	}
	s, err := problems.Builtin().Scenario(rapid.SampledFrom(ids).Draw(t, "scenario"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// anyGrader draws a problem and a choice.
func anyGrader(t *rapid.T) *Grader {
	s := anyScenario(t)
	p, err := Draw(s, rapid.Uint64Range(0, 30).Draw(t, "seed"))
	if err != nil {
		t.Fatal(err)
	}
	body := &p.Bodies[rapid.IntRange(0, len(p.Bodies)-1).Draw(t, "body")]
	c := Choice{Body: body.Name, Clockwise: rapid.Bool().Draw(t, "clockwise"), Reversed: map[string]bool{},
		Pivot: rapid.SampledFrom(body.Points).Draw(t, "pivot").Name,
		Tilt:  rapid.SampledFrom([]string{"", "", "", "20", "-35"}).Draw(t, "tilt")}
	for _, f := range body.Forces {
		if f.Unknown && f.Kind.Assumable() && !f.Sliding && rapid.IntRange(0, 3).Draw(t, "reversed") == 0 {
			c.Reversed[f.Symbol] = true
		}
	}
	g, err := New(p, c)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func bin(op byte, l, r notation.Node) notation.Node {
	return &notation.Binary{Op: op, Left: l, Right: r}
}

func num(v float64, text string) notation.Node {
	return &notation.Number{Value: v, Text: text, Exact: true}
}

func call(f string, arg notation.Node) notation.Node { return &notation.Call{Func: f, Arg: arg} }

func deg(v float64, text string) notation.Node {
	return &notation.Angle{Operand: num(v, text), Degrees: true}
}

func neg(n notation.Node) notation.Node { return &notation.Unary{Operand: n} }

// rewritings each write a node another way; nil where it does not apply.
var rewritings = []func(g *Grader, n notation.Node) notation.Node{
	func(_ *Grader, n notation.Node) notation.Node { // commute
		if b, ok := n.(*notation.Binary); ok && (b.Op == '*' || b.Op == '+') {
			return bin(b.Op, b.Right, b.Left)
		}
		return nil
	},
	func(_ *Grader, n notation.Node) notation.Node { // a - b = -b + a
		if b, ok := n.(*notation.Binary); ok && b.Op == '-' {
			return bin('+', neg(b.Right), b.Left)
		}
		return nil
	},
	func(_ *Grader, n notation.Node) notation.Node { // multiply out
		b, ok := n.(*notation.Binary)
		if !ok || b.Op != '*' {
			return nil
		}
		if s, ok := b.Right.(*notation.Binary); ok && (s.Op == '+' || s.Op == '-') {
			return bin(s.Op, bin('*', b.Left, s.Left), bin('*', b.Left, s.Right))
		}
		if s, ok := b.Left.(*notation.Binary); ok && (s.Op == '+' || s.Op == '-') {
			return bin(s.Op, bin('*', s.Left, b.Right), bin('*', s.Right, b.Right))
		}
		return nil
	},
	func(_ *Grader, n notation.Node) notation.Node { // take a common factor out
		s, ok := n.(*notation.Binary)
		if !ok || s.Op != '+' && s.Op != '-' {
			return nil
		}
		l, lok := s.Left.(*notation.Binary)
		r, rok := s.Right.(*notation.Binary)
		if lok && rok && l.Op == '*' && r.Op == '*' && l.Left.String() == r.Left.String() {
			return bin('*', l.Left, bin(s.Op, l.Right, r.Right))
		}
		return nil
	},
	func(_ *Grader, n notation.Node) notation.Node { return bin('/', bin('*', num(2, "2"), n), num(2, "2")) },
	func(_ *Grader, n notation.Node) notation.Node {
		return bin('+', bin('/', n, num(2, "2")), bin('*', num(0.5, "½"), n))
	},
	func(_ *Grader, n notation.Node) notation.Node { return neg(neg(n)) },
	func(g *Grader, n notation.Node) notation.Node { // n s/s
		s := g.p.Givens[0]
		x := &notation.Symbol{Name: s.Symbol, Index: s.Index}
		return bin('/', bin('*', n, x), x)
	},
	func(g *Grader, n notation.Node) notation.Node { // what a symbol stands for
		s, ok := n.(*notation.Symbol)
		for _, d := range g.p.Definitions() {
			if ok && d.Index == s.Index {
				return d.Is
			}
		}
		return nil
	},
	trig("sin", func(x notation.Node) notation.Node { return call("cos", bin('-', deg(90, "90"), x)) }),
	trig("sin", func(x notation.Node) notation.Node { return call("sin", bin('-', deg(180, "180"), x)) }),
	trig("sin", func(x notation.Node) notation.Node { return neg(call("sin", neg(x))) }),
	trig("sin", func(x notation.Node) notation.Node { return bin('*', call("cos", x), call("tan", x)) }),
	trig("sin", func(x notation.Node) notation.Node {
		half := bin('/', x, num(2, "2"))
		return bin('*', bin('*', num(2, "2"), call("sin", half)), call("cos", half))
	}),
	trig("cos", func(x notation.Node) notation.Node { return call("sin", bin('+', deg(90, "90"), x)) }),
	trig("cos", func(x notation.Node) notation.Node { return call("cos", neg(x)) }),
	trig("cos", func(x notation.Node) notation.Node { return bin('/', call("sin", x), call("tan", x)) }),
	trig("cos", func(x notation.Node) notation.Node {
		return bin('-', num(1, "1"), bin('*', num(2, "2"), bin('^', call("sin", bin('/', x, num(2, "2"))), num(2, "2"))))
	}),
}

func trig(f string, as func(notation.Node) notation.Node) func(*Grader, notation.Node) notation.Node {
	return func(_ *Grader, n notation.Node) notation.Node {
		if c, ok := n.(*notation.Call); ok && c.Func == f {
			return as(c.Arg)
		}
		return nil
	}
}

// once rewrites one node of a tree, drawn on the way down.
func once(t *rapid.T, g *Grader, n notation.Node) notation.Node {
	down := rapid.IntRange(0, 3).Draw(t, "down") > 0
	switch n := n.(type) {
	case *notation.Binary:
		if down && n.Op != '^' {
			if rapid.Bool().Draw(t, "left") {
				return bin(n.Op, once(t, g, n.Left), n.Right)
			}
			return bin(n.Op, n.Left, once(t, g, n.Right))
		}
	case *notation.Unary:
		if down {
			return neg(once(t, g, n.Operand))
		}
	}
	if m := rapid.SampledFrom(rewritings).Draw(t, "rule")(g, n); m != nil {
		return m
	}
	return n
}

// rewritten is a line written another way, several times over, as text.
func rewritten(t *rapid.T, g *Grader, text string) string {
	n, err := g.p.Table.Parse(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	for range rapid.IntRange(0, 8).Draw(t, "times") {
		m := once(t, g, n)
		if len(m.String()) > 400 {
			break
		}
		n = m
	}
	return n.String()
}

// rearranged is an equation sum = 0 with terms moved across, both sides scaled
// and rewritten.
func rearranged(t *rapid.T, g *Grader, sum string) string {
	l, err := g.p.Table.Parse(sum)
	if err != nil {
		t.Fatalf("%q: %v", sum, err)
	}
	r := notation.Node(num(0, "0"))
	for range rapid.IntRange(0, 4).Draw(t, "steps") {
		given := rapid.SampledFrom(g.p.Givens).Draw(t, "given")
		x := notation.Node(&notation.Symbol{Name: given.Symbol, Index: given.Index})
		was, other := l, r
		switch rapid.IntRange(0, 5).Draw(t, "step") {
		case 0:
			l, r = r, l
		case 1: // move the last term across
			if b, ok := l.(*notation.Binary); ok && (b.Op == '+' || b.Op == '-') {
				l = b.Left
				r = bin(map[byte]byte{'+': '-', '-': '+'}[b.Op], r, b.Right)
			}
		case 2:
			l, r = bin('/', l, x), bin('/', r, x)
		case 3:
			l, r = bin('*', x, l), bin('*', x, r)
		case 4:
			l, r = neg(l), neg(r)
		case 5:
			l = once(t, g, l)
		}
		if len(l.String())+len(r.String()) > 400 {
			l, r = was, other
			break
		}
	}
	return l.String() + " = " + r.String()
}

// A right cell, however written, is right.
func TestRightCellRewritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGrader(t)
		row := rapid.SampledFrom(statics.Rows).Draw(t, "row")
		name := g.symbolOf(rapid.IntRange(0, g.count()-1).Draw(t, "force"))
		line, err := g.Line(row, name, true)
		if err != nil {
			t.Fatal(err)
		}
		text := rewritten(t, g, line)
		if v, err := g.Cell(row, name, text); err != nil || v.Outcome != Right {
			t.Errorf("%s, %s of %s about %s: %q, from %q, is %v %v %q (%v)", g.p.ID, row, name, g.frame.Pivot.Name, text, line, v.Outcome, v.Slips, v.Message, err)
		}
	})
}

// A right row, however arranged, is right.
func TestRightRowRearranged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGrader(t)
		row := rapid.SampledFrom(statics.Rows).Draw(t, "row")
		if g.Blank(row) {
			return
		}
		sum := g.body.Row(row, g.frame).Sum().Text(true)
		text := rearranged(t, g, sum)
		if v, err := g.Equation(row, text); err != nil || v.Outcome != Right {
			t.Errorf("%s, %s about %s: %q, from %q, is %v %v %q (%v)", g.p.ID, row, g.frame.Pivot.Name, text, sum, v.Outcome, v.Slips, v.Message, err)
		}
	})
}

// A cell with one slip in it, however written, is wrong, and the slip is named
// or listed beside one that writes the same.
func TestOneSlipInACell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGrader(t)
		row := rapid.SampledFrom(statics.Rows).Draw(t, "row")
		i := rapid.IntRange(0, g.count()-1).Draw(t, "force")
		singles := g.ledger(row)[i].singles
		if len(singles) == 0 {
			return
		}
		w := rapid.SampledFrom(singles).Draw(t, "slip")
		if !writes(g, w) {
			return
		}
		text := rewritten(t, g, w.term.Text(true))
		v, err := g.Cell(row, g.symbolOf(i), text)
		if err != nil || v.Outcome != Wrong || !names(v, w.codes[0]) {
			t.Errorf("%s, %s of %s about %s: %q is %v %v also %v, want wrong, %s (%v)", g.p.ID, row, g.symbolOf(i), g.frame.Pivot.Name, text, v.Outcome, v.Slips, v.Also, w.codes[0], err)
		}
	})
}

// A row with one slip in it, however arranged, is wrong; the slip is named,
// unless what it made is another row or true of the solution, or has no unknown
// left, so that any multiple of it is like any other.
func TestOneSlipInARow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGrader(t)
		row := rapid.SampledFrom(statics.Rows).Draw(t, "row")
		text, codes, ok := slippedRow(t, g, row, 1)
		if !ok {
			return
		}
		v, err := g.Equation(row, text)
		if bare := !usesUnknown(g, text); bare && v.Outcome == Wrong {
			return
		}
		if err != nil || v.Outcome != Wrong || !names(v, codes[0]) && !names(v, "another-row") && !names(v, "mixed-rows") {
			t.Errorf("%s, %s about %s: %q is %v %v also %v, want wrong, %s (%v)", g.p.ID, row, g.frame.Pivot.Name, text, v.Outcome, v.Slips, v.Also, codes[0], err)
		}
	})
}

// Two slips, in one cell or in two of a row, are never right.
func TestTwoSlipsAreWrong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGrader(t)
		row := rapid.SampledFrom(statics.Rows).Draw(t, "row")
		if rapid.Bool().Draw(t, "cell") {
			i := rapid.IntRange(0, g.count()-1).Draw(t, "force")
			pairs := g.shelf.twos(g.ledger(row)[i])
			if len(pairs) == 0 {
				return
			}
			w := rapid.SampledFrom(pairs).Draw(t, "slips")
			if agrees(g, w.term, g.ledger(row)[i].right.term) {
				return
			}
			text := rewritten(t, g, w.term.Text(true))
			if v, err := g.Cell(row, g.symbolOf(i), text); err != nil || v.Outcome != Wrong {
				t.Errorf("%s, %s of %s about %s: %q is %v %v, want wrong, %v (%v)", g.p.ID, row, g.symbolOf(i), g.frame.Pivot.Name, text, v.Outcome, v.Slips, w.codes, err)
			}
			return
		}
		text, codes, ok := slippedRow(t, g, row, 2)
		if !ok {
			return
		}
		if v, err := g.Equation(row, text); err != nil || v.Outcome != Wrong {
			t.Errorf("%s, %s about %s: %q is %v %v, want wrong, %v (%v)", g.p.ID, row, g.frame.Pivot.Name, text, v.Outcome, v.Slips, codes, err)
		}
	})
}

// writes reports whether a term's text is the term to the last digit; that of
// an angle of degrees taken as radians has digits without end.
func writes(g *Grader, w written) bool {
	n, err := g.p.Table.Parse(w.term.Text(true))
	v := g.shelf.states[0]
	return err == nil && near(notation.Value(n, v), w.states[0], abs(w.states[0]), 1e-13)
}

// agrees reports whether two terms are the same at the problem's own givens,
// where 2 N may well stand for N w/2: draws keep single slips apart from the
// right entry, not pairs of them.
func agrees(g *Grader, a, b statics.Sum) bool {
	for _, v := range g.own {
		if x, y := a.Eval(v), b.Eval(v); !near(x, y, max(abs(x), abs(y)), Tolerance) {
			return false
		}
	}
	return true
}

func usesUnknown(g *Grader, equation string) bool {
	t, bad := g.equation(equation)
	if bad != nil || !g.usesUnknown(t) {
		return false
	}
	// An angle to find may stand there and make no difference: sin^2 + cos^2.
	for k := 1; k < gridFree; k++ {
		a, b := t.value(g.shelf.grid[0]), t.value(g.shelf.grid[k])
		if !near(a, b, t.size(g.shelf.grid[0]), 1e-9) {
			return true
		}
	}
	return false
}

func names(v Verdict, code string) bool {
	for _, list := range [][]string{v.Slips, v.Also} {
		for _, c := range list {
			if c == code {
				return true
			}
		}
	}
	return false
}

// slippedRow is a row with n entries of it slipped, rearranged; not ok where
// nothing is left of it, or the slips undo each other.
func slippedRow(t *rapid.T, g *Grader, row statics.RowKind, n int) (text string, codes []string, ok bool) {
	ledger := g.ledger(row)
	sum := g.body.Row(row, g.frame).Sum()
	right := sum
	cells := rapid.Permutation(indexes(len(ledger))).Draw(t, "cells")
	for _, i := range cells {
		if len(codes) == n || len(ledger[i].singles) == 0 {
			continue
		}
		w := rapid.SampledFrom(ledger[i].singles).Draw(t, "slip")
		sum = sum.Minus(ledger[i].right.term).Plus(w.term)
		codes = append(codes, w.codes[0])
	}
	if len(codes) < n || sum.IsZero() || proportional(g, sum, right) || rowTimesUnknown(g, row, sum) || agrees(g, sum, right) || (n > 1 || g.frame.Tilt.Degrees != 0 || g.frame.Pivot.Mark) && agreesAsRow(g, row, sum) {
		return "", nil, false
	}
	return rearranged(t, g, sum.Text(true)), codes, true
}

func indexes(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// rowTimesUnknown reports whether a sum vanishes wherever the row does: both
// entries of a row multiplied by x too often leave x times the row, which says
// the same.
func rowTimesUnknown(g *Grader, row statics.RowKind, sum statics.Sum) bool {
	for _, v := range g.sheetOf(row, g.frame).sheet.on {
		if abs(sum.Eval(v)) > exact*sum.Size(v) {
			return false
		}
	}
	return true
}

// agreesAsRow is agrees for a whole row, along axes that draws do not see to as
// well, which is the same row if multiplied:
// W_1 r_1 times 9.81 is W_2 r_2 times 9.8, to within the tolerance.
func agreesAsRow(g *Grader, row statics.RowKind, sum statics.Sum) bool {
	for _, v := range g.sheetOf(row, g.frame).on {
		if abs(sum.Eval(v)) > Tolerance*sum.Size(v)/2 {
			return false
		}
	}
	return true
}

// proportional reports whether two sums vanish together: both senses of a row
// of two terms turned about, say.
func proportional(g *Grader, a, b statics.Sum) bool {
	for k := 0; k < len(g.shelf.grid); k += gridFree {
		v, w := g.shelf.grid[k], g.shelf.grid[k+1]
		x, y := a.Eval(v)*b.Eval(w), a.Eval(w)*b.Eval(v)
		if !near(x, y, max(abs(x), abs(y)), 1e-9) {
			return false
		}
	}
	return true
}

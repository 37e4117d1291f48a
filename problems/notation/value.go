package notation

import (
	"strings"
	"unicode/utf8"
)

// Quantity is a final value as it was typed: a number, or a line that gives
// one, and perhaps its unit.
type Quantity struct {
	Expr    Node
	Unit    Unit   // of Expr; that of a pure number if none was written
	HasUnit bool   // a unit was written
	Symbol  string // canonical name, if it was written in front: T = 1.56 kN

	// Product is the same text without a unit in it, where the letters taken
	// for the unit are symbols too: in 3 m, m may be a metre or the mass. It
	// is nil where there is no such second reading.
	Product Node
}

// SI is the value in SI units, with angles in radians, at the values of the
// table's symbols by index.
func (q Quantity) SI(values []float64) float64 { return Value(q.Expr, values) * q.Unit.Factor }

// ParseValue reads a final value: "1.56 kN", "T = 1.56 kN", "35°", "-12 N",
// "1 560 N", "1.2e3 N m", "M g/2", "0.377". A unit is looked for after the last
// number of the text, and after a bracket that ends it; after a number it is
// preferred to a symbol of the same name, see [Quantity.Product]. A line with
// symbols takes no unit: they bring their own. The error is an [*Error].
func (t *Table) ParseValue(text string) (Quantity, error) {
	q, err := t.parseValue(text, MaxBytes, MaxDepth)
	if err != nil {
		return Quantity{}, err
	}
	return q, nil
}

func (t *Table) parseValue(text string, maxBytes, maxDepth int) (Quantity, *Error) {
	s := newScanner(t, text, true)
	defer s.release()
	failure := s.scan(maxBytes)
	v := valueParser{table: t, text: text, tokens: s.tokens, failure: failure, maxDepth: maxDepth}
	q := Quantity{Unit: units[""]}
	if err := v.leading(&q); err != nil {
		return q, err
	}
	if done, err := v.trailing(&q); done || err != nil {
		return q, err
	}
	var err *Error
	if q.Expr, err = v.all(); err != nil {
		return q, err
	}
	angleUnit(&q)
	return q, nil
}

// valueParser reads a quantity from the tokens of its text.
type valueParser struct {
	table    *Table
	text     string
	tokens   []token
	failure  *Error // why scanning stopped after them, if it did
	first    int    // the first token of the value itself
	maxDepth int
}

// leading takes "T =" off the front.
func (v *valueParser) leading(q *Quantity) *Error {
	for i, tok := range v.tokens {
		if tok.kind != equalsToken {
			continue
		}
		switch {
		case v.first > 0:
			return &Error{tok.at, `this is the second "="`, "give one value"}
		case i != 1 || v.tokens[0].kind != symbolToken:
			return &Error{tok.at, `what stands before "=" is not one symbol`, "write the value with its unit, or the unknown before it, as in T = 1.56 kN"}
		}
		v.first = 2
		q.Symbol = v.table.symbols[v.tokens[0].index].name
	}
	return nil
}

// all parses every token as an expression.
func (v *valueParser) all() (Node, *Error) {
	if v.failure != nil {
		return nil, v.explain()
	}
	return v.parse(v.tokens[v.first:])
}

func (v *valueParser) parse(tokens []token) (Node, *Error) {
	p := parser{table: v.table, text: v.text, tokens: tokens, maxDepth: v.maxDepth}
	return p.whole()
}

// trailing takes a unit off the end and parses what is before it. It reports
// whether there was one.
func (v *valueParser) trailing(q *Quantity) (bool, *Error) {
	for i := len(v.tokens) - 1; i >= v.first; i-- {
		closing := v.tokens[i].kind == closeToken && v.failure != nil && i == len(v.tokens)-1
		if v.tokens[i].kind != numberToken && !closing {
			continue
		}
		end := v.tokens[i].end
		at := v.tokens[i].at + utf8.RuneCountInString(v.text[v.tokens[i].start:end])
		u, ok := trailingUnit(v.text[end:])
		if !ok {
			continue
		}
		body := append(v.tokens[v.first:i+1:i+1], token{kind: endToken, at: at, start: end, end: end})
		n, err := v.parse(body)
		if err != nil {
			return false, err
		}
		product, productErr := v.all()
		if !constant(n) {
			if productErr == nil {
				return false, nil
			}
			return false, &Error{at, "a line with symbols takes no unit of its own",
				"leave the unit out, or give the value as a number"}
		}
		q.Expr, q.Unit, q.HasUnit = n, u, true
		if productErr == nil {
			q.Product = product
		}
		return true, nil
	}
	return false, nil
}

// trailingUnit reads the rest of a text as a unit. Angle units are left to the
// parser, which knows 12 sin 35° from 35°.
func trailingUnit(rest string) (Unit, bool) {
	rest = strings.TrimSpace(rest)
	if rest == "" || len(rest) > maxUnit {
		return Unit{}, false
	}
	u, err := ParseUnit(rest)
	return u, err == nil && !SameDim(u, units["deg"])
}

// explain is the failure of scanning, or a better reason where it lies in what
// may be meant as the unit.
func (v *valueParser) explain() *Error {
	last := len(v.tokens) - 1
	if last < v.first || v.tokens[last].kind != numberToken {
		return v.failure
	}
	rest := strings.TrimSpace(v.text[v.tokens[last].end:])
	if rest == "" || wordEnd(rest, 0) == 0 || strings.ContainsAny(rest, "+*([{=.,") {
		return v.failure
	}
	return &Error{v.failure.At, quote(rest) + " is not a unit here", nearUnit(rest)}
}

// angleUnit moves the unit of a plain angle from its tree to the quantity, and
// gives a sum of angles, whose value is in radians, that unit.
func angleUnit(q *Quantity) {
	if a, ok := q.Expr.(*Angle); ok {
		q.Expr, q.HasUnit, q.Unit = a.Operand, true, units["rad"]
		if a.Degrees {
			q.Unit = units["deg"]
		}
		return
	}
	if sign, ok := q.Expr.(*Unary); ok {
		inner := Quantity{Expr: sign.Operand}
		if angleUnit(&inner); inner.HasUnit {
			q.Expr, q.HasUnit, q.Unit = &Unary{sign.column, inner.Expr}, true, inner.Unit
		}
		return
	}
	if everyTermAngle(q.Expr) {
		q.HasUnit, q.Unit = true, units["rad"]
	}
}

// everyTermAngle reports whether every term of n is an angle with its unit
// written, or a constant multiple of one.
func everyTermAngle(n Node) bool {
	switch n := n.(type) {
	case *Angle:
		return true
	case *Unary:
		return everyTermAngle(n.Operand)
	case *Binary:
		switch n.Op {
		case '+', '-':
			return everyTermAngle(n.Left) && everyTermAngle(n.Right)
		case '*':
			_, left := n.Left.(*Number)
			_, right := n.Right.(*Number)
			return left && everyTermAngle(n.Right) || right && everyTermAngle(n.Left)
		case '/':
			_, right := n.Right.(*Number)
			return right && everyTermAngle(n.Left)
		}
	}
	return false
}

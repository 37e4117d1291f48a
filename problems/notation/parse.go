package notation

import "strconv"

// The grammar, loosest first. A sign at the head of a term covers the whole
// term, so -M g L is -(M g L); after an operator it covers one factor.
//
//	sum     = term { ("+" | "-") term }
//	term    = { "+" | "-" } product
//	product = power { [ "*" | "/" ] factor }
//	factor  = { "+" | "-" } power
//	power   = primary [ superscript | "^" factor ]
//	primary = ( number | symbol | "(" sum ")" | call ) [ "°" | "deg" | "rad" ]
//	call    = function [ exponent ] ( "(" sum ")" | number angle-symbol | power )

// Parse reads an expression. The error is an [*Error].
func (t *Table) Parse(text string) (Node, error) {
	n, err := t.parse(text, MaxBytes, MaxDepth)
	if err != nil {
		return nil, err // not through a nil *Error: the interface must be nil when there is none
	}
	return n, nil
}

func (t *Table) parse(text string, maxBytes, maxDepth int) (Node, *Error) {
	s := newScanner(t, text, false)
	defer s.release()
	if err := s.scan(maxBytes); err != nil {
		return nil, err
	}
	p := parser{table: t, text: text, tokens: s.tokens, maxDepth: maxDepth}
	return p.whole()
}

// ParseEquation reads two expressions with one "=" between them. The error is
// an [*Error].
func (t *Table) ParseEquation(text string) (lhs, rhs Node, err error) {
	l, r, e := t.parseEquation(text, MaxBytes, MaxDepth)
	if e != nil {
		return nil, nil, e
	}
	return l, r, nil
}

func (t *Table) parseEquation(text string, maxBytes, maxDepth int) (lhs, rhs Node, err *Error) {
	s := newScanner(t, text, false)
	defer s.release()
	if err := s.scan(maxBytes); err != nil {
		return nil, nil, err
	}
	equals := 0
	for _, tok := range s.tokens {
		if tok.kind == equalsToken {
			if equals++; equals == 2 {
				return nil, nil, &Error{tok.at, `this is the second "="`, "write one equation at a time"}
			}
		}
	}
	p := parser{table: t, text: text, tokens: s.tokens, maxDepth: maxDepth}
	if equals == 0 && p.peek().kind != endToken {
		n, err := p.whole()
		if err != nil {
			return nil, nil, err
		}
		return nil, nil, &Error{p.peek().at, `an equation needs "="`, "finish it, as in " + PrintableMax(n.String(), quotedMax) + " = 0"}
	}
	if lhs, err = p.sum(); err != nil {
		return nil, nil, err
	}
	if p.peek().kind != equalsToken {
		return nil, nil, p.unexpected()
	}
	p.i++
	if rhs, err = p.whole(); err != nil {
		return nil, nil, err
	}
	return lhs, rhs, nil
}

// parser builds a tree from tokens.
type parser struct {
	table    *Table
	text     string
	tokens   []token // the last is an endToken
	i        int
	depth    int
	maxDepth int
}

func (p *parser) peek() *token { return &p.tokens[p.i] }

// operator reports whether the next token is the operator op.
func (p *parser) operator(op byte) bool {
	t := p.peek()
	return t.kind == operatorToken && t.op == op
}

func (p *parser) quoteToken(t *token) string { return quote(p.text[t.start:t.end]) }

// enter counts one more level of nesting; the caller leaves with p.depth--.
func (p *parser) enter(at int) *Error {
	if p.depth++; p.depth > p.maxDepth {
		return &Error{at, "the line is nested more than " + strconv.Itoa(p.maxDepth) + " levels deep",
			"write it with fewer brackets and signs"}
	}
	return nil
}

// whole reads a sum up to the end.
func (p *parser) whole() (Node, *Error) {
	n, err := p.sum()
	if err != nil {
		return nil, err
	}
	if p.peek().kind != endToken {
		return nil, p.unexpected()
	}
	return n, nil
}

func (p *parser) sum() (Node, *Error) {
	left, err := p.signed(p.product)
	if err != nil {
		return nil, err
	}
	for p.operator('+') || p.operator('-') {
		op := p.peek().op
		p.i++
		right, err := p.signed(p.product)
		if err != nil {
			return nil, err
		}
		left = &Binary{column(left.Column()), op, left, right}
	}
	return left, nil
}

// signed reads any signs, then what operand reads. A plus is dropped.
func (p *parser) signed(operand func() (Node, *Error)) (Node, *Error) {
	for p.operator('+') {
		p.i++
	}
	if !p.operator('-') {
		return operand()
	}
	at := p.peek().at
	if err := p.enter(at); err != nil {
		return nil, err
	}
	p.i++
	n, err := p.signed(operand)
	if err != nil {
		return nil, err
	}
	p.depth--
	return &Unary{column(at), n}, nil
}

func (p *parser) product() (Node, *Error) {
	left, err := p.power()
	if err != nil {
		return nil, err
	}
	for {
		var right Node
		op := byte('*')
		switch t := p.peek(); {
		case p.operator('*') || p.operator('/'):
			op = t.op
			p.i++
			right, err = p.signed(p.power)
		case t.kind == numberToken && p.tokens[p.i-1].kind == numberToken && t.number.Text != piText:
			return nil, &Error{t.at, "two numbers stand side by side", "write * between them, or close them up"}
		case t.kind == numberToken || t.kind == symbolToken || t.kind == functionToken || t.kind == openToken:
			right, err = p.power()
		default:
			return left, nil
		}
		if err != nil {
			return nil, err
		}
		left = &Binary{column(left.Column()), op, left, right}
	}
}

func (p *parser) power() (Node, *Error) {
	base, err := p.primary()
	if err != nil {
		return nil, err
	}
	switch t := p.peek(); {
	case t.kind == raisedToken:
		p.i++
		base = &Binary{column(base.Column()), '^', base, raised(t)}
		if p.operator('^') || p.peek().kind == raisedToken {
			return nil, &Error{p.peek().at, "two powers follow one another", "put brackets around the first power"}
		}
	case p.operator('^'):
		if err := p.enter(t.at); err != nil {
			return nil, err
		}
		p.i++
		exponent, err := p.signed(p.power)
		if err != nil {
			return nil, err
		}
		p.depth--
		base = &Binary{column(base.Column()), '^', base, exponent}
	}
	return base, nil
}

// raised is the number a superscript stands for.
func raised(t *token) Node {
	size := max(t.index, -t.index)
	var n Node = &Number{column: column(t.at), Value: float64(size), Text: strconv.Itoa(size), Exact: true}
	if t.index < 0 {
		n = &Unary{column(t.at), n}
	}
	return n
}

func (p *parser) primary() (Node, *Error) {
	n, err := p.bare()
	if err != nil {
		return nil, err
	}
	t := p.peek()
	if t.kind != degreeToken && t.kind != radianToken {
		return n, nil
	}
	if measured(n) {
		return nil, &Error{t.at, p.quoteToken(t) + " goes after a number only",
			"leave it out: a symbol for an angle, or an angle with its unit, needs no other"}
	}
	p.i++
	return &Angle{column: column(n.Column()), Operand: n, Degrees: t.kind == degreeToken}, nil
}

// bare reads a primary without its angle unit.
func (p *parser) bare() (Node, *Error) {
	switch t := p.peek(); t.kind {
	case numberToken:
		p.i++
		return t.number, nil
	case symbolToken:
		p.i++
		return &Symbol{column(t.at), p.table.symbols[t.index].name, t.index}, nil
	case openToken:
		return p.bracket()
	case functionToken:
		return p.call()
	}
	return nil, p.missing()
}

// closers gives the bracket that closes each.
var closers = map[byte]byte{'(': ')', '[': ']', '{': '}'}

func (p *parser) bracket() (Node, *Error) {
	open := p.peek()
	if err := p.enter(open.at); err != nil {
		return nil, err
	}
	p.i++
	want := closers[open.op]
	if t := p.peek(); t.kind == closeToken {
		return nil, &Error{t.at, "there is nothing between these brackets", "write something in them, or remove them"}
	}
	n, err := p.sum()
	if err != nil {
		return nil, err
	}
	switch t := p.peek(); {
	case t.kind == endToken || t.kind == equalsToken:
		return nil, &Error{open.at, "the bracket " + quote(string(open.op)) + " is never closed", "add " + quote(string(want)) + " where it ends"}
	case t.kind != closeToken:
		return nil, p.unexpected()
	case t.op != want:
		return nil, &Error{t.at, "the bracket " + quote(string(open.op)) + " of column " + strconv.Itoa(open.at) + " is closed by " + quote(string(t.op)),
			"close it by " + quote(string(want))}
	}
	p.i++
	p.depth--
	return n, nil
}

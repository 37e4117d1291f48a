package notation

import "strings"

// missing says what should stand where the next token is, where a value is
// wanted and there is none.
func (p *parser) missing() *Error {
	t := p.peek()
	if len(p.tokens) == 1 && strings.TrimSpace(p.text[:t.start]) != "" {
		return &Error{t.at, `nothing follows "="`, "write the value and its unit"}
	}
	if len(p.tokens) == 1 {
		return &Error{t.at, "there is nothing here", "type a line"}
	}
	var before *token
	if p.i > 0 {
		before = &p.tokens[p.i-1]
	}
	switch t.kind {
	case operatorToken:
		if before != nil && before.kind == operatorToken {
			return &Error{t.at, "the operator " + p.quoteToken(t) + " follows another, " + p.quoteToken(before), "remove one, or write what goes between"}
		}
		return &Error{t.at, "nothing stands before " + p.quoteToken(t), "write what it acts on"}
	case closeToken:
		if before != nil && before.kind == operatorToken {
			return &Error{t.at, "nothing follows " + p.quoteToken(before), "write the rest before the bracket closes"}
		}
		return p.unexpected()
	case equalsToken:
		if before == nil {
			return &Error{t.at, `nothing stands before "="`, "write the left side; 0 will do"}
		}
		if before.kind == equalsToken {
			return &Error{t.at, `"=" follows another`, "write only one"}
		}
	case raisedToken:
		return &Error{t.at, "the power " + p.quoteToken(t) + " follows nothing it could raise", "write it after a symbol, a number or a bracket"}
	case degreeToken, radianToken:
		return &Error{t.at, p.quoteToken(t) + " goes after a number", "write the number before it"}
	}
	if before == nil {
		return p.unexpected()
	}
	switch before.kind {
	case operatorToken:
		return &Error{t.at, "nothing follows " + p.quoteToken(before), "write the rest, or remove it"}
	case openToken:
		return &Error{before.at, "the bracket " + p.quoteToken(before) + " is never closed", "write what is in it, or remove it"}
	case equalsToken:
		return &Error{t.at, `nothing follows "="`, "write the right side; 0 will do"}
	}
	return p.unexpected()
}

// unexpected says why the next token cannot stand where it is, where an
// expression could have ended.
func (p *parser) unexpected() *Error {
	t := p.peek()
	switch t.kind {
	case closeToken:
		return &Error{t.at, "the bracket " + p.quoteToken(t) + " closes nothing", "remove it, or open one before"}
	case equalsToken:
		return &Error{t.at, `"=" is not wanted here`, "write an expression: what stands on one side of an equation"}
	case degreeToken, radianToken:
		return &Error{t.at, p.quoteToken(t) + " goes directly after a number", "write the number and its unit together, in brackets if need be"}
	case endToken:
		return &Error{t.at, "the line ends too soon", "write the rest"}
	}
	return &Error{t.at, p.quoteToken(t) + " is not wanted here", "remove it, or write an operator before it"}
}

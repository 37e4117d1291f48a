package notation

// call reads a function and what it is of. Its power may be written on its
// name: sin²α and sin^2 α are (sin α)²; sin⁻¹ is the arcsine.
func (p *parser) call() (Node, *Error) {
	name := p.peek()
	if err := p.enter(name.at); err != nil {
		return nil, err
	}
	p.i++
	row := name.index
	power, err := p.exponent(&row)
	if err != nil {
		return nil, err
	}
	f := &functions[row]
	arg, err := p.argument(name, f)
	if err != nil {
		return nil, err
	}
	p.depth--
	if f.takes && p.table.degrees {
		arg = p.table.implied(arg)
	}
	var n Node = &Call{column(name.at), f.name, arg}
	if power != nil {
		n = &Binary{column(name.at), '^', n, power}
	}
	return n, nil
}

// exponent reads a power written on a function's name: nil if there is none.
// The power -1 turns the row into that of the inverse function.
func (p *parser) exponent(row *int) (Node, *Error) {
	t := p.peek()
	var n int
	var power Node
	switch {
	case t.kind == raisedToken:
		n, power = t.index, raised(t)
		p.i++
	case p.operator('^'):
		p.i++
		negative := p.operator('-')
		if negative {
			p.i++
		}
		number := p.peek()
		if number.kind != numberToken {
			return nil, &Error{t.at, "a power on a function's name is a number", "write it after the brackets, as in sin(...)^(...)"}
		}
		p.i++
		if n, power = int(min(number.number.Value, 1e4)), number.number; negative {
			n = -n
		}
		if n == -1 && number.number.Value != 1 || n == 0 && negative {
			n = -2 // not a whole number: as meaningless as any other negative power
		}
	default:
		return nil, nil
	}
	f := &functions[*row]
	switch {
	case n >= 0:
		return power, nil
	case n == -1 && f.inverse != "":
		*row = functionRow(f.inverse)
		return nil, nil
	}
	return nil, &Error{t.at, "a negative power on the name " + f.shown + " could be read two ways", "write the power after the brackets, as in 1/" + f.shown + "(...)^2"}
}

// argument reads what a function is of. Without brackets that is one factor:
// a symbol, a number or a further function, with its power, or a number and
// the angle it multiplies.
func (p *parser) argument(name *token, f *function) (Node, *Error) {
	t := p.peek()
	switch t.kind {
	case openToken:
		p.depth-- // the brackets of a call do not nest any deeper than the call
		n, err := p.bracket()
		p.depth++
		return n, err
	case numberToken, symbolToken, functionToken:
	case operatorToken:
		return nil, &Error{t.at, f.shown + " is followed by an operator", "put what it is of in brackets, as in " + f.shown + "(-x)"}
	default:
		return nil, &Error{t.at, f.shown + " is not followed by what it is of", "put that in brackets, as in " + f.shown + "(...)"}
	}
	n, err := p.power()
	if err != nil {
		return nil, err
	}
	if _, isNumber := n.(*Number); !isNumber || !f.takes {
		return n, nil
	}
	if next := p.peek(); next.kind == symbolToken && p.table.symbols[next.index].angle {
		angle, err := p.power()
		if err != nil {
			return nil, err
		}
		n = &Binary{column(n.Column()), '*', n, angle}
	}
	return n, nil
}

// implied puts degrees on the bare numbers of an angle: on every term of the
// sum that nothing in it measures already. In a product of an angle with a sum
// of angles, as (180 - alpha)/2, they are the terms of that sum.
func (t *Table) implied(n Node) Node {
	if sign, ok := n.(*Unary); ok {
		sign.Operand = t.implied(sign.Operand)
		return n
	}
	if isSum(n) {
		sum := n.(*Binary)
		sum.Left, sum.Right = t.implied(sum.Left), t.implied(sum.Right)
		return n
	}
	if !measured(n) {
		return &Angle{column: column(n.Column()), Operand: n, Degrees: true, Implied: true}
	}
	if product, ok := n.(*Binary); ok && product.Op != '^' {
		product.Left = t.impliedFactor(product.Left)
		if product.Op == '*' {
			product.Right = t.impliedFactor(product.Right)
		}
	}
	return n
}

// impliedFactor is implied for a factor of a term: only a sum with an angle
// among its terms is one of angles.
func (t *Table) impliedFactor(n Node) Node {
	switch m := n.(type) {
	case *Unary:
		m.Operand = t.impliedFactor(m.Operand)
	case *Binary:
		switch {
		case isSum(m):
			if t.angular(m) {
				return t.implied(m)
			}
		case m.Op != '^':
			m.Left = t.impliedFactor(m.Left)
			if m.Op == '*' {
				m.Right = t.impliedFactor(m.Right)
			}
		}
	}
	return n
}

// isSum reports whether n is a sum or a difference.
func isSum(n Node) bool {
	b, ok := n.(*Binary)
	return ok && (b.Op == '+' || b.Op == '-')
}

// angular reports whether one of the terms of n is an angle, or a multiple of one.
func (t *Table) angular(n Node) bool {
	switch n := n.(type) {
	case *Symbol:
		return t.symbols[n.Index].angle
	case *Angle:
		return true
	case *Call:
		return functions[functionRow(n.Func)].gives
	case *Unary:
		return t.angular(n.Operand)
	case *Binary:
		return n.Op != '^' && (t.angular(n.Left) || n.Op != '/' && t.angular(n.Right))
	}
	return false
}

// measured reports whether something in n already says what it measures: a
// symbol, an angle unit, pi, or a function that gives an angle.
func measured(n Node) bool {
	switch n := n.(type) {
	case *Number:
		return n.Text == piText
	case *Unary:
		return measured(n.Operand)
	case *Binary:
		return measured(n.Left) || measured(n.Right)
	case *Call:
		return functions[functionRow(n.Func)].gives || measured(n.Arg)
	}
	return true
}

package notation

import (
	"math"
	"strconv"
	"strings"
)

// ReadBack writes n as it was understood, for whoever typed it: T · L · sin α.
// Every product is shown, a bare number taken as degrees has its degree sign,
// and brackets stand wherever two readings are possible, a division beside a
// product included. With ascii it keeps to ASCII: T * L * sin(alpha). Typed
// again, either form means what n means.
func ReadBack(n Node, ascii bool) string {
	p := printer{ascii: ascii, implied: true}
	p.node(n)
	return p.String()
}

// ReadBackEquation is [ReadBack] for the two sides of an equation.
func ReadBackEquation(lhs, rhs Node, ascii bool) string {
	return ReadBack(lhs, ascii) + " = " + ReadBack(rhs, ascii)
}

// Display writes one symbol's canonical name as it is shown: α, W₁, N_w. With
// ascii it is the name itself.
func Display(name string, ascii bool) string {
	if ascii {
		return Printable(name)
	}
	base, sub, hasSub := strings.Cut(name, "_")
	if greek, ok := greekLetter[base]; ok {
		base = string(greek)
	}
	if !hasSub {
		return Printable(base)
	}
	if strings.Trim(sub, "0123456789") != "" || sub == "" {
		return Printable(base + "_" + sub)
	}
	lowered := make([]rune, 0, len(sub))
	for _, c := range sub {
		lowered = append(lowered, c-'0'+'₀')
	}
	return Printable(base + string(lowered))
}

func source(n Node) string {
	p := printer{ascii: true}
	p.node(n)
	return p.String()
}

// String reads the literal back.
func (n *Number) String() string { return source(n) }

// String is the symbol's canonical name.
func (s *Symbol) String() string { return source(s) }

// String reads the operand back after its sign.
func (u *Unary) String() string { return source(u) }

// String reads the operation back.
func (b *Binary) String() string { return source(b) }

// String reads the call back.
func (c *Call) String() string { return source(c) }

// String reads the angle back, with its unit unless that is implied.
func (a *Angle) String() string { return source(a) }

// level is how tightly what is printed holds together.
type level int

const (
	sumLevel level = iota
	signLevel
	productLevel
	powerLevel
	atomLevel
)

// printer writes trees.
type printer struct {
	strings.Builder
	ascii   bool
	implied bool // show the degrees that were not written
}

// seen is n without an implied angle that is not to be shown.
func (p *printer) seen(n Node) Node {
	if a, ok := n.(*Angle); ok && a.Implied && !p.implied {
		return p.seen(a.Operand)
	}
	return n
}

func (p *printer) level(n Node) level {
	switch n := p.seen(n).(type) {
	case *Number:
		switch {
		case math.Signbit(n.Value):
			return signLevel
		case p.divides(n):
			return productLevel
		}
	case *Unary:
		return signLevel
	case *Binary:
		switch n.Op {
		case '+', '-':
			return sumLevel
		case '*', '/':
			return productLevel
		}
		return powerLevel
	case *Angle:
		return powerLevel
	case *Call:
		if !p.ascii && p.plainArgument(&functions[functionRow(n.Func)], n.Arg) {
			return powerLevel // a power after sin α would be on the α
		}
	}
	return atomLevel
}

// divides reports whether n is printed as a division.
func (p *printer) divides(n Node) bool {
	switch n := p.seen(n).(type) {
	case *Number:
		return p.ascii && n.fraction[1] != 0
	case *Binary:
		return n.Op == '/'
	}
	return false
}

// within writes n, in brackets unless it holds as tightly as least.
func (p *printer) within(n Node, least level) {
	if p.level(n) >= least {
		p.node(n)
		return
	}
	p.bracketed(n)
}

func (p *printer) bracketed(n Node) {
	p.WriteByte('(')
	p.node(n)
	p.WriteByte(')')
}

// pick writes the one string or the other.
func (p *printer) pick(ascii, unicode string) {
	if p.ascii {
		p.WriteString(ascii)
	} else {
		p.WriteString(unicode)
	}
}

func (p *printer) node(n Node) {
	switch n := p.seen(n).(type) {
	case *Number:
		p.number(n)
	case *Symbol:
		p.WriteString(Display(n.Name, p.ascii))
	case *Unary:
		p.pick("-", "−")
		p.within(n.Operand, productLevel)
	case *Binary:
		p.binary(n)
	case *Call:
		p.call(n, nil)
	case *Angle:
		p.angle(n)
	}
}

func (p *printer) number(n *Number) {
	switch {
	case n.Text == piText:
		p.pick(piText, "π")
		return
	case n.fraction[1] != 0 && p.ascii:
		p.WriteString(strconv.Itoa(n.fraction[0]) + " / " + strconv.Itoa(n.fraction[1]))
		return
	}
	text := n.Text
	if !p.ascii {
		if bare, negative := strings.CutPrefix(text, "-"); negative {
			text = "−" + bare
		}
	}
	if strings.HasPrefix(text, ".") {
		text = "0" + text
	}
	p.WriteString(strings.TrimSuffix(text, "."))
}

func (p *printer) binary(n *Binary) {
	switch n.Op {
	case '+', '-':
		p.within(n.Left, sumLevel)
		if n.Op == '+' {
			p.WriteString(" + ")
		} else {
			p.pick(" - ", " − ")
		}
		p.within(n.Right, productLevel)
	case '*', '/':
		// a / b * c is (a / b) * c to the grammar, but not to every reader.
		if p.divides(n.Left) {
			p.bracketed(n.Left)
		} else {
			p.within(n.Left, productLevel)
		}
		if n.Op == '*' {
			p.pick(" * ", " · ")
		} else {
			p.WriteString(" / ")
		}
		p.within(n.Right, powerLevel)
	case '^':
		p.power(n)
	}
}

func (p *printer) power(n *Binary) {
	raised, isRaised := p.superscript(n.Right)
	if call, ok := n.Left.(*Call); ok && isRaised && !strings.HasPrefix(raised, "⁻") && functions[functionRow(call.Func)].takes {
		p.call(call, &raised)
		return
	}
	if !isRaised {
		p.within(n.Left, atomLevel)
		p.pick(" ^ ", "^")
		p.within(n.Right, atomLevel)
		return
	}
	if p.level(n.Left) < atomLevel || !raisable(n.Left) {
		p.bracketed(n.Left)
	} else {
		p.node(n.Left)
	}
	p.WriteString(raised)
}

// raisable reports whether a superscript after the atom n is surely on all of it.
func raisable(n Node) bool {
	switch n := n.(type) {
	case *Number:
		return !strings.ContainsAny(n.Text, "eE") && n.fraction[1] == 0
	case *Symbol:
		_, sub, _ := strings.Cut(n.Name, "_")
		return strings.Trim(sub, "0123456789") == ""
	}
	return false
}

// superscript is a small whole exponent in superscripts, where they may be used.
func (p *printer) superscript(exponent Node) (string, bool) {
	sign := ""
	if u, ok := exponent.(*Unary); ok {
		sign, exponent = "⁻", u.Operand
	}
	n, ok := exponent.(*Number)
	if sign != "" && ok && n.Value == 0 {
		return "", false // ⁻⁰ would come back without its sign
	}
	if p.ascii || !ok || !n.Exact || len(n.Text) > maxRaised-1 || strings.Trim(n.Text, "0123456789") != "" {
		return "", false
	}
	raised := []rune(sign)
	for _, c := range n.Text {
		raised = append(raised, superscriptDigits[c-'0'])
	}
	return string(raised), true
}

// call writes a function of its argument, with a power on its name if there is one.
func (p *printer) call(n *Call, power *string) {
	f := &functions[functionRow(n.Func)]
	if f.name == "sqrt" {
		p.pick("sqrt", "√")
	} else {
		p.WriteString(f.shown)
	}
	if power != nil {
		p.WriteString(*power)
	}
	if p.ascii || !p.plainArgument(f, n.Arg) {
		p.bracketed(n.Arg)
		return
	}
	if f.name != "sqrt" && power == nil {
		p.WriteByte(' ')
	}
	p.node(n.Arg)
}

// plainArgument reports whether the argument can do without brackets: √2, sin α, sin 35°.
func (p *printer) plainArgument(f *function, arg Node) bool {
	switch arg := p.seen(arg).(type) {
	case *Symbol:
		return f.takes || f.name == "sqrt"
	case *Number:
		return f.name == "sqrt" && !math.Signbit(arg.Value)
	case *Angle:
		operand, isNumber := arg.Operand.(*Number)
		return f.takes && arg.Degrees && isNumber && !math.Signbit(operand.Value)
	}
	return false
}

func (p *printer) angle(n *Angle) {
	p.within(n.Operand, atomLevel)
	if n.Degrees {
		p.pick(" deg", "°")
	} else {
		p.WriteString(" rad")
	}
}

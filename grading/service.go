package grading

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Request is one answer to grade, as the batch command reads it.
type Request struct {
	Problem   string            `json:"problem"`
	Seed      uint64            `json:"seed"`
	Given     []string          `json:"given,omitempty"`
	Body      string            `json:"body,omitempty"`
	Pivot     string            `json:"pivot,omitempty"`
	Positive  string            `json:"positive,omitempty"`  // "ccw" (the default) or "cw"
	Tilt      Tilt              `json:"tilt,omitempty"`      // of the x axis: degrees, or an angle like "alpha"
	Senses    map[string]string `json:"senses,omitempty"`    // force -> "left", "down", "cw", ...
	Settled   []string          `json:"settled,omitempty"`   // joint forces whose sense was taken on another body already
	Tolerance float64           `json:"tolerance,omitempty"` // relative; 0 for the default
	Step      string            `json:"step"`
	Force     string            `json:"force,omitempty"`
	Row       string            `json:"row,omitempty"`
	Symbol    string            `json:"symbol,omitempty"`
	Answer    string            `json:"answer"`
	Equations []string          `json:"equations,omitempty"`
}

// Tilt is an angle as it is typed; in JSON, a number of degrees will do.
type Tilt string

// UnmarshalJSON reads a number or a string.
func (t *Tilt) UnmarshalJSON(data []byte) error {
	var text string
	if err := json.Unmarshal(data, &text); err == nil {
		*t = Tilt(text)
		return nil
	}
	var degrees float64
	if err := json.Unmarshal(data, &degrees); err != nil {
		return fmt.Errorf("tilt is a number of degrees, or an angle like \"alpha\"")
	}
	*t = Tilt(strconv.FormatFloat(degrees, 'f', -1, 64))
	return nil
}

// Response is the verdict on one answer, as the batch command writes it.
type Response struct {
	Verdict Outcome  `json:"verdict"`
	Slip    []string `json:"slip"`
	Also    []string `json:"also,omitempty"` // other slips that would have written the same
	Message string   `json:"message"`
	ReadsAs string   `json:"reads_as"`
	At      int      `json:"at"`
}

// Reply is the response that carries a verdict.
func (v Verdict) Reply() Response {
	r := Response{v.Outcome, v.Slips, v.Also, v.Message, v.ReadsAs, v.At}
	if r.Slip == nil {
		r.Slip = []string{}
	}
	return r
}

// Service grades requests, keeping what it built for one to serve the next.
// It is not safe for use by several goroutines at once.
type Service struct {
	bank     *problems.Bank
	problems map[string]*problems.Problem
	graders  map[string]*Grader
}

// NewService grades for the scenarios of a bank.
func NewService(b *problems.Bank) *Service {
	return &Service{bank: b, problems: map[string]*problems.Problem{}, graders: map[string]*Grader{}}
}

// kept bounds how many problems and graders are remembered.
const kept = 512

// Grade answers one request. An error is a request that asks for what is not
// there: an unknown problem, step, force or sense.
func (s *Service) Grade(r Request) (Verdict, error) {
	p, err := s.problem(r)
	if err != nil {
		return Verdict{}, err
	}
	g, err := s.grader(p, r)
	if err != nil {
		return Verdict{}, err
	}
	switch r.Step {
	case "forces":
		v, _ := g.Forces(r.Answer)
		return v, nil
	case "pivot":
		v, _ := g.Pivot(r.Answer)
		return v, nil
	case "x", "y", "moment":
		if r.Force == "" {
			return Verdict{}, fmt.Errorf("a %s entry needs \"force\": whose entry is it", r.Step)
		}
		return g.Cell(statics.RowKind(r.Step), r.Force, r.Answer)
	case "equation":
		switch r.Row {
		case "x", "y", "moment":
			return g.Equation(statics.RowKind(r.Row), r.Answer)
		}
		return Verdict{}, fmt.Errorf("an equation needs \"row\": x, y or moment, not \"%s\"", notation.PrintableMax(r.Row, 24))
	case "system":
		lines := slices.Clone(r.Equations)
		if strings.TrimSpace(r.Answer) != "" {
			lines = append(lines, strings.FieldsFunc(r.Answer, func(c rune) bool { return c == ';' || c == '\n' || c == '\r' })...)
		}
		return g.System(lines)
	case "value":
		return g.Value(r.Symbol, r.Answer, r.Equations)
	}
	return Verdict{}, fmt.Errorf("no step \"%s\"; steps are forces, pivot, x, y, moment, equation, value, system", notation.PrintableMax(r.Step, 24))
}

func (s *Service) problem(r Request) (*problems.Problem, error) {
	key := fmt.Sprintf("%s|%d|%q", r.Problem, r.Seed, r.Given)
	if p, ok := s.problems[key]; ok {
		return p, nil
	}
	sc, err := s.bank.Scenario(r.Problem)
	if err != nil {
		return nil, err
	}
	p, err := sc.Enter(r.Seed, r.Given, Discriminates)
	if err != nil {
		return nil, err
	}
	if len(s.problems) >= kept {
		clear(s.problems)
	}
	s.problems[key] = p
	return p, nil
}

func (s *Service) grader(p *problems.Problem, r Request) (*Grader, error) {
	key := fmt.Sprintf("%s|%d|%s|%q|%q|%q|%v|%v|%q|%v", r.Problem, r.Seed, p.Entered, r.Body, r.Pivot, r.Positive, r.Tilt, r.Senses, r.Settled, r.Tolerance)
	if g, ok := s.graders[key]; ok {
		return g, nil
	}
	c := Choice{Body: r.Body, Pivot: r.Pivot, Tilt: string(r.Tilt), Tolerance: r.Tolerance, Settled: map[string]bool{}}
	for _, symbol := range r.Settled {
		c.Settled[symbol] = true
	}
	switch r.Positive {
	case "", "ccw":
	case "cw":
		c.Clockwise = true
	default:
		return nil, fmt.Errorf("positive is \"ccw\" or \"cw\", not \"%s\"", notation.PrintableMax(r.Positive, 24))
	}
	g, err := New(p, c)
	if err != nil {
		return nil, err
	}
	if len(r.Senses) > 0 {
		if c.Reversed, err = g.senses(r.Senses); err != nil {
			return nil, err
		}
		if g, err = New(p, c); err != nil {
			return nil, err
		}
	}
	if len(s.graders) >= kept {
		clear(s.graders)
	}
	s.graders[key] = g
	return g, nil
}

// senses turns assumed senses into which forces are reversed.
func (g *Grader) senses(in map[string]string) (map[string]bool, error) {
	out := map[string]bool{}
	for name, way := range in {
		i, err := g.entry(name)
		if err != nil {
			return nil, err
		}
		symbol := g.symbolOf(i)
		if i >= len(g.body.Forces) {
			c := g.body.Couples[i-len(g.body.Forces)]
			clockwise := strings.EqualFold(way, "cw") || strings.EqualFold(way, "clockwise")
			out[symbol] = clockwise != (c.Sense < 0)
			continue
		}
		f := g.body.Forces[i]
		h, err := g.heading(way, f.At)
		if err != nil {
			return nil, fmt.Errorf("sense of %s: %w", symbol, err)
		}
		angle := f.Dir.Radians(g.p.Values)
		switch {
		case h.fits(angle):
		case h.fits(angle + 3.141592653589793):
			out[symbol] = true
		default:
			return nil, fmt.Errorf("sense of %s: it does not act along \"%s\"", symbol, notation.PrintableMax(way, 24))
		}
	}
	return out, nil
}

package practice

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// The worked example that lectures on educational data mining give for
// knowledge tracing (R. S. Baker's, from memory): start 0.4, learn 0.1, slip
// 0.3, guess 0.2; wrong, wrong, right. The lecture rounds to two places as it
// goes, and so does this.
func TestTraceOfALecture(t *testing.T) {
	par := Params{Start: 0.4, Learn: 0.1, Slip: 0.3, Guess: 0.2}
	p := par.Start
	for i, step := range []struct {
		right       bool
		given, then float64
	}{{false, 0.20, 0.28}, {false, 0.13, 0.21}, {true, 0.48, 0.53}} {
		given := par.wrong(p, 1)
		if step.right {
			given = par.right(p)
		}
		p = par.learns(given)
		if math.Abs(given-step.given) > 0.0051 || math.Abs(p-step.then) > 0.0051 {
			t.Errorf("line %d: %.4f given the line, %.4f after it; the lecture has %.2f and %.2f", i+1, given, p, step.given, step.then)
		}
		p = step.then
	}
}

// What testdata/trace.py works out by going through all joint states, for each
// kind of learner.
func TestTraceAgainstEnumeration(t *testing.T) {
	f, err := os.Open("testdata/trace.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	set := func(s string) (out Set) {
		for k := range strings.SplitSeq(s, ",") {
			if k != "" {
				out |= 1 << int(number(k))
			}
		}
		return out
	}
	var par [count]Params
	for k := range par {
		par[k] = Params{0.5, 0.1, 0.1, 0.1} // of skills that no line of the table has
	}
	var b *belief
	sequence, lines, shown := "", 0, map[string]int{}
	const skills = 5
	for scan := bufio.NewScanner(f); scan.Scan(); {
		w := strings.Split(scan.Text(), "\t")
		if w[0] == "skill" {
			par[int(number(w[1]))] = Params{number(w[2]), number(w[3]), number(w[4]), number(w[5])}
			continue
		}
		if w[0] != sequence {
			sequence, b = w[0], newBelief(kindsOf(&par))
		}
		s := Seen{Needs: set(w[1]), Zero: w[2] == "1", Right: w[3] == "1", Blamed: set(w[4])}
		want := func(what string, got float64, column int) {
			if want := number(w[column]); !(math.Abs(got-want) <= 1e-9) {
				t.Fatalf("sequence %s line %d: %s %.12f, want %.12f", sequence, lines, what, got, want)
			}
		}
		want("chance", b.chance(s.Needs, s.Zero), 5)
		b.take(s)
		for k, p := range b.skills() {
			if k < skills {
				want(fmt.Sprintf("skill %d", k), p, 6+k)
			}
		}
		ways := b.manner()
		want("rate", ways.rate, 6+skills)
		want("slip", ways.slip, 7+skills)
		want("glances", ways.glances, 8+skills)
		lines++
		switch {
		case s.Right:
			shown["right"]++
		case s.Blamed != 0:
			shown["named"]++
		default:
			shown["unnamed"]++
		}
		if s.Zero {
			shown["zero"]++
		}
	}
	if lines != 300 || shown["right"] < 50 || shown["named"] < 30 || shown["unnamed"] < 30 || shown["zero"] < 30 {
		t.Errorf("the table has %d lines, %v: too few of some kind", lines, shown)
	}
}

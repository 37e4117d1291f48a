// Package plain is a session as lines of text: for screen readers, pipes and
// scripts, and terminals too small for the screen. Each line says one thing.
package plain

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// Options is where and how the lines run.
type Options struct {
	House tutor.House
	Open  *tutor.Desk // when set, the problem to open on
	ASCII bool
}

// maxLine is the longest line of input that is read whole; the rest of a
// longer one is dropped, and grading refuses what is left as too long.
const maxLine = 64 << 10

// Run converses until the input ends or the learner quits. The error is one of
// recording, reading or writing.
func Run(o Options, in io.Reader, out io.Writer) error {
	t := &talk{o: o, in: bufio.NewReaderSize(in, maxLine), out: bufio.NewWriter(out)}
	err := t.run()
	if errors.Is(err, errQuit) {
		err = nil
	}
	return errors.Join(err, t.out.Flush())
}

var errQuit = errors.New("quit")

type talk struct {
	o    Options
	in   *bufio.Reader
	out  *bufio.Writer
	desk *tutor.Desk
}

// say writes one line. What comes from outside must be printable already.
func (t *talk) say(format string, args ...any) {
	line := strings.TrimRight(fmt.Sprintf(format, args...), " ")
	if t.o.ASCII {
		line = notation.Spell(line)
	}
	fmt.Fprintln(t.out, line)
}

// read takes one line from the learner; errQuit at the end of input.
func (t *talk) read(prompt string) (string, error) {
	fmt.Fprint(t.out, prompt)
	if err := t.out.Flush(); err != nil {
		return "", err
	}
	line, more, err := t.in.ReadLine()
	text := string(line)
	for more && err == nil {
		_, more, err = t.in.ReadLine()
	}
	if err == io.EOF {
		fmt.Fprintln(t.out)
		return "", errQuit
	}
	return strings.TrimSpace(text), err
}

func (t *talk) run() error {
	for _, n := range t.o.House.Notices {
		t.say("%s", notation.Printable(n))
	}
	t.desk = t.o.Open
	for {
		if t.desk == nil {
			if err := t.choose(); err != nil {
				return err
			}
		}
		if err := t.work(); err != nil {
			if errors.Is(err, errQuit) {
				if left := t.desk.Leave(); left != nil {
					return left
				}
			}
			return err
		}
		t.desk = nil
	}
}

func isWord(line string, words ...string) bool {
	for _, w := range words {
		if strings.EqualFold(line, w) {
			return true
		}
	}
	return false
}

// work converses about one problem until it is finished.
func (t *talk) work() error {
	t.desk.ASCII = t.o.ASCII
	t.statement()
	if t.desk.Finished() {
		return t.finish()
	}
	t.say("Say help for what may be typed.")
	for !t.desk.Finished() {
		task := t.desk.Current()
		t.say("")
		t.say("%s", t.prompt(task))
		for _, c := range t.desk.Choices(task) {
			t.say("  %s", c)
		}
		line, err := t.read("> ")
		if err != nil {
			return err
		}
		if err := t.obey(line); err != nil {
			return err
		}
	}
	return t.finish()
}

func (t *talk) statement() {
	p := t.desk.Problem()
	t.say("%s. Problem %s, seed %d.", notation.Printable(p.Title), p.ID, p.Seed)
	t.say("%s", p.Statement)
	for _, g := range p.Givens {
		t.say("Given %s = %s: %s.", notation.Display(g.Symbol, t.o.ASCII), strings.TrimSpace(number(p.In(g.Index, g.Unit))+" "+g.Unit.Name), g.Meaning)
	}
	for _, d := range p.Defined {
		if _, unknown := p.Unknown(d.Symbol); !unknown {
			t.say("Write %s for %s, %s.", notation.Display(d.Symbol, t.o.ASCII), notation.ReadBack(d.Is, t.o.ASCII), d.Meaning)
		}
	}
	for _, u := range p.Unknowns {
		t.say("Find %s: %s.", notation.Display(u.Symbol, t.o.ASCII), u.Meaning)
	}
	if p.Caution != "" {
		t.say("%s", p.Caution)
	}
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }

// answer grades a line and says what came of it.
func (t *talk) answer(line string) error {
	before, was := t.ways(), t.desk.Body().Name
	r, err := t.desk.Answer(line)
	if err != nil {
		return err
	}
	if r.ReadsAs != "" {
		t.say("Reads as: %s.", r.ReadsAs)
	}
	switch r.Outcome {
	case grading.Right:
		t.say("Right. %s", r.Message)
	case grading.Remarked:
		t.say("Right, with a remark. %s", strings.TrimPrefix(r.Message, "Right. "))
	case grading.Wrong:
		t.say("Not right. %s", r.Message)
	default:
		t.say("Not read, and not counted. %s", r.Message)
	}
	if r.Note != "" {
		t.say("%s", r.Note)
	}
	t.turned(before, was)
	return nil
}

func (t *talk) finish() error {
	sum := t.desk.Summary(t.desk.Events())
	t.say("")
	t.say("Done. %d lines: %d right first time, %d after a mistake or a hint, %d shown.", sum.Lines, sum.FirstTime, sum.Later, sum.Shown)
	p := t.desk.Problem()
	for _, u := range p.Unknowns {
		task := t.desk.Find(tutor.StepValue, u.Symbol)
		t.say("%s: yours %s, reference %s.", notation.Display(u.Symbol, t.o.ASCII), task.Reads,
			strings.TrimSpace(problems.Figures(p.In(u.Index, u.Unit)*t.desk.Grader().Frame().Sense(u.Symbol), 4)+" "+u.Unit.Name))
	}
	for {
		t.say("Say solution for the worked equations, another for one like it, choose for the list, or quit.")
		line, err := t.read("> ")
		switch {
		case err != nil:
			return err
		case isWord(line, "solution"):
			if err := t.solution(); err != nil {
				return err
			}
		case isWord(line, "another"):
			if t.desk, err = t.o.House.Begin(p.ID, t.o.House.NewSeed()); err != nil {
				return err
			}
			return t.work()
		case isWord(line, "choose", "list"):
			return nil
		case isWord(line, "quit", "exit"):
			return errQuit
		}
	}
}

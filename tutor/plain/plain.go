// Package plain is a session as lines of text: for screen readers, pipes and
// scripts, and terminals too small for the screen. Each line says one thing.
package plain

import (
	"bufio"
	"cmp"
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
	House  tutor.House
	Open   *tutor.Desk // when set, the problem to open on
	ASCII  bool
	Spoken bool // signs said in words, for a screen reader
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

// errQuit ends the talk, errList only the problem in hand.
var (
	errQuit = errors.New("quit")
	errList = errors.New("list")
)

type talk struct {
	o    Options
	in   *bufio.Reader
	out  *bufio.Writer
	desk *tutor.Desk

	alike   map[string]string // how symbols are said that sound the same
	alikeOf *problems.Problem // in which problem
}

// say writes one line. What comes from outside must be printable already.
func (t *talk) say(format string, args ...any) {
	line := strings.TrimRight(fmt.Sprintf(format, args...), " ")
	switch {
	case t.o.Spoken:
		line = t.spoken(line)
	case t.o.ASCII:
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
			if !errors.Is(err, errQuit) && !errors.Is(err, errList) {
				return err
			}
			if left := t.desk.Leave(); left != nil {
				return left
			}
			if errors.Is(err, errQuit) {
				return err
			}
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
	t.desk.ASCII = t.plain()
	t.statement()
	if err := t.called(); err != nil {
		return err
	}
	if t.desk.Finished() {
		return t.finish()
	}
	t.brief()
	t.say("Say help for what may be said, and notation for what may be typed.")
	for t.open() {
		if q, asking := t.desk.Asking(); asking {
			if err := t.reason(q); err != nil {
				return err
			}
			continue
		}
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
		t.say("Given %s = %s: %s.", notation.Display(g.Symbol, t.plain()), strings.TrimSpace(number(p.In(g.Index, g.Unit))+" "+g.Unit.Name), g.Meaning)
	}
	for _, d := range p.Defined {
		if _, unknown := p.Unknown(d.Symbol); !unknown {
			t.say("Write %s for %s, %s.", notation.Display(d.Symbol, t.plain()), notation.ReadBack(d.Is, t.plain()), d.Meaning)
		}
	}
	for _, u := range p.Unknowns {
		t.say("Find %s: %s.", notation.Display(u.Symbol, t.plain()), u.Meaning)
	}
	if p.Caution != "" {
		t.say("%s", p.Caution)
	}
}

// number is a given in full: no digit of it is lost.
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
	case tutor.NotJudged:
		t.say("%s", cmp.Or(r.Message, "Taken."))
	default:
		t.say("Not read, and not counted. %s", sentence(r.Message))
	}
	for _, note := range strings.Split(r.Note, "\n") {
		if note != "" {
			t.say("%s", sentence(note))
		}
	}
	t.turned(before, was)
	return nil
}

// sentence begins with a capital and ends with a stop.
func sentence(text string) string {
	if text = capital(strings.TrimSpace(text)); text != "" && !strings.ContainsAny(text[len(text)-1:], ".?!:\"") {
		text += "."
	}
	return text
}

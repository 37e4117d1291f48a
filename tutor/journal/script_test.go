package journal

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// The test binary, started again with these in its environment, works problems
// by a script, as a learner would, and prints each event once it is
// acknowledged, and where the learner then is.
const (
	scriptPath    = "STEELYARD_JOURNAL_SCRIPT" // the journal
	scriptLearner = "STEELYARD_JOURNAL_LEARNER"
)

// scripted is the problem of the script.
func scripted() (*problems.Problem, error) {
	sc, err := problems.Builtin().Scenario("davit-arm")
	if err != nil {
		return nil, err
	}
	return grading.Draw(sc, 7)
}

// sitDown goes on with the learner's session that is not finished, or begins
// one, as the program does.
func sitDown(j *Journal, learner string) (*tutor.Desk, error) {
	p, err := scripted()
	if err != nil {
		return nil, err
	}
	open, err := j.Unfinished(learner)
	if err != nil {
		return nil, err
	}
	if len(open) == 0 {
		s, err := tutor.New(p, tutor.Guided)
		if err != nil {
			return nil, err
		}
		return tutor.Sit(s, j.Recorder(learner, ""), nil)
	}
	var events []tutor.Event
	for e, err := range j.Events(Filter{Session: open[0].Session}) {
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	s, err := tutor.Resume(p, events)
	if err != nil {
		return nil, err
	}
	rec := j.Recorder(learner, open[0].Session)
	if s.Finished() { // the kill fell between the last line and the end
		e := s.Finish()
		if err := rec.Record(&e); err != nil {
			return nil, err
		}
		return sitDown(j, learner)
	}
	return tutor.Sit(s, rec, events)
}

// next types the script's next line: the right one, but at each entry a wrong
// one first, and before every third line a hint. What is next depends on where
// the learner is alone, so that the script goes on wherever it was cut off.
func next(d *tutor.Desk) error {
	t := d.Current()
	if n := len(d.Events()); n%3 == 0 && t.Hints == 0 {
		_, err := d.Hint()
		return err
	}
	hints := t.Hints
	t.Hints = 2
	e, _, _ := d.Session.Hint() // the third hint is the line; it is not taken
	t.Hints = hints
	line := e.Typed
	switch {
	case t.Step == tutor.StepForces && len(d.Lines()) > 0:
		line = "done"
	case t.IsCell() && t.Tries == 0:
		line = "0.37 T"
	}
	_, err := d.Answer(line)
	return err
}

// where is the entry that a learner is asked for, and how often they have
// tried it.
func where(s *tutor.Session) string {
	t := s.Current()
	if t == nil {
		return "done"
	}
	return fmt.Sprintf("%s/%s/%s/%d/%d", t.Body, t.Step, t.Cell, t.Tries, t.Hints)
}

// workScript works problems for ever.
func workScript(path, learner string) error {
	j, err := Open(path)
	if err != nil {
		return err
	}
	for {
		d, err := sitDown(j, learner)
		if err != nil {
			return err
		}
		for d.Current() != nil {
			if err := next(d); err != nil {
				return err
			}
			last := d.Events()[len(d.Events())-1]
			if _, err := fmt.Println(last.Session, last.ID, last.Kind, where(d.Session)); err != nil {
				return err
			}
		}
	}
}

// startScript starts a learner who works by the script in a program of its own.
func startScript(t *testing.T, path, learner string) (*exec.Cmd, *bufio.Reader) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), scriptPath+"="+path, scriptLearner+"="+learner)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	return cmd, bufio.NewReader(out)
}

package journal_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/journal"
)

func draw(t *testing.T, id string, seed uint64) *problems.Problem {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// davit is lines that work davit-arm, seed 7, to its end: 23 lines of which
// the parts of T were not right at first, and a hint came before the moment of
// T. "?" asks for a hint.
var davit = []string{
	"A", "T at B at 158 deg; H at A right; V at A up; W at G down; W_c at B down", "done",
	"T cos(alpha)", "-T cos(alpha)", "T cos(alpha)", "T sin(alpha)", "?", "T L sin(alpha)",
	"H", "0", "0", "0", "V", "0", "0", "-M g", "-M g L/2", "0", "-m g", "-m g L",
	"3116 N", "2889 N", "137.3 N", "G", "grows without bound",
}

// work lets a learner write lines at a problem, and gives the session.
func work(t *testing.T, j *journal.Journal, learner string, p *problems.Problem, lines []string) string {
	t.Helper()
	return workIn(t, j, tutor.Guided, learner, p, lines)
}

func workIn(t *testing.T, j *journal.Journal, mode, learner string, p *problems.Problem, lines []string) string {
	t.Helper()
	s, err := tutor.New(p, mode)
	if err != nil {
		t.Fatal(err)
	}
	rec := j.Recorder(learner, "")
	d, err := tutor.Sit(s, rec, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines {
		if line == "?" {
			_, err = d.Hint()
		} else {
			_, err = d.Answer(line)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return rec.Session()
}

func eventsOf(t *testing.T, j *journal.Journal, session string) []tutor.Event {
	t.Helper()
	var out []tutor.Event
	for e, err := range j.Events(journal.Filter{Session: session}) {
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e)
	}
	return out
}

func memory(t *testing.T) *journal.Journal {
	t.Helper()
	j, err := journal.OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { j.Close() })
	return j
}

func TestMarkSession(t *testing.T) {
	p := draw(t, "davit-arm", 7)
	const lines = 22 // pivot, forces, 15 entries, 3 values, 2 doubts
	for _, c := range []struct {
		what         string
		typed        []string
		first, later int
	}{
		{"nothing written", nil, 0, 0},
		{"all of it", davit, 19, 3},
		{"left at the parts of T", davit[:5], 2, 1},
		{"a line shown", append(append([]string{}, davit[:3]...), "?", "?", "?", "T sin(alpha)"), 3, 0},
	} {
		j := memory(t)
		m, err := journal.MarkSession(p, eventsOf(t, j, work(t, j, "otter", p, c.typed)))
		want := math.Round(100*10*(float64(c.first)+float64(c.later)/2)/lines) / 100
		if err != nil || m.Lines != lines || m.First != c.first || m.Later != c.later || m.Points != want || m.Changed != 0 {
			t.Errorf("%s: %+v, %v; want %d at first and %d later of %d, %v points", c.what, m, err, c.first, c.later, lines, want)
		}
	}
}

// A row written whole stands for its entries.
func TestMarkWholeRows(t *testing.T) {
	p := draw(t, "davit-arm", 7)
	j := memory(t)
	typed := append(append([]string{}, davit[:3]...), "T L sin(alpha) = M g L/2 + m g L", "H = T cos(alpha)", "T sin(alpha) + V = M g + m g",
		"3116 N", "2889 N", "137.3 N", "G", "grows without bound")
	m, err := journal.MarkSession(p, eventsOf(t, j, work(t, j, "otter", p, typed)))
	if err != nil || m.Lines != 10 || m.First != 10 || m.Points != 10 {
		t.Errorf("%+v, %v; want 10 lines, all at first", m, err)
	}
}

// Lines that were filled in for the learner are no part of the points, and a
// log cannot pass a line that was asked for as one of them.
func TestMarkFilledIn(t *testing.T) {
	p := draw(t, "davit-arm", 7)
	helped := func(j *journal.Journal, terms string, lines ...string) []tutor.Event {
		s, err := tutor.Start(p, tutor.Terms{Mode: tutor.Guided, Hints: tutor.MaxHints, Help: terms})
		if err != nil {
			t.Fatal(err)
		}
		rec := j.Recorder("otter", "")
		d, err := tutor.Sit(s, rec, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range lines {
			if line == "?" {
				_, err = d.Hint()
			} else {
				_, err = d.Answer(line)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		return eventsOf(t, j, rec.Session())
	}
	// Of 22 lines the pivot, the forces and 8 of 15 entries are filled in; the
	// part of T along y is the first that is left.
	for _, c := range []struct {
		what, terms         string
		typed               []string
		lines, first, later int
	}{
		{"half-worked, nothing written", tutor.HelpHalf, nil, 12, 0, 0},
		{"half-worked, begun", tutor.HelpHalf, []string{"T cos(alpha)", "T sin(alpha)", "H"}, 12, 1, 1},
		{"half-worked, a line shown", tutor.HelpHalf, []string{"?", "?", "?", "H"}, 12, 1, 0},
		{"watched", tutor.HelpWorked, []string{"", ""}, 0, 0, 0},
		{"watched, then gone on alone", tutor.HelpWorked, []string{"", "", "own", "-T cos(alpha)"}, 20, 1, 0},
	} {
		j := memory(t)
		m, err := journal.MarkSession(p, helped(j, c.terms, c.typed...))
		want := 0.0
		if c.lines > 0 {
			want = math.Round(100*10*(float64(c.first)+float64(c.later)/2)/float64(c.lines)) / 100
		}
		if err != nil || m.Lines != c.lines || m.First != c.first || m.Later != c.later || m.Points != want {
			t.Errorf("%s: %+v, %v; want %d at first and %d later of %d, %v points", c.what, m, err, c.first, c.later, c.lines, want)
		}
		marks, err := j.Marks("", func(journal.SessionSummary) (*problems.Problem, error) { return p, nil })
		if err != nil || (len(marks) == 1) != (c.lines > 0) {
			t.Errorf("%s: %d marks, %v", c.what, len(marks), err)
		}
	}

	events := helped(memory(t), tutor.HelpHalf, "T cos(alpha)", "?", "?", "?")
	events = slices.DeleteFunc(events, func(e tutor.Event) bool { return e.Kind == tutor.Hinted && e.HintDepth < tutor.MaxHints })
	if m, err := journal.MarkSession(p, events); err != nil || m.Lines != 12 {
		t.Errorf("a line that was asked for, passed as filled in: %+v, %v", m, err)
	}
}

// Lines that are judged later are marked by what they were judged.
func TestMarkOtherModes(t *testing.T) {
	p := draw(t, "davit-arm", 7)
	right := slices.Concat(davit[:3], []string{"-T cos(alpha)", "T sin(alpha)", "T L sin(alpha)"}, davit[9:])
	wrong := slices.Clone(right)
	wrong[17] = "-m g" // an entry
	for _, c := range []struct {
		mode   string
		typed  []string
		points float64
	}{
		{tutor.Practice, append(slices.Clone(right), "check"), 10},
		{tutor.Practice, append(slices.Clone(wrong), "check", right[17], "check"), 9.77}, // half a line of 22 less
		{tutor.Practice, slices.Clone(right), 0},                                         // never checked
		{tutor.Exam, append(slices.Clone(right), "hand in"), 10},
		{tutor.Exam, append(slices.Clone(wrong), "hand in"), 9.66}, // one mark of 29 less
	} {
		j := memory(t)
		events := eventsOf(t, j, workIn(t, j, c.mode, "otter", p, c.typed))
		m, err := journal.MarkSession(p, events)
		if err != nil || m.Points != c.points || m.Changed != 0 {
			t.Errorf("%s, ending %q: %+v, %v; want %v points", c.mode, c.typed[len(c.typed)-1], m, err, c.points)
		}
		edited := 0
		for i := range events {
			if events[i].Verdict == "wrong" {
				events[i].Verdict, events[i].Slip = "right", nil
				edited++
			}
		}
		if m, err = journal.MarkSession(p, events); err != nil || m.Points != c.points || m.Changed != edited {
			t.Errorf("%s, edited: %+v, %v; want %v points and %d changed", c.mode, m, err, c.points, edited)
		}
	}
	j := memory(t)
	if m, err := journal.MarkSession(p, eventsOf(t, j, workIn(t, j, tutor.Exam, "otter", p, right))); err == nil || !strings.Contains(err.Error(), "not handed in") {
		t.Errorf("a paper not handed in: %+v, %v", m, err)
	}
}

// A log in which verdicts were edited earns what its answers do, and says how
// many were.
func TestMarksDoNotBelieveTheLog(t *testing.T) {
	p := draw(t, "davit-arm", 7)
	j := memory(t)
	events := eventsOf(t, j, work(t, j, "otter", p, davit))
	honest, err := journal.MarkSession(p, events)
	if err != nil {
		t.Fatal(err)
	}
	edited := 0
	for i := range events {
		if events[i].Verdict == "wrong" {
			events[i].Verdict, events[i].Slip = "right", nil
			edited++
		}
	}
	m, err := journal.MarkSession(p, events)
	if err != nil || m.Changed != edited || edited == 0 || m.Points != honest.Points {
		t.Errorf("%+v, %v; want %v points and %d changed", m, err, honest.Points, edited)
	}
}

func TestExportGrades(t *testing.T) {
	davitArm, ladder := draw(t, "davit-arm", 7), draw(t, "hull-ladder", 3)
	j := memory(t)
	work(t, j, "=SUM(A1)", davitArm, davit[:3])
	work(t, j, "=SUM(A1)", davitArm, davit) // the better counts, whichever was last
	work(t, j, "=SUM(A1)", davitArm, nil)
	work(t, j, "otter", ladder, []string{"A"})
	marks, err := j.Marks("", func(s journal.SessionSummary) (*problems.Problem, error) {
		return map[string]*problems.Problem{davitArm.ID: davitArm, ladder.ID: ladder}[s.Problem], nil
	})
	if err != nil || len(marks) != 4 {
		t.Fatalf("%d marks, %v", len(marks), err)
	}
	var out bytes.Buffer
	n, err := journal.ExportGrades(&out, marks)
	rows, readErr := csv.NewReader(&out).ReadAll()
	want := [][]string{
		{"learner", "davit-arm", "hull-ladder", "points", "of"},
		{"'=SUM(A1)", "9.32", "", "9.32", "20"},
		{"otter", "", "0.43", "0.43", "20"},
	}
	if err != nil || readErr != nil || n != 2 || !reflect.DeepEqual(rows, want) {
		t.Errorf("%d rows, %v, %v:\n%q\nwant\n%q", n, err, readErr, rows, want)
	}
}

// What cannot be marked is left out and counted, and the rest is marked.
func TestMarksLeaveOut(t *testing.T) {
	p := draw(t, "davit-arm", 7)
	j := memory(t)
	work(t, j, "otter", p, davit)
	work(t, j, "tern", p, davit[:1])
	marks, err := j.Marks("", func(s journal.SessionSummary) (*problems.Problem, error) {
		if s.Learner == "otter" {
			return nil, errors.New("the scenario has changed")
		}
		return p, nil
	})
	var unmarked *journal.UnmarkedError
	if !errors.As(err, &unmarked) || unmarked.Sessions != 1 || len(marks) != 1 || marks[0].Session.Learner != "tern" {
		t.Errorf("%+v, %v", marks, err)
	}
	if !strings.Contains(err.Error(), `"otter" at "davit-arm": the scenario has changed`) {
		t.Errorf("said: %v", err)
	}
}

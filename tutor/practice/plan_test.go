package practice

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

func plan(t *testing.T, m *Model, a Ask) *Plan {
	t.Helper()
	p, err := m.Plan(a)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The days of a plan hold the minutes asked for, to half a problem.
func TestPlanKeepsToItsMinutes(t *testing.T) {
	for _, minutes := range []int{10, 30, 75} {
		p := plan(t, NewModel(testCourse(), time.UTC), Ask{Today: 100, Exam: 121, Minutes: minutes})
		if len(p.Ahead) != 21 || p.Days != 21 {
			t.Fatalf("%d days laid out of %d", len(p.Ahead), p.Days)
		}
		sum := 0.0
		for _, d := range p.Ahead {
			for _, c := range d.Problems {
				sum += c.Minutes
			}
			if d.Over > float64(minutes) {
				t.Errorf("%d minutes: %s has %.0f minutes of the day before", minutes, d.Date, d.Over)
			}
		}
		if want := float64(21 * minutes); sum < want*0.7 || sum > want+30 {
			t.Errorf("%d minutes a day for 21 days are planned as %.0f in all", minutes, sum)
		}
	}
}

// What was done today is taken off today; tomorrow is as it was asked.
func TestPlanCountsWhatWasDoneToday(t *testing.T) {
	m := NewModel(testCourse(), time.UTC)
	m.days[100] = Day{Problems: 2, Lines: 40, Right: 30, Minutes: 31}
	p := plan(t, m, Ask{Today: 100, Exam: 103, Minutes: 30})
	if len(p.Ahead[0].Problems) != 0 || len(p.Ahead[1].Problems) == 0 {
		t.Errorf("after 31 of 30 minutes: %+v", p.Ahead)
	}
	if len(p.Past) != 1 || p.Past[0].Date != "1970-04-11" || p.Past[0].Lines != 40 {
		t.Errorf("past is %+v", p.Past)
	}
}

// More time brings more skills to the target, and what is said to be enough
// is.
func TestForecastGrowsWithTime(t *testing.T) {
	m, was := NewModel(testCourse(), time.UTC), -1
	for _, minutes := range []int{15, 30, 60, 120} {
		p := plan(t, m, Ask{Today: 100, Exam: 110, Minutes: minutes})
		if p.Forecast < was {
			t.Errorf("%d minutes a day: %d skills, fewer than with less", minutes, p.Forecast)
		}
		was = p.Forecast
		if p.Forecast+len(p.Short) != p.Of {
			t.Errorf("%d of %d at the target and %v short", p.Forecast, p.Of, p.Short)
		}
		if p.Enough > 0 {
			if q := plan(t, m, Ask{Today: 100, Exam: 110, Minutes: p.Enough}); len(q.Short) > 0 {
				t.Errorf("%d minutes a day are said to do, and leave %v", p.Enough, q.Short)
			}
		}
	}
}

// Planning looks ahead in a copy: it leaves the model as it was.
func TestPlanLeavesTheModelAlone(t *testing.T) {
	m := NewModel(testCourse(), time.UTC)
	a := Ask{Today: 100, Exam: 120, Minutes: 60}
	first, _ := json.Marshal(plan(t, m, a))
	second, _ := json.Marshal(plan(t, m, a))
	if !bytes.Equal(first, second) {
		t.Error("the same log gives two plans")
	}
}

func TestPlanRefuses(t *testing.T) {
	for _, test := range []struct {
		ask  Ask
		says string
	}{
		{Ask{100, 120, 4}, "4 minutes a day is out of range; give 5 to 600"},
		{Ask{100, 99, 30}, "the exam of 1970-04-10 is over: today is 1970-04-11"},
		{Ask{100, 500, 30}, "400 days off; plan for at most 366"},
	} {
		if _, err := NewModel(testCourse(), time.UTC).Plan(test.ask); err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%+v: %v", test.ask, err)
		}
	}
}

// On the day of the exam there is nothing to practise, and no division by it.
func TestPlanOnTheDay(t *testing.T) {
	p := plan(t, NewModel(testCourse(), time.UTC), Ask{Today: 100, Exam: 100, Minutes: 30})
	if p.Days != 0 || len(p.Ahead) != 0 || p.Forecast != p.Known {
		t.Errorf("%+v", p)
	}
}

// The text keeps to 80 columns and to its characters, whatever the bank says.
func TestTextKeepsToItsWidth(t *testing.T) {
	c := NewCourse(problemsWith("A title that goes on and on \x1b[31mred, past any sense of what a title is"))
	m := NewModel(c, time.UTC)
	m.suppose(0, 99)
	m.days[99] = Day{1, 20, 15, 14}
	for _, ascii := range []bool{false, true} {
		for _, a := range []Ask{{100, 130, 30}, {100, 100, 30}, {100, 0, 30}} {
			var b bytes.Buffer
			w := Writer{ASCII: ascii, Command: func(c Choice) string { return "steelyard --problem " + c.Problem }}
			if err := w.Write(&b, plan(t, m, a)); err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(b.String()) {
				line = strings.TrimSuffix(line, "\n")
				if utf8.RuneCountInString(line) > Width || strings.HasSuffix(line, " ") {
					t.Errorf("%d columns: %q", utf8.RuneCountInString(line), line)
				}
				if strings.ContainsRune(line, '\x1b') || ascii && strings.ContainsFunc(line, func(r rune) bool { return r > 126 }) {
					t.Errorf("characters that do not belong: %q", line)
				}
			}
		}
	}
}

package practice

import (
	"strings"
	"testing"
	"time"
)

// knowing is a model with all probabilities at p, and those named at their own.
func knowing(p float64, own map[string]float64) *Model {
	m := NewModel(testCourse(), time.UTC)
	for k := range m.known {
		m.known[k], m.seen[k] = p, Sight
	}
	for name, p := range own {
		m.known[skillOf(name)] = p
	}
	return m
}

func TestNextAimsAtWhatIsWeakestAndReady(t *testing.T) {
	for _, test := range []struct {
		name  string
		model *Model
		skill string
		aim   Aim
		says  string
	}{
		{"at first", NewModel(testCourse(), time.UTC), "forces", Weak, "listing the forces (not seen yet)."},
		{"the weakest", knowing(0.8, map[string]float64{"load": 0.3}), "load", Weak, "The weakest skill that you are ready for: spread loads (30 % likely known, seen 4 times)."},
		{"the weakest that is ready", knowing(0.8, map[string]float64{"components": 0.4, "friction": 0.2}), "components", Weak, "parts along the axes"},
		{"only what is not ready", knowing(0.97, map[string]float64{"forces": 0.96, "arm": 0.96}), "forces", Keep, "Every skill is likely known"},
	} {
		c, ok := test.model.Next(100)
		if !ok || c.Skill != test.skill || c.Aim != test.aim || !strings.Contains(c.Why, test.says) {
			t.Errorf("%s: %+v", test.name, c)
		}
		if s, _ := test.model.course.Situation(c.Problem); !s.Skills.Has(skillOf(c.Skill)) {
			t.Errorf("%s: %s does not exercise %s", test.name, c.Problem, c.Skill)
		}
	}
}

func TestNextBeginsEasily(t *testing.T) {
	m := NewModel(testCourse(), time.UTC)
	for n := range 8 {
		c, _ := m.Next(100 + n)
		if c.Level > m.top+1 {
			t.Errorf("problem %d is %s, of level %d after level %d", n+1, c.Problem, c.Level, m.top)
		}
		m.suppose(c.situation, 100+n)
	}
}

// A few right lines are too little to take a skill as known.
func TestKnownTakesMoreThanALuckyLine(t *testing.T) {
	m := knowing(0.97, nil)
	m.seen[skillOf("load")] = Sight - 1
	if c, _ := m.Next(100); c.Skill != "load" || c.Aim != Weak {
		t.Errorf("spread loads were seen %d times, and next is %+v", Sight-1, c)
	}
	if p := plan(t, m, Ask{Today: 100, Minutes: 30}); p.Known != count-1 {
		t.Errorf("%d skills count as known", p.Known)
	}
}

// Over a month of choices nothing comes again too soon, and no problem
// twice with the same numbers.
func TestNothingComesAgainTooSoon(t *testing.T) {
	m := NewModel(testCourse(), time.UTC)
	last := map[int][2]int{} // number and day
	seeds := map[string]map[uint64]bool{}
	n, again := 0, 0
	for day := 100; day < 130; day++ {
		for range perDay {
			c, ok := m.Next(day)
			if !ok {
				t.Fatal("no problem")
			}
			if was, had := last[c.situation]; had && !c.Again && (n-was[0] <= restProblems || day-was[1] < restDays) {
				t.Errorf("day %d: %s again after %d problems and %d days", day, c.Problem, n-was[0], day-was[1])
			}
			if c.Again {
				again++
			}
			if seeds[c.Problem] == nil {
				seeds[c.Problem] = map[uint64]bool{}
			}
			if seeds[c.Problem][c.Seed] {
				t.Errorf("day %d: %s has seed %d a second time", day, c.Problem, c.Seed)
			}
			seeds[c.Problem][c.Seed] = true
			last[c.situation] = [2]int{n, day}
			m.suppose(c.situation, day)
			n++
		}
	}
	if again > 0 {
		t.Errorf("%d of %d problems came again too soon, with 81 to choose from", again, n)
	}
}

func TestOffersDiffer(t *testing.T) {
	offers := knowing(0.6, nil).Offers(100, 3)
	if len(offers) != 3 {
		t.Fatalf("%d offers", len(offers))
	}
	skills, ids := map[string]bool{}, map[string]bool{}
	for _, c := range offers {
		skills[c.Skill], ids[c.Problem] = true, true
	}
	if len(skills) != 3 || len(ids) != 3 {
		t.Errorf("offers are %+v", offers)
	}
}

// A day opens with what is due, if it is not met in passing, and with that alone.
func TestReviewOpensTheDay(t *testing.T) {
	m := knowing(0.97, map[string]float64{"friction": 0.5})
	m.boxes[skillOf("load")] = box{at: 2, due: 99, last: 97}
	c, _ := m.Next(100)
	if c.Aim != Review || c.Skill != "load" || !strings.Contains(c.Why, "due again since 1970-04-10") {
		t.Errorf("the day opens with %+v", c)
	}
	passing := knowing(0.97, map[string]float64{"friction": 0.5})
	passing.boxes[skillOf("arm")] = box{at: 2, due: 99, last: 97}
	if c, _ := passing.Next(100); c.Skill != "friction" {
		t.Errorf("lever arms are met in passing, and the day opens with %+v", c)
	}
	m.suppose(c.situation, 100)
	m.boxes[skillOf("couple")] = box{at: 2, due: 99, last: 97}
	m.known[skillOf("couple")] = 0.97
	if c, _ := m.Next(100); c.Aim != Weak || c.Skill != "friction" {
		t.Errorf("the day goes on with %+v", c)
	}
}

// Days well done take a skill up the boxes, each at twice the rest of the one
// before; a day badly done takes it back to the first; what is practised before
// it is due stays.
func TestBoxes(t *testing.T) {
	var b box
	on := func(day int, lines ...float64) {
		for _, share := range lines {
			b.add(day, share)
		}
	}
	for i, step := range []struct {
		day     int
		lines   []float64
		at, due int
	}{
		{10, []float64{1, 1, 1}, 1, 11},
		{11, []float64{1, 1, 1, 1, 0}, 2, 13}, // 80 % is well
		{12, []float64{1}, 2, 13},             // not due yet
		{14, []float64{1}, 3, 18},
		{18, []float64{1}, 4, 26},
		{26, []float64{1}, 5, 42},
		{50, []float64{1}, 5, 66},
		{66, []float64{1, 1, 0}, 1, 67},
		{70, []float64{1}, 2, 72},
		{71, []float64{0}, 1, 72},
	} {
		on(step.day, step.lines...)
		if s := b.settled(); s.at != step.at || s.due != step.due {
			t.Errorf("step %d: box %d due on %d, want %d and %d", i, s.at, s.due, step.at, step.due)
		}
	}
}

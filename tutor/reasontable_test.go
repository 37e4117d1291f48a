package tutor

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"steelyard/grading"
	"steelyard/problems"
)

// sceneOf is a scene of the bank, with a pivot chosen.
func sceneOf(t *testing.T, id string, seed uint64, body, pivot string) (*Session, *page) {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(p, Guided)
	if err != nil {
		t.Fatal(err)
	}
	return s, withPivot(s, s.pageOf(body), pivot)
}

func withPivot(s *Session, pg *page, pivot string) *page {
	pg.choice.Pivot = pivot
	s.rebuild()
	s.find(pg, StepPivot, "").Status = Earned
	return pg
}

// abouts is what a question can be asked of.
func abouts(s *Session, pg *page, of *inquiry) []string {
	var out []string
	for _, o := range s.offers(pg, of) {
		out = append(out, o.about)
	}
	return out
}

// What is asked, of what, and the reason that holds, by the scenario.
func TestReasonsThatHold(t *testing.T) {
	for _, c := range []struct{ id, body, pivot, code, about, asks, holds string }{
		{"davit-arm", "arm", "A", "pivot-drops", "", "Why is A (hinge) a good pivot here?",
			"Two unknowns, H and V, act through A (hinge) and so drop out of its moment row."},
		{"hull-ladder", "ladder", "A", "pivot-drops", "", "Why is A (foot) a good pivot here?",
			"Two unknowns, N and f, act through A (foot) and so drop out of its moment row."},
		{"davit-arm", "arm", "G", "pivot-gains", "", "Moments about G (middle) will do. What would have been gained about A (hinge)?",
			"Two unknowns, H and V, act through A (hinge) and would drop out; through G (middle) only H does."},
		{"hull-ladder", "ladder", "D", "pivot-gains", "", "Moments about D (painter) will do. What would have been gained about A (foot)?",
			"Two unknowns, N and f, act through A (foot) and would drop out; through D (painter) none does."},
		{"hull-ladder", "ladder", "A", "no-friction", "N_w", "Why does your list have no friction at B (top)?",
			"The contact there is smooth, or rolls freely: it can push only at right angles to itself."},
		{"van-level", "van", "R", "no-friction", "N_f", "Why does your list have no friction at F (front wheels)?",
			"The contact there is smooth, or rolls freely: it can push only at right angles to itself."},
		{"drum-on-slope", "drum", "A", "not-limit", "f", "Why does f stand as an unknown of its own, and not as μ N?",
			"f is what balance needs. μ N is the most it could be, when slip impends."},
		{"ladder-holds", "ladder", "A", "not-limit", "f", "Why does f stand as an unknown of its own, and not as μ N?",
			"f is what balance needs. μ N is the most it could be, when slip impends."},
		{"boom-level-line", "boom", "A", "no-part", "T", "Why has T no part along y?",
			"It pulls along its own line, which runs along x: at right angles to y."},
		{"yard-steelyard", "beam", "O", "no-part", "T", "Why has T no part along x?",
			"It pulls along its own line, which runs along y: at right angles to x."},
		{"davit-arm", "arm", "A", "weight-at", "W", "Why is W drawn at G (middle), and not at B (tip)?",
			"What the weights of all its pieces come to acts at the centre of mass, G (middle)."},
		{"crate-hold", "crate", "F", "weight-at", "W", "Why is W drawn at G (centre of mass), and not at F (where the floor's force acts)?",
			"What the weights of all its pieces come to acts at the centre of mass, G (centre of mass)."},
		{"two-bar-bracket", "strut", "B", "two-force", "", "Why do the forces on the strut lie along the line from B to C?",
			"There are two only, equal and opposite: if they were not in one line they would turn it."},
		{"trestle-sling", "right leg", "B", "two-force", "", "Why do the forces on the right leg lie along the line from B to C?",
			"There are two only, equal and opposite: if they were not in one line they would turn it."},
		{"hatch-prop", "hatch", "A", "link-line", "P", "The line of P is known before its size. Why?",
			"It comes from a member with forces at its two ends only, and two balance only in one line."},
		{"linked-levers", "upper lever", "O", "link-line", "S", "The line of S is known before its size. Why?",
			"It comes from a member with forces at its two ends only, and two balance only in one line."},
		{"step-ladder-tie", "whole ladder", "A", "internal", "T", "Why is T not in the list of the whole ladder?",
			"It acts between the left leg and the right leg, both of them in it, and the pair cancels."},
		{"two-bar-bracket", "whole bracket", "A", "internal", "C_x", "Why is C_x not in the list of the whole bracket?",
			"It acts between the bar and the strut, both of them in it, and the pair cancels."},
	} {
		s, pg := sceneOf(t, c.id, 7, c.body, c.pivot)
		of, _ := inquiryOf(c.code)
		if all := abouts(s, pg, of); !slices.Contains(all, c.about) {
			t.Errorf("%s on the %s: %s is asked of %q, not of %q", c.id, c.body, c.code, all, c.about)
			continue
		}
		sc := s.scene(pg, of, c.about)
		if asks, _ := sc.fill(of.asks); asks != c.asks {
			t.Errorf("%s: asks %q, want %q", c.id, asks, c.asks)
		}
		if holds, _ := sc.fill(of.claims[0].says); holds != c.holds {
			t.Errorf("%s: holds %q, want %q", c.id, holds, c.holds)
		}
	}
}

// What is not asked, because it does not apply.
func TestReasonsThatDoNotApply(t *testing.T) {
	for _, c := range []struct{ id, body, pivot, code, about, why string }{
		{"davit-arm", "arm", "A", "pivot-gains", "", "no point is better"},
		{"davit-arm", "arm", "G", "pivot-drops", "", "another point is better"},
		{"lamp-two-wires", "lamp", "O", "pivot-drops", "", "a particle has one point"},
		{"hull-ladder", "ladder", "A", "no-friction", "N", "the contact is rough"},
		{"hoist-own-plank", "plank", "A", "no-friction", "F", "feet on a plank are not said to be a smooth contact"},
		{"tiptoe-calf", "foot", "A", "no-friction", "N", "the force is given"},
		{"hull-ladder-limit", "ladder", "A", "not-limit", "f", "slip impends"},
		{"hull-ladder", "ladder", "A", "not-limit", "f", "the problem has no coefficient"},
		{"trailer-braking", "trailer", "R", "not-limit", "f", "the brakes' force is of no contact with a coefficient"},
		{"davit-arm", "arm", "A", "no-part", "T", "the stay slants"},
		{"davit-arm", "arm", "A", "weight-at", "W_c", "the crate's weight is not the arm's"},
		{"two-bar-bracket", "bar", "A", "two-force", "", "the crate hangs on the bar"},
		{"davit-arm", "arm", "A", "link-line", "T", "a stay is no link"},
		{"step-ladder-tie", "left leg", "A", "internal", "T", "on one leg the tie pulls from outside"},
		{"step-ladder-tie", "whole ladder", "A", "internal", "N_A", "the floor is outside"},
	} {
		s, pg := sceneOf(t, c.id, 7, c.body, c.pivot)
		of, ok := inquiryOf(c.code)
		if !ok {
			t.Fatalf("no question %s", c.code)
		}
		if all := abouts(s, pg, of); slices.Contains(all, c.about) {
			t.Errorf("%s on the %s: %s is asked of %q, though %s", c.id, c.body, c.code, c.about, c.why)
		}
	}
}

// A false reason that happens to be true is not offered.
func TestTrueByChanceIsNotOffered(t *testing.T) {
	for _, c := range []struct{ id, body, pivot, code, about, claim, why string }{
		{"plank-balance", "plank", "O", "pivot-drops", "", "nearest", "the plank's weight acts at the trestle"},
		{"plank-balance", "plank", "O", "weight-at", "W", "held", "so does the trestle"},
		{"boom-level-line", "boom", "D", "no-part", "T", "through", "the line is made fast at D"},
		{"crate-slope-first", "crate", "E", "weight-at", "W", "either", "at the point of tipping the weight passes over the edge"},
		{"sledge-on-slip", "sledge", "F", "pivot-drops", "", "signs", "all forces meet there"},
	} {
		s, pg := sceneOf(t, c.id, 7, c.body, c.pivot)
		of, _ := inquiryOf(c.code)
		sc := s.scene(pg, of, c.about)
		claim, _ := of.claim(c.claim)
		if !claim.holds(sc) || slices.Contains(sc.offer(of), c.claim) {
			t.Errorf("%s, %s: %s holds, %v, since %s; it is offered, %v", c.id, c.code, c.claim, claim.holds(sc), c.why, slices.Contains(sc.offer(of), c.claim))
		}
	}
}

// laws are the reasons that contradict statics itself, so that no number of a
// problem could make them true.
var laws = []string{
	"pivot-drops shorter", "pivot-gains shorter", "no-friction at-rest", "no-friction small", "no-friction suits",
	"not-limit unsolved", "not-limit weight", "no-part light", "no-part always", "weight-at middle", "weight-at occupied",
	"two-force pulled", "two-force straight", "two-force pins", "link-line pulled", "link-line straight", "link-line pins",
}

// Of the reasons that can be offered exactly one is true, by a second way of
// telling: from coordinates and numbers, at random states of the symbols and at
// the problem's own.
func TestExactlyOneReasonIsTrue(t *testing.T) {
	scenarios := map[string]map[string]bool{}
	tested := map[string]bool{}
	for _, card := range problems.Builtin().Scenarios {
		for seed := range uint64(2) {
			p, err := grading.Draw(card, 11+seed)
			if err != nil {
				t.Fatal(err)
			}
			s, err := New(p, Guided)
			if err != nil {
				t.Fatal(err)
			}
			for _, pg := range s.pages {
				for i, at := range pg.body.Points {
					withPivot(s, pg, at.Name)
					for k := range inquiries {
						of := &inquiries[k]
						if i > 0 && of.after != StepPivot {
							continue
						}
						for _, about := range abouts(s, pg, of) {
							if scenarios[of.code] == nil {
								scenarios[of.code] = map[string]bool{}
							}
							scenarios[of.code][p.ID] = true
							checkOffer(t, s, pg, of, about, tested)
						}
					}
				}
			}
		}
	}
	for i := range inquiries {
		if n := len(scenarios[inquiries[i].code]); n < 2 {
			t.Errorf("%s is asked in %d scenarios of the bank; two at least were meant", inquiries[i].code, n)
		}
		for _, c := range inquiries[i].claims {
			if name := inquiries[i].code + " " + c.code; !tested[name] {
				t.Errorf("%s is never offered", name)
			}
		}
	}
}

func checkOffer(t *testing.T, s *Session, pg *page, of *inquiry, about string, tested map[string]bool) {
	t.Helper()
	sc := s.scene(pg, of, about)
	n := &numbersOf{scene: sc}
	rng := rand.New(rand.NewPCG(5, 6))
	for range 3 {
		v := make([]float64, s.problem.Table.Len())
		s.problem.Sample(rng, v)
		n.states = append(n.states, v)
	}
	n.states = append(n.states, s.problem.Values)
	trueOnes := 0
	for i, code := range sc.offer(of) {
		name := of.code + " " + code
		tested[name] = true
		c, _ := of.claim(code)
		says, ok := sc.fill(c.says)
		wrong, ok2 := sc.fill(c.wrong)
		if !ok || !ok2 || says == "" || strings.ContainsAny(says+wrong, "{}") || utf8.RuneCountInString(says) > 200 || (wrong == "") != (i == 0) {
			t.Fatalf("%s, %s: %q, %q", s.problem.ID, name, says, wrong)
		}
		isTrue := false
		if !slices.Contains(laws, name) {
			truth, known := truths[code]
			if !known {
				t.Fatalf("nothing tells whether %s is true", name)
			}
			isTrue = truth(n, says)
		}
		if isTrue {
			trueOnes++
		}
		if isTrue != (i == 0) {
			t.Errorf("%s, %s, about %s: %q is %v", s.problem.ID, pg.body.Name, sc.fr.Pivot.Name, says, isTrue)
		}
	}
	if trueOnes != 1 {
		t.Errorf("%s, %s: %d reasons are true", s.problem.ID, of.code, trueOnes)
	}
}

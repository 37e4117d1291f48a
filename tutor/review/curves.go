package review

import (
	"cmp"
	"slices"

	"steelyard/problems"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// stepSkills are the skills that a line calls for whatever it is about. The
// scenario says which of them it exercises.
var stepSkills = map[tutor.Step][]string{
	tutor.StepPivot:    {"pivot"},
	tutor.StepForces:   {"forces"},
	tutor.StepX:        {"components", signSkill},
	tutor.StepY:        {"components", signSkill},
	tutor.StepMoment:   {"arm", signSkill},
	tutor.StepEquation: {"equation"},
	tutor.StepValue:    {"value"},
}

// signSkill is missed by a slip of sign and by nothing else; a slip of sign
// alone misses no other skill.
const signSkill = "sign"

var signSlips = []string{"sense-reversed", "friction-reversed"}

// skillsOf are the skills that a line of a scenario calls for.
func skillsOf(s *problems.Scenario, body, step, cell string) []string {
	skills := slices.Clone(stepSkills[tutor.Step(step)])
	if b, ok := s.Body(body); ok && isCell(step) {
		skills = append(skills, forceSkills(s, b, cell)...)
	}
	return slices.DeleteFunc(skills, func(k string) bool { return !slices.Contains(s.Skills, k) })
}

// forceSkills are the skills that go with a kind of force.
func forceSkills(s *problems.Scenario, b *statics.Body, symbol string) []string {
	i, ok := b.Force(symbol)
	if !ok {
		return []string{"couple"}
	}
	f := b.Forces[i]
	var out []string
	if f.Kind == statics.Friction {
		out = append(out, "friction")
	}
	if f.Load != nil {
		out = append(out, "load")
	}
	if f.Joint != "" {
		out = append(out, "joint")
	}
	if s.Steady != nil && s.Steady.Inertia == symbol {
		out = append(out, "inertia")
	}
	return out
}

// curve is what is counted for a skill, by opportunity from 1.
type curve struct {
	errors, n []int
	learners  int
}

// skills draws the learning curves.
func (c *class) skills() []SkillCurve {
	order := make([]int, len(c.mets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(c.learner(&c.mets[a]), c.learner(&c.mets[b])) })
	curves := map[string]*curve{}
	known := map[problemTask][]string{}
	chance := map[string]int{} // of the learner in hand
	var who uint32
	for k, i := range order {
		m := &c.mets[i]
		if m.attempts == 0 && !m.shown {
			continue
		}
		if l := c.learner(m); k == 0 || l != who {
			who = l
			clear(chance)
		}
		at := c.of(m)
		skills, ok := known[at]
		if !ok {
			if s := c.scenario(at.problem); s != nil {
				t := c.task(at.task)
				skills = skillsOf(s, t.body, t.step, t.cell)
			}
			known[at] = skills
		}
		for _, skill := range skills {
			cv := curves[skill]
			if cv == nil {
				cv = &curve{}
				curves[skill] = cv
			}
			if chance[skill] == 0 {
				cv.learners++
			}
			cv.add(chance[skill], c.missed(skill, m))
			chance[skill]++
		}
	}
	var out []SkillCurve
	for _, skill := range problems.Skills {
		if cv, ok := curves[skill]; ok {
			out = append(out, cv.report(skill))
		}
	}
	return out
}

// missed reports whether the first attempt at a line missed a skill.
func (c *class) missed(skill string, m *met) bool {
	codes := c.st.codes(m.slips)
	signs := 0
	for _, code := range codes {
		if slices.Contains(signSlips, code) {
			signs++
		}
	}
	switch {
	case skill == signSkill:
		return signs > 0
	case signs > 0 && signs == len(codes) && isCell(c.task(m.task).step):
		return false
	}
	return !m.first
}

func (cv *curve) add(opportunity int, missed bool) {
	for len(cv.n) <= opportunity {
		cv.n, cv.errors = append(cv.n, 0), append(cv.errors, 0)
	}
	cv.n[opportunity]++
	if missed {
		cv.errors[opportunity]++
	}
}

func (cv *curve) report(skill string) SkillCurve {
	out := SkillCurve{Skill: skill, Learners: cv.learners, Points: []CurvePoint{}, Verdict: TooFew}
	var t, e, n []float64
	for i := range cv.n {
		out.N += cv.n[i]
		out.Errors += cv.errors[i]
		if cv.n[i] < MinPoint {
			continue
		}
		out.Points = append(out.Points, CurvePoint{Opportunity: i + 1, Errors: Wilson(cv.errors[i], cv.n[i])})
		t, e, n = append(t, float64(i+1)), append(e, float64(cv.errors[i])), append(n, float64(cv.n[i]))
	}
	if len(out.Points) < MinCurve {
		return out
	}
	fit, band, ok := powerLaw(t, e, n)
	if !ok {
		return out
	}
	out.Fit = &fit
	for i := range out.Points {
		b := band(float64(out.Points[i].Opportunity))
		out.Points[i].Fitted = &Band{min(b.Rate, 1), min(b.Low, 1), min(b.High, 1)} // a share is at most the whole
	}
	switch {
	case fit.BLow > 0:
		out.Verdict = Improves
	case fit.BHigh < 0:
		out.Verdict = Worsens
	default:
		out.Verdict = NotImproves
	}
	return out
}

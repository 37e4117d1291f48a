package practice

import (
	"fmt"
	"time"

	"steelyard/problems"
)

// Plainly is what each skill is, as it is said to a learner.
var Plainly = map[string]string{
	"forces":     "listing the forces",
	"pivot":      "choosing a pivot",
	"arm":        "finding lever arms",
	"sign":       "signs and senses",
	"components": "parts along the axes",
	"friction":   "friction",
	"couple":     "couples",
	"load":       "spread loads",
	"tipping":    "tipping",
	"inertia":    "steady acceleration",
	"joint":      "forces between bodies",
	"equation":   "summing to zero",
	"value":      "solving for numbers",
}

// Date writes a day as 2026-12-14.
func Date(day int) string { return moment(day).Format(time.DateOnly) }

func moment(day int) time.Time { return time.Unix(int64(day)*86400, 0).UTC() }

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

func init() {
	if len(problems.Skills) != count {
		panic(fmt.Sprintf("practice: knows %d skills, and problems.Skills has %d", count, len(problems.Skills)))
	}
}

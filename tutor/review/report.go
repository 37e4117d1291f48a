// Package review reads logs and says where a class went wrong: what to reteach,
// and whom to see.
//
// Logs are read as a stream ([Reader]), every answer is graded again, and the
// whole is folded into one [Report], which fronts show as text, JSON or a page.
// Texts in a report that came from logs are as they were typed: whoever shows
// them escapes them first (notation.Printable, or the escaper of a page).
package review

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"steelyard/problems/notation"
)

// Report is what the logs say. Slices are in the order in which they are to be
// shown, and never null in JSON.
type Report struct {
	Sources  []Source  `json:"sources"`
	From     time.Time `json:"from"` // of the first event and the last, UTC
	To       time.Time `json:"to"`
	Learners int       `json:"learners"`
	Sessions int       `json:"sessions"`
	Finished int       `json:"finished"` // sessions whose last step was earned
	Events   int       `json:"events"`   // after duplicates are folded
	Answers  int       `json:"answers"`  // of them, lines typed
	Regraded int       `json:"regraded"` // of the answers, those graded again

	Damaged      []Damage    `json:"damaged"` // the first hundred of each source
	DamagedLines int         `json:"damaged_lines"`
	Duplicates   int         `json:"duplicates"` // events folded into another with the same id
	Altered      []Altered   `json:"altered"`    // by session; lines whose verdict is not what grading says
	NotInBank    []NotInBank `json:"not_in_bank"`

	Headline    []SlipCost      `json:"headline"` // the first three of Slips
	Slips       []SlipCost      `json:"slips"`    // dearest first
	Problems    []ProblemReport `json:"problems"`
	Unpredicted []Group         `json:"unpredicted"` // most learners first
	Skills      []SkillCurve    `json:"skills"`
	Students    []LearnerReport `json:"students"` // those to see first
	Alike       []Alike         `json:"alike"`
	Items       []ItemSet       `json:"items"`
	Reasons     []ReasonReport  `json:"reasons"` // asked for, as an aside; of most learners first
}

// Source is one file, journal or stream that was read.
type Source struct {
	Name    string `json:"name"`
	Journal bool   `json:"journal,omitempty"`
	Lines   int    `json:"lines"` // lines of text, or events of a journal
	Damaged int    `json:"damaged,omitempty"`
	Failed  string `json:"failed,omitempty"` // why it could not be read, or not to its end
}

// Damage is a line that was skipped, and why.
type Damage struct {
	Source string `json:"source"`
	Line   int    `json:"line"` // from 1; of a journal, 0
	Reason string `json:"reason"`
}

// Why a session's verdicts are not what grading says now.
type AlteredReason string

// The reasons.
const (
	Edited  AlteredReason = "edited"  // the scenario is the same, so the log was changed
	Edition AlteredReason = "edition" // the log is of another edition of the scenario
	Gap     AlteredReason = "gap"     // events of the session are missing, so that its choices are not known
)

// Altered is a session with verdicts that grading does not give.
type Altered struct {
	Learner string        `json:"learner"`
	Session string        `json:"session"`
	Problem string        `json:"problem"`
	Reason  AlteredReason `json:"reason"`
	Lines   int           `json:"lines"` // how many verdicts differ
	Of      int           `json:"of"`    // of how many
	First   Differing     `json:"first"`
}

// Differing is one line with the verdict in the log and that of grading.
type Differing struct {
	ID       string   `json:"id"`
	Step     string   `json:"step"`
	Cell     string   `json:"cell"`
	Typed    string   `json:"typed"`
	Logged   string   `json:"logged"`
	LogSlips []string `json:"logged_slips,omitempty"`
	Graded   string   `json:"graded"`
	Slips    []string `json:"slips,omitempty"`
}

// Differs says in words in what the line differs.
func (d Differing) Differs() string {
	switch {
	case d.Logged == "":
		return "stands in the log where another line was kept, or none"
	case d.Graded == "":
		return fmt.Sprintf("is %s in the log, where another line comes by those before it", d.Logged)
	case d.Graded == d.Logged && slices.Equal(d.Slips, d.LogSlips):
		return fmt.Sprintf("is %s in the log and in truth, but not at that attempt", d.Logged)
	}
	return fmt.Sprintf("is %s in the log, and %s by grading", named(d.Logged, d.LogSlips), named(d.Graded, d.Slips))
}

// named is a verdict with its slips.
func named(verdict string, slips []string) string {
	if len(slips) == 0 {
		return verdict
	}
	return fmt.Sprintf("%s (%s)", verdict, notation.PrintableMax(strings.Join(slips, ", "), 80))
}

// NotInBank is a scenario the logs name that no bank at hand has, or whose
// problem cannot be drawn any more. Its answers count as the log graded them.
type NotInBank struct {
	Problem string `json:"problem"`
	Events  int    `json:"events"`
	Reason  string `json:"reason"`
}

// Rate is a share with its Wilson interval at 95 %. With N = 0 it says nothing,
// and the interval is [0, 1].
type Rate struct {
	Count int     `json:"count"`
	N     int     `json:"n"`
	Rate  float64 `json:"rate"` // Count/N
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// SlipCost is what one slip cost the class.
type SlipCost struct {
	Code     string  `json:"code"`
	Name     string  `json:"name"`     // a few words
	Recall   string  `json:"recall"`   // the principle to reteach, "" if the catalogue has none
	Learners Rate    `json:"learners"` // who made it, of those who met a line where it can be made
	First    Rate    `json:"first"`    // how often it was made at the first attempt, of all first attempts at lines where the class made it
	Attempts int     `json:"attempts"` // wrong answers it was in
	Minutes  float64 `json:"minutes"`  // from making it to the next answer of the same line, no wait counted above MaxWait
	Evidence []Line  `json:"evidence"` // real lines, commonest first; at most three
}

// Line is a line as it was typed, with how often.
type Line struct {
	Typed    string `json:"typed"`
	Reads    string `json:"reads"` // what was understood; "" if not known
	Problem  string `json:"problem"`
	Body     string `json:"body,omitempty"`
	Step     string `json:"step"`
	Cell     string `json:"cell,omitempty"`
	Pivot    string `json:"pivot,omitempty"`
	Seed     uint64 `json:"seed"` // of the first who typed it
	Count    int    `json:"count"`
	Learners int    `json:"learners"`
}

// ProblemReport is one scenario as the class met it.
type ProblemReport struct {
	Problem       string       `json:"problem"`
	Title         string       `json:"title"`
	Learners      int          `json:"learners"`
	Sessions      int          `json:"sessions"`
	Finished      Rate         `json:"finished"`
	RightFirst    Rate         `json:"right_first"` // of all lines met
	Attempts      int          `json:"attempts"`
	Hints         int          `json:"hints"`
	MedianMinutes float64      `json:"median_minutes"` // of a finished session; 0 if none
	Cells         []CellReport `json:"cells"`          // in the order a problem is worked
}

// CellReport is one line of a scenario: a step and the force, row or symbol it
// is about.
type CellReport struct {
	Body          string  `json:"body,omitempty"`
	Step          string  `json:"step"`
	Cell          string  `json:"cell,omitempty"`
	RightFirst    Rate    `json:"right_first"` // of the sessions that tried or were shown it: at the first attempt, without a hint
	Attempts      int     `json:"attempts"`
	Wrong         int     `json:"wrong"`
	Unread        int     `json:"unread"` // lines that could not be read
	Hints         int     `json:"hints"`
	Shown         int     `json:"shown"`          // the line was shown by a hint
	MedianMinutes float64 `json:"median_minutes"` // spent on the line, by session
	Left          int     `json:"left"`           // sessions that were left here, and not gone on with
	Slips         []Count `json:"slips"`          // commonest first, at most five
}

// Count is how often a thing was seen.
type Count struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// Group is wrong answers that no slip predicts and that mean the same: their
// values agree at every state of the problem's symbols.
type Group struct {
	Problem  string `json:"problem"`
	Body     string `json:"body,omitempty"`
	Step     string `json:"step"`
	Cell     string `json:"cell,omitempty"`
	Pivot    string `json:"pivot,omitempty"` // where the step depends on it
	Meaning  string `json:"meaning"`         // what they come to, read back
	Learners int    `json:"learners"`
	Answers  int    `json:"answers"`
	First    Rate   `json:"first"` // of the learners who met the line, those who wrote this
	Lines    []Line `json:"lines"` // the ways it was written, commonest first; at most ten
	Ways     int    `json:"ways"`  // how many ways in all
	Offer    string `json:"offer"` // a slip for the end of the scenario file, as TOML; "" if there is none
}

// SkillCurve is how errors at a skill go down with practice.
type SkillCurve struct {
	Skill    string       `json:"skill"`
	Learners int          `json:"learners"`
	N        int          `json:"n"` // chances in all
	Errors   int          `json:"errors"`
	Points   []CurvePoint `json:"points"` // those with at least MinPoint learners
	Fit      *PowerLaw    `json:"fit"`    // null where the counts are too small
	Verdict  string       `json:"verdict"`
}

// The verdicts on a curve.
const (
	Improves    = "improves"            // the interval of b is above 0
	NotImproves = "not seen to improve" // it holds 0
	Worsens     = "gets worse"          // it is below 0
	TooFew      = "too few to say"
)

// CurvePoint is the error rate at the learners' Opportunity-th chance to use a
// skill, from 1.
type CurvePoint struct {
	Opportunity int   `json:"opportunity"`
	Errors      Rate  `json:"errors"`
	Fitted      *Band `json:"fitted"` // what the fit has there; null where there is no fit
}

// Band is a fitted share with its 95 % interval: that of the fit's mean, not of
// what a class may come to.
type Band struct {
	Rate float64 `json:"rate"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// PowerLaw is rate = A * opportunity^-B, with the 95 % interval of B. Small is
// the dispersion, never below 1, by which the interval was widened.
type PowerLaw struct {
	A          float64 `json:"a"`
	ALow       float64 `json:"a_low"`
	AHigh      float64 `json:"a_high"`
	B          float64 `json:"b"`
	BLow       float64 `json:"b_low"`
	BHigh      float64 `json:"b_high"`
	Dispersion float64 `json:"dispersion"`
}

// LearnerReport is one learner.
type LearnerReport struct {
	Learner    string   `json:"learner"`
	Cohort     string   `json:"cohort,omitempty"`
	Sessions   int      `json:"sessions"`
	Finished   int      `json:"finished"`
	Problems   int      `json:"problems"` // different ones
	Lines      int      `json:"lines"`    // met
	Earned     int      `json:"earned"`
	RightFirst Rate     `json:"right_first"`
	Attempts   int      `json:"attempts"`
	Hints      int      `json:"hints"`
	DeepHints  int      `json:"deep_hints"` // lines that were shown
	LongWaits  int      `json:"long_waits"` // waits above LongWait
	Minutes    float64  `json:"minutes"`    // at work: no wait counted above MaxWait
	Days       int      `json:"days"`       // on which there is work, UTC
	Slips      []Count  `json:"slips"`      // commonest first, at most three
	See        float64  `json:"see"`        // 0 and up: how far above the class in attempts, waits and deep hints, and below in lines earned
	Reasons    []string `json:"reasons"`    // why to see them, in words; empty if there is none
}

// Alike is two learners who typed the same wrong lines, beyond what chance
// brings. It is a reason to ask, no proof: friends who worked together look the
// same.
type Alike struct {
	Learners [2]string `json:"learners"`
	Shared   int       `json:"shared"`   // wrong lines that both typed, to the letter, and few others
	Of       int       `json:"of"`       // of so many that the one with more typed there
	Problems []string  `json:"problems"` // where
	Lines    []Line    `json:"lines"`    // at most three of them
}

// ItemSet is a set of items and their figures by classical test theory.
type ItemSet struct {
	Name        string     `json:"name"`              // "problems", or the id of a problem whose lines are the items
	Scored      string     `json:"scored"`            // what an item's score is
	Reliability string     `json:"reliability"`       // "alpha" or "KR-20"
	Alpha       *float64   `json:"alpha"`             // null where the counts are too small
	Learners    int        `json:"learners"`          // who met every item: the counts for discrimination and reliability
	Silence     string     `json:"silence,omitempty"` // why a figure is not given
	Items       []ItemStat `json:"items"`
}

// ItemStat is one item. Pointers are null where the counts are too small.
type ItemStat struct {
	Item           string   `json:"item"`
	N              int      `json:"n"`
	Facility       *float64 `json:"facility"`           // mean score, 0 to 1
	Interval       *Rate    `json:"interval,omitempty"` // of a facility that is a share of learners
	Discrimination *float64 `json:"discrimination"`     // correlation with the sum of the other items
}

// Counts below which a figure is not given, and bounds on what is counted.
const (
	MinFacility       = 5                // learners, for an item's facility
	MinDiscrimination = 20               // learners who met every item, for discrimination and reliability
	MinItems          = 3                // items, for the same
	MinPoint          = 5                // learners, for a point of a learning curve
	MinCurve          = 4                // points, for a fit
	MaxWait           = 10 * time.Minute // the longest wait counted as work
	LongWait          = 5 * time.Minute
)

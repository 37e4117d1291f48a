package journal

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"math"
	"net/url"
	"strconv"
	"strings"
	"time"

	"steelyard/tutor"
)

// XAPIHome is where accounts and activities are said to be if no other place
// is named. No such host can exist (RFC 6761, section 6.4).
const XAPIHome = "https://steelyard.invalid"

// terms are the IRIs of what the standard's vocabulary has no word for. They
// stay the same wherever the class is.
const terms = "https://steelyard.invalid/xapi/"

// XAPI is how events are written as statements of xAPI 2.0 (IEEE
// 9274.1.1-2023).
type XAPI struct {
	Home   string                               // an absolute http or https address: whose accounts the aliases are; "" for [XAPIHome]
	Scaled func(session string) (float64, bool) // the score of a finished session, 0 to 1; may be nil
}

// NewXAPI checks the address.
func NewXAPI(home string) (*XAPI, error) {
	if home == "" {
		home = XAPIHome
	}
	u, err := url.Parse(home)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.RawQuery != "" || u.Fragment != "" || u.User != nil {
		return nil, fmt.Errorf("%s is no address that accounts can be said to be at; give one like https://lab.example, without ? or #", quote(home))
	}
	return &XAPI{Home: strings.TrimRight(u.String(), "/")}, nil
}

// The statement's objects, as far as we write them.
type (
	statement struct {
		ID        string    `json:"id"`
		Actor     actor     `json:"actor"`
		Verb      verb      `json:"verb"`
		Object    activity  `json:"object"`
		Result    *result   `json:"result,omitempty"`
		Context   surround  `json:"context"`
		Timestamp time.Time `json:"timestamp"`
		Version   string    `json:"version"`
	}
	actor struct {
		ObjectType string  `json:"objectType"`
		Account    account `json:"account"`
	}
	account struct {
		HomePage string `json:"homePage"`
		Name     string `json:"name"`
	}
	verb struct {
		ID      string            `json:"id"`
		Display map[string]string `json:"display"`
	}
	activity struct {
		ObjectType string      `json:"objectType"`
		ID         string      `json:"id"`
		Definition *definition `json:"definition,omitempty"`
	}
	definition struct {
		Name map[string]string `json:"name"`
		Type string            `json:"type"`
	}
	result struct {
		Score      *score `json:"score,omitempty"`
		Success    *bool  `json:"success,omitempty"`
		Completion *bool  `json:"completion,omitempty"`
		Response   string `json:"response,omitempty"`
		Duration   string `json:"duration,omitempty"`
	}
	score struct {
		Scaled float64 `json:"scaled"`
	}
	surround struct {
		Registration string         `json:"registration"`
		Platform     string         `json:"platform"`
		Language     string         `json:"language"`
		Activities   *relatives     `json:"contextActivities,omitempty"`
		Extensions   map[string]any `json:"extensions,omitempty"`
	}
	relatives struct {
		Parent   []activity `json:"parent,omitempty"`
		Grouping []activity `json:"grouping,omitempty"`
	}
)

// verbs are the words of ADL's vocabulary for each kind of event, from memory.
// An unread line is no attempt, and a line taken back is not a statement
// voided, so these are "interacted", told apart by the extension kind.
var verbs = map[tutor.Kind]string{
	tutor.Began: "initialized", tutor.Answered: "answered", tutor.Unread: "interacted", tutor.Hinted: "asked",
	tutor.Moved: "interacted", tutor.Undone: "interacted", tutor.Left: "suspended", tutor.Finished: "completed",
	tutor.Asked: "interacted", tutor.Reasoned: "responded",
}

// kept reports whether an event is a line that was read and kept, to be judged
// later: in practice and in an exam.
func kept(e *tutor.Event) bool {
	switch tutor.Step(e.Step) {
	case tutor.StepChecking, tutor.StepHandIn, tutor.StepClock:
		return false
	}
	return e.Kind == tutor.Moved && e.Typed != ""
}

func verbOf(e *tutor.Event) string {
	if kept(e) {
		return "responded"
	}
	if e.Kind == tutor.Reasoned && e.Verdict != "" {
		return "answered"
	}
	return verbs[e.Kind]
}

// Where ADL's vocabulary of verbs and types of activities is.
const (
	adlVerbs = "http://adlnet.gov/expapi/verbs/"
	adlTypes = "http://adlnet.gov/expapi/activities/"
)

// Export writes the events of seq as one JSON array of statements, a statement
// on each line, and says how many. Errors in seq are treated as by
// [ExportJSONL], whose care for what acts on a terminal this takes too.
func (x *XAPI) Export(w io.Writer, seq iter.Seq2[tutor.Event, error]) (int, error) {
	var line bytes.Buffer
	enc := json.NewEncoder(&line)
	enc.SetEscapeHTML(false)
	var safe []byte
	out := bufio.NewWriterSize(w, 64<<10)
	between := "["
	n, err := export(seq, func(e *tutor.Event) error {
		line.Reset()
		if err := enc.Encode(x.statement(e)); err != nil {
			return fmt.Errorf("event %s cannot be written as a statement: %w", quote(e.ID), err)
		}
		safe = appendHarmless(append(safe[:0], between+"\n"...), bytes.TrimSuffix(line.Bytes(), []byte("\n")))
		between = ","
		_, err := out.Write(safe)
		return err
	})
	end := "\n]\n"
	if between == "[" {
		end = "[]\n"
	}
	out.WriteString(end)
	if flushErr := out.Flush(); flushErr != nil {
		return n, fmt.Errorf("the statements could not be written to their end: %w", flushErr)
	}
	return n, err
}

func (x *XAPI) statement(e *tutor.Event) statement {
	problem := activity{ObjectType: "Activity", ID: x.iri("problem", e.Problem, strconv.FormatUint(e.Seed, 10)),
		Definition: &definition{Name: english(e.Problem), Type: adlTypes + "assessment"}}
	if e.Given != "" {
		problem.ID = x.iri("problem", e.Problem, "given", e.Given)
	}
	s := statement{ID: e.ID, Timestamp: e.At, Version: "2.0.0", Object: problem,
		Actor: actor{ObjectType: "Agent", Account: account{HomePage: x.Home, Name: e.Learner}},
		Verb:  verb{ID: adlVerbs + verbOf(e), Display: english(verbOf(e))},
		Context: surround{Registration: e.Session, Platform: "Steelyard", Language: "en",
			Extensions: extensions(e)},
		Result: x.result(e)}
	if e.Learner == "" {
		s.Actor.Account.Name = "unnamed"
	}
	var near relatives
	if e.Step != "" {
		s.Object = activity{ObjectType: "Activity", ID: problem.ID + "/" + path("line", e.Step, e.Body, e.Cell),
			Definition: &definition{Name: english(strings.Join(nonempty(e.Problem, e.Body, e.Step, e.Cell), ", ")), Type: adlTypes + "question"}}
		near.Parent = []activity{problem}
	}
	if e.Set != "" {
		near.Grouping = []activity{{ObjectType: "Activity", ID: x.iri("set", e.Set)}}
	}
	if near.Parent != nil || near.Grouping != nil {
		s.Context.Activities = &near
	}
	return s
}

// result is how it went: of an answer, whether it was right and what was
// typed; of a problem done, its score.
func (x *XAPI) result(e *tutor.Event) *result {
	r := &result{Duration: duration(e.Seconds)}
	if kept(e) {
		r.Response = e.Typed
	}
	yes, no := true, false
	switch e.Kind {
	case tutor.Reasoned:
		r.Response = e.Typed
		switch e.Verdict {
		case "right":
			r.Success = &yes
		case "wrong":
			r.Success = &no
		}
	case tutor.Answered:
		r.Success, r.Response = &no, e.Typed
		if e.Verdict == "right" || e.Verdict == "remark" {
			r.Success = &yes
		}
	case tutor.Unread:
		r.Response = e.Typed
	case tutor.Left:
		r.Completion = &no
	case tutor.Finished:
		r.Completion = &yes
		if x.Scaled != nil {
			if v, ok := x.Scaled(e.Session); ok && v >= 0 && v <= 1 {
				r.Score = &score{Scaled: v}
			}
		}
	}
	if *r == (result{}) {
		return nil
	}
	return r
}

// typedIs is what the text of an event is that no learner typed.
var typedIs = map[tutor.Kind]string{tutor.Began: "terms", tutor.Hinted: "shown", tutor.Moved: "moved", tutor.Asked: "offered"}

// extensions are what the standard has no place for.
func extensions(e *tutor.Event) map[string]any {
	out := map[string]any{terms + "kind": string(e.Kind), terms + "seed": strconv.FormatUint(e.Seed, 10), terms + "scenario_hash": e.ScenarioHash}
	for name, value := range map[string]string{
		"cohort": e.Cohort, "given": e.Given, "mode": e.Mode, "step": e.Step, "body": e.Body, "cell": e.Cell,
		"pivot": e.Pivot, "positive": e.Positive, "verdict": e.Verdict,
	} {
		if value != "" {
			out[terms+name] = value
		}
	}
	if name := typedIs[e.Kind]; name != "" && e.Typed != "" && !kept(e) {
		out[terms+name] = e.Typed
	}
	if len(e.Slip) > 0 {
		out[terms+"slip"] = e.Slip
	}
	if e.Try > 0 {
		out[terms+"try"] = e.Try
	}
	if e.HintDepth > 0 {
		out[terms+"hint_depth"] = e.HintDepth
	}
	return out
}

// iri is the address of a thing at home.
func (x *XAPI) iri(parts ...string) string { return x.Home + "/" + path(parts...) }

// path escapes parts for an address, so that none of them can leave its place;
// an empty one, and one that walks, is a dash.
func path(parts ...string) string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = url.PathEscape(p)
		if p == "" || p == "." || p == ".." {
			out[i] = "-"
		}
	}
	return strings.Join(out, "/")
}

// duration is seconds as ISO 8601 writes them, to the hundredth, which is as
// fine as the standard compares them; "" for none.
func duration(seconds float64) string {
	if seconds = math.Round(100*seconds) / 100; seconds <= 0 {
		return ""
	}
	return "PT" + strconv.FormatFloat(seconds, 'f', -1, 64) + "S"
}

func english(s string) map[string]string { return map[string]string{"en": s} }

func nonempty(parts ...string) []string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return out
}

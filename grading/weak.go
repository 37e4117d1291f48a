package grading

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"steelyard/problems"
)

// Gravity is how much a finding matters.
type Gravity string

// The gravities of a finding.
const (
	Fault Gravity = "fault" // the scenario is refused, or some of its problems cannot be set or asked
	Weak  Gravity = "weak"  // it works, and teaches less than it could
	Note  Gravity = "note"  // it may well be meant; an author should know
)

// Finding is something wrong with a scenario file, or weak about it.
type Finding struct {
	File    string  `json:"file"`
	Line    int     `json:"line"`   // from 1; 0 where the finding has no one place
	Column  int     `json:"column"` // from 1, in characters
	Gravity Gravity `json:"finding"`
	Code    string  `json:"code"` // which check found it; a row of the list in Weaknesses
	Message string  `json:"message"`
}

func (f Finding) String() string {
	if f.Line == 0 {
		return fmt.Sprintf("%s: %s: %s", f.File, f.Gravity, f.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s: %s", f.File, f.Line, f.Column, f.Gravity, f.Message)
}

// Inspector looks over scenario files one by one. It remembers their ids, so
// that it can say which are taken.
type Inspector struct {
	ids map[string]taken
}

// taken is who has an id: the built-in bank, or a file.
type taken struct{ by, hash string }

// NewInspector begins with the ids of the built-in bank taken.
func NewInspector() *Inspector {
	in := &Inspector{ids: map[string]taken{}}
	for _, s := range problems.Builtin().Scenarios {
		in.ids[s.ID] = taken{"the built-in bank", s.Hash}
	}
	return in
}

// Inspect is everything wrong with a scenario file, and everything weak about
// it, in order of place. file is only used to say where; its last part should
// be the id, unless it is "-".
func (in *Inspector) Inspect(file string, data []byte) []Finding {
	s, err := problems.Read(file, data)
	var faults problems.Faults
	if errors.As(err, &faults) {
		out := make([]Finding, len(faults))
		for i, f := range faults {
			out[i] = Finding{f.File, f.Line, f.Column, Fault, "reading", f.Message}
		}
		return out
	}
	l := look{s: s, src: problems.NewSource(data)}
	if by, known := in.ids[s.ID]; !known {
		in.ids[s.ID] = taken{file, s.Hash}
	} else if by.hash != s.Hash || by.by != "the built-in bank" { // else it is the built-in file itself
		l.find("id", Fault, "id", "id \"%s\" is taken by %s; give this scenario its own", s.ID, by.by)
	}
	if name := filepath.Base(file); file != "-" && name != s.ID+".toml" {
		l.find("id", Weak, "id", "the file is not named by the id; name it %s.toml, so that one finds the other", s.ID)
	}
	out := append(l.found, Weaknesses(s, l.src)...)
	for i := range out {
		out[i].File = file
	}
	sortFindings(out)
	return out
}

// Weaknesses is what is wrong with a scenario that can be read, and what is
// weak about it, in order of place. File is empty in each.
func Weaknesses(s *problems.Scenario, src *problems.Source) []Finding {
	l := &look{s: s, src: src}
	for _, check := range []func(*look){
		(*look).texts,     // text: too long for a screen, or missing
		(*look).named,     // unsaid: symbols that the statement lacks
		(*look).caution,   // caution: none where one is due
		(*look).parts,     // part: no limit, no figure, no skills
		(*look).pivots,    // pivot: a moment row that asks for no arm
		(*look).try,       // the draws that the checks below look at
		(*look).physics,   // physics, supports, ask: draws that cannot be
		(*look).telling,   // draws: numbers that cannot tell slips apart
		(*look).limit,     // limit: a question without an answer, or with two
		(*look).asks,      // ask: a question whose answer is always the same
		(*look).slips,     // slip: a line that is right, or called something else
		(*look).unknowns,  // unknown: always zero, or the same as another
		(*look).givens,    // given: used by nothing, or changing nothing
		(*look).definings, // defined: used by nothing
	} {
		check(l)
	}
	sortFindings(l.found)
	return l.found
}

func sortFindings(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// look is one scenario being looked over, with its draws and what is found.
type look struct {
	s     *problems.Scenario
	src   *problems.Source
	found []Finding

	survey problems.Survey
	usable []*problems.Problem // up to maxLooked of the draws that can be used
}

// How many draws are looked at.
const (
	trials    = 2000 // made, for what breaks the physics
	maxLooked = 600  // kept, for whether they tell slips apart
	fewLooked = 60   // solved again, for limits and the like
)

// find notes a finding at the place of a path in the file; the empty path is
// the file as a whole.
func (l *look) find(path string, g Gravity, code, format string, args ...any) {
	f := Finding{Gravity: g, Code: code, Message: fmt.Sprintf(format, args...)}
	if path != "" {
		at := l.src.At(path)
		f.Line, f.Column = at.Line, at.Column
	}
	l.found = append(l.found, f)
}

// few are the first of the usable draws.
func (l *look) few() []*problems.Problem { return l.usable[:min(fewLooked, len(l.usable))] }

// asGiven writes values as the command line takes them: --given L=5 --given M=40.
func asGiven(values string) string {
	if values == "" {
		return "no given that varies"
	}
	return "--given " + strings.ReplaceAll(values, " ", " --given ")
}

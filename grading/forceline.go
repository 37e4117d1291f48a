package grading

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"steelyard/grading/slip"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// ForceLine grades one line of a list of forces by itself, while the list is
// still being written: what may be missing is not asked yet.
func (g *Grader) ForceLine(line string) (Verdict, Listed) {
	l, v, _ := g.oneForce(line)
	return v, l
}

// maxLine is the most bytes that one line of a list may have.
const maxLine = 256

// bullet is what may stand before a line of a list.
var bullet = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:[-*•]|\d{1,2}[.)])\s+`)
})

var (
	point     = `([A-Za-z][0-9]?)`
	forceLine = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)^(.+?)(?:[\s,:]+(?:acting\s+|acts\s+)?(?:at|on|from|@)\s+|\s*,\s*)(?:point\s+)?` + point + `[\s,]+(.+)$`)
	})
	// turnedLine is the likes of "W down at G".
	turnedLine = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)^(\S+(?:\s+\S+)?)\s+(.+?)[\s,]+(?:at|on)\s+(?:point\s+)?` + point + `$`)
	})
	coupleLine = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)^(.+?)[\s,:]+(?:(?:at|on)\s+` + point + `[\s,]+)?((?:anti|counter)?-?clockwise|ccw|cw)$`)
	})
)

// parts are the three things a line says: what, where and which way, with the
// 1-based columns of the last two.
type parts struct {
	name, at, way string
	atCol, wayCol int
}

// split takes a line apart, however its parts are ordered.
func (g *Grader) split(line string) (parts, bool) {
	column := func(byteAt int) int { return utf8.RuneCountInString(line[:byteAt]) + 1 }
	if m := forceLine().FindStringSubmatchIndex(line); m != nil {
		return parts{line[m[2]:m[3]], strings.ToUpper(line[m[4]:m[5]]), line[m[6]:m[7]], column(m[4]), column(m[6])}, true
	}
	m := turnedLine().FindStringSubmatchIndex(line)
	if m == nil {
		return parts{}, false
	}
	at := strings.ToUpper(line[m[6]:m[7]])
	name, rest, _ := strings.Cut(line[:m[5]], " ") // M g down: the way begins where the name ends
	for {
		if _, err := g.heading(rest, at); err == nil {
			way := len(line[:m[5]]) - len(rest)
			return parts{name, at, rest, column(m[6]), column(way)}, true
		}
		word, after, more := strings.Cut(rest, " ")
		if !more {
			return parts{}, false
		}
		name, rest = name+" "+word, after
	}
}

// oneForce grades one line of the list; known says that l names a force of the
// body, rightly placed or not. A force that is there but goes by another name
// comes back as l, not known.
func (g *Grader) oneForce(line string) (l Listed, v Verdict, known bool) {
	if m := coupleLine().FindStringSubmatch(line); m != nil && len(line) <= maxLine {
		return g.oneCouple(m[1], strings.ToLower(m[3]))
	}
	unread := func(at int, message string) (Listed, Verdict, bool) {
		return Listed{}, Verdict{Outcome: Unreadable, At: at, Message: message}, false
	}
	if len(line) > maxLine {
		return unread(1, "That line is too long for one force: a symbol, a point and a way, like \"W at G down\". Put each force on its own line.")
	}
	p, ok := g.split(line)
	if !ok {
		return unread(1, fmt.Sprintf("\"%s\" is not read: write a symbol, where it acts and which way, like \"W at G down\" or \"T at B toward C\".", notation.PrintableMax(line, 40)))
	}
	if _, ok := g.body.Point(p.at); !ok {
		if _, here := g.find(p.name, p.at); !here {
			if why := g.elsewhere(p.name); why != "" {
				v := g.slipped("", "not-on-body", slip.Entry{})
				v.Message = why
				return Listed{}, v, false
			}
		}
		return unread(p.atCol, fmt.Sprintf("There is no point %s here; points are %s.", notation.Printable(p.at), pointList(g.body, false)))
	}
	h, err := g.heading(p.way, p.at)
	if err != nil {
		return unread(p.wayCol, sentence(err.Error()))
	}
	i, ok := g.find(p.name, p.at)
	if !ok {
		given := "\"" + notation.PrintableMax(p.name, 24) + "\""
		v := g.slipped("", "not-on-body", slip.Entry{Given: given})
		if why := g.elsewhere(p.name); why != "" {
			v.Message = why
		} else if i, ok := g.nameless(p.at, h); ok {
			l.Symbol = g.symbolOf(i)
			v.Message = fmt.Sprintf("%s is none of this problem's forces. The one at %s that way is called %s here.", given, p.at, g.show(i))
		}
		return l, v, false
	}
	return g.placed(i, p, h)
}

// elsewhere says of a force that is not on this body what it does act on.
func (g *Grader) elsewhere(name string) string {
	for i := range g.p.Bodies {
		on := &Grader{p: g.p, body: &g.p.Bodies[i], shelf: g.shelf}
		k, ok := on.find(name, "")
		if !ok || k >= len(on.body.Forces) {
			continue
		}
		f := on.body.Forces[k]
		if slices.Contains(g.body.Of, on.body.Name) && slices.Contains(g.body.Of, f.Joint) {
			return fmt.Sprintf("%s acts between the %s and the %s. Inside the %s it pulls both ways and drops out: take it off this list.",
				on.show(k), on.body.Name, f.Joint, g.body.Name)
		}
		return fmt.Sprintf("%s acts on the %s, not on the %s. Keep only what other bodies do to this one.", on.show(k), on.body.Name, g.body.Name)
	}
	return ""
}

// placed grades where and which way a force of the body is listed.
func (g *Grader) placed(i int, p parts, h heading) (l Listed, v Verdict, known bool) {
	f := g.body.Forces[i]
	l = Listed{Symbol: f.Symbol, At: f.At}
	reads := fmt.Sprintf("%s at %s %s", notation.Display(f.Symbol, false), p.at, notation.Printable(p.way))
	e := entryOf(g.p.Scenario, g.body, i, statics.RowMoment, g.frame)
	if p.at != f.At && !g.sameLine(f, p.at) {
		e.Place = p.at
		return l, g.slipped(reads, "misplaced", e), true
	}
	angle := f.Dir.Radians(g.p.Values)
	along, against := h.fits(angle), h.fits(angle+math.Pi)
	if g.settled[f.Symbol] && f.Joint != "" && (along && g.frame.Reversed[f.Symbol] || against && !g.frame.Reversed[f.Symbol]) {
		e.Given = f.Joint
		return l, g.slipped(reads, "partner-sense", e), true
	}
	switch {
	case along:
		return l, right(reads), true
	case against && f.Kind == statics.Friction && f.Sliding:
		v := g.slipped(reads, "friction-reversed", e)
		v.Message = fmt.Sprintf("%s points the wrong way. Which way would %s slip without it?", notation.Display(f.Symbol, false), pointName(g.body, f.At))
		return l, v, true
	case against && f.Unknown && f.Kind.Assumable() && f.Kind != statics.Applied:
		l.Reversed = true
		return l, right(reads), true
	case against:
		v := g.slipped(reads, "sense-reversed", e)
		v.Message = fmt.Sprintf("%s (%s) cannot act that way: a %s", notation.Display(f.Symbol, false), f.Meaning, oneWay[f.Kind])
		return l, v, true
	}
	return l, g.slipped(reads, "wrong-direction", e), true
}

// nameless finds a force by where it acts and which way alone.
func (g *Grader) nameless(at string, h heading) (int, bool) {
	for i, f := range g.body.Forces {
		angle := f.Dir.Radians(g.p.Values)
		if f.At == at && (h.fits(angle) || f.Unknown && f.Kind.Assumable() && h.fits(angle+math.Pi)) {
			return i, true
		}
	}
	return 0, false
}

var oneWay = map[statics.ForceKind]string{
	statics.Weight:  "weight pulls down.",
	statics.Normal:  "contact can only push.",
	statics.Tension: "cable can only pull.",
	statics.Inertia: "inertia force points against the acceleration.",
	statics.Applied: "given force acts as it is given.",
	statics.Spread:  "load presses the way it is given.",
}

func (g *Grader) oneCouple(name, sense string) (l Listed, v Verdict, known bool) {
	name = strings.TrimSpace(name)
	for i, c := range g.body.Couples {
		if !g.calls(name, c.Symbol) && !strings.EqualFold(name, c.Meaning) {
			continue
		}
		l = Listed{Symbol: c.Symbol}
		clockwise := turnOf(sense) < 0
		reads := notation.Display(c.Symbol, false) + " " + map[bool]string{true: "clockwise", false: "anticlockwise"}[clockwise]
		if clockwise == (c.Sense < 0) {
			return l, right(reads), true
		}
		if c.Unknown {
			l.Reversed = true
			return l, right(reads), true
		}
		e := entryOf(g.p.Scenario, g.body, len(g.body.Forces)+i, statics.RowMoment, g.frame)
		return l, g.slipped(reads, "sense-reversed", e), true
	}
	return l, g.slipped("", "not-on-body", slip.Entry{Given: "\"" + notation.PrintableMax(name, 24) + "\""}), false
}

// kindWords are plain words for a force, which do where only one at the point
// is of that kind.
var kindWords = map[string]statics.ForceKind{
	"weight": statics.Weight, "gravity": statics.Weight, "tension": statics.Tension,
	"normal": statics.Normal, "normal force": statics.Normal, "friction": statics.Friction,
}

// find finds a force by symbol, in any of the ways the symbol may be
// written, by its size, or by what it is.
func (g *Grader) find(name, at string) (int, bool) {
	if i, ok := g.body.Force(name); ok {
		return i, true
	}
	n, err := g.p.Table.Parse(name)
	if err == nil {
		if s, ok := n.(*notation.Symbol); ok {
			if i, ok := g.body.Force(s.Name); ok {
				return i, true
			}
		}
		if i, ok := g.bySize(n, at); ok {
			return i, true
		}
		return g.bySize(n, "")
	}
	word := strings.ToLower(strings.TrimPrefix(strings.ToLower(name), "the "))
	kind, isKind := kindWords[word]
	found := -1
	for i, f := range g.body.Forces {
		if !strings.EqualFold(f.Symbol, name) && !strings.EqualFold(f.Meaning, word) && !(isKind && f.Kind == kind && f.At == at) {
			continue
		}
		if found >= 0 {
			return 0, false
		}
		found = i
	}
	return max(found, 0), found >= 0
}

// calls reports whether a name is a symbol, however it is written.
func (g *Grader) calls(name, symbol string) bool {
	if strings.EqualFold(name, symbol) {
		return true
	}
	n, err := g.p.Table.Parse(name)
	if err != nil {
		return false
	}
	s, ok := n.(*notation.Symbol)
	return ok && s.Name == symbol
}

// sameLine reports whether point at lies on the force's line of action, where
// the force does the same.
func (g *Grader) sameLine(f statics.Force, at string) bool {
	here, _ := g.body.Point(f.At)
	there, _ := g.body.Point(at)
	return f.Kind != statics.Weight && !there.Mark && statics.Between(here, there).Arm(f.Dir).IsZero()
}

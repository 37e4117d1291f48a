// Package set is an instructor's list of problems for one lab or one exam: how
// it is written, which problems it gives to whom, and the receipt that a
// learner hands in for it.
//
// A set is a TOML file:
//
//	title = "Lab 3: hinged arms"
//	mode = "guided"                  # or "practice", "exam"; "guided" if left out
//	order = "fixed"                  # or "shuffled": each learner's own; "fixed" if left out
//	hints = 2                        # how deep, 0 to 3; 3 if left out, and in an exam 0
//	tolerance = 0.02                 # of numbers and values, relative; 0.01 if left out
//	limit = "45m"                    # time allowed, from the first problem's beginning; none if left out
//	opens = 2026-11-26T09:00:00Z     # RFC 3339; open at once if left out
//	closes = 2026-11-26T12:00:00Z    # never if left out
//	worked = true                    # the first of each family is worked, the second half; guided only
//	reasons = true                   # after some lines a reason is asked for, as an aside; not in an exam
//
//	[[problems]]
//	id = "davit-arm"
//	seed = 7                         # or "each their own"
//
//	[[problems]]
//	id = "hull-ladder"
//	given = ["L = 5", "alpha = 53 deg"]
//
// A seed of each one's own is made from the learner's alias: see [Set.For].
package set

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// Set is a set as it was read.
type Set struct {
	Title     string
	Mode      string // one of [tutor.Modes]
	Shuffled  bool   // the order is each learner's own
	Hints     int
	Tolerance float64       // 0 for the default
	Limit     time.Duration // 0 for none
	Opens     time.Time     // zero for at once
	Closes    time.Time     // zero for never
	Worked    bool          // the first of each family is worked for the learner, the second half
	Reasons   bool          // after some lines a reason is asked for
	Items     []Item

	File string // the name of the file, without its folder
	Hash string // the first 8 bytes of the file's SHA-256, in hexadecimal
}

// Item is one problem of a set.
type Item struct {
	ID    string
	Seed  uint64   // of all learners
	Each  bool     // the seed is made from the alias instead
	Given []string // "L = 5": values that are not drawn

	place int // in the file, from 1
}

// ID tells editions of a set apart: the file's name and its hash. It is what
// the events of its sessions carry.
func (s *Set) ID() string { return strings.TrimSuffix(s.File, ".toml") + "@" + s.Hash }

// seeds is how many seeds of their own learners are given: enough that two of
// a class seldom share one, and short to read out.
const seeds = 100_000

// For is the problems of a learner, in their order, each with its seed.
//
// A seed of one's own is the first 8 bytes, big-endian, of the SHA-256 of the
// lines "steelyard set seed", the set's title, the alias, the problem's place
// in the file (from 1) and its id, each ended by a line feed, modulo 100,000.
// A shuffled order is that of the SHA-256 of the same lines headed "steelyard
// set order". So the seeds stay when the file is edited, as long as the title
// and the problem's place do.
func (s *Set) For(alias string) []Item {
	items := slices.Clone(s.Items)
	order := map[int]string{}
	for i := range items {
		it := &items[i]
		if it.Each {
			sum := s.sum("steelyard set seed", alias, *it)
			it.Seed = binary.BigEndian.Uint64(sum[:8]) % seeds
		}
		sum := s.sum("steelyard set order", alias, *it)
		order[it.place] = string(sum[:])
	}
	if s.Shuffled {
		slices.SortStableFunc(items, func(a, b Item) int { return cmp.Compare(order[a.place], order[b.place]) })
	}
	return items
}

func (s *Set) sum(head, alias string, it Item) [sha256.Size]byte {
	return sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%s\n%d\n%s\n", head, s.Title, strings.TrimSpace(alias), it.place, it.ID))
}

// Terms are those on which a problem of the set is begun, at a moment, when so
// much of the time limit is used already. What closes the set ends its
// problems, too.
func (s *Set) Terms(now time.Time, used time.Duration) tutor.Terms {
	t := tutor.Terms{Mode: s.Mode, Set: s.ID(), Hints: s.Hints, Tolerance: s.Tolerance, Limit: s.Limit, Used: used, Reasons: s.Reasons}
	if !s.Closes.IsZero() {
		last := s.Closes.Sub(now)
		if last <= tutor.MaxLimit && (t.Limit == 0 || used+last < t.Limit) {
			t.Limit = max(used+last, time.Nanosecond)
		}
	}
	return t
}

// ClosedError says that a set is not open, and when it is.
type ClosedError struct {
	Set *Set
	Now time.Time
}

func (e *ClosedError) Error() string {
	s := e.Set
	if e.Now.Before(s.Opens) {
		until := ""
		if !s.Closes.IsZero() {
			until = ", and closes on " + When(s.Closes)
		}
		return fmt.Sprintf("%s is not open yet: it opens on %s, in %s%s. It is now %s. Please come back then", notation.Printable(s.Title), When(s.Opens), between(e.Now, s.Opens), until, When(e.Now))
	}
	return fmt.Sprintf("%s is closed: it closed on %s, %s ago. What you did is kept; steelyard receipt %s gives the receipt for it", notation.Printable(s.Title), When(s.Closes), between(s.Closes, e.Now), notation.Printable(s.File))
}

// Admit is nil while the set is open, and else a *[ClosedError].
func (s *Set) Admit(now time.Time) error {
	if now.Before(s.Opens) || !s.Closes.IsZero() && !now.Before(s.Closes) {
		return &ClosedError{s, now}
	}
	return nil
}

// When is a moment as a learner reads it, in its own zone.
func When(t time.Time) string { return t.Format("Monday 2 January 2006 at 15:04 MST") }

// between is the time from one moment to a later one. A [time.Duration] holds
// 292 years, so long ones are counted in days.
func between(from, to time.Time) string {
	const day = 24 * 60 * 60
	if days := (to.Unix() - from.Unix()) / day; days >= 60 {
		return fmt.Sprintf("%d days", days)
	}
	return Span(to.Sub(from))
}

// Span is a stretch of time in words, in its largest unit and the next.
func Span(d time.Duration) string {
	units := []struct {
		name string
		of   time.Duration
	}{{"day", 24 * time.Hour}, {"hour", time.Hour}, {"minute", time.Minute}, {"second", time.Second}}
	var out []string
	for _, u := range units {
		n := int64(d / u.of)
		d -= time.Duration(n) * u.of
		if n == 0 {
			if len(out) > 0 {
				break
			}
			continue
		}
		name := u.name
		if n > 1 {
			name += "s"
		}
		if out = append(out, fmt.Sprintf("%d %s", n, name)); len(out) == 2 {
			break
		}
	}
	if len(out) == 0 {
		return "less than a second"
	}
	return strings.Join(out, " and ")
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

func baseOf(name string) string { return notation.Printable(filepath.Base(name)) }

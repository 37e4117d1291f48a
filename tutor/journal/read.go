package journal

import (
	"database/sql"
	"fmt"
	"iter"
	"strconv"
	"strings"
	"time"

	"steelyard/tutor"
)

// A Filter chooses events. An empty field chooses all.
type Filter struct {
	Learner string
	Session string
	Problem string
	Since   time.Time // recorded at this moment or later
}

// batch is how many events are read at a time: the journal is free for others
// between one batch and the next.
const batch = 512

// Events gives the events that filter chooses, in order of id, as many as
// there were when the loop began. The loop's body may use the journal.
//
// An event that cannot be read comes with an error that names it, and the loop
// goes on; when the journal itself cannot be read the last pair is an error
// and a zero event.
func (j *Journal) Events(filter Filter) iter.Seq2[tutor.Event, error] {
	return func(yield func(tutor.Event, error) bool) {
		last, end := "", ""
		err := j.read(func(s *store) error {
			var max sql.NullString
			err := s.db.QueryRow(`SELECT MAX("id") FROM events`).Scan(&max)
			end = max.String
			return err
		})
		if err != nil {
			yield(tutor.Event{}, err)
			return
		}
		for last < end {
			var got []read
			err := j.read(func(s *store) (err error) {
				got, err = filter.page(s.db, last, end)
				return err
			})
			if err != nil {
				yield(tutor.Event{}, err)
				return
			}
			for _, r := range got {
				if r.event.ID <= last { // table and index disagree: no way on
					yield(tutor.Event{}, &DamagedError{Path: j.path, Reason: "its events are out of order after " + quote(last), Remedy: remedyDamaged})
					return
				}
				if !yield(r.event, r.err) {
					return
				}
				last = r.event.ID
			}
			if len(got) < batch {
				return
			}
		}
	}
}

// read is one event as it was read.
type read struct {
	event tutor.Event
	err   error
}

// page reads up to one batch of events with ids above last, up to end.
func (f Filter) page(db *sql.DB, last, end string) ([]read, error) {
	where := []string{`"id" > $1`, `"id" <= $2`}
	args := []any{last, end}
	only := func(condition string, arg any) {
		args = append(args, arg)
		where = append(where, condition+" $"+strconv.Itoa(len(args)))
	}
	if f.Learner != "" {
		only(`"learner" =`, f.Learner)
	}
	if f.Session != "" {
		only(`"session" =`, f.Session)
	}
	if f.Problem != "" {
		only(`"problem" =`, f.Problem)
	}
	if !f.Since.IsZero() {
		only(`"at" >=`, stamp(f.Since))
	}
	rows, err := db.Query("SELECT "+columnList+" FROM events WHERE "+strings.Join(where, " AND ")+
		` ORDER BY "id" LIMIT `+strconv.Itoa(batch), args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var got []read
	scanner := newScanner()
	for rows.Next() {
		e, err := scanner.event(rows.Scan)
		if err != nil {
			err = fmt.Errorf("event %s in the journal: %w; it is left out", quote(e.ID), err)
		}
		got = append(got, read{e, err})
	}
	return got, rows.Err()
}

// read runs do on the open store, again while other programs hold the file.
func (j *Journal) read(do func(*store) error) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.follow(); err != nil {
		return err
	}
	if err := patiently(func() error { return do(j.store) }); err != nil {
		return explain(j.path, "reading", err)
	}
	return nil
}

// A SessionSummary is one session, folded as far as a list of sessions needs.
type SessionSummary struct {
	Session      string
	Learner      string
	Cohort       string
	Set          string
	Problem      string
	Seed         uint64
	Given        string
	ScenarioHash string
	Mode         string
	Began        time.Time // of its first event
	Last         time.Time // of its last
	Events       int
	Attempts     int  // answers graded; what could not be read is not one
	Hints        int  // hints shown
	Finished     bool // the last step was earned, and not taken back since
}

// sessionsSQL folds the events of each session. %s is the condition on the learner.
const sessionsSQL = `
SELECT s."session", f."learner", f."cohort", f."set", f."problem", f."seed", f."given", f."scenario_hash", l."mode",
       f."at", l."at", s.events, s.attempts, s.hints, s.finished > s.undone
FROM (
	SELECT "session", MIN("id") AS first, MAX("id") AS last, COUNT(*) AS events,
	       COUNT(CASE WHEN "kind" = 'answered' THEN 1 END) AS attempts,
	       COUNT(CASE WHEN "kind" = 'hinted' THEN 1 END) AS hints,
	       MAX(CASE WHEN "kind" = 'finished' THEN "id" ELSE '' END) AS finished,
	       MAX(CASE WHEN "kind" = 'undone' THEN "id" ELSE '' END) AS undone
	FROM events %s GROUP BY "session"
) AS s
JOIN events AS f ON f."id" = s.first
JOIN events AS l ON l."id" = s.last
ORDER BY s.last DESC`

// Sessions lists the sessions of learner, or of everybody if learner is "",
// the one worked on last first.
func (j *Journal) Sessions(learner string) ([]SessionSummary, error) {
	where, args := "", []any(nil)
	if learner != "" {
		where, args = `WHERE "learner" = $1`, []any{learner}
	}
	var sessions []SessionSummary
	err := j.read(func(s *store) error {
		sessions = nil
		rows, err := s.db.Query(fmt.Sprintf(sessionsSQL, where), args...)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var s SessionSummary
			var seed, began, last string
			err := rows.Scan(&s.Session, &s.Learner, &s.Cohort, &s.Set, &s.Problem, &seed, &s.Given, &s.ScenarioHash, &s.Mode,
				&began, &last, &s.Events, &s.Attempts, &s.Hints, &s.Finished)
			if err != nil {
				return err
			}
			// A session whose fields cannot be read cannot be taken up again;
			// Events names what is wrong with it.
			if s.Seed, err = strconv.ParseUint(seed, 10, 64); err != nil {
				continue
			}
			s.Began, _ = time.Parse(stampLayout, began)
			s.Last, _ = time.Parse(stampLayout, last)
			sessions = append(sessions, s)
		}
		return rows.Err()
	})
	return sessions, err
}

// Unfinished lists the sessions of learner that may be taken up again, the one
// worked on last first.
func (j *Journal) Unfinished(learner string) ([]SessionSummary, error) {
	all, err := j.Sessions(learner)
	var open []SessionSummary
	for _, s := range all {
		if !s.Finished {
			open = append(open, s)
		}
	}
	return open, err
}

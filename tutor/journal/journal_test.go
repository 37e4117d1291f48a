package journal

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"steelyard/tutor"
)

func TestDefaultPath(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_DATA_HOME", home)
	path, err := DefaultPath()
	if want := filepath.Join(home, "steelyard", "journal.db"); err != nil || path != want {
		t.Errorf("DefaultPath() = %q, %v; want %q", path, err, want)
	}
	if got := files(t, filepath.Join(home, "x")); len(got) != 0 {
		t.Errorf("DefaultPath made %q", got)
	}
}

// A field added to Event must not be lost on its way through the table.
func TestColumnsAreTheFieldsOfAnEvent(t *testing.T) {
	var tags, names []string
	event := reflect.TypeFor[tutor.Event]()
	for i := range event.NumField() {
		tag, _, _ := strings.Cut(event.Field(i).Tag.Get("json"), ",")
		tags = append(tags, tag)
	}
	for _, c := range columns {
		names = append(names, c.name)
	}
	if !slices.Equal(tags, names) {
		t.Errorf("columns\n%q\nfields of tutor.Event\n%q", names, tags)
	}
}

func TestAppendKeepsEveryField(t *testing.T) {
	j := open(t, filepath.Join(t.TempDir(), "a", "b", "journal.db"))
	want := tutor.Event{
		At:      time.Date(2026, 3, 9, 18, 4, 5, 123456789, time.FixedZone("", 3600)),
		Learner: "λ-otter", Cohort: "Tue = 2", Session: j.NewSession(), Set: "lab 4",
		Problem: "davit-arm", Seed: math.MaxUint64, Given: "L=5 M=40", ScenarioHash: "9f2c",
		Mode: "exam", Kind: tutor.Answered, Step: "moment", Body: "arm", Cell: "T", Pivot: "A",
		Positive: "cw", Typed: "T·L sin α\x00\x1b[2J\u202e'; DROP TABLE events; --", Verdict: "wrong",
		Slip: []string{"a,b", `"]`, "\u2028"}, Try: math.MaxInt32, HintDepth: 3, Seconds: 0.1,
	}
	e := want
	record(t, j, &e)
	if e.V != tutor.Version || e.ID == "" || !e.At.Equal(want.At) || e.At.Location() != time.UTC {
		t.Errorf("Append filled v=%d id=%q at=%v", e.V, e.ID, e.At)
	}
	want.V, want.ID, want.At = e.V, e.ID, want.At.UTC()
	if got := all(t, j, Filter{}); len(got) != 1 || !reflect.DeepEqual(got[0], want) {
		t.Errorf("recorded\n%+v\nread back\n%+v", want, got)
	}
}

func TestAppendFillsWhatIsEmpty(t *testing.T) {
	j := memory(t)
	before := time.Now().Truncate(time.Microsecond)
	e := event(j.NewSession(), tutor.Began)
	e.Seconds, e.Typed = math.NaN(), "a\xffb"
	record(t, j, e)
	if e.At.Before(before) || e.At.After(time.Now()) {
		t.Errorf("at = %v, not now", e.At)
	}
	if e.Seconds != 0 || e.Typed != "a\ufffdb" {
		t.Errorf("seconds %v, typed %q: not made recordable", e.Seconds, e.Typed)
	}
	if got := all(t, j, Filter{}); !reflect.DeepEqual(got, []tutor.Event{*e}) {
		t.Errorf("read back %+v, recorded %+v", got, *e)
	}
}

func TestAppendRefusesWhatCannotBeKept(t *testing.T) {
	j := memory(t)
	known := answer(j.NewSession())
	record(t, j, known)
	for _, c := range []struct {
		field string
		spoil func(*tutor.Event)
	}{
		{"v", func(e *tutor.Event) { e.V = 2 }},
		{"id", func(e *tutor.Event) { e.ID = "7" }},
		{"id", func(e *tutor.Event) { e.ID = uuid.NewString() }}, // version 4
		{"id", func(e *tutor.Event) { e.ID = strings.ToUpper(known.ID) }},
		{"id", func(e *tutor.Event) { e.ID = "ffffffff-ffff-7fff-bfff-ffffffffffff" }}, // no id is above it
		{"id", func(e *tutor.Event) { e.ID = known.ID }},
		{"session", func(e *tutor.Event) { e.Session = "" }},
		{"at", func(e *tutor.Event) { e.At = time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC) }},
		{"problem", func(e *tutor.Event) { e.Problem = "" }},
		{"kind", func(e *tutor.Event) { e.Kind = "\x1b[31m" }},
		{"verdict", func(e *tutor.Event) { e.Verdict = "fine" }},
		{"positive", func(e *tutor.Event) { e.Positive = "up" }},
		{"try", func(e *tutor.Event) { e.Try = -1 }},
		{"hint_depth", func(e *tutor.Event) { e.HintDepth = 4 }},
		{"seconds", func(e *tutor.Event) { e.Seconds = math.Inf(1) }},
		{"typed", func(e *tutor.Event) { e.Typed = strings.Repeat("x", MaxText) }},
		{"typed", func(e *tutor.Event) { e.Slip = make([]string, MaxText/3+1) }},
	} {
		e := answer(known.Session)
		c.spoil(e)
		spoilt := *e
		err := j.Append(e)
		var bad *InvalidError
		if !errors.As(err, &bad) || bad.Field != c.field {
			t.Errorf("spoilt %s: %v", c.field, err)
			continue
		}
		if strings.ContainsFunc(err.Error(), risky) {
			t.Errorf("spoilt %s: the message would reach a terminal raw: %q", c.field, err)
		}
		if !reflect.DeepEqual(*e, spoilt) {
			t.Errorf("spoilt %s: Append failed and yet changed the event", c.field)
		}
	}
	if got := all(t, j, Filter{}); len(got) != 1 {
		t.Errorf("%d events recorded, want the first alone", len(got))
	}
}

func TestNothingRecordedCanBeChanged(t *testing.T) {
	j := memory(t)
	record(t, j, answer(j.NewSession()))
	for _, statement := range []string{`UPDATE events SET "verdict" = 'right'`, `DELETE FROM events`} {
		if _, err := j.store.db.Exec(statement); err == nil || !strings.Contains(err.Error(), "append-only") {
			t.Errorf("%s: %v", statement, err)
		}
	}
	if got := all(t, j, Filter{}); len(got) != 1 || got[0].Verdict != "wrong" {
		t.Errorf("the record is now %+v", got)
	}
}

func TestIDsRise(t *testing.T) {
	clock := time.Date(2026, 3, 9, 0, 0, 0, 0, time.UTC)
	s := &sequence{now: func() time.Time { return clock }}
	last := s.next(uuid.Nil)
	for i := range 5000 {
		switch i % 1000 {
		case 300:
			clock = clock.Add(-time.Hour) // set back
		case 600:
			clock = clock.Add(time.Millisecond)
		case 900:
			clock = time.Unix(-1, 0) // a machine whose clock was lost
		}
		id := s.next(uuid.Nil)
		if id.String() <= last.String() {
			t.Fatalf("%s came after %s", id, last)
		}
		if _, err := parseID(id.String()); err != nil {
			t.Fatal(err)
		}
		last = id
	}
}

func TestIDsCarry(t *testing.T) {
	top := uuid.MustParse("01234567-89ab-7fff-bfff-ffffffffffff")
	next := successor(top)
	if _, err := parseID(next.String()); err != nil || next.String() <= top.String() || !strings.HasPrefix(next.String(), "01234567-89ac-7000-8000-") {
		t.Errorf("successor(%s) = %s, %v", top, next, err)
	}
	highest := timed(time.Date(9999, 12, 31, 23, 59, 59, 999e6, time.UTC))
	if next := successor(highest); next.String() <= highest.String() {
		t.Errorf("successor(%s) = %s: wrapped around", highest, next)
	}
}

// The learner resumes after the clock was set back: the new events must still
// come after the old ones.
func TestOrderOutlastsAClockSetBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal.db")
	var session string
	var want []string
	for _, day := range []int{9, 8, 7} {
		j := open(t, path)
		now := func() time.Time { return time.Date(2026, 3, day, 12, 0, 0, 0, time.UTC) }
		j.now, j.ids = now, &sequence{now: now}
		if session == "" {
			session = j.NewSession()
		}
		for range 3 {
			e := answer(session)
			record(t, j, e)
			want = append(want, e.ID)
		}
		j.Close()
	}
	if got := ids(all(t, open(t, path), Filter{Session: session})); !slices.Equal(got, want) || !slices.IsSorted(want) {
		t.Errorf("recorded\n%q\nread\n%q", want, got)
	}
}

func TestFilter(t *testing.T) {
	j := memory(t)
	start := time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC)
	sessions := []string{j.NewSession(), j.NewSession()}
	var events []*tutor.Event
	for i := range 8 {
		e := answer(sessions[i&1])
		e.Learner = []string{"otter", "heron"}[i>>1&1]
		e.Problem = []string{"davit-arm", "ladder"}[i>>2&1]
		e.At = start.Add(time.Duration(i) * time.Nanosecond)
		record(t, j, e)
		events = append(events, e)
	}
	for _, c := range []struct {
		filter Filter
		want   []int
	}{
		{Filter{}, []int{0, 1, 2, 3, 4, 5, 6, 7}},
		{Filter{Learner: "heron"}, []int{2, 3, 6, 7}},
		{Filter{Session: sessions[1]}, []int{1, 3, 5, 7}},
		{Filter{Problem: "ladder"}, []int{4, 5, 6, 7}},
		{Filter{Since: start.Add(3)}, []int{3, 4, 5, 6, 7}},
		{Filter{Since: start.Add(3).In(time.FixedZone("", -7*3600)), Learner: "otter", Session: sessions[0], Problem: "ladder"}, []int{4}},
		{Filter{Learner: "' OR 1=1 --"}, nil},
	} {
		var want []string
		for _, i := range c.want {
			want = append(want, events[i].ID)
		}
		if got := ids(all(t, j, c.filter)); !slices.Equal(got, want) {
			t.Errorf("%+v chose\n%q\nwant\n%q", c.filter, got, want)
		}
	}
}

// More than one batch, and a body that writes to the journal it reads.
func TestEventsWhileAppending(t *testing.T) {
	j := memory(t)
	session := j.NewSession()
	const n = 2*batch + 3
	for range n {
		record(t, j, event(session, tutor.Moved))
	}
	seen := map[string]bool{}
	for e, err := range j.Events(Filter{}) {
		if err != nil || seen[e.ID] {
			t.Fatalf("event %s seen %v, %v", e.ID, seen[e.ID], err)
		}
		seen[e.ID] = true
		record(t, j, event(session, tutor.Moved))
	}
	if len(seen) != n {
		t.Errorf("%d events, want the %d there were at the start", len(seen), n)
	}
	for range j.Events(Filter{}) { // stopping early must leave the journal free
		break
	}
	if got := len(all(t, j, Filter{})); got != 2*n {
		t.Errorf("%d events at the end, want %d", got, 2*n)
	}
}

func TestSessions(t *testing.T) {
	j := memory(t)
	start := time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC)
	minute := 0
	do := func(session string, kind tutor.Kind, change func(*tutor.Event)) {
		e := event(session, kind)
		e.At = start.Add(time.Duration(minute) * time.Minute)
		minute++
		if change != nil {
			change(e)
		}
		record(t, j, e)
	}
	s := []string{j.NewSession(), j.NewSession(), j.NewSession(), j.NewSession(), j.NewSession()}
	do(s[0], tutor.Began, func(e *tutor.Event) { // 0
		e.Problem, e.Seed, e.Given, e.Set, e.Cohort = "ladder", math.MaxUint64, "L=5", "lab 4", "Tue"
	})
	do(s[1], tutor.Began, nil)                                                             // 1
	do(s[0], tutor.Answered, func(e *tutor.Event) { e.Problem, e.Seed = "ladder", 1<<63 }) // 2
	do(s[0], tutor.Unread, nil)
	do(s[0], tutor.Answered, nil)
	do(s[0], tutor.Hinted, nil)
	do(s[1], tutor.Finished, nil)                                       // 6
	do(s[2], tutor.Began, func(e *tutor.Event) { e.Learner = "heron" }) // 7
	do(s[3], tutor.Finished, nil)                                       // 8
	do(s[3], tutor.Undone, nil)                                         // 9: open again
	do(s[4], tutor.Finished, nil)                                       //
	do(s[4], tutor.Undone, nil)                                         //
	do(s[4], tutor.Finished, nil)                                       // 12
	do(s[0], tutor.Left, func(e *tutor.Event) { e.Mode = "practice" })  // 13
	at := func(m int) time.Time { return start.Add(time.Duration(m) * time.Minute) }

	names := func(list []SessionSummary, err error) string {
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		for _, one := range list {
			fmt.Fprintf(&b, "%d ", slices.Index(s, one.Session))
		}
		return b.String()
	}
	for _, c := range []struct{ what, got, want string }{
		{"Sessions(otter)", names(j.Sessions("otter")), "0 4 3 1 "},
		{"Unfinished(otter)", names(j.Unfinished("otter")), "0 3 "},
		{"Unfinished(heron)", names(j.Unfinished("heron")), "2 "},
		{"Sessions()", names(j.Sessions("")), "0 4 3 2 1 "},
		{"Sessions(nobody)", names(j.Sessions("nobody")), ""},
	} {
		if c.got != c.want {
			t.Errorf("%s lists sessions %s, want %s", c.what, c.got, c.want)
		}
	}
	list, _ := j.Unfinished("otter")
	want := SessionSummary{
		Session: s[0], Learner: "otter", Cohort: "Tue", Set: "lab 4", Problem: "ladder", Seed: math.MaxUint64,
		Given: "L=5", ScenarioHash: "9f2c41d07a", Mode: "practice", Began: at(0), Last: at(13),
		Events: 6, Attempts: 2, Hints: 1,
	}
	if list[0] != want {
		t.Errorf("summary\n%+v\nwant\n%+v", list[0], want)
	}
}

func TestClosed(t *testing.T) {
	j := open(t, filepath.Join(t.TempDir(), "journal.db"))
	e := answer(j.NewSession())
	if err := errors.Join(j.Close(), j.Close()); err != nil {
		t.Fatal(err)
	}
	if err := j.Append(e); !errors.Is(err, ErrClosed) {
		t.Errorf("Append: %v", err)
	}
	if _, err := j.Sessions(""); !errors.Is(err, ErrClosed) {
		t.Errorf("Sessions: %v", err)
	}
	if _, err := j.ImportJSONL(strings.NewReader("")); !errors.Is(err, ErrClosed) {
		t.Errorf("ImportJSONL: %v", err)
	}
	for _, err := range j.Events(Filter{}) {
		if !errors.Is(err, ErrClosed) {
			t.Errorf("Events: %v", err)
		}
	}
}

// Rows changed by hand, with the guards off, are named and passed over.
func TestUnreadableRows(t *testing.T) {
	j := memory(t)
	session := j.NewSession()
	var events []*tutor.Event
	for range 6 {
		e := answer(session)
		record(t, j, e)
		events = append(events, e)
	}
	for _, statement := range []string{
		"DROP TRIGGER events_never_change",
		`UPDATE events SET "at" = 'yesterday' WHERE "id" = '` + events[1].ID + `'`,
		`UPDATE events SET "seed" = '-1' WHERE "id" = '` + events[2].ID + `'`,
		`UPDATE events SET "slip" = '[' WHERE "id" = '` + events[3].ID + `'`,
		`UPDATE events SET "v" = 'one', "typed" = x'00' WHERE "id" = '` + events[4].ID + `'`,
	} {
		if _, err := j.store.db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	var good, bad []string
	for e, err := range j.Events(Filter{}) {
		if err == nil {
			good = append(good, e.ID)
		} else if strings.Contains(err.Error(), e.ID) {
			bad = append(bad, e.ID)
		}
	}
	if want := []string{events[0].ID, events[5].ID}; !slices.Equal(good, want) {
		t.Errorf("read %q, want %q", good, want)
	}
	if want := []string{events[1].ID, events[2].ID, events[3].ID, events[4].ID}; !slices.Equal(bad, want) {
		t.Errorf("named %q, want %q", bad, want)
	}
	var out strings.Builder
	n, err := ExportJSONL(&out, j.Events(Filter{}))
	if n != 2 || err == nil || !strings.Contains(err.Error(), "4 could not be read") || strings.Count(out.String(), "\n") != 2 {
		t.Errorf("ExportJSONL wrote %d events: %v", n, err)
	}
	for line := range strings.Lines(out.String()) {
		if !json.Valid([]byte(line)) {
			t.Errorf("not JSON: %q", line)
		}
	}
}

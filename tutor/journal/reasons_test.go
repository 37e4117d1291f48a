package journal_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// asked is a session that was asked for reasons: one was passed over, one
// answered in words that nobody should type, and one by each choice there is.
func asked(t *testing.T, j *journal.Journal) string {
	t.Helper()
	terms := tutor.TermsOf(tutor.Guided)
	terms.Reasons = true
	session := ""
	for _, answers := range [][]string{{"pass"}, {"=1+1; \x1b[2J"}, {"1", "2"}, {"3", "4"}} {
		s, err := tutor.Start(draw(t, "davit-arm", 7), terms)
		if err != nil {
			t.Fatal(err)
		}
		rec := j.Recorder("heron", "")
		d, err := tutor.Sit(s, rec, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range append([]string{"A"}, answers...) {
			if _, open := d.Asking(); line != "A" && !open {
				continue
			}
			if _, err := d.Answer(line); err != nil {
				t.Fatal(err)
			}
		}
		session = rec.Session()
	}
	return session
}

// Reasons go out and come back in as they were, and every table has them.
func TestReasonsAreExported(t *testing.T) {
	j := memory(t)
	session := asked(t, j)
	var log, again, table, statements bytes.Buffer
	if _, err := journal.ExportJSONL(&log, j.Events(journal.Filter{})); err != nil {
		t.Fatal(err)
	}
	back := memory(t)
	if _, err := back.ImportJSONL(bytes.NewReader(log.Bytes())); err != nil {
		t.Fatal(err)
	}
	if _, err := journal.ExportJSONL(&again, back.Events(journal.Filter{})); err != nil || again.String() != log.String() {
		t.Errorf("%v; came back as\n%s\nwas\n%s", err, again.String(), log.String())
	}
	if s, err := tutor.Resume(draw(t, "davit-arm", 7), eventsOf(t, back, session)); err != nil || !s.Terms().Reasons {
		t.Errorf("%v; the terms came back as %+v", err, s.Terms())
	}

	if _, err := journal.ExportCSV(&table, j.Events(journal.Filter{})); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&table).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	of := func(row []string, name string) string { return row[slices.Index(rows[0], name)] }
	kinds, own := map[string]int{}, false
	for _, row := range rows[1:] {
		kinds[of(row, "kind")+" "+of(row, "verdict")]++
		own = own || of(row, "typed") == `'=1+1; \u001b[2J`
	}
	if kinds["asked "] != 4 || kinds["reasoned right"] == 0 || kinds["reasoned wrong"] == 0 || kinds["reasoned "] != 2 || !own {
		t.Errorf("the table has %v, the words as text %v", kinds, own)
	}

	x, err := journal.NewXAPI("")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := x.Export(&statements, j.Events(journal.Filter{})); err != nil {
		t.Fatal(err)
	}
	var list []struct {
		Verb   struct{ ID string }
		Object struct{ ID string }
		Result struct {
			Success  *bool
			Response string
		}
		Context struct{ Extensions map[string]any }
	}
	if err := json.Unmarshal(statements.Bytes(), &list); err != nil {
		t.Fatal(err)
	}
	said := map[string]int{}
	for _, s := range list {
		if kind := s.Context.Extensions["https://steelyard.invalid/xapi/kind"]; kind != "asked" && kind != "reasoned" {
			continue
		}
		verb := s.Verb.ID[strings.LastIndex(s.Verb.ID, "/")+1:]
		if !strings.HasSuffix(s.Object.ID, "/line/reason/arm/pivot-drops") {
			t.Errorf("a reason is about %s", s.Object.ID)
		}
		switch {
		case s.Result.Success == nil:
			said[verb]++
		case *s.Result.Success:
			said[verb+", right"]++
		default:
			said[verb+", wrong"]++
		}
		offered, _ := s.Context.Extensions["https://steelyard.invalid/xapi/offered"].(string)
		if verb == "interacted" && len(strings.Fields(offered)) != 4 {
			t.Errorf("what was offered is %q", offered)
		}
	}
	if said["interacted"] != 4 || said["responded"] != 2 || said["answered, right"] != kinds["reasoned right"] || said["answered, wrong"] != kinds["reasoned wrong"] {
		t.Errorf("the statements are %v", said)
	}
}

// Reasons earn no points and cost none.
func TestReasonsAreNotMarked(t *testing.T) {
	j := memory(t)
	session := asked(t, j)
	var without []tutor.Event
	events := eventsOf(t, j, session)
	for _, e := range events {
		if e.Kind != tutor.Asked && e.Kind != tutor.Reasoned {
			without = append(without, e)
		}
	}
	p := draw(t, "davit-arm", 7)
	with, err := journal.MarkSession(p, events)
	if err != nil {
		t.Fatal(err)
	}
	if m, err := journal.MarkSession(p, without); err != nil || m != with || len(without) == len(events) || with.Changed > 0 {
		t.Errorf("%v; with reasons %+v, without %+v", err, with, m)
	}
}

package journal

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"steelyard/tutor"
)

// columns are those of the table of events, in the order of the exported line.
// The names are quoted wherever they are used: "set" is a word of SQL.
//
// at is text of fixed width, so that it sorts as time. seed is text, because
// it takes all of 64 bits and no portable integer column does. slip is a JSON
// array. What an event leaves out is empty or 0, never NULL, as in [tutor.Event].
var columns = []struct{ name, typ string }{
	{"v", "INTEGER"},
	{"id", "TEXT"},
	{"at", "TEXT"},
	{"learner", "TEXT"},
	{"cohort", "TEXT"},
	{"session", "TEXT"},
	{"set", "TEXT"},
	{"problem", "TEXT"},
	{"seed", "TEXT"},
	{"given", "TEXT"},
	{"scenario_hash", "TEXT"},
	{"mode", "TEXT"},
	{"kind", "TEXT"},
	{"step", "TEXT"},
	{"body", "TEXT"},
	{"cell", "TEXT"},
	{"pivot", "TEXT"},
	{"positive", "TEXT"},
	{"typed", "TEXT"},
	{"verdict", "TEXT"},
	{"slip", "TEXT"},
	{"try", "INTEGER"},
	{"hint_depth", "INTEGER"},
	{"seconds", "DOUBLE PRECISION"},
}

var (
	idColumn   = columnNamed("id")
	slipColumn = columnNamed("slip")
)

func columnNamed(name string) int {
	for i, c := range columns {
		if c.name == name {
			return i
		}
	}
	panic("journal: no column " + name)
}

// writeNothing is refused where the file can only be read; beginning a
// transaction is not.
func writeNothing(tx *sql.Tx) error {
	_, err := tx.Exec(`DELETE FROM events WHERE "id" = ''`)
	return err
}

var (
	insertSQL  = insertStatement()
	columnList = quotedColumns()
)

const lastIDSQL = `SELECT MAX("id") FROM events WHERE "session" = $1`

func insertStatement() string {
	var marks []string
	for i := range columns {
		marks = append(marks, "$"+strconv.Itoa(i+1))
	}
	return "INSERT INTO events (" + quotedColumns() + ") VALUES (" + strings.Join(marks, ", ") + `) ON CONFLICT ("id") DO NOTHING`
}

func quotedColumns() string {
	var names []string
	for _, c := range columns {
		names = append(names, strconv.Quote(c.name))
	}
	return strings.Join(names, ", ")
}

// stampLayout writes a time so that text order is time order, to the
// nanosecond.
const stampLayout = "2006-01-02T15:04:05.000000000Z"

func stamp(t time.Time) string { return t.UTC().Format(stampLayout) }

// values are those of e in the order of columns.
func values(e *tutor.Event) []any {
	slip := "[]"
	if len(e.Slip) > 0 {
		b, _ := json.Marshal(e.Slip) // strings always marshal
		slip = string(b)
	}
	return []any{
		e.V, e.ID, stamp(e.At), e.Learner, e.Cohort, e.Session, e.Set, e.Problem,
		strconv.FormatUint(e.Seed, 10), e.Given, e.ScenarioHash, e.Mode, string(e.Kind),
		e.Step, e.Body, e.Cell, e.Pivot, e.Positive, e.Typed, e.Verdict, slip,
		e.Try, e.HintDepth, e.Seconds,
	}
}

// insert adds e, and says false when its id was there already.
func insert(stmt *sql.Stmt, e *tutor.Event) (added bool, err error) {
	result, err := stmt.Exec(values(e)...)
	if err != nil {
		return false, err
	}
	n, err := result.RowsAffected()
	return n > 0, err
}

// A scanner reads rows of columns into events.
type scanner struct{ row, into []any }

func newScanner() *scanner {
	s := &scanner{row: make([]any, len(columns)), into: make([]any, len(columns))}
	for i := range s.row {
		s.into[i] = &s.row[i]
	}
	return s
}

// event reads one row. When a field cannot be read, as after
// the file was changed by hand, the fields before it are returned with the
// error, and the id always.
func (s *scanner) event(scan func(...any) error) (tutor.Event, error) {
	var e tutor.Event
	var at, seed, slip, kind string
	fields := []any{
		&e.V, &e.ID, &at, &e.Learner, &e.Cohort, &e.Session, &e.Set, &e.Problem,
		&seed, &e.Given, &e.ScenarioHash, &e.Mode, &kind,
		&e.Step, &e.Body, &e.Cell, &e.Pivot, &e.Positive, &e.Typed, &e.Verdict, &slip,
		&e.Try, &e.HintDepth, &e.Seconds,
	}
	if err := scan(s.into...); err != nil {
		return e, err
	}
	e.ID, _ = s.row[idColumn].(string)
	for i, field := range fields {
		if !assign(field, s.row[i]) {
			return e, fmt.Errorf("its %s cannot be read", columns[i].name)
		}
	}
	e.Kind = tutor.Kind(kind)
	var err error
	if e.At, err = time.Parse(stampLayout, at); err != nil {
		return e, fmt.Errorf("its time %s cannot be read", quote(at))
	}
	if e.Seed, err = strconv.ParseUint(seed, 10, 64); err != nil {
		return e, fmt.Errorf("its seed %s cannot be read", quote(seed))
	}
	if slip != "[]" {
		if err := json.Unmarshal([]byte(slip), &e.Slip); err != nil {
			return e, fmt.Errorf("its slips %s cannot be read", quote(slip))
		}
	}
	return e, nil
}

// assign puts a column's value into a field of its type, and says false when
// it is of another.
func assign(field, value any) bool {
	switch v := value.(type) {
	case string:
		if f, ok := field.(*string); ok {
			*f = v
			return true
		}
	case int64:
		if f, ok := field.(*int); ok {
			*f = int(v)
			return int64(*f) == v
		}
	case float64:
		if f, ok := field.(*float64); ok {
			*f = v
			return true
		}
	}
	return false
}

package journal

import (
	"database/sql"
	"time"
)

// layouts are the steps that bring a journal from each version to the next:
// layouts[0] makes version 1 of nothing. A step, once released, never changes,
// for there are files that it made.
var layouts = []string{
	`
CREATE TABLE events (
	"v" INTEGER NOT NULL,
	"id" TEXT NOT NULL,
	"at" TEXT NOT NULL,
	"learner" TEXT NOT NULL,
	"cohort" TEXT NOT NULL,
	"session" TEXT NOT NULL,
	"set" TEXT NOT NULL,
	"problem" TEXT NOT NULL,
	"seed" TEXT NOT NULL,
	"given" TEXT NOT NULL,
	"scenario_hash" TEXT NOT NULL,
	"mode" TEXT NOT NULL,
	"kind" TEXT NOT NULL,
	"step" TEXT NOT NULL,
	"body" TEXT NOT NULL,
	"cell" TEXT NOT NULL,
	"pivot" TEXT NOT NULL,
	"positive" TEXT NOT NULL,
	"typed" TEXT NOT NULL,
	"verdict" TEXT NOT NULL,
	"slip" TEXT NOT NULL,
	"try" INTEGER NOT NULL,
	"hint_depth" INTEGER NOT NULL,
	"seconds" DOUBLE PRECISION NOT NULL,
	PRIMARY KEY ("id")
);
CREATE INDEX events_by_session ON events ("session", "id");
CREATE INDEX events_by_learner ON events ("learner", "id", "session", "kind");
` + guards,

	// 2: which layouts the journal has had, and since when. The version that
	// SQLite keeps in a file's header has no counterpart in other databases. A
	// header that was spoilt may tell of an older layout than there is.
	`
CREATE TABLE IF NOT EXISTS layouts (
	"version" INTEGER NOT NULL,
	"at" TEXT NOT NULL,
	PRIMARY KEY ("version")
);
`,
}

// bringUpToDate runs the steps that the journal has not had, in the transaction
// given: all of them or none. The version is read again here, under the write
// lock: another program may have just done it.
func bringUpToDate(tx *sql.Tx) error {
	id, err := identify(tx)
	if err != nil {
		return err
	}
	if id.version >= len(layouts) {
		return nil
	}
	for _, step := range layouts[id.version:] {
		if _, err := tx.Exec(step); err != nil {
			return err
		}
	}
	for version := id.version + 1; version <= len(layouts); version++ {
		_, err := tx.Exec(`INSERT INTO layouts ("version", "at") VALUES ($1, $2) ON CONFLICT ("version") DO NOTHING`, version, stamp(time.Now()))
		if err != nil {
			return err
		}
	}
	return sign(tx, len(layouts))
}

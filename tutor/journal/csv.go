package journal

import (
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"strconv"
	"strings"

	"steelyard/tutor"
)

// ExportCSV writes the events of seq as a table for a spreadsheet, with a
// header row of the names in the exported line, and says how many. Slips are
// separated by a space.
//
// No cell is a formula: one that begins as a formula does is given an
// apostrophe in front, which spreadsheets take for "this is text". So is what
// follows a semicolon in a cell, where some spreadsheets begin a cell whatever
// the commas say. Controls and other characters that act or hide are written
// as escapes. The JSON Lines are the exact record; the table is to be looked
// at.
//
// Errors in seq are treated as by [ExportJSONL].
func ExportCSV(w io.Writer, seq iter.Seq2[tutor.Event, error]) (int, error) {
	out := csv.NewWriter(w)
	record := make([]string, len(columns))
	for i, c := range columns {
		record[i] = c.name
	}
	if err := out.Write(record); err != nil {
		return 0, fmt.Errorf("the header of the table could not be written: %w", err)
	}
	n, err := export(seq, func(e *tutor.Event) error {
		for i, v := range values(e) {
			record[i] = cell(v)
		}
		record[slipColumn] = text(strings.Join(e.Slip, " "))
		return out.Write(record)
	})
	out.Flush()
	if flushErr := out.Error(); flushErr != nil {
		return n, fmt.Errorf("the table could not be written to its end: %w", flushErr)
	}
	return n, err
}

// cell writes a column's value as the text of a cell.
func cell(value any) string {
	switch v := value.(type) {
	case int:
		return strconv.Itoa(v)
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case string:
		return text(v)
	}
	panic(fmt.Sprintf("journal: a column of type %T", value))
}

// text makes s safe as a cell.
func text(s string) string {
	var b strings.Builder
	begins := true // a cell begins here, in this spreadsheet or another
	for i, r := range s {
		if begins && active(s[i:]) {
			b.WriteByte('\'')
		}
		begins = r == ';'
		switch {
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\uFFFD' || !risky(r):
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&b, `\U%08x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// active says whether a spreadsheet may take a cell that begins with s for a
// formula or a command. The wide forms are those of East Asian keyboards.
// Spaces and quotes in front are stripped by some.
func active(s string) bool {
	if s != "" && strings.ContainsRune("\t\r\n", rune(s[0])) {
		return true
	}
	s = strings.TrimLeft(s, "\" \u00a0\u3000\t\r\n")
	for _, r := range s {
		return strings.ContainsRune("=+-@＝＋－＠", r)
	}
	return false
}

package main

import (
	"strings"
	"testing"
	"time"
)

// Short work shows nothing; long work shows how it goes on, and what was shown
// is taken away before anything else is said.
func TestProgress(t *testing.T) {
	var none *progress
	none.begin("Reading", 5) // where there is no terminal
	none.add(1)
	none.end()

	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	pass := func(d time.Duration) { now = now.Add(d) }
	var out strings.Builder
	p := newProgress(&out, func() time.Time { return now })
	p.begin("Reading", 200)
	for range 4 {
		pass(patience / 5)
		p.add(10)
	}
	if p.end(); out.Len() > 0 {
		t.Errorf("work that is done in a moment shows %q", out.String())
	}
	pass(patience)
	p.add(10)
	p.add(10) // at once: not drawn again
	if got := out.String(); got != "\rReading  [#######.......................]  25 %" {
		t.Errorf("shown is %q", got)
	}
	out.Reset()
	p.end()
	p.end()
	if got := out.String(); strings.Trim(got, "\r ") != "" || strings.Count(got, "\r") != 2 || len(got) < len("Reading  [..............................]  25 %")+2 {
		t.Errorf("taken away with %q", got)
	}
	out.Reset()
	p.begin("Writing", 0) // of a number that is not known
	pass(often * 2)
	p.add(1)
	if !strings.HasPrefix(out.String(), "\rWriting  [....") {
		t.Errorf("shown is %q", out.String())
	}
	out.Reset()
	p.begin("Writing", 10)
	pass(often * 2)
	p.add(25) // more than was said
	if !strings.HasSuffix(out.String(), "#] 100 %") {
		t.Errorf("shown is %q", out.String())
	}
}

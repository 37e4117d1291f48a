package main

import (
	"testing"
	"time"
)

func TestAgo(t *testing.T) {
	now := time.Date(2026, 3, 2, 9, 30, 0, 0, time.Local)
	for _, c := range []struct {
		then time.Time
		want string
	}{
		{now.Add(-30 * time.Second), "just now"},
		{now.Add(time.Hour), "just now"}, // a clock that was ahead
		{now.Add(-3 * time.Hour), "today, 06:30"},
		{now.Add(-10 * time.Hour), "yesterday, 23:30"},
		{now.AddDate(0, 0, -2), "28 February"},
		{now.AddDate(-1, 0, 0), "2 March 2025"},
	} {
		if got := ago(now, c.then.UTC()); got != c.want {
			t.Errorf("%v before %v is %q, want %q", c.then, now, got, c.want)
		}
	}
}

package set_test

import (
	"strings"
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/tutor/set"
)

// A set asks for reasons if it says so, in the terms of its problems, and an
// exam may not.
func TestSetAsksForReasons(t *testing.T) {
	one := "[[problems]]\nid = \"davit-arm\"\nseed = 7\n"
	for head, want := range map[string]bool{
		"title = \"Lab\"\n":                                        false,
		"title = \"Lab\"\nreasons = false\n":                       false,
		"title = \"Lab\"\nreasons = true\n":                        true,
		"title = \"Lab\"\nreasons = true\nmode = \"practice\"\n":   true,
		"title = \"Mid-term\"\nmode = \"exam\"\nreasons = false\n": false,
	} {
		s := read(t, head+one)
		if got := s.Terms(time.Now(), 0).Reasons; got != want || s.Reasons != want {
			t.Errorf("%q asks for reasons: %v", head, got)
		}
	}
	for text, want := range map[string]string{
		"title = \"Lab\"\nreasons = \"often\"\n":             `set.toml:2:11: reasons is to be true or false, not "often"`,
		"title = \"Lab\"\nmode = \"exam\"\nreasons = true\n": `set.toml:3:11: an exam asks for no reasons; take this out, or make it a practice`,
		"title = \"Lab\"\nreason = true\n":                   `keys are title, mode, order, hints, tolerance, limit, opens, closes, worked, reasons, problems`,
	} {
		if _, err := set.Read("set.toml", []byte(text+one), problems.Builtin()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

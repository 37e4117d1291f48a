package review

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// bankWith is a bank of one scenario of the built-in one under another id, with
// more at the end of its file.
func bankWith(t *testing.T, of, id, more string) *problems.Bank {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "problems", "bank", of+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	text := strings.Replace(string(data), `id = "`+of+`"`, `id = "`+id+`"`, 1) + "\n" + more
	if err := os.WriteFile(filepath.Join(dir, id+".toml"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	bank, err := problems.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(bank.Faults) > 0 {
		t.Fatalf("%v\n%s", bank.Faults, more)
	}
	return bank
}

// wrote types lines at a problem of a bank, in a mode.
func wrote(t *testing.T, bank *problems.Bank, learner, id, mode string, clockwise bool, lines ...string) string {
	t.Helper()
	sc, err := bank.Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, 7)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.Start(p, tutor.TermsOf(mode))
	if err != nil {
		t.Fatal(err)
	}
	n := &notes{learner: learner, session: uuid.Must(uuid.NewV7()).String(), now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	d, err := tutor.Sit(s, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	if clockwise {
		d.Choose(tutor.StepPositive, "cw")
	}
	say(t, d, lines...)
	return jsonl(t, n.events...)
}

func reviewedWith(t *testing.T, bank *problems.Bank, log string) *Report {
	t.Helper()
	r := NewReader(bank)
	if err := r.Read(context.Background(), "log", strings.NewReader(log)); err != nil {
		t.Fatal(err)
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// A group of wrong answers is offered as a slip, which is put at the end of the
// scenario's file as it stands; from then on it is named, in the logs that it
// was found in as well, and they are not called altered for that.
func TestOfferBecomesASlip(t *testing.T) {
	before := bankWith(t, "davit-arm", "old-davit", "")
	listed := []string{"A", "T at B toward C", "W at G down", "W_c at B down", "H at A right", "V at A up", "done"}
	entries := append(slices.Clone(listed), "-T cos(alpha)", "T sin(alpha)", "T L sin(alpha)", "0", "-W")
	log := wrote(t, before, "tern", "old-davit", tutor.Guided, false, append(slices.Clone(entries), "-W L/3", "-M*g*L/3", "-W L/2")...) +
		wrote(t, before, "knot", "old-davit", tutor.Guided, true, append(append(slices.Clone(listed), "-T cos(alpha)", "T sin(alpha)", "-T L sin(alpha)", "0", "-W"), "(1/3) M g L", "W L/2")...) +
		wrote(t, before, "crake", "old-davit", tutor.Guided, false, append(slices.Clone(listed), "H = 5 T cos(alpha)")...) +
		wrote(t, before, "rail", "old-davit", tutor.Guided, false, append(slices.Clone(listed), "2 H/5 - 2 T cos(alpha) = 0")...) +
		wrote(t, before, "dunlin", "old-davit", tutor.Practice, false, append(slices.Clone(entries), "-W L/3", "check")...)
	rep := reviewedWith(t, before, log)
	if len(rep.Altered) > 0 || len(rep.Unpredicted) < 2 {
		t.Fatalf("altered %+v, groups %+v", rep.Altered, rep.Unpredicted)
	}
	var pasted strings.Builder
	offered := map[string]Group{}
	for _, g := range rep.Unpredicted {
		if g.Learners > 1 && g.Offer == "" {
			t.Errorf("no offer: %+v", g)
		}
		if g.Offer != "" {
			pasted.WriteString("\n" + g.Offer)
			offered[g.Meaning] = g
		}
		for line := range strings.Lines(g.Offer) {
			if len([]rune(line)) > wideOffer+3 {
				t.Errorf("wide: %q", line)
			}
		}
	}
	var text bytes.Buffer
	if err := WriteText(&text, rep, Look{Plain: true, Width: 60}); err != nil || !strings.Contains(text.String(), "      [[slips]]\n") {
		t.Errorf("%v: %s", err, text.String())
	}

	after := bankWith(t, "davit-arm", "old-davit", pasted.String())
	sc, err := after.Scenario("old-davit")
	if err != nil {
		t.Fatal(err)
	}
	if len(sc.Slips) != len(offered) {
		t.Fatalf("%d slips of %d offered", len(sc.Slips), len(offered))
	}
	again := reviewedWith(t, after, log)
	if len(again.Altered) > 0 || again.Regraded != rep.Regraded {
		t.Errorf("altered: %+v", again.Altered)
	}
	for _, g := range again.Unpredicted {
		if _, was := offered[g.Meaning]; was || g.Learners > 1 {
			t.Errorf("still unnamed: %+v", g)
		}
	}
	named := 0
	for _, s := range again.Slips {
		if own, ok := sc.OwnSlip(s.Code); ok {
			named++
			if s.Recall != own.Message || s.Attempts == 0 {
				t.Errorf("%+v", s)
			}
		}
	}
	if named != len(offered) {
		t.Errorf("%d named of %d: %+v", named, len(offered), again.Slips)
	}

	// And what was edited beside it is still found.
	if rep := reviewedWith(t, after, strings.Replace(log, `"verdict":"right"`, `"verdict":"wrong"`, 1)); len(rep.Altered) != 1 {
		t.Errorf("altered: %+v", rep.Altered)
	}
}

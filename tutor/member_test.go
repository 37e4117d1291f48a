package tutor_test

import (
	"os"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// shores is the step-ladder with its feet pinned and its rope gone, so that the
// right leg is a two-force member.
func shores(t *testing.T) *problems.Scenario {
	t.Helper()
	data, err := os.ReadFile("../problems/testdata/step-ladder.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	cut := func(from, to string) {
		t.Helper()
		i := strings.Index(text, from)
		if i < 0 {
			t.Fatalf("the step-ladder has no %q", from)
		}
		text = text[:i] + text[i+strings.Index(text[i:], to)+len(to):]
	}
	cut("[[joints]]\non = [\"left leg\", \"right leg\"]\nkind = \"cable\"", "[\"T\"]\n")
	cut("[[unknowns]]\nsymbol = \"T\"", "unit = \"N\"\n")
	cut("[[figure]]\ndraw = \"cable\"", "to = \"E\"\n")
	for _, foot := range []string{"A", "B"} {
		text = strings.Replace(text, "kind = \"smooth\"\nat = \""+foot+"\"\nsymbols = [\"N_"+foot+"\"]", "kind = \"pin\"\nat = \""+foot+"\"\nsymbols = [\"H_"+foot+"\", \"N_"+foot+"\"]", 1)
		text = strings.Replace(text, "[[unknowns]]\nsymbol = \"N_"+foot+"\"", "[[unknowns]]\nsymbol = \"H_"+foot+"\"\nmeaning = \"level force at "+foot+"\"\nunit = \"N\"\n\n[[unknowns]]\nsymbol = \"N_"+foot+"\"", 1)
	}
	s, err := problems.Read("shores.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// When the list of forces on a two-force member is done, that it is one is
// said; of another body it is not.
func TestTwoForceMemberIsTold(t *testing.T) {
	d, _ := sitAt(t, shores(t), 3)
	say(t, d, "C", grading.Right)
	say(t, d, "H_A at A right; N_A at A up; W at P down; C_x at C right; C_y at C up", grading.Right)
	if r := say(t, d, "done", grading.Right); r.Note != "" {
		t.Errorf("of a leg with a weight on it is said %q", r.Note)
	}
	if err := d.Turn("right leg"); err != nil {
		t.Fatal(err)
	}
	say(t, d, "C", grading.Right)
	say(t, d, "H_B at B right; N_B at B up; C_x at C left", grading.Right)
	if r := say(t, d, "done", grading.Wrong, "force-missing"); r.Note != "" {
		t.Errorf("of a list that is not right is said %q", r.Note)
	}
	say(t, d, "C_y at C down", grading.Right)
	r := say(t, d, "done", grading.Right)
	const want = "Forces act on the right leg at C and B only: a two-force member. The two are equal, opposite, and along CB."
	if other := strings.NewReplacer("C and B", "B and C", "CB", "BC").Replace(want); r.Note != want && r.Note != other {
		t.Errorf("said %q, want %q", r.Note, want)
	}
	if d.Current().Step != tutor.StepX {
		t.Errorf("asked for %s", d.Current().Step)
	}
}

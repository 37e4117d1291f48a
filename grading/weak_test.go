package grading

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// looked reads a scenario file, with changes, to be looked over.
func looked(t *testing.T, file string, changes ...string) *look {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(changes); i += 2 {
		if !strings.Contains(text, changes[i]) {
			t.Fatalf("%s has no %q", file, changes[i])
		}
		text = strings.Replace(text, changes[i], changes[i+1], 1)
	}
	s, err := problems.Read(file, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return &look{s: s, src: problems.NewSource([]byte(text))}
}

func has(found []Finding, gravity Gravity, code string, words ...string) bool {
	return slices.ContainsFunc(found, func(f Finding) bool {
		return f.Gravity == gravity && f.Code == code &&
			!slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(f.Message, w) })
	})
}

// Nothing is wrong with the built-in bank, and none of its ids is taken by
// another file.
func TestInspectTheBank(t *testing.T) {
	files, err := filepath.Glob("../problems/bank/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	in := NewInspector()
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range in.Inspect(file, data) {
			if f.Gravity == Fault {
				t.Error(f)
			} else {
				t.Log(f)
			}
		}
	}
}

// What keeps a draw from telling slips apart is found if and only if the draw
// is refused.
func TestAlikeIsWhatDiscriminatesRefuses(t *testing.T) {
	for _, s := range problems.Builtin().Scenarios[:min(6, len(problems.Builtin().Scenarios))] {
		l := &look{s: s}
		for p, err := range s.Trials(400) {
			if err == nil && len(l.usable) < 60 {
				l.usable = append(l.usable, p)
			}
		}
		near := make([]bool, len(l.usable))
		for a := range l.alikes() {
			for i, in := range a.in {
				near[i] = near[i] || in
			}
		}
		for i, p := range l.usable {
			if near[i] == Discriminates(p) {
				t.Errorf("%s with %s: discriminates %v, and something is alike: %v", s.ID, p.Varying(), Discriminates(p), near[i])
			}
		}
	}
}

// The given to change is the one that decides whether slips can be told apart,
// and the stretch of its range is where they cannot.
func TestRemedyNamesTheGiven(t *testing.T) {
	l := looked(t, "../problems/bank/davit-arm.toml", "from = 20\nto = 65\nstep = 1", "from = 44\nto = 46\nstep = 0.1")
	found := Weaknesses(l.s, l.src)
	if !has(found, Fault, "draws", "change the range of alpha") && !has(found, Weak, "draws", "\"sine and cosine swapped\" comes within 3 %", "change the range of alpha") {
		t.Errorf("%+v", found)
	}
	for _, f := range found {
		if f.Code == "draws" && f.Line != l.src.At(l.src.Given("alpha")).Line {
			t.Errorf("the place is not the given's: %v", f)
		}
	}
	from, to := worstStretch([]float64{0.1, 0.9, 0.2, 0.8, 0.8, 0.9, 0.1, 0.9}, 0.5)
	if from != 3.0/8 || to != 6.0/8 {
		t.Errorf("from %g to %g", from, to)
	}
}

// Of two runs the findings are the same, in order of place.
func TestFindingsAreInOrder(t *testing.T) {
	l := looked(t, "../problems/testdata/step-ladder.toml")
	a, b := Weaknesses(l.s, l.src), Weaknesses(l.s, l.src)
	if !slices.Equal(a, b) {
		t.Errorf("%v\n%v", a, b)
	}
	for i := 1; i < len(a); i++ {
		if a[i].Line < a[i-1].Line {
			t.Errorf("%v before %v", a[i-1], a[i])
		}
	}
}

// A load right over one of a beam's supports: about the other the arms are
// alike.
func TestTrivialMoments(t *testing.T) {
	l := looked(t, "../problems/testdata/beam-point.toml")
	b := &l.s.Bodies[0]
	for i := range b.Forces {
		if !b.Forces[i].Unknown {
			b.Forces[i].At = "B"
		}
	}
	points, rows := momentRows(b)
	for i := range rows {
		if got, want := trivial(b, rows[i]), points[i].Name == "A"; got != want {
			t.Errorf("about %s: %v, want %v", points[i].Name, got, want)
		}
	}
	if trivial(b, []statics.Cell{{Symbol: "N", Coef: statics.Const(1)}}) {
		t.Error("one entry is trivial")
	}
}

func TestDangerousWords(t *testing.T) {
	for word, want := range map[string]bool{
		"ladder": true, "ladders": true, "hoisted": true, "braking": true, "brakes": true, "towed": true, "lifting": true, "gates": true,
		"tip": false, "plank": false, "jacket": false, "investigate": false, "card": false, "water": true, "": false,
	} {
		if danger(word) != want {
			t.Errorf("%q: %v", word, !want)
		}
	}
}

// Who begins from the template begins with nothing to mend.
func TestTemplateHasNothingWeak(t *testing.T) {
	data, err := problems.Template("quay-gangway")
	if err != nil {
		t.Fatal(err)
	}
	if found := NewInspector().Inspect("quay-gangway.toml", data); len(found) > 0 {
		t.Errorf("%v", found)
	}
}

// An id is taken by the bank, or by a file looked over before; the bank's own
// file is no other.
func TestInspectIDs(t *testing.T) {
	in := NewInspector()
	own, err := os.ReadFile("../problems/bank/davit-arm.toml")
	if err != nil {
		t.Fatal(err)
	}
	if found := in.Inspect("davit-arm.toml", own); has(found, Fault, "id") {
		t.Errorf("%v", found)
	}
	if found := in.Inspect("davit-arm.toml", append(own, "# changed\n"...)); !has(found, Fault, "id", "id \"davit-arm\" is taken by the built-in bank") {
		t.Errorf("%v", found)
	}
	data, _ := problems.Template("oar")
	if found := in.Inspect("a/oar.toml", data); len(found) > 0 {
		t.Errorf("%v", found)
	}
	if found := in.Inspect("b/oar.toml", data); !has(found, Fault, "id", "is taken by a/oar.toml") {
		t.Errorf("%v", found)
	}
	if found := in.Inspect("other.toml", bytesOf("oar-2")); !has(found, Weak, "id", "name it oar-2.toml") {
		t.Errorf("%v", found)
	}
	if found := in.Inspect("-", bytesOf("oar-3")); len(found) > 0 {
		t.Errorf("%v", found)
	}
}

func bytesOf(id string) []byte {
	data, err := problems.Template(id)
	if err != nil {
		panic(err)
	}
	return data
}

// Whatever a file holds, it is looked over without a panic, and what is said of
// it prints.
func FuzzInspect(f *testing.F) {
	files, _ := filepath.Glob("../problems/testdata/*.toml")
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, found := range NewInspector().Inspect("-", data) {
			if text := found.String(); notation.Printable(text) != text || found.Line < 0 || found.Message == "" {
				t.Errorf("%q", text)
			}
		}
	})
}

func BenchmarkInspect(b *testing.B) {
	data := bytesOf("oar")
	for range b.N {
		NewInspector().Inspect("oar.toml", data)
	}
}

package plain

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

type memory struct{ n int }

func (m *memory) Record(*tutor.Event) error { m.n++; return nil }

// bank is the built-in one with the step-ladder, a problem of several bodies.
func bank() *problems.Bank {
	path := filepath.Join("..", "..", "problems", "testdata", "step-ladder.toml")
	data, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	s, err := problems.Read(path, data)
	if err != nil {
		panic(err)
	}
	return &problems.Bank{Scenarios: append(slices.Clone(problems.Builtin().Scenarios), s)}
}

func house() tutor.House {
	bank := bank()
	return tutor.House{
		Bank: bank,
		Begin: func(id string, seed uint64) (*tutor.Desk, error) {
			sc, err := bank.Scenario(id)
			if err != nil {
				return nil, err
			}
			p, err := grading.Draw(sc, seed)
			if err != nil {
				return nil, err
			}
			s, err := tutor.New(p, tutor.Guided)
			if err != nil {
				return nil, err
			}
			return tutor.Sit(s, &memory{}, nil)
		},
		Resume:     func(string) (*tutor.Desk, error) { return nil, fmt.Errorf("nothing was left") },
		Unfinished: func() ([]tutor.Unfinished, error) { return nil, nil },
		NewSeed:    func() uint64 { return 7 },
	}
}

func converse(t *testing.T, ascii bool, lines ...string) string {
	t.Helper()
	var out bytes.Buffer
	if err := Run(Options{House: house(), ASCII: ascii}, strings.NewReader(strings.Join(lines, "\n")+"\n"), &out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// Every word of the vocabulary is told by help, and does something.
func TestVocabulary(t *testing.T) {
	said := converse(t, false, "davit-arm", "help")
	for _, w := range vocabulary {
		if !strings.Contains(said, "\n"+strings.TrimSpace(w.name+" "+w.takes)+": ") {
			t.Errorf("help does not tell %q", w.name)
		}
	}
	for _, c := range []struct{ typed, want string }{
		{"figure", "arm"},
		{"ledger", "No forces are listed yet."},
		{"statement", "Given L = 3 m: length of the arm."},
		{"hint", "Hint. Which point do the most unknown forces pass through?"},
		{"undo", "There is nothing to take back."},
		{"go moment Q", "There is no line \"moment Q\". Open lines: pivot, forces, "},
		{"go value T", "Value of T (tension in the stay), with its unit:"},
		{"next", "List the forces on the arm"},
		{"positive sideways", "Not done: positive is clockwise or anticlockwise."},
		{"positive clockwise", "Choose a pivot"},
		{"axes 400", "Not done: the tilt of the x axis is an angle, like 20, alpha or 180 - alpha, not \"400\"."},
		{"pivot B", "Reads as: moments about B (tip)."},
		{"", "Nothing was typed"},
	} {
		said := converse(t, false, "davit-arm", c.typed)
		_, after, _ := strings.Cut(said, "\n> ")
		if !strings.Contains(after, c.want) {
			t.Errorf("%q says\n%s\nwant %q", c.typed, after, c.want)
		}
	}
}

// A large bank is told by family; words find problems, numbers choose among
// those told last, and what was done before is said.
func TestChooseByFamily(t *testing.T) {
	said := converse(t, false, "no such thing", "ladders level 3", "2", "quit")
	if strings.Contains(said, "1. ") && strings.Index(said, "1. ") < strings.Index(said, "Which problem?") {
		t.Errorf("problems are told one by one before they are asked for:\n%s", said)
	}
	for _, want := range []string{"ladders: ", " problems, levels ", "There are ", "Nothing found. Say a number", "1. ", ", of the family ladders, level 3.", "Choose a pivot"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
	var out bytes.Buffer
	h := house()
	h.Bank = &problems.Bank{Scenarios: h.Bank.Scenarios[:2]}
	first := h.Bank.Scenarios[0].ID
	h.Done = func() (map[string]int, error) { return map[string]int{first: 3}, nil }
	if err := Run(Options{House: h}, strings.NewReader("quit\n"), &out); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "Its name is "+first+". Done 3 times.") {
		t.Errorf("a small bank is told\n%s", out.String())
	}
}

func TestASCIIOnly(t *testing.T) {
	said := converse(t, true, "hull-ladder", "A", "Nw at B left; N at A up; f at A right; W at G down; mg at D down", "done",
		"-N_w", "0", "N_w L sin(alpha)", "ledger", "figure", "statement", "hint", "hint", "hint", "½ é λ")
	for i, r := range said {
		if r >= 0x80 {
			t.Fatalf("%U in %q", r, said[max(0, i-40):i+4])
		}
	}
}

// Nothing typed, of any kind, panics, or reaches the terminal raw.
func FuzzTalk(f *testing.F) {
	f.Add("davit-arm\nA\nT at B toward C\nW at G down\ndone\nhint\nhint\nhint\nquit")
	f.Add("1\n\x1b]0;x\x07\npivot \u202e\nT = 3 kN\ngo value T\n3.1 kN\nundo\npositive cw\naxes 30\nnext\nledger\nfigure")
	f.Add("step-ladder\nbodies\nC\nbody right leg\nB\nbody mast\nnext\nundo\ngo forces\nledger\nfigure\nhint\nhint\nhint\nquit")
	f.Add("speak\ntour\ndrum-kerb\nlines\nread P (R - h)\nsymbols\nnotation\nspeak\nlist\nspeak\n1\nA\nfigure\nhint\nquit")
	f.Add("drum-kerb\npivot E\nP (R - h) = M g a\nhint\nV = M g\n1\nB\nanother\nchoose\nquit")
	f.Fuzz(func(t *testing.T, lines string) {
		if len(lines) > 1<<14 {
			return
		}
		for _, r := range converse(t, false, lines) {
			if r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
				t.Fatalf("%U reached the terminal", r)
			}
		}
	})
}

package review

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

const reference = "../../testdata/review"

// expected is what the outside reference makes of the data beside it.
type expected struct {
	Wilson []struct{ Low, High float64 }
	Scores []struct {
		Alpha float64
		KR20  *float64
		Rest  []float64
	}
	Curves []struct {
		PowerLaw
		Band []Band
	}
}

func read[T any](t *testing.T, name string) (v T) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(reference, name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// agrees is how near a statistic must come to the reference, relative to
// values of the size of 1.
const agrees = 1e-9

func near(t *testing.T, what string, i int, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= agrees*max(1, math.Abs(want))) {
		t.Errorf("%s %d is %.15g, the reference has %.15g", what, i, got, want)
	}
}

func TestStatisticsAgreeWithReference(t *testing.T) {
	data := read[struct {
		Wilson []struct{ Count, N int }
		Scores [][][]float64
		Curves []struct{ Opportunity, Errors, N []float64 }
	}](t, "statistics.json")
	want := read[expected](t, "statistics-expected.json")
	if len(want.Wilson) != len(data.Wilson) || len(want.Scores) != len(data.Scores) || len(want.Curves) != len(data.Curves) || len(data.Curves) == 0 {
		t.Fatal("the stored reference is not of this data; make it again with statistics.py")
	}
	for i, c := range data.Wilson {
		got := Wilson(c.Count, c.N)
		near(t, "Wilson's lower end", i, got.Low, want.Wilson[i].Low)
		near(t, "Wilson's upper end", i, got.High, want.Wilson[i].High)
	}
	for i, rows := range data.Scores {
		a, ok := alpha(rows)
		if !ok {
			t.Fatalf("no alpha of scores %d", i)
		}
		near(t, "alpha", i, a, want.Scores[i].Alpha)
		if kr := want.Scores[i].KR20; kr != nil {
			near(t, "KR-20", i, a, *kr)
		}
		for k, r := range want.Scores[i].Rest {
			got, ok := itemRest(rows, k)
			if !ok {
				t.Fatalf("no discrimination of item %d of scores %d", k, i)
			}
			near(t, "discrimination", k, got, r)
		}
	}
	for i, c := range data.Curves {
		got, band, ok := powerLaw(c.Opportunity, c.Errors, c.N)
		if !ok {
			t.Fatalf("no fit of curve %d", i)
		}
		w := want.Curves[i]
		for k, pair := range [][2]float64{{got.A, w.A}, {got.ALow, w.ALow}, {got.AHigh, w.AHigh}, {got.B, w.B}, {got.BLow, w.BLow}, {got.BHigh, w.BHigh}, {got.Dispersion, w.Dispersion}} {
			near(t, "fit", 10*i+k, pair[0], pair[1])
		}
		if len(w.Band) != len(c.Opportunity)+1 {
			t.Fatalf("the reference has a band of %d points for curve %d", len(w.Band), i)
		}
		for k, at := range append(slices.Clone(c.Opportunity), 2.5*c.Opportunity[len(c.Opportunity)-1]) { // and beyond the range
			b := band(at)
			near(t, "fitted share", 100*i+k, b.Rate, w.Band[k].Rate)
			near(t, "the band's lower end", 100*i+k, b.Low, w.Band[k].Low)
			near(t, "the band's upper end", 100*i+k, b.High, w.Band[k].High)
		}
	}
	if want.Curves[3].Dispersion <= 1 {
		t.Error("no curve of the reference is spread more than chance does; the dispersion is not tried")
	}
}

// The stored output is what the script writes now, with the libraries at hand.
func TestStoredReferenceIsTheScripts(t *testing.T) {
	python := "/usr/bin/python3" // Debian's, where its packages are
	if _, err := os.Stat(python); err != nil {
		python = "python3"
	}
	if out, err := exec.Command(python, "-c", "import numpy, scipy, statsmodels.api").CombinedOutput(); err != nil {
		t.Skipf("no Python with numpy, scipy and statsmodels (Debian: python3-scipy, python3-statsmodels): %v %s", err, bytes.TrimSpace(out[max(0, len(out)-80):]))
	}
	out, err := exec.Command(python, filepath.Join(reference, "statistics.py")).Output()
	if err != nil {
		t.Fatal(err)
	}
	var now expected
	if err := json.Unmarshal(out, &now); err != nil {
		t.Fatal(err)
	}
	stored := read[expected](t, "statistics-expected.json")
	for i := range stored.Wilson {
		near(t, "Wilson's lower end", i, now.Wilson[i].Low, stored.Wilson[i].Low)
	}
	for i := range stored.Scores {
		near(t, "alpha", i, now.Scores[i].Alpha, stored.Scores[i].Alpha)
		for k := range stored.Scores[i].Rest {
			near(t, "discrimination", k, now.Scores[i].Rest[k], stored.Scores[i].Rest[k])
		}
	}
	for i := range stored.Curves {
		near(t, "b", i, now.Curves[i].B, stored.Curves[i].B)
		near(t, "b's upper end", i, now.Curves[i].BHigh, stored.Curves[i].BHigh)
		for k := range stored.Curves[i].Band {
			near(t, "the band's upper end", 100*i+k, now.Curves[i].Band[k].High, stored.Curves[i].Band[k].High)
		}
	}
}

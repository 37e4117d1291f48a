package page

import (
	"encoding/json"
	"os"
	"testing"

	"steelyard/tutor/review"
)

func TestPeek(t *testing.T) {
	b, _ := os.ReadFile("/tmp/plotcheck/class.json")
	var rep review.Report
	if err := json.Unmarshal(b, &rep); err != nil {
		t.Fatal(err)
	}
	f, _ := os.Create("/tmp/plotcheck/class.html")
	if err := Write(f, &rep); err != nil {
		t.Fatal(err)
	}
	f.Close()
}

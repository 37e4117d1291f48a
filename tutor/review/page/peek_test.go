package page

import (
	"os"
	"testing"
)

func TestPeek(t *testing.T) {
	os.WriteFile("/tmp/plotcheck/class.html", []byte(written(t, class(t))), 0o644)
	os.WriteFile("/tmp/plotcheck/small.html", []byte(written(t, small(t))), 0o644)
}

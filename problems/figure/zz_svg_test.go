package figure

import (
	"os"
	"testing"
)

func TestDump(t *testing.T) {
	for _, s := range figures(t) {
		p := drawProblem(t, s, 3)
		v := everything(s)
		if os.Getenv("BARE") != "" {
			v.Forces, v.Pivot = nil, ""
		}
		os.WriteFile("/tmp/svg/"+s.ID+".svg", []byte(Build(p, v).SVG(560, 360)), 0o644)
	}
}

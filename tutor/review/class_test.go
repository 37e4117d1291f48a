package review

import (
	"bytes"
	"context"
	"strings"
	"sync"
	"testing"

	"steelyard/problems"
	simulated "steelyard/tutor/class"
)

// aClass is an invented class and its log, made once for all tests.
var aClass = sync.OnceValues(func() (*simulated.Class, []byte) {
	var b bytes.Buffer
	c, err := simulated.Write(&b, 3, 40)
	if err != nil {
		panic(err)
	}
	return c, b.Bytes()
})

func reviewed(t testing.TB, logs ...string) *Report {
	t.Helper()
	r := NewReader(problems.Builtin())
	for _, log := range logs {
		if err := r.Read(context.Background(), "log", strings.NewReader(log)); err != nil {
			t.Fatal(err)
		}
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

func TestClassIsRegraded(t *testing.T) {
	_, log := aClass()
	rep := reviewed(t, string(log))
	if len(rep.Altered) > 0 || rep.Regraded != rep.Answers || rep.Regraded == 0 || len(rep.Damaged) > 0 || len(rep.NotInBank) > 0 {
		t.Errorf("%d of %d lines regraded; altered: %+v; damaged: %+v; not in bank: %+v", rep.Regraded, rep.Answers, rep.Altered, rep.Damaged, rep.NotInBank)
	}
}

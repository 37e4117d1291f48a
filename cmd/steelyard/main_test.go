package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"steelyard": main})
}

// Each story is a file: what is run, what it prints, what it leaves behind.
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/stories",
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_DATA_HOME", e.WorkDir+"/data")
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
	})
}

package screen

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"steelyard/tutor"
)

// waiting is a terminal on which nothing more is typed.
type waiting struct {
	typed io.Reader
	end   chan struct{}
}

func (w *waiting) Read(p []byte) (int, error) {
	if n, err := w.typed.Read(p); n > 0 || err != io.EOF {
		return n, err
	}
	<-w.end
	return 0, io.EOF
}

// door is a recorder that may not record a leaving, and that says when a line
// has been answered.
type door struct {
	memory
	shut     error
	answered func()
}

func (d *door) Record(e *tutor.Event) error {
	if e.Kind == tutor.Left && d.shut != nil {
		return d.shut
	}
	if e.Kind == tutor.Answered {
		defer d.answered()
	}
	return d.memory.Record(e)
}

// Whichever way the screen ends, that the learner left is recorded.
func TestRunRecordsLeaving(t *testing.T) {
	full := errors.New("disk full")
	for _, c := range []struct {
		name, typed string
		shut        error
	}{
		{"the quit key", "A\r\x11", nil},
		{"ctrl+c", "A\r\x03", nil},
		{"the terminal gone", "A\r", nil},
		{"the terminal gone and the disk full", "A\r", full},
	} {
		t.Run(c.name, func(t *testing.T) {
			ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
			defer cancel()
			rec := &door{shut: c.shut, answered: func() {}}
			if c.typed == "A\r" {
				rec.answered = cancel
			}
			s := &stand{tb: t, rec: &rec.memory}
			o := s.options()
			o.Open = sit(t, "davit-arm", 7, rec)
			in := &waiting{strings.NewReader(c.typed), make(chan struct{})}
			defer close(in.end)
			var out bytes.Buffer
			err := Run(ctx, func() (Options, error) { return o, nil }, in, &out)
			if !errors.Is(err, c.shut) {
				t.Errorf("the error is %v, want %v", err, c.shut)
			}
			events := rec.events
			if c.shut == nil {
				if last := events[len(events)-1]; last.Kind != tutor.Left {
					t.Errorf("the last event is %s %q, want left", last.Kind, last.Typed)
				}
				events = events[:len(events)-1]
			}
			if last := events[len(events)-1]; last.Typed != "A" {
				t.Errorf("the line before is %q, want A", last.Typed)
			}
			if !strings.Contains(out.String(), "\x1b[?1049l") {
				t.Error("the terminal was not put back as it was")
			}
		})
	}
}

// If there can be no options, nothing is shown, the terminal is put back, and
// the reason is given back.
func TestRunWithoutOptions(t *testing.T) {
	none := errors.New("the folder is a file")
	in := &waiting{strings.NewReader(""), make(chan struct{})}
	defer close(in.end)
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	go func() { // a terminal says how large it is; this one is no terminal
		<-time.After(200 * time.Millisecond)
		cancel()
	}()
	var out bytes.Buffer
	if err := Run(ctx, func() (Options, error) { return Options{}, none }, in, &out); !errors.Is(err, none) {
		t.Errorf("the error is %v, want %v", err, none)
	}
	if strings.Contains(out.String(), "Steelyard") || !strings.Contains(out.String(), "\x1b[?1049l") {
		t.Errorf("shown: %q", out.String())
	}
}

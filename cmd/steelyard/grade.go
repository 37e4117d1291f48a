package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"

	"github.com/spf13/cobra"

	"steelyard/grading"
)

func (a *app) gradeCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "grade",
		Short: "Grade answers, one JSON object a line, from standard input",
		Long: `Reads one JSON object a line and answers one a line, in order, never stopping
at a bad line. The exit code is 1 if a line was no request that could be met.`,
		Example: `  echo '{"problem":"davit-arm","seed":7,"pivot":"A","step":"moment","force":"T","answer":"T L sin(alpha)"}' | steelyard grade`,
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			b, err := a.bank()
			if err != nil {
				return err
			}
			a.sayFaults(b)
			return a.grade(grading.NewService(b))
		},
	}
}

// maxRequest is the longest line that is read as a request.
const maxRequest = 64 << 10

func (a *app) grade(s *grading.Service) error {
	in := bufio.NewReaderSize(a.in, maxRequest)
	out := bufio.NewWriter(a.out)
	defer out.Flush()
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	bad := 0
	for n := 1; ; n++ {
		line, tooLong, err := readLine(in)
		if err == io.EOF {
			break
		}
		if err != nil {
			return short(fmt.Errorf("reading line %d: %w", n, err))
		}
		if len(bytes.TrimSpace(line)) == 0 && !tooLong {
			continue
		}
		v, err := answer(s, line, tooLong)
		if err != nil {
			bad++
			v = grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: fmt.Sprintf("line %d: %v", n, err)}
		}
		if err := enc.Encode(v.Reply()); err != nil {
			return short(err)
		}
		if in.Buffered() == 0 { // nothing more is waiting: let the reader have it
			if err := out.Flush(); err != nil {
				return short(err)
			}
		}
	}
	if bad > 0 {
		fmt.Fprintf(a.words, "steelyard: %d of the lines could not be graded; their answers say why\n", bad)
		out.Flush()
		return errShort
	}
	return nil
}

// readLine reads one line of at most maxRequest bytes; of a longer one the
// rest is dropped.
func readLine(in *bufio.Reader) (line []byte, tooLong bool, err error) {
	line, more, err := in.ReadLine()
	line = bytes.Clone(line)
	for more && err == nil {
		tooLong = true
		_, more, err = in.ReadLine()
	}
	if err == io.EOF && (len(line) > 0 || tooLong) {
		err = nil
	}
	return line, tooLong, err
}

func answer(s *grading.Service, line []byte, tooLong bool) (grading.Verdict, error) {
	if tooLong {
		return grading.Verdict{}, fmt.Errorf("longer than %d bytes; one request a line", maxRequest)
	}
	var r grading.Request
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return grading.Verdict{}, jsonError(err)
	}
	if dec.More() {
		return grading.Verdict{}, errors.New("more than one JSON value on the line; write one object a line")
	}
	return s.Grade(r)
}

// jsonError says what is wrong with a request in words.
func jsonError(err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("not JSON at byte %d: %s; write one object a line", syntax.Offset, printable(syntax.Error()))
	case errors.As(err, &kind):
		return fmt.Errorf("\"%s\" is a %s, and should be %s", printable(kind.Field), kind.Value, jsonKind(kind.Type.Kind()))
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the JSON object ends too early; write one whole object a line")
	}
	return errors.New(printable(strings.TrimPrefix(err.Error(), "json: ")))
}

// jsonKind says in JSON's words what a field takes.
func jsonKind(k reflect.Kind) string {
	switch k {
	case reflect.String:
		return "a string"
	case reflect.Slice:
		return "an array of strings"
	case reflect.Map, reflect.Struct:
		return "an object"
	case reflect.Uint64:
		return "a whole number, 0 or more"
	}
	return "a number"
}

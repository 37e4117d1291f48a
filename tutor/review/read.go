package review

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"

	"steelyard/tutor/journal"
)

// maxDamage bounds the damaged lines of a source that are kept to be shown;
// all are counted.
const maxDamage = 100

// blockSize is how much of a stream is read at a time. With maxLine it bounds
// what a stream takes, however long its lines are.
const (
	blockSize = 256 << 10
	maxLine   = journal.MaxLine
)

// block is some whole lines of a stream, and what they hold.
type block struct {
	data    []byte
	first   int // number of the first line
	records []record
	damage  []Damage
	done    chan struct{}
	last    int // the number of the last line
}

// Read reads a log as a stream of JSON Lines. Damaged lines are noted and
// skipped. The error is that of in, or of ctx; what was read until then is
// kept.
func (r *Reader) Read(ctx context.Context, name string, in io.Reader) error {
	src := &Source{Name: name}
	defer func() { r.sources = append(r.sources, *src) }()
	work := make(chan *block)
	order := make(chan *block, 2*runtime.GOMAXPROCS(0))
	for range runtime.GOMAXPROCS(0) {
		go func() {
			for b := range work {
				b.parse()
				close(b.done)
			}
		}()
	}
	failed := make(chan error, 1)
	go func() {
		defer close(order)
		defer close(work)
		failed <- split(ctx, in, func(b *block) {
			select {
			case order <- b:
				work <- b
			case <-ctx.Done():
			}
		})
	}()
	err := r.keepAll(ctx, src, order)
	if err == nil {
		err = <-failed
	}
	if err != nil && ctx.Err() == nil {
		err = fmt.Errorf("at line %d: %w", max(1, src.Lines), err)
	}
	if err != nil {
		src.Failed = err.Error()
	}
	return err
}

// keepAll keeps blocks in order until there are no more, or ctx ends: then what
// waits for the stream is left to wait.
func (r *Reader) keepAll(ctx context.Context, src *Source, order <-chan *block) error {
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case b, more := <-order:
			if !more {
				return nil
			}
			<-b.done
			r.keep(src, b)
		}
	}
}

// keep adds what a block holds to the store.
func (r *Reader) keep(src *Source, b *block) {
	src.Lines = b.last
	for _, d := range b.damage {
		r.damaged(src, d.Line, d.Reason)
	}
	for i := range b.records {
		r.add(src, &b.records[i])
	}
	r.progress(len(b.data))
	free.put(b)
}

func (r *Reader) add(src *Source, rec *record) {
	if r.store.add(rec) == isOther {
		r.damaged(src, 0, fmt.Sprintf("another event has the id %x too; the first one read counts", rec.id))
	}
}

func (r *Reader) damaged(src *Source, line int, reason string) {
	src.Damaged++
	if src.Damaged <= maxDamage {
		r.damage = append(r.damage, Damage{Source: src.Name, Line: line, Reason: reason})
	}
}

// pool keeps blocks for use again.
type pool chan *block

var free = make(pool, 16)

func (p pool) get() *block {
	select {
	case b := <-p:
		b.data, b.records, b.damage, b.done = b.data[:0], b.records[:0], nil, make(chan struct{})
		return b
	default:
		return &block{data: make([]byte, 0, blockSize), done: make(chan struct{})}
	}
}

func (p pool) put(b *block) {
	if cap(b.data) > 2*blockSize {
		return
	}
	select {
	case p <- b:
	default:
	}
}

// split cuts a stream into blocks of whole lines. Of a line longer than
// maxLine nothing is kept but that it was there.
func split(ctx context.Context, in io.Reader, send func(*block)) error {
	s := splitter{in: in, line: 1}
	for !s.ended || len(s.rest) > 0 { // a skipped line may be read together with all that comes after it
		if err := ctx.Err(); err != nil {
			return err
		}
		b := free.get()
		b.first = s.line
		s.fill(b)
		b.last = s.line - 1
		if len(b.data)+len(b.damage) > 0 {
			send(b)
		}
	}
	return s.err
}

type splitter struct {
	in    io.Reader
	rest  []byte // the beginning of a line, read with the block before
	line  int    // number of the line that comes next
	begun bool
	ended bool
	err   error
}

// fill puts whole lines into b.
func (s *splitter) fill(b *block) {
	b.data = append(b.data, s.rest...)
	for {
		end := bytes.LastIndexByte(b.data, '\n')
		if s.ended {
			end = len(b.data) - 1
		}
		if end >= 0 && (s.ended || len(b.data) >= blockSize/2) {
			s.rest = append(s.rest[:0], b.data[end+1:]...)
			b.data = b.data[:end+1]
			s.line += bytes.Count(b.data, []byte{'\n'})
			if s.ended && len(b.data) > 0 && b.data[len(b.data)-1] != '\n' {
				s.line++
			}
			return
		}
		if s.ended {
			s.rest = nil
			return
		}
		if end < 0 && len(b.data) > maxLine {
			s.skip(b)
			return
		}
		s.read(b)
	}
}

// read appends more of the stream to b.
func (s *splitter) read(b *block) {
	if cap(b.data)-len(b.data) < 4096 {
		b.data = append(make([]byte, 0, 2*cap(b.data)), b.data...)
	}
	room := b.data[len(b.data):cap(b.data)]
	n, err := io.ReadAtLeast(s.in, room, min(len(room), blockSize/2))
	b.data = b.data[:len(b.data)+n]
	if !s.begun && n > 0 {
		s.begun = true
		b.data = bytes.TrimPrefix(b.data, []byte("\ufeff")) // as some editors begin a file
	}
	s.stop(err)
}

func (s *splitter) stop(err error) {
	if err == nil {
		return
	}
	s.ended = true
	if err != io.EOF && err != io.ErrUnexpectedEOF {
		s.err = err
	}
}

// skip reads past the rest of a line that is too long.
func (s *splitter) skip(b *block) {
	b.damage = append(b.damage, Damage{Line: s.line, Reason: fmt.Sprintf("it is longer than %d bytes; no event is", maxLine)})
	s.line++
	for !s.ended {
		b.data = b.data[:0]
		n, err := s.in.Read(b.data[:blockSize/2])
		b.data = b.data[:n]
		s.stop(err)
		if end := bytes.IndexByte(b.data, '\n'); end >= 0 {
			s.rest = append(s.rest[:0], b.data[end+1:]...)
			b.data = b.data[:0]
			return
		}
	}
	s.rest, b.data = nil, b.data[:0]
}

// parse reads the lines of a block.
func (b *block) parse() {
	line := b.first
	for rest := b.data; len(rest) > 0; line++ {
		var text []byte
		text, rest, _ = bytes.Cut(rest, []byte{'\n'})
		if len(bytes.TrimSpace(text)) == 0 {
			continue
		}
		if len(text) > maxLine {
			b.damage = append(b.damage, Damage{Line: line, Reason: fmt.Sprintf("it is longer than %d bytes; no event is", maxLine)})
			continue
		}
		if n := len(b.records); n < cap(b.records) {
			b.records = b.records[:n+1]
		} else {
			b.records = append(b.records, record{})
		}
		if err := b.records[len(b.records)-1].read(text); err != nil {
			b.records = b.records[:len(b.records)-1]
			b.damage = append(b.damage, Damage{Line: line, Reason: err.Error()})
		}
	}
}

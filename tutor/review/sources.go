package review

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"steelyard/problems/notation"
	"steelyard/tutor/journal"
)

// endings are the files that are logs when a folder is read. A file that is
// named is read whatever its ending.
var endings = []string{".jsonl", ".ndjson", ".jsonl.gz", ".ndjson.gz", ".db"}

func isLog(file string) bool {
	return slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(strings.ToLower(file), e) })
}

// Paths reads files, folders (with all that is in them), globs, journals, and
// standard input as "-"; logs may be compressed with gzip. A source that cannot be read is noted and passed over;
// the error joins what was wrong with each. What is named but not there is an
// error before anything is read.
func (r *Reader) Paths(ctx context.Context, stdin io.Reader, paths ...string) error {
	files, err := expand(paths)
	if err != nil {
		return err
	}
	for _, f := range files {
		if info, err := os.Stat(f); err == nil && info.Mode().IsRegular() {
			r.size += comesTo(f, info.Size())
		}
	}
	var failed []error
	for _, f := range files {
		err := r.one(ctx, stdin, f)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			failed = append(failed, fmt.Errorf("%s: %w", notation.Printable(f), err))
		}
	}
	return errors.Join(failed...)
}

// expand lists the files that paths mean, each once, in the order named.
func expand(paths []string) ([]string, error) {
	var out []string
	add := func(p string) {
		if !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	for _, p := range paths {
		if p == "-" {
			add(p)
			continue
		}
		found, err := matches(p)
		if err != nil {
			return nil, err
		}
		for _, f := range found {
			info, err := os.Stat(f)
			if err != nil || !info.IsDir() {
				add(f)
				continue
			}
			inside, err := folder(f)
			if err != nil {
				return nil, err
			}
			for _, f := range inside {
				add(f)
			}
		}
	}
	return out, nil
}

// matches is the file of a name, or those that a glob fits.
func matches(path string) ([]string, error) {
	_, err := os.Stat(path)
	if err == nil {
		return []string{path}, nil
	}
	if strings.ContainsAny(path, "*?[") {
		found, bad := filepath.Glob(path)
		if bad == nil && len(found) > 0 {
			return found, nil
		}
		return nil, fmt.Errorf("nothing fits %s; name files, folders, globs, or - for standard input", notation.Printable(path))
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return nil, fmt.Errorf("%s cannot be read: %w; name files, folders, globs, or - for standard input", notation.Printable(path), err)
}

// folder lists the logs in a folder and the folders in it.
func folder(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return fmt.Errorf("the folder %s cannot be read: %w", notation.Printable(path), err)
		}
		if isLog(path) && !d.IsDir() {
			if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
				out = append(out, path)
			}
		}
		return nil
	})
	if err == nil && len(out) == 0 {
		return nil, fmt.Errorf("no logs in the folder %s; they end in %s", notation.Printable(dir), strings.Join(endings, ", "))
	}
	return out, err
}

// sqliteMagic begins every journal (sqlite.org/fileformat.html, section 1.3).
var sqliteMagic = []byte("SQLite format 3\x00")

// one reads one file, or standard input.
func (r *Reader) one(ctx context.Context, stdin io.Reader, path string) error {
	if path == "-" {
		return r.Read(ctx, "-", journal.Plain(stdin))
	}
	f, err := os.Open(path)
	if err != nil {
		r.sources = append(r.sources, Source{Name: path, Failed: err.Error()})
		return err
	}
	defer f.Close()
	head := make([]byte, len(sqliteMagic))
	n, _ := io.ReadFull(f, head)
	if bytes.Equal(head[:n], sqliteMagic) {
		return r.journal(ctx, path)
	}
	return r.Read(ctx, path, journal.Plain(io.MultiReader(bytes.NewReader(head[:n]), f)))
}

// comesTo is how many bytes of text a file says that it holds, to show how far
// reading has come: of a compressed one its last four bytes say it (RFC 1952,
// section 2.3.1).
func comesTo(path string, size int64) int64 {
	if f, err := os.Open(path); err == nil && strings.HasSuffix(strings.ToLower(path), ".gz") && size > 4 {
		defer f.Close()
		tail := make([]byte, 4)
		if _, err := f.ReadAt(tail, size-4); err == nil {
			return max(size, int64(binary.LittleEndian.Uint32(tail)))
		}
	}
	return size
}

// journal reads a journal from a copy: what was collected from others is not
// written to, nor locked, and may lie where nothing can be written.
func (r *Reader) journal(ctx context.Context, path string) error {
	src := Source{Name: path, Journal: true}
	err := r.readCopy(ctx, &src)
	if err != nil {
		src.Failed = err.Error()
	}
	r.sources = append(r.sources, src)
	return err
}

func (r *Reader) readCopy(ctx context.Context, src *Source) error {
	dir, err := os.MkdirTemp("", "steelyard-review-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	to := filepath.Join(dir, "journal.db")
	if err := copyJournal(src.Name, to); err != nil {
		return err
	}
	j, err := journal.Open(to)
	if err != nil {
		return errors.New(strings.ReplaceAll(err.Error(), to, src.Name))
	}
	defer j.Close()
	if j.SetAside() != "" {
		return errors.New("the journal is damaged; open it with the tutor, which sets it aside and begins anew")
	}
	var rec record
	for e, err := range j.Events(journal.Filter{}) {
		if src.Lines++; src.Lines%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if err == nil {
			err = rec.of(&e)
		}
		if err != nil {
			r.damaged(src, 0, err.Error())
			continue
		}
		r.add(src, &rec)
	}
	return nil
}

// copyJournal copies a journal with its write-ahead log, again while another
// program writes it.
func copyJournal(from, to string) error {
	parts := []string{"", "-wal"}
	state := func() string {
		var out []string
		for _, p := range parts {
			if info, err := os.Stat(from + p); err == nil {
				out = append(out, fmt.Sprint(info.Size(), info.ModTime().UnixNano()))
			}
		}
		return strings.Join(out, " ")
	}
	for range 5 {
		before := state()
		for _, p := range parts {
			err := copyFile(from+p, to+p)
			if errors.Is(err, fs.ErrNotExist) && p != "" {
				os.Remove(to + p)
				err = nil
			}
			if err != nil {
				return err
			}
		}
		if state() == before {
			return nil
		}
	}
	return errors.New("the journal is being written all the time; close the tutor that writes it, and try again")
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

package journal

import (
	"bufio"
	"compress/flate"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
)

// Bounds on what a compressed log may come to: a log of a class comes to some
// 15 times its compressed size, and deflate can make a thousandfold of nothing.
const (
	maxPacked     = 200       // times its size,
	packedAllowed = 128 << 20 // where it comes to more bytes than these
)

// Plain is a log as text: r itself, or, where r begins as gzip does (RFC 1952,
// section 2.3.1), what is packed in it. Nothing is read before the first Read.
//
// A stream that is cut short or damaged is an error, and so is one that comes
// to far more than a log of its size could; what was read until then is good.
func Plain(r io.Reader) io.Reader { return &unpacked{from: r} }

// sqliteMagic begins every journal (sqlite.org/fileformat.html, section 1.3).
const sqliteMagic = "SQLite format 3\x00"

type unpacked struct {
	from   io.Reader
	packed counted
	text   io.Reader // nil until the first Read
	zipped bool
	read   int64
}

func (u *unpacked) Read(b []byte) (int, error) {
	if u.text == nil {
		if err := u.begin(); err != nil {
			return 0, err
		}
	}
	n, err := u.text.Read(b)
	if !u.zipped {
		return n, err
	}
	u.read += int64(n)
	if u.read > packedAllowed && u.read > maxPacked*u.packed.n {
		return 0, fmt.Errorf("after %d MB of text it has come to more than %d times its size, which no log does; ask for the log as text", u.read>>20, maxPacked)
	}
	return n, unpacking(err)
}

// begin looks at how the stream begins.
func (u *unpacked) begin() error {
	in := bufio.NewReaderSize(u.from, 64<<10)
	head, err := in.Peek(2)
	if len(head) < 2 || head[0] != 0x1f || head[1] != 0x8b {
		if u.text = in; err != nil && err != io.EOF {
			return err
		}
		return nil
	}
	u.zipped, u.packed.from = true, in
	z, err := gzip.NewReader(bufio.NewReaderSize(&u.packed, 4096))
	if err != nil {
		return unpacking(err)
	}
	text := bufio.NewReaderSize(z, 64<<10)
	if head, _ := text.Peek(len(sqliteMagic)); string(head) == sqliteMagic {
		return errors.New("it is a journal that was compressed, not a log; unpack it first, with gunzip")
	}
	u.text = text
	return nil
}

// unpacking says of an error what to do. A stream that is cut short is told
// from one that ends.
func unpacking(err error) error {
	switch {
	case err == nil || err == io.EOF:
		return err
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the compressed log is cut short; copy it again, whole")
	case errors.Is(err, gzip.ErrChecksum), errors.Is(err, gzip.ErrHeader), errors.As(err, new(flate.CorruptInputError)):
		return fmt.Errorf("the compressed log is damaged (%w); copy it again, or ask for it as text", err)
	}
	return err
}

// counted counts the bytes read.
type counted struct {
	from io.Reader
	n    int64
}

func (c *counted) Read(b []byte) (int, error) {
	n, err := c.from.Read(b)
	c.n += int64(n)
	return n, err
}

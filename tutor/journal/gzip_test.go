package journal

import (
	"bytes"
	"compress/gzip"
	"io"
	"strings"
	"testing"
)

func zipped(t testing.TB, text io.Reader) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := io.Copy(z, text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPlainReadsWhatIsPacked(t *testing.T) {
	for _, text := range []string{"", "x", "\x1f", "a log\nof two lines\n", strings.Repeat("a longer one\n", 100_000)} {
		for name, in := range map[string][]byte{"as text": []byte(text), "packed": zipped(t, strings.NewReader(text)),
			"in two parts": append(zipped(t, strings.NewReader(text[:len(text)/2])), zipped(t, strings.NewReader(text[len(text)/2:]))...)} {
			got, err := io.ReadAll(Plain(bytes.NewReader(in)))
			if err != nil || string(got) != text {
				t.Errorf("%.20q, %s: %d bytes, %v", text, name, len(got), err)
			}
		}
	}
}

// zeros are so many.
type zeros int64

func (z *zeros) Read(b []byte) (int, error) {
	if *z <= 0 {
		return 0, io.EOF
	}
	n := min(len(b), int(*z))
	clear(b[:n])
	*z -= zeros(n)
	return n, nil
}

func TestPlainRefuses(t *testing.T) {
	whole := zipped(t, strings.NewReader(strings.Repeat("0123456789abcdef", 4000)))
	spoilt := bytes.Clone(whole)
	spoilt[len(spoilt)-6] ^= 1 // in its checksum
	mangled := bytes.Clone(whole)
	mangled[12] = 0xff
	bomb := zeros(192 << 20)
	for name, c := range map[string]struct {
		in   []byte
		want string
		most int // bytes read
	}{
		"cut short":    {whole[:len(whole)/2], "cut short; copy it again", 64_000},
		"a checksum":   {spoilt, "damaged (gzip: invalid checksum)", 64_000},
		"a block":      {mangled, "damaged (flate", 64_000},
		"a header":     {[]byte("\x1f\x8bnonsense and more of it"), "damaged (gzip: invalid header)", 0},
		"half a start": {[]byte("\x1f\x8b\x08"), "cut short", 0},
		"a journal":    {zipped(t, strings.NewReader(sqliteMagic+"more")), "unpack it first", 0},
		"a bomb":       {zipped(t, &bomb), "more than 200 times its size", packedAllowed + 1<<20},
	} {
		n, err := io.Copy(io.Discard, Plain(bytes.NewReader(c.in)))
		if err == nil || !strings.Contains(err.Error(), c.want) || n > int64(c.most) {
			t.Errorf("%s: %d bytes, %v", name, n, err)
		}
	}
}

// A bomb is refused by an import, at a place, and what came before it counts.
func TestImportRefusesBomb(t *testing.T) {
	j, err := OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	bomb := zeros(192 << 20)
	_, err = j.ImportJSONL(Plain(bytes.NewReader(zipped(t, io.MultiReader(strings.NewReader("one\ntwo\n"), &bomb)))))
	if err == nil || !strings.Contains(err.Error(), "stopped at line 3") || !strings.Contains(err.Error(), "200 times") {
		t.Error(err)
	}
}

package page

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"testing"
	"time"

	"steelyard/tutor/review"
)

// browsers are the names Chromium goes by, the lightest first.
var browsers = []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"}

var (
	pdfPage  = regexp.MustCompile(`/Type\s*/Page\b`)
	mediaBox = regexp.MustCompile(`/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]`)
	// asked is what a page from a file asks of the network; the browser's own
	// errands have another key.
	asked = regexp.MustCompile(`"network_isolation_key":"file://[^\n]*"url":"((https?|wss?|ftp)://[^"]*)"`)
	// seen is a chart in the page as the browser holds it, with a line drawn.
	seen = regexp.MustCompile(`(?s)<svg[^>]*role="img".*?<path class="line strong".*?</svg>`)
)

// A browser opens the page and prints it on A4, with nothing said on the
// console and nothing asked of the network; a hostile one too.
func TestBrowserPrints(t *testing.T) {
	browser := ""
	for _, name := range browsers {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
			break
		}
	}
	if testing.Short() {
		t.Skip("starts a browser four times")
	}
	if browser == "" {
		t.Skip("no Chromium here; it is Debian's package chromium-headless-shell")
	}
	bad := small(t)
	poison(reflect.ValueOf(bad).Elem())
	for name, c := range map[string]struct {
		rep    *review.Report
		charts int
	}{"class": {class(t), 16}, "hostile": {bad, 3}} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "review.html")
			if err := os.WriteFile(file, []byte(written(t, c.rep)), 0o644); err != nil {
				t.Fatal(err)
			}
			pdf, log := filepath.Join(dir, "out.pdf"), filepath.Join(dir, "net.log")
			run(t, browser, dir, file, "--no-pdf-header-footer", "--print-to-pdf="+pdf, "--log-net-log="+log)
			onA4(t, read(t, pdf))
			for _, m := range asked.FindAllSubmatch(read(t, log), -1) {
				t.Errorf("asked for %s", m[1])
			}
			dom := run(t, browser, dir, file, "--dump-dom")
			if n := len(seen.FindAll(dom, -1)); n < c.charts {
				t.Errorf("%d charts, want %d at least", n, c.charts)
			}
			if bytes.Contains(dom, []byte("<script")) || bytes.Contains(dom, []byte("<img")) {
				t.Error("the browser made an element of a text")
			}
		})
	}
}

func onA4(t *testing.T, pdf []byte) {
	t.Helper()
	if n := len(pdfPage.FindAll(pdf, -1)); n < 2 || n > 40 {
		t.Errorf("%d pages", n)
	}
	boxes := mediaBox.FindAllSubmatch(pdf, -1)
	if len(boxes) == 0 {
		t.Error("no page tells its size")
	}
	for _, box := range boxes {
		w, _ := strconv.ParseFloat(string(box[1]), 64)
		h, _ := strconv.ParseFloat(string(box[2]), 64)
		if math.Abs(w-595.3) > 2 || math.Abs(h-841.9) > 2 { // points of 1/72 inch
			t.Errorf("a page of %g by %g points", w, h)
		}
	}
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// run opens a file in the browser and gives what it writes to its output. What
// the page says on the console is an error.
func run(t *testing.T, browser, dir, file string, more ...string) []byte {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	args := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-extensions",
		"--disable-background-networking", "--disable-component-update", "--disable-default-apps", "--disable-sync", "--disable-dev-shm-usage",
		"--host-resolver-rules=MAP * ~NOTFOUND", // nothing leaves this machine, the browser's own errands neither
		"--user-data-dir=" + filepath.Join(dir, "profile"), "--enable-logging=stderr"}, more...)
	cmd := exec.CommandContext(ctx, browser, append(args, "file://"+file)...)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(fmt.Errorf("%w\n%s", err, &said))
	}
	if bytes.Contains(said.Bytes(), []byte("CONSOLE")) {
		t.Errorf("the console says: %s", &said)
	}
	return out
}

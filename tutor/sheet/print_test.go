package sheet

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"

	"steelyard/problems"
)

// browsers are the names Chromium goes by, the lightest first.
var browsers = []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"}

var (
	pdfPage  = regexp.MustCompile(`/Type\s*/Page\b`)
	mediaBox = regexp.MustCompile(`/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]`)
	// asked is what a page from a file asks of the network; the browser's own
	// errands have another key.
	asked = regexp.MustCompile(`"network_isolation_key":"file://[^\n]*"url":"((https?|wss?|ftp)://[^"]*)"`)
)

// A browser prints the document on both papers: every part begins a page of
// the paper's size, with nothing said on the console, and nothing asked of the
// network.
func TestBrowserPrints(t *testing.T) {
	browser := ""
	for _, name := range browsers {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
			break
		}
	}
	if testing.Short() {
		t.Skip("starts a browser twice")
	}
	if browser == "" {
		t.Skip("no Chromium here; it is Debian's package chromium-headless-shell")
	}
	davit := draw(t, scenario(t, "../../problems/bank/davit-arm.toml"), 7)
	ladder := draw(t, scenario(t, "../../problems/testdata/step-ladder.toml"), 7)
	for paper, size := range map[Paper][2]float64{A4: {595.3, 841.9}, Letter: {612, 792}} { // points of 1/72 inch
		t.Run(string(paper), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			file := filepath.Join(dir, "sheet.html")
			text := written(t, Options{Sheet: true, Key: true, Paper: paper}, one(davit), Variant{"B", []*problems.Problem{ladder}})
			if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			pdf, said, log := printed(t, browser, dir, file)
			if n := len(pdfPage.FindAll(pdf, -1)); n < 4 || n > 20 {
				t.Errorf("%d pages, want at least one for each sheet and each key", n)
			}
			boxes := mediaBox.FindAllSubmatch(pdf, -1)
			if len(boxes) == 0 {
				t.Error("no page tells its size")
			}
			for _, box := range boxes {
				w, _ := strconv.ParseFloat(string(box[1]), 64)
				h, _ := strconv.ParseFloat(string(box[2]), 64)
				if math.Abs(w-size[0]) > 2 || math.Abs(h-size[1]) > 2 {
					t.Errorf("a page of %g by %g points", w, h)
				}
			}
			if bytes.Contains(said, []byte("CONSOLE")) {
				t.Errorf("the console says: %s", said)
			}
			for _, m := range asked.FindAllSubmatch(log, -1) {
				t.Errorf("asked for %s", m[1])
			}
		})
	}
}

// printed is a file as the browser prints it, what the browser said, and its
// log of the network.
func printed(t *testing.T, browser, dir, file string) (pdf, said, log []byte) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	out, netlog := file+".pdf", file+".netlog"
	cmd := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-extensions",
		"--disable-background-networking", "--disable-component-update", "--disable-default-apps", "--disable-sync", "--disable-dev-shm-usage",
		"--host-resolver-rules=MAP * ~NOTFOUND", // nothing leaves this machine, the browser's own errands neither
		"--user-data-dir="+filepath.Join(dir, "profile"), "--enable-logging=stderr", "--log-net-log="+netlog,
		"--no-pdf-header-footer", "--print-to-pdf="+out, "file://"+file)
	said, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	for name, into := range map[string]*[]byte{out: &pdf, netlog: &log} {
		if *into, err = os.ReadFile(name); err != nil {
			t.Fatal(fmt.Errorf("%w\n%s", err, said))
		}
	}
	return pdf, said, log
}

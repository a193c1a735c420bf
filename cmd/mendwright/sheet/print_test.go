package sheet_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// browser finds a browser that prints; without one the test is skipped, or fails where one is required.
func browser(t *testing.T) string {
	t.Helper()
	for _, name := range []string{os.Getenv("MENDWRIGHT_BROWSER"), "chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); name != "" && err == nil {
			return path
		}
	}
	if os.Getenv("MENDWRIGHT_BROWSER_REQUIRED") != "" {
		t.Fatal("no browser is found, and MENDWRIGHT_BROWSER_REQUIRED asks for one")
	}
	t.Skip("no browser is found to print with: install chromium, or name one in MENDWRIGHT_BROWSER")
	return ""
}

// paper is a size of paper, in points.
type paper struct {
	name          string
	width, height float64
}

var papers = []paper{{"A4", 595, 842}, {"letter", 612, 792}}

// printed prints a page. The sheet names no size, as paper differs; here the size is given as a printer would.
func printed(t *testing.T, path string, page []byte, on paper) *pdf.Reader {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "sheet.html"), filepath.Join(dir, "sheet.pdf")
	require.Contains(t, string(page), "</style>")
	page = bytes.Replace(page, []byte("</style>"), []byte("@page{size:"+on.name+"}</style>"), 1)
	require.NoError(t, os.WriteFile(in, page, 0o600))
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	cmd := exec.CommandContext(ctx, path, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--print-to-pdf="+out, "file://"+in)
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", said)
	data, err := os.ReadFile(out)
	require.NoError(t, err)
	r, err := pdf.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	return r
}

// squeezed is s without anything but letters and digits, small: how words are broken into lines is no matter.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// glyphs are the words of a printed page, in the order in which they are drawn.
func glyphs(p pdf.Page) []pdf.Text { return p.Content().Text }

func TestPrintedOnA4AndLetterNothingIsLostAndNoHeadingStandsAlone(t *testing.T) {
	path := browser(t)
	for _, job := range []string{"table-top", "plan-writing-desk"} {
		in := inputOf(t, filepath.Join(jobs, job+".yaml"))
		in.Photos.Piece = [][]byte{photograph(t, 900, 600)}
		doc, raw := pageOf(t, in)
		for _, on := range papers {
			t.Run(job+" on "+on.name, func(t *testing.T) {
				r := printed(t, path, raw, on)
				var text strings.Builder
				var headings []string
				for _, h := range all(doc, "h2", "h3") {
					headings = append(headings, squeezed(words(h)))
				}
				for n := 1; n <= r.NumPage(); n++ {
					page := r.Page(n)
					box := page.V.Key("MediaBox")
					assert.InDelta(t, on.width, box.Index(2).Float64(), 1)
					assert.InDelta(t, on.height, box.Index(3).Float64(), 1)
					drawn := glyphs(page)
					require.NotEmpty(t, drawn, "page %d is empty", n)
					for _, g := range drawn {
						text.WriteString(g.S)
						assert.True(t, g.X >= 0 && g.X+g.W <= on.width && g.Y > 0 && g.Y < on.height, "%q is off page %d", g.S, n)
					}
					for _, column := range columns(drawn, on) {
						last := column[len(column)-1]
						for _, h := range headings {
							assert.False(t, len(squeezed(last)) > 7 && strings.HasSuffix(h, squeezed(last)), "the heading %q ends a column of page %d", last, n)
						}
					}
				}
				all := squeezed(text.String())
				for _, block := range blocks(doc) {
					for w := range strings.FieldsSeq(block) {
						assert.Contains(t, all, squeezed(w))
					}
				}
				for _, last := range lastOfSections(doc) {
					assert.Contains(t, all, squeezed(last), "the end of a section is lost")
				}
			})
		}
	}
}

// columns are the lines of a page, from top to bottom: those of the left half, and those of the right.
func columns(drawn []pdf.Text, on paper) [][]string {
	const foot = 50 // points: the number of the page stands below
	var out [][]string
	for half := range 2 {
		lines := map[int]string{}
		lowest := []int{}
		for _, g := range drawn {
			if (g.X > on.width/2) != (half == 1) || g.Y < foot || strings.TrimSpace(g.S) == "" {
				continue
			}
			y := int(g.Y + 0.5)
			if lines[y] == "" {
				lowest = append(lowest, y)
			}
			lines[y] += g.S
		}
		var column []string
		for len(lowest) > 0 {
			at := 0
			for i, y := range lowest {
				if y > lowest[at] {
					at = i
				}
			}
			column = append(column, lines[lowest[at]])
			lowest = append(lowest[:at], lowest[at+1:]...)
		}
		if column != nil {
			out = append(out, column)
		}
	}
	return out
}

// blocks are the texts of a page that are printed.
func blocks(doc *html.Node) []string {
	var out []string
	for _, n := range all(doc, "h1", "h2", "h3", "p", "li", "dt", "dd", "th", "td", "caption", "text") {
		out = append(out, words(n))
	}
	return out
}

// lastOfSections are the last words of each section that stand together, in a line or a cell.
func lastOfSections(doc *html.Node) []string {
	var out []string
	for _, s := range all(doc, "section") {
		var last string
		for d := range s.Descendants() {
			if d.Type == html.TextNode && strings.TrimSpace(d.Data) != "" {
				last = d.Data
			}
		}
		if f := strings.Fields(last); len(f) > 3 {
			last = strings.Join(f[len(f)-3:], " ")
		}
		out = append(out, last)
	}
	return out
}

package page_test

import (
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/page"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/knowledge"
)

// bench is a bench page over a folder, and a browser without script in front of it.
type bench struct {
	t      testing.TB
	dir    string
	server *httptest.Server
	client *http.Client
	at     string // the address of the page seen last
	seen   string // and its text
	code   int
}

func open(t testing.TB, dir string) *bench {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	return serve(t, &page.Server{Dir: dir, Knowledge: k})
}

func serve(t testing.TB, s *page.Server) *bench {
	t.Helper()
	srv := httptest.NewUnstartedServer(nil)
	h, err := s.Handler(srv.Listener.Addr())
	require.NoError(t, err)
	srv.Config.Handler = h
	srv.Start()
	t.Cleanup(srv.Close)
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return &bench{t: t, dir: s.Dir, server: srv, client: &http.Client{Jar: jar}}
}

// do sends a request as the browser does and reads the page that comes.
func (b *bench) do(req *http.Request) {
	b.t.Helper()
	res, err := b.client.Do(req)
	require.NoError(b.t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(b.t, err)
	b.at, b.seen, b.code = res.Request.URL.RequestURI(), string(body), res.StatusCode
}

func (b *bench) get(path string) *bench {
	b.t.Helper()
	req, err := http.NewRequest(http.MethodGet, b.server.URL+path, nil)
	require.NoError(b.t, err)
	b.do(req)
	return b
}

// post sends a form of this page.
func (b *bench) post(path string, form url.Values) *bench {
	b.t.Helper()
	req, err := http.NewRequest(http.MethodPost, b.server.URL+path, strings.NewReader(form.Encode()))
	require.NoError(b.t, err)
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Origin", b.server.URL)
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	b.do(req)
	return b
}

// main is what a person reads of the page, without its frame.
func (b *bench) main() string {
	_, text, _ := strings.Cut(b.seen, "<main")
	text, _, _ = strings.Cut(text, "</main>")
	return strings.ReplaceAll(text, "\u00a0", " ")
}

// shows asserts that the page holds every text.
func (b *bench) shows(texts ...string) {
	b.t.Helper()
	for _, text := range texts {
		if !strings.Contains(b.main(), text) {
			b.t.Errorf("%s does not show %q but\n%.1500s", b.at, text, b.main())
		}
	}
}

var (
	action = regexp.MustCompile(`<form class="question" method="post" action="([^"]*)"`)
	hidden = regexp.MustCompile(`<input type="hidden" name="([^"]*)" value="([^"]*)"`)
)

// answer answers the question that is on the page, as its form does.
func (b *bench) answer(text string) *bench {
	b.t.Helper()
	m := action.FindStringSubmatch(b.seen)
	require.NotNil(b.t, m, "no question is on %s:\n%s", b.at, b.main())
	form := url.Values{"answer": {text}}
	q, _, _ := strings.Cut(b.seen[strings.Index(b.seen, m[0]):], "</form>")
	for _, h := range hidden.FindAllStringSubmatch(q, -1) {
		form.Add(h[1], h[2])
	}
	if text == "cannot tell" {
		form.Set("cannot", "1")
	}
	return b.post(m[1], form)
}

// fact is the fact of the question that is on the page.
func (b *bench) fact() string {
	m := action.FindStringSubmatch(b.seen)
	if m == nil {
		return ""
	}
	return m[1][strings.LastIndex(m[1], "/")+1:]
}

// file is the text of a job file of the folder.
func (b *bench) file(name string) string {
	b.t.Helper()
	data, err := os.ReadFile(filepath.Join(b.dir, name))
	require.NoError(b.t, err)
	return string(data)
}

// folder is a folder with job files of these texts.
func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	return dir
}

const stool = "format: 1\npiece: {name: milking stool}\nsurfaces:\n  seat: {}\ndefects:\n  - {id: ring, on: seat}\n"

// ring are the answers about the ring of the example job, by fact and as they were typed.
func ring(t testing.TB) map[string]string {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	file, err := jobfile.ReadFile(filepath.Join("..", "..", "..", "testdata", "jobs", "table-top.yaml"), k.Book, k.Tables)
	require.NoError(t, err)
	out := map[string]string{}
	for _, u := range sitting.InView(file, "ring") {
		out[u.Fact] = u.Typed
	}
	return out
}

// TestFromAnEmptyFolderToAReadyRepair: the main way through, without script.
func TestFromAnEmptyFolderToAReadyRepair(t *testing.T) {
	b := open(t, t.TempDir())
	b.get("/")
	b.shows("No job file lies in this folder yet")
	b.post("/jobs", url.Values{"name": {"Gate-leg table"}})
	require.Equal(t, "/jobs/gate-leg-table/mark", b.at)
	b.post("/jobs/gate-leg-table/marks", url.Values{"surface": {"top"}, "name": {"ring"}})
	require.Equal(t, "/jobs/gate-leg-table/marks/ring/ask", b.at)
	known := ring(t)
	asked := map[string]bool{}
	for n := 0; n < 60 && b.fact() != "" && !strings.Contains(b.seen, "A repair is READY"); n++ {
		fact := b.fact()
		require.False(t, asked[fact], "%s is asked twice", fact)
		asked[fact] = true
		answer := known[fact]
		if answer == "" {
			answer = "cannot tell"
		}
		b.answer(answer)
		require.Equal(t, http.StatusOK, b.code, "%s: %s", fact, b.main())
		_, name, _ := strings.Cut(fact, ".")
		assert.Contains(t, b.file("gate-leg-table.yaml"), name+": ", "each answer is on the disk at once")
	}
	b.shows("A repair is READY")
	b.get("/jobs/gate-leg-table/marks/ring")
	b.shows(">READY</span>")
	b.shows("risk ")
	b.get("/")
	b.shows("Gate-leg table")
	b.shows("1 mark<")
}

func TestAnAnswerIsChangedAndTakenBack(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	const mark = "/jobs/stool/marks/ring"
	b.get(mark + "/ask/defect.form").answer("ring")
	assert.Contains(t, b.file("stool.yaml"), "form: ring")
	b.get(mark + "/answers")
	b.shows(mark + "/ask/defect.form")
	b.get(mark + "/ask/defect.form")
	b.shows("It was: <b>ring</b>")
	b.answer("spot")
	assert.Contains(t, b.file("stool.yaml"), "form: spot")
	assert.Contains(t, b.at, "was=ring", "the page says what the change changed")
	b.shows(`role="status"`)
	b.get(mark + "/ask/defect.form")
	b.post(mark+"/take-back/defect.form", url.Values{"was": {"spot"}})
	require.Equal(t, http.StatusOK, b.code)
	assert.NotContains(t, b.file("stool.yaml"), "form:")
}

func TestAMeasurementThatCannotBeReadIsAskedAnew(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	b.get("/jobs/stool/marks/ring/ask/defect.depth_mm").answer("two hands")
	assert.Equal(t, http.StatusUnprocessableEntity, b.code)
	b.shows(`value="two hands"`)
	b.shows(`role="alert"`)
	assert.NotContains(t, b.file("stool.yaml"), "depth_mm")
	b.answer("1/28 in")
	assert.Contains(t, b.file("stool.yaml"), "depth_mm: 1/28 in")
	b.shows("Read as 0.85714 to 0.95714 mm (the usual ± was taken)")
}

// TestTwoTabs: the second of two answers to one question overwrites nothing, one to another question is taken.
func TestTwoTabs(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	const mark = "/jobs/stool/marks/ring"
	one, two := *b, *b
	one.get(mark + "/ask/defect.form")
	two.get(mark + "/ask/defect.form")
	other := *b
	other.get(mark + "/ask/defect.colour")
	one.answer("ring")
	two.answer("spot")
	assert.Equal(t, http.StatusConflict, two.code)
	two.shows("leave it: ring")
	two.shows("take mine: spot")
	assert.Contains(t, b.file("stool.yaml"), "form: ring")
	other.answer("white")
	assert.Equal(t, http.StatusOK, other.code)
	assert.Contains(t, b.file("stool.yaml"), "colour: white", "another answer was changed; this one still fits")

	mine := url.Values{"answer": {"spot"}}
	for _, h := range hidden.FindAllStringSubmatch(two.seen, -1) {
		mine.Add(h[1], h[2])
	}
	mine["answer"] = []string{"spot"}
	b.post(mark+"/ask/defect.form", mine)
	assert.Equal(t, http.StatusOK, b.code)
	assert.Contains(t, b.file("stool.yaml"), "form: spot", "and mine holds once it is chosen")
}

// TestTheTerminalWritesMeanwhile: what another program wrote into the file stays beside the answer.
func TestTheTerminalWritesMeanwhile(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	b.get("/jobs/stool/marks/ring/ask/defect.form")
	text := strings.Replace(stool, "seat: {}", "seat: {layer: solid} # seen at the edge", 1)
	require.NoError(t, os.WriteFile(filepath.Join(b.dir, "stool.yaml"), []byte(text), 0o600))
	b.answer("ring")
	assert.Equal(t, http.StatusOK, b.code)
	assert.Contains(t, b.file("stool.yaml"), "seat: {layer: solid} # seen at the edge")
	assert.Contains(t, b.file("stool.yaml"), "form: ring")
}

func TestTwoAnswersThatDoNotGoTogetherAreSettled(t *testing.T) {
	job := "format: 1\nsurfaces:\n  lid: {layer: solid, end_grain: stops, picture_repeats: no}\ndefects:\n  - {id: dent, on: lid, form: spot}\n"
	const mark = "/jobs/box/marks/dent"
	b := open(t, folder(t, map[string]string{"box.yaml": job}))
	b.get(mark + "/ask")
	b.shows("Two answers do not go together.", "You said: solid", "keep mine: solid")
	form := url.Values{"was": {"solid"}}
	b.post(mark+"/keep/surface.layer", form)
	assert.Contains(t, b.file("box.yaml"), "confirmed: [layer]")
	b.get(mark + "/ask")
	assert.NotContains(t, b.seen, "Two answers do not go together", "it is asked once")

	b = open(t, folder(t, map[string]string{"box.yaml": job}))
	b.post(mark+"/take-back/surface.layer", form)
	assert.Contains(t, b.file("box.yaml"), "lid: {end_grain: stops, picture_repeats: no}")
}

func TestSeveralMarks(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	b.get("/jobs/stool/marks/ring/ask/defect.form").answer("ring")
	b.post("/jobs/stool/marks", url.Values{"on": {"seat"}, "name": {"second ring"}, "like": {"ring"}})
	require.Equal(t, "/jobs/stool/marks/second%20ring/ask", b.at)
	b.get("/jobs/stool/marks/second%20ring/answers")
	b.shows("defect.form")
	b.post("/jobs/stool/marks", url.Values{"on": {"seat"}, "name": {"ring"}})
	assert.Equal(t, http.StatusUnprocessableEntity, b.code)
	b.shows("choose another name")
	b.post("/jobs/stool/marks", url.Values{"surface": {"hinge"}, "name": {"rust"}})
	require.Equal(t, http.StatusOK, b.code)
	b.get("/jobs/stool")
	for _, mark := range []string{"ring on seat", "second ring on seat", "rust on hinge"} {
		b.shows(mark)
	}
}

// TestTheChecks: the same inputs as the commands take, the same words as they print.
func TestTheChecks(t *testing.T) {
	b := open(t, t.TempDir())
	b.get("/sand?" + url.Values{"layer": {"veneer"}, "thickness": {"1.5 ± 0.03 mm"}, "mark": {"0.3 ± 0.02 mm"}, "stripped": {"yes"}, "grits": {"80,120,180"}}.Encode())
	b.shows("80-120-180 with a hand block")
	b.get("/sand?layer=veneer&mark=0.3+mm")
	b.shows("not known: the thickness of the finish, the thickness of the layer, measured")
	b.get("/sand?layer=veneer&grits=glass")
	assert.Equal(t, http.StatusUnprocessableEntity, b.code)
	b.shows(`aria-invalid="true"`)
	b.get("/air?" + url.Values{"solvent": {"mineral-spirits"}, "amount": {"30 ml"}, "room": {"40 m³"}, "place": {"closed-room"}, "time": {"1 h"}}.Encode())
	b.shows("of the lower explosive limit")
	b.shows("Vapour: STOP")
	b.get("/air?solvent=mineral-spirits")
	b.shows("this is missing; write it like 30 ml")
}

// TestThePlan: the words of the command, with what is dangerous before what is done, and the repair one picks.
func TestThePlan(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "jobs", "table-top.yaml"))
	require.NoError(t, err)
	b := open(t, folder(t, map[string]string{"table.yaml": string(data)}))
	b.get("/jobs/table/plan")
	b.shows("The order of work", "The marks")
	assert.Less(t, strings.Index(b.main(), "warnings: read them before you begin"), strings.Index(b.main(), "<h2>The order of work</h2>"))
	b.get("/jobs/table/marks/ring/why/oily-rub")
	b.shows("Plan with this repair")
	b.post("/jobs/table/marks/ring/pick/oily-rub", nil)
	assert.Equal(t, "/jobs/table/plan", b.at)
	b.shows("Oily rub")
	assert.Contains(t, b.file("table.yaml"), "repair: oily-rub")
	b.post("/jobs/table/plan", url.Values{"step": {"fill-with-wax-stick@top"}})
	assert.Equal(t, http.StatusUnprocessableEntity, b.code)
	b.shows("say how it came out: enough, or not-enough, or failed")
	b.post("/jobs/table/plan", url.Values{"step": {"fill-with-wax-stick@top"}, "came-out": {"enough"}, "found": {"depht_mm=1 mm"}})
	assert.Equal(t, http.StatusUnprocessableEntity, b.code)
	b.post("/jobs/table/plan", url.Values{"step": {"fill-with-wax-stick@top"}, "came-out": {"enough"}})
	assert.Equal(t, "/jobs/table/plan", b.at)
	b.shows("Done: Fill with a soft wax stick")
	b.post("/jobs/table/plan", url.Values{"step": {"fill-with-wax-stick@top"}, "came-out": {"enough"}})
	assert.Equal(t, http.StatusUnprocessableEntity, b.code, "what is done is no step any more")
	b.post("/jobs/table/marks/ring/pick/magic", nil)
	assert.Equal(t, http.StatusNotFound, b.code)
	b.post("/jobs/table/marks/none/pick/oily-rub", nil)
	assert.Equal(t, http.StatusNotFound, b.code)
}

// TestPrintingGivesTheSheet: where somebody writes one, the pages of a job lead to it.
func TestPrintingGivesTheSheet(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	dir := folder(t, map[string]string{"stool.yaml": stool})
	b := serve(t, &page.Server{Dir: dir, Knowledge: k, Sheet: func(w io.Writer, job *jobfile.File) error {
		_, err := io.WriteString(w, "the sheet of "+job.Job.Name)
		return err
	}})
	for _, path := range []string{"/jobs/stool", "/jobs/stool/marks/ring", "/jobs/stool/plan"} {
		b.get(path).shows(`href="/jobs/stool/sheet"`)
	}
	b.get("/jobs/stool/sheet")
	assert.Equal(t, "the sheet of milking stool", b.seen)
	b = open(t, dir)
	assert.Equal(t, http.StatusNotFound, b.get("/jobs/stool/sheet").code)
	assert.NotContains(t, b.get("/jobs/stool").main(), "sheet")
}

// TestManyAnswerAtOnce: no answer is lost among people who answer on one job and on others in one folder.
func TestManyAnswerAtOnce(t *testing.T) {
	files := map[string]string{}
	for i := range 4 {
		files[fmt.Sprintf("job-%d.yaml", i)] = stool
	}
	b := open(t, folder(t, files))
	facts := []string{"defect.form", "defect.colour", "defect.age", "defect.level", "surface.layer", "surface.finish", "piece.age", "shop.place"}
	var group sync.WaitGroup
	for i := range 4 {
		for _, fact := range facts {
			group.Go(func() {
				one := *b
				one.post(fmt.Sprintf("/jobs/job-%d/marks/ring/ask/%s", i, fact), url.Values{"cannot": {"1"}})
				assert.Equal(t, http.StatusOK, one.code)
			})
		}
	}
	group.Wait()
	for i := range 4 {
		text := b.file(fmt.Sprintf("job-%d.yaml", i))
		assert.Equal(t, len(facts), strings.Count(text, "cannot tell"), text)
	}
}

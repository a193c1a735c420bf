package page_test

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/page"
	"mendwright/knowledge"
)

// BenchmarkAnswers is the time in the server from an answer to the next question, the save included, while
// 50 people answer at once, each a question every second or so on a job of their own.
func BenchmarkAnswers(b *testing.B) {
	const people = 50
	files := map[string]string{}
	for i := range people {
		files[fmt.Sprintf("job-%d.yaml", i)] = stool
	}
	k, err := knowledge.Load()
	require.NoError(b, err)
	srv := httptest.NewUnstartedServer(nil)
	defer srv.Close()
	h, err := (&page.Server{Dir: folder(b, files), Knowledge: k}).Handler(srv.Listener.Addr())
	require.NoError(b, err)
	at := "http://" + srv.Listener.Addr().String()
	ask := func(method, path, form string) *httptest.ResponseRecorder {
		req := httptest.NewRequest(method, at+path, strings.NewReader(form))
		req.Header.Set("Origin", at)
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, req)
		return w
	}
	button := regexp.MustCompile(`name="answer" value="([^"]+)"`)
	for b.Loop() {
		var mu sync.Mutex
		var all, saves []time.Duration
		var group sync.WaitGroup
		for i := range people {
			group.Go(func() {
				mark := fmt.Sprintf("/jobs/job-%d/marks/ring", i)
				rnd := rand.New(rand.NewPCG(1, uint64(i)))
				time.Sleep(time.Duration(rnd.IntN(3000)) * time.Millisecond) // nobody begins in the same instant
				seen := ask(http.MethodGet, mark+"/ask", "").Body.String()
				for range 12 {
					time.Sleep(time.Duration(500+rnd.IntN(1000)) * time.Millisecond)
					m := action.FindStringSubmatch(seen)
					if m == nil {
						return // nothing more is asked
					}
					form := url.Values{"cannot": {"1"}}
					if answers := button.FindAllStringSubmatch(seen, -1); len(answers) > 0 {
						form = url.Values{"answer": {answers[rnd.IntN(len(answers))][1]}}
					}
					begun := time.Now()
					w := ask(http.MethodPost, m[1], form.Encode())
					saved := time.Since(begun)
					if w.Code != http.StatusSeeOther {
						b.Errorf("%s: %d", m[1], w.Code)
						return
					}
					seen = ask(http.MethodGet, w.Header().Get("Location"), "").Body.String()
					took := time.Since(begun)
					mu.Lock()
					all, saves = append(all, took), append(saves, saved)
					mu.Unlock()
				}
			})
		}
		group.Wait()
		slices.Sort(all)
		slices.Sort(saves)
		ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
		b.ReportMetric(ms(all[len(all)/2]), "ms-median")
		b.ReportMetric(ms(all[len(all)*99/100]), "ms-p99")
		b.ReportMetric(ms(saves[len(saves)*99/100]), "ms-p99-save")
		b.ReportMetric(float64(len(all)), "answers")
	}
}

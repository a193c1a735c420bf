package page

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"math/big"
	"net/http"
	"strings"
	"sync"
	"time"
)

// gate lets in who has entered a code that was shown in the terminal. A code lets one device in; then the
// next is shown. The zero gate has shown none and lets nobody in.
type gate struct {
	show func(code string)
	now  func() time.Time

	mu    sync.Mutex
	code  string
	in    map[[sha256.Size]byte]bool // digests of the cookies given out
	tries []time.Time                // the wrong codes of the last minute
}

// maxTries is how many wrong codes a minute are compared at all, whoever tries.
const maxTries = 10

const cookie = "mendwright-access"

func newGate(show func(string)) *gate {
	g := &gate{show: show, now: time.Now, in: map[[sha256.Size]byte]bool{}}
	g.renew()
	return g
}

func (g *gate) renew() {
	n, err := rand.Int(rand.Reader, big.NewInt(1e8))
	if err != nil {
		panic(err) // the system has no random numbers; crypto/rand ends the program itself then
	}
	g.code = fmt.Sprintf("%08d", n)
	g.show(g.code[:4] + " " + g.code[4:])
}

// knows reports whether a request comes from a device that was let in.
func (g *gate) knows(r *http.Request) bool {
	c, err := r.Cookie(cookie)
	if err != nil {
		return false
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.in[sha256.Sum256([]byte(c.Value))]
}

// try compares a code and returns the cookie for the device, or says why not.
func (g *gate) try(code string) (*http.Cookie, string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	for len(g.tries) > 0 && now.Sub(g.tries[0]) >= time.Minute {
		g.tries = g.tries[1:]
	}
	if len(g.tries) >= maxTries {
		return nil, "Too many wrong codes. Wait a minute, then type the code that the terminal shows."
	}
	code = strings.Join(strings.Fields(code), "")
	if subtle.ConstantTimeCompare([]byte(code), []byte(g.code)) != 1 {
		g.tries = append(g.tries, now)
		return nil, "That is not the code that the terminal shows now. Each code is good for one device."
	}
	token := rand.Text() + rand.Text()
	g.in[sha256.Sum256([]byte(token))] = true
	g.renew()
	return &http.Cookie{Name: cookie, Value: token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 12 * 60 * 60}, ""
}

// Package page is the bench page: the questions, the triage and the checks as web pages for a phone, a
// tablet or a desk, from the same engine and in the same words as the terminal. It decides nothing. It
// works without script, keeps no state but who was let in, and saves every answer at once.
package page

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
)

// Server serves the jobs of a folder. Dir and Knowledge must be set.
type Server struct {
	Dir       string // the folder of the job files
	Knowledge *knowledge.Loaded
	// Out is told the address, the warning and the code; nil is nobody.
	Out io.Writer
	// Sheet writes the sheet of a job for printing, as a whole page of HTML. While it is nil there is no
	// such page.
	Sheet func(w io.Writer, job *jobfile.File) error

	jobs    *folder
	gate    *gate // nil: on the loopback nobody is asked for a code
	triages triages
	// unpacking lets one picture be unpacked at a time.
	unpacking sync.Mutex
	hosts     []string // names under which requests are answered
}

// Bounds of a connection. A phone in a workshop is slow; who sends a form by the byte is not waited for.
const (
	maxConns    = 128
	maxHeader   = 16 << 10
	headerTime  = 5 * time.Second
	photoTime   = 2 * time.Minute
	answerTime  = 3 * time.Minute // a picture is read and written within it
	idleTime    = time.Minute
	goodbyeTime = 5 * time.Second
)

// formTime is how long a form may take to arrive; tests shorten it.
var formTime = 15 * time.Second

// Serve answers requests until ctx ends, and lets those under way come to their end. Where l listens on
// more than the loopback, it asks for a code. The error is that of the folder or the network.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	pages() // now, and not while somebody waits
	h, err := s.Handler(l.Addr())
	if err != nil {
		return err
	}
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       formTime,
		WriteTimeout:      answerTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    maxHeader,
		ErrorLog:          log.New(io.Discard, "", 0),
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(limit(l, maxConns)) }()
	select {
	case err := <-done:
		return fmt.Errorf("the page: %w", err)
	case <-ctx.Done():
	}
	stop, cancel := context.WithTimeout(context.Background(), goodbyeTime)
	defer cancel()
	if err := srv.Shutdown(stop); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("the page: %w", err)
	}
	return nil
}

// Handler is the whole page for an address that is listened on. The error is that of the folder.
func (s *Server) Handler(at net.Addr) (http.Handler, error) {
	tcp, ok := at.(*net.TCPAddr)
	if !ok {
		return nil, fmt.Errorf("the page: %s is no address of a network", at)
	}
	var err error
	if s.jobs, err = openFolder(s.Dir, s.Knowledge); err != nil {
		return nil, err
	}
	if s.Out == nil {
		s.Out = io.Discard
	}
	s.hosts = names(tcp)
	if s.announce(tcp); !tcp.IP.IsLoopback() {
		s.gate = newGate(func(code string) { fmt.Fprintf(s.Out, "Code for the next device: %s\n", code) })
	}
	return s.guard(s.routes()), nil
}

// announce says where the page is, and who may see it.
func (s *Server) announce(at *net.TCPAddr) {
	if at.IP.IsLoopback() {
		fmt.Fprintf(s.Out, "The bench page is http://%s/ on this machine alone. Ctrl-C ends it.\n", at)
		return
	}
	fmt.Fprintln(s.Out, "WARNING: this page is for your own network only. Whoever is in it can read along on the way,")
	fmt.Fprintln(s.Out, "and whoever enters a code can see and change the jobs. Never open it to the internet.")
	for _, host := range s.hosts {
		if ip, _, err := net.SplitHostPort(host); err == nil && at.IP.IsUnspecified() && reachable(net.ParseIP(ip)) {
			fmt.Fprintf(s.Out, "The bench page is http://%s/\n", host)
		}
	}
	if !at.IP.IsUnspecified() {
		fmt.Fprintf(s.Out, "The bench page is http://%s/\n", at)
	}
	fmt.Fprintln(s.Out, "Ctrl-C ends it.")
}

// reachable reports whether another device can use the address as it stands.
func reachable(ip net.IP) bool {
	return ip != nil && !ip.IsLoopback() && !ip.IsUnspecified() && !ip.IsLinkLocalUnicast()
}

func portOf(port uint16) string { return strconv.Itoa(int(port)) }

func (s *Server) routes() http.Handler {
	mux := http.NewServeMux()
	for pattern, do := range map[string]func(*request) error{
		"GET /{$}":                                       s.home,
		"POST /jobs":                                     s.begin,
		"GET /jobs/{job}":                                s.job,
		"GET /jobs/{job}/mark":                           s.newMark,
		"POST /jobs/{job}/marks":                         s.addMark,
		"GET /jobs/{job}/marks/{mark}":                   s.result,
		"GET /jobs/{job}/marks/{mark}/answers":           s.answers,
		"GET /jobs/{job}/marks/{mark}/why/{method}":      s.why,
		"GET /jobs/{job}/marks/{mark}/ask":               s.ask,
		"GET /jobs/{job}/marks/{mark}/ask/{fact}":        s.askFact,
		"POST /jobs/{job}/marks/{mark}/ask/{fact}":       s.answer,
		"POST /jobs/{job}/marks/{mark}/take-back/{fact}": s.takeBack,
		"POST /jobs/{job}/marks/{mark}/keep/{fact}":      s.keep,
		"GET /jobs/{job}/photos/{photo}":                 s.photo,
		"POST /jobs/{job}/marks/{mark}/pick/{method}":    s.pick,
		"GET /jobs/{job}/plan":                           s.plan,
		"POST /jobs/{job}/plan":                          s.done,
		"GET /sand":                                      s.sand,
		"GET /air":                                       s.air,
		"GET /code":                                      s.codeForm,
		"POST /code":                                     s.enterCode,
		"GET /script.js":                                 s.script,
		"/":                                              func(*request) error { return errNoPage },
	} {
		mux.Handle(pattern, s.handle(do))
	}
	mux.Handle("POST /jobs/{job}/marks/{mark}/photos", s.handleUpTo(maxPhoto, s.addPhoto))
	if s.Sheet != nil {
		mux.Handle("GET /jobs/{job}/sheet", s.handle(s.written(s.Sheet)))
	}
	return mux
}

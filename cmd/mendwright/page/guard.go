package page

import (
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
)

// What a page may do, and nothing else: its own style and script, its own pictures, its own forms.
var policy = "default-src 'none'; style-src '" + styleHash + "'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard answers what must not reach the pages: requests under a forged name of this machine, from other
// sites, and from devices that were not let in.
func (s *Server) guard(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.refuse(w, http.StatusForbidden, "This came from another site, so it was not done.")
	}))
	inner := cross.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.gate != nil && !s.gate.knows(r) && r.URL.Path != "/code" {
			http.Redirect(w, r, "/code", http.StatusSeeOther)
			return
		}
		next.ServeHTTP(w, r)
	}))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		switch {
		case !slices.Contains(s.hosts, strings.ToLower(r.Host)):
			// Another name may have been pointed at this machine to read along.
			s.refuse(w, http.StatusMisdirectedRequest, "This page is not known under that name. Type the address that the terminal shows.")
		case !sameSite(r):
			s.refuse(w, http.StatusForbidden, "This came from another site, so it was not done.")
		default:
			inner.ServeHTTP(w, r)
		}
	})
}

// maxForm is the longest form that is read, in bytes.
const maxForm = 64 << 10

// sameSite reports whether a request may be answered, by where it says it comes from. What changes
// something must say so, and it must be this page; a page of another site may link here, and no more.
func sameSite(r *http.Request) bool {
	site := r.Header.Get("Sec-Fetch-Site")
	origin := r.Header.Get("Origin")
	if r.Method == http.MethodGet || r.Method == http.MethodHead {
		linked := r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
		return site == "" || site == "same-origin" || site == "none" || linked
	}
	if origin == "" {
		return site == "same-origin"
	}
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && strings.EqualFold(u.Host, r.Host) && (site == "" || site == "same-origin")
}

// names are the names and addresses under which the page is reached through a listener: on the loopback
// the usual three, else besides these every address of this machine. No other name is ever one of them,
// so that a site whose name is pointed at this machine gets nothing.
func names(at *net.TCPAddr) []string {
	ips := []net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback}
	if !at.IP.IsLoopback() {
		ips = append(ips, at.IP)
		addrs, _ := net.InterfaceAddrs() // without them only the address listened on is a name
		for _, a := range addrs {
			if n, ok := a.(*net.IPNet); ok {
				ips = append(ips, n.IP)
			}
		}
	}
	port := at.AddrPort().Port()
	var out []string
	add := func(host string) {
		addr := net.JoinHostPort(host, portOf(port))
		out = append(out, addr)
		if port == 80 {
			out = append(out, strings.TrimSuffix(addr, ":80"))
		}
	}
	add("localhost")
	for _, ip := range ips {
		add(ip.String())
	}
	return out
}

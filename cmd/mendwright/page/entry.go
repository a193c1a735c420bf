package page

import "net/http"

// codeForm asks for the code that the terminal shows.
func (s *Server) codeForm(r *request) error {
	if s.gate == nil {
		return errNoPage
	}
	return r.show(http.StatusOK, "code", map[string]any{"Title": "The code"})
}

// enterCode lets a device in.
func (s *Server) enterCode(r *request) error {
	if s.gate == nil {
		return errNoPage
	}
	c, wrong := s.gate.try(r.PostFormValue("code"))
	if wrong != "" {
		return r.show(http.StatusForbidden, "code", map[string]any{"Title": "The code", "Wrong": wrong})
	}
	http.SetCookie(r.w, c)
	return r.see("/")
}

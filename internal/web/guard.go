// SPDX-License-Identifier: Apache-2.0

package web

import (
	"errors"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
	"time"
)

// policy keeps the pages to what they bring themselves: no foreign script,
// style, frame or connection.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; " +
	"font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"

// guard refuses calls that another web page could have caused: a host name
// that is not ours (a foreign name pointed at this machine), or an action
// whose origin is another page.
func (s *Server) guard(next http.Handler) http.Handler {
	gate := newAccess(s.Code, s.now)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !s.knowsHost(r.Host) {
			Refuse(w, http.StatusForbidden, errors.New("this server is not called that; use http://localhost with its port"))
			return
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead && !sameOrigin(r) {
			Refuse(w, http.StatusForbidden, errors.New("only this server's own pages may do that"))
			return
		}
		s.hurry(w, r)
		switch v := gate.judge(r); v {
		case welcomed:
			http.SetCookie(w, gate.cookie())
		case noCode, wrongCode, tooMany:
			turnAway(w, r, v)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// hurry bounds how long a caller may take to send the rest of its call and to
// read the answer; the stream of events sets its own bounds.
func (s *Server) hurry(w http.ResponseWriter, r *http.Request) {
	c, late := http.NewResponseController(w), time.Now().Add(s.patience)
	// A writer without deadlines (a test's recorder) is no error.
	_ = c.SetWriteDeadline(late)
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		_ = c.SetReadDeadline(late)
	}
}

// knowsHost says whether a request's Host may be answered. Addresses are
// safe, names are not: anybody can point a name of theirs at this machine.
func (s *Server) knowsHost(hostport string) bool {
	host := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		host = h
	}
	host = strings.ToLower(strings.Trim(host, "[]"))
	if host == "localhost" {
		return true
	}
	if ip, err := netip.ParseAddr(host); err == nil {
		return ip.IsLoopback() || s.AllowRemote
	}
	return s.AllowRemote && slices.ContainsFunc(s.Names, func(n string) bool { return strings.EqualFold(n, host) })
}

// sameOrigin says whether an action comes from our own page, or from a
// program that is no browser (it sends neither header). A browser cannot leave
// Origin out of a POST to elsewhere (Fetch standard, "append a request Origin
// header").
func sameOrigin(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" {
		return false
	}
	origins := r.Header.Values("Origin")
	if len(origins) == 0 {
		return true
	}
	u, err := url.Parse(origins[0])
	return err == nil && len(origins) == 1 && u.Scheme == "http" && u.Host == r.Host
}

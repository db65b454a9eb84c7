package web

import (
	"errors"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
)

// policy keeps the pages to what they bring themselves: no foreign script,
// style, frame or connection.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; " +
	"font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"

// guard refuses calls that another web page could have caused: a host name
// that is not ours (a foreign name pointed at this machine), or an action
// whose origin is another page.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !s.knowsHost(r.Host) {
			refuse(w, http.StatusForbidden, errors.New("this server is not called that; use http://localhost with its port"))
			return
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead && !sameOrigin(r) {
			refuse(w, http.StatusForbidden, errors.New("only this server's own pages may do that"))
			return
		}
		next.ServeHTTP(w, r)
	})
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

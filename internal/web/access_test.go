// SPDX-License-Identifier: Apache-2.0

package web

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"
)

func locked() (*Server, *recorder) {
	r := &recorder{}
	s := playing(r)
	s.Code = "ABC234"
	s.Publish(Event{JPEG: []byte("picture")})
	return s, r
}

// Without the code nothing is to be had: no page, no stream, no picture, no act.
func TestWithoutTheCodeNothingIsServed(t *testing.T) {
	s, r := locked()
	h := s.Handler()
	for _, path := range []string{"/", "/bench", "/manual/", "/manual/pull.svg", "/static/style.css", "/letters/lettering.ttf", "/events", "/picture"} {
		if w := call(h, http.MethodGet, path, ""); w.Code != http.StatusUnauthorized || len(w.Result().Cookies()) > 0 {
			t.Errorf("%s: status %d", path, w.Code)
		}
	}
	for _, path := range []string{"hand", "answer", "request", "halt", "resume"} {
		if w := call(h, http.MethodPost, "/api/"+path, "{}"); w.Code != http.StatusUnauthorized {
			t.Errorf("%s: status %d", path, w.Code)
		}
	}
	if len(r.did) > 0 {
		t.Errorf("done without the code: %v", r.did)
	}
	w := call(h, http.MethodGet, "/", "", header("Accept", "text/html"))
	if !strings.Contains(w.Body.String(), `name="code"`) || !strings.Contains(w.Header().Get("Content-Security-Policy"), "form-action 'self'") {
		t.Errorf("a person is not asked for the code: %s", w.Body)
	}
}

func TestTheCodeOpensOnceAndForAll(t *testing.T) {
	s, r := locked()
	h := s.Handler()
	w := call(h, http.MethodGet, "/?code=abc234", "")
	cookies := w.Result().Cookies()
	if w.Code != 200 || len(cookies) != 1 {
		t.Fatalf("status %d, cookies %v", w.Code, cookies)
	}
	c := cookies[0]
	if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || strings.Contains(c.Value, "ABC234") {
		t.Errorf("cookie %+v", c)
	}
	with := func(r *http.Request) { r.AddCookie(&http.Cookie{Name: c.Name, Value: c.Value}) }
	if w := call(h, http.MethodPost, "/api/halt", "", with); w.Code != 200 || len(r.did) != 1 {
		t.Errorf("with the cookie: %d %s", w.Code, w.Body)
	}
	old := func(r *http.Request) { r.AddCookie(&http.Cookie{Name: c.Name, Value: "x" + c.Value}) }
	if w := call(h, http.MethodPost, "/api/halt", "", old); w.Code != http.StatusUnauthorized {
		t.Errorf("with a false cookie: %d", w.Code)
	}
}

func TestCodesCannotBeTriedOut(t *testing.T) {
	s, _ := locked()
	clock := time.Unix(1000, 0)
	s.now = func() time.Time { return clock }
	h := s.Handler()
	from := func(addr string) func(*http.Request) { return func(r *http.Request) { r.RemoteAddr = addr + ":999" } }
	for i := range triesEach {
		if got := call(h, http.MethodGet, fmt.Sprintf("/?code=%d", i), "", from("192.0.2.1")).Code; got != http.StatusForbidden {
			t.Fatalf("try %d: %d", i, got)
		}
	}
	if got := call(h, http.MethodGet, "/?code=ABC234", "", from("192.0.2.1")).Code; got != http.StatusTooManyRequests {
		t.Errorf("after %d wrong codes the right one is still looked at: %d", triesEach, got)
	}
	if got := call(h, http.MethodGet, "/?code=ABC234", "", from("192.0.2.2")).Code; got != 200 {
		t.Errorf("somebody else is locked out: %d", got)
	}
	for i := range triesAll {
		call(h, http.MethodGet, "/?code=x", "", from(fmt.Sprintf("192.0.2.%d", i+3)))
	}
	if got := call(h, http.MethodGet, "/?code=ABC234", "", from("192.0.2.200")).Code; got != http.StatusTooManyRequests {
		t.Errorf("many addresses together may try for ever: %d", got)
	}
	clock = clock.Add(time.Minute)
	if got := call(h, http.MethodGet, "/?code=ABC234", "", from("192.0.2.1")).Code; got != 200 {
		t.Errorf("a minute later: %d", got)
	}
}

func TestNewCodesDiffer(t *testing.T) {
	seen := map[string]bool{}
	for range 200 {
		c := NewCode()
		if len(c) != codeLength || strings.Trim(c, codeLetters) != "" || seen[c] {
			t.Fatalf("code %q after %d others", c, len(seen))
		}
		seen[c] = true
	}
}

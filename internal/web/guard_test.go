// SPDX-License-Identifier: Apache-2.0

package web

import (
	"net/http"
	"strings"
	"testing"
)

func host(name string) func(*http.Request) {
	return func(r *http.Request) {
		r.Host = name
		if r.Header.Get("Origin") != "" {
			r.Header.Set("Origin", "http://"+name)
		}
	}
}

func header(name, value string) func(*http.Request) {
	return func(r *http.Request) {
		r.Header.Del(name)
		if value != "" {
			r.Header.Set(name, value)
		}
	}
}

// Foreign names may point at this machine: only our own are answered, for
// reading as for acting.
func TestOnlyOurOwnNamesAreAnswered(t *testing.T) {
	for _, c := range []struct {
		host          string
		local, remote bool
	}{
		{"127.0.0.1:8317", true, true},
		{"localhost:8317", true, true},
		{"LocalHost", true, true},
		{"[::1]:8317", true, true},
		{"192.168.1.20:8317", false, true},
		{"table.local:8317", false, true},
		{"evil.example:8317", false, false},
		{"127.0.0.1.evil.example", false, false},
		{"localhost.evil.example:8317", false, false},
		{"", false, false},
	} {
		for _, remote := range []bool{false, true} {
			s := playing(&recorder{})
			s.AllowRemote, s.Names = remote, []string{"table.local"}
			want := map[bool]bool{false: c.local, true: c.remote}[remote]
			for _, w := range []int{
				call(s.Handler(), http.MethodGet, "/", "", host(c.host)).Code,
				call(s.Handler(), http.MethodPost, "/api/halt", "{}", host(c.host)).Code,
			} {
				if (w == 200) != want {
					t.Errorf("host %q, remote %v: status %d, want answered %v", c.host, remote, w, want)
				}
			}
		}
	}
}

func TestNoOtherPageMayAct(t *testing.T) {
	for _, c := range []struct {
		desc    string
		changes []func(*http.Request)
		want    int
	}{
		{"our page", nil, 200},
		{"a program without a browser", []func(*http.Request){header("Origin", "")}, 200},
		{"another page", []func(*http.Request){header("Origin", "http://evil.example")}, 403},
		{"another port of this machine", []func(*http.Request){header("Origin", "http://127.0.0.1:9999")}, 403},
		{"a sandboxed frame", []func(*http.Request){header("Origin", "null")}, 403},
		{"a page the browser calls foreign", []func(*http.Request){header("Sec-Fetch-Site", "cross-site")}, 403},
		{"a form", []func(*http.Request){header("Content-Type", "application/x-www-form-urlencoded")}, 415},
		{"a form that pretends", []func(*http.Request){header("Content-Type", "text/plain; application/json")}, 415},
		{"JSON with a charset", []func(*http.Request){header("Content-Type", "application/json; charset=utf-8")}, 200},
	} {
		r := &recorder{}
		w := call(playing(r).Handler(), http.MethodPost, "/api/resume", "{}", c.changes...)
		if w.Code != c.want || (len(r.did) == 1) != (c.want == 200) {
			t.Errorf("%s: status %d, done %v; want %d", c.desc, w.Code, r.did, c.want)
		}
	}
	r := &recorder{}
	if w := call(playing(r).Handler(), http.MethodGet, "/api/halt", ""); w.Code == 200 || len(r.did) > 0 {
		t.Errorf("a GET stopped the motors: %d", w.Code)
	}
}

func TestPagesBringTheirOwnOnly(t *testing.T) {
	w := call(New(nil).Handler(), http.MethodGet, "/", "")
	if got := w.Header().Get("Content-Security-Policy"); !strings.Contains(got, "default-src 'none'") || strings.Contains(got, "unsafe") {
		t.Errorf("policy %q", got)
	}
}

// A stop is taken in any form: no body, a form's, garbage; only not from
// another page.
func TestAStopIsTakenInAnyForm(t *testing.T) {
	for _, c := range []struct {
		desc, body string
		changes    []func(*http.Request)
		want       int
	}{
		{"nothing at all", "", []func(*http.Request){header("Content-Type", "")}, 200},
		{"JSON", "{}", nil, 200},
		{"a form", "a=b", []func(*http.Request){header("Content-Type", "application/x-www-form-urlencoded")}, 200},
		{"garbage", "\x00{", []func(*http.Request){header("Content-Type", "text/plain")}, 200},
		{"without a browser", "", []func(*http.Request){header("Origin", "")}, 200},
		{"another page", "", []func(*http.Request){header("Origin", "http://evil.example")}, 403},
	} {
		r := &recorder{}
		w := call(playing(r).Handler(), http.MethodPost, "/api/halt", c.body, c.changes...)
		if w.Code != c.want || (len(r.did) == 1) != (c.want == 200) {
			t.Errorf("%s: status %d, done %v; want %d", c.desc, w.Code, r.did, c.want)
		}
	}
}

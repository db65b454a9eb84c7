// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// recorder is Controls that writes down what was asked.
type recorder struct {
	did  []string
	fail error
}

func (r *recorder) note(s string) error { r.did = append(r.did, s); return r.fail }

func (r *recorder) Hand(_ context.Context, a HandAct) error {
	return r.note(fmt.Sprintf("hand %s %s %s", a.From, a.To, a.Piece))
}
func (r *recorder) Answer(_ context.Context, n uint64, choice int) error {
	return r.note(fmt.Sprintf("answer %d %d", n, choice))
}
func (r *recorder) Halt(context.Context) error   { return r.note("halt") }
func (r *recorder) Resume(context.Context) error { return r.note("resume") }

// call asks the handler as a local page would; a change function may alter the request.
func call(h http.Handler, method, path, body string, change ...func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host = "127.0.0.1:8317"
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "http://127.0.0.1:8317")
	}
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func playing(c Controls) *Server {
	s := New(c)
	s.Publish(Event{Visitor: &Visitor{Plays: true, Side: "white"}})
	s.Publish(Event{Question: &Question{Text: "Which?", Choices: []string{"this", "that"}}})
	return s
}

func TestActions(t *testing.T) {
	for _, c := range []struct {
		desc, path, body string
		status           int
		did              string // or a part of the refusal
	}{
		{"a move", "hand", `{"from":"e2","to":"e4"}`, 200, "hand e2 e4 "},
		{"a piece taken off", "hand", `{"from":"d5","to":"off"}`, 200, "hand d5 off "},
		{"a piece put on", "hand", `{"from":"off","to":"e8","piece":"Q"}`, 200, "hand off e8 Q"},
		{"no such square", "hand", `{"from":"i2","to":"e4"}`, 400, `\"i2\" is not a square`},
		{"nowhere to go", "hand", `{"from":"e2","to":"e2"}`, 400, "two different places"},
		{"no piece named", "hand", `{"from":"off","to":"e4"}`, 400, "is no piece"},
		{"a piece too many", "hand", `{"from":"e2","to":"e4","piece":"Q"}`, 400, "piece goes only with"},
		{"an unknown key", "hand", `{"from":"e2","to":"e4","force":true}`, 400, "unknown field"},
		{"no JSON", "hand", `from=e2&to=e4`, 400, "cannot read the JSON"},
		{"two objects", "hand", `{"from":"e2","to":"e4"}{}`, 400, "one JSON object"},
		{"a flood", "hand", `{"from":"` + strings.Repeat("e", 5000) + `"}`, 400, "too large"},
		{"an answer", "answer", `{"n":1,"choice":1}`, 200, "answer 1 1"},
		{"the first answer", "answer", `{"n":1,"choice":0}`, 200, "answer 1 0"},
		{"no choice", "answer", `{"n":1}`, 400, "choice must be 0 to 1"},
		{"no such choice", "answer", `{"n":1,"choice":2}`, 400, "choice must be 0 to 1"},
		{"an older question", "answer", `{"n":0,"choice":0}`, 409, "settled already"},
		{"stop", "halt", `{}`, 200, "halt"},
		{"go on", "resume", `{}`, 200, "resume"},
	} {
		r := &recorder{}
		w := call(playing(r).Handler(), http.MethodPost, "/api/"+c.path, c.body)
		got := strings.Join(r.did, ";")
		if c.status != 200 {
			got = w.Body.String()
			if len(r.did) > 0 {
				t.Errorf("%s: refused, but done: %v", c.desc, r.did)
			}
		}
		if w.Code != c.status || !strings.Contains(got, c.did) {
			t.Errorf("%s: %d %q, want %d %q", c.desc, w.Code, got, c.status, c.did)
		}
	}
}

func TestAnAnsweredQuestionTakesNoSecondAnswer(t *testing.T) {
	r := &recorder{}
	s := playing(r)
	s.Publish(Event{Question: &Question{}})
	if w := call(s.Handler(), http.MethodPost, "/api/answer", `{"n":1,"choice":0}`); w.Code != http.StatusConflict || len(r.did) > 0 {
		t.Errorf("got %d, done %v", w.Code, r.did)
	}
}

func TestTheRefusalOfTheControlsReachesThePage(t *testing.T) {
	s := playing(&recorder{fail: errors.New("wait until the carriage has stopped")})
	w := call(s.Handler(), http.MethodPost, "/api/hand", `{"from":"e2","to":"e4"}`)
	if w.Code != http.StatusConflict || w.Body.String() != `{"error":"wait until the carriage has stopped"}`+"\n" {
		t.Errorf("got %d %s", w.Code, w.Body)
	}
}

func TestAtTheBoardThePageMovesNothing(t *testing.T) {
	r := &recorder{}
	s := playing(r)
	s.Publish(Event{Visitor: &Visitor{Side: "white"}})
	if w := call(s.Handler(), http.MethodPost, "/api/hand", `{"from":"e2","to":"e4"}`); w.Code != http.StatusConflict || len(r.did) > 0 {
		t.Errorf("got %d, done %v", w.Code, r.did)
	}
}

func FuzzHand(f *testing.F) {
	f.Add(`{"from":"e2","to":"e4"}`)
	f.Add(`{"from":"off","to":"e8","piece":"Q"}`)
	f.Add(`[`)
	f.Fuzz(func(t *testing.T, body string) {
		r := &recorder{}
		w := call(playing(r).Handler(), http.MethodPost, "/api/hand", body)
		if (w.Code == 200) != (len(r.did) == 1) {
			t.Errorf("status %d, done %v", w.Code, r.did)
		}
	})
}

// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
)

// serveHand takes {"from","to","piece"}.
func (s *Server) serveHand(w http.ResponseWriter, r *http.Request) {
	var act HandAct
	if !read(w, r, &act) {
		return
	}
	if err := act.Check(); err != nil {
		Refuse(w, http.StatusBadRequest, err)
		return
	}
	s.mu.Lock()
	v, placed := s.state.Visitor, s.placed
	s.mu.Unlock()
	if v == nil || !v.Plays {
		Refuse(w, http.StatusConflict, errors.New("this game is played at the board; move the piece there"))
		return
	}
	err := s.controls.Hand(r.Context(), act)
	if err == nil {
		s.showHand(act, placed)
	}
	finish(w, err)
}

// showHand moves the piece on all pages, unless the pieces were published since.
func (s *Server) showHand(act HandAct, placed uint64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	side := 0.0
	if s.state.Machine != nil {
		side = s.state.Machine.Square
	}
	if pieces := handled(s.state.Pieces, act, side); pieces != nil && s.placed == placed {
		s.publish(Event{Pieces: pieces})
	}
}

// serveAnswer takes {"n","choice"}: which question, which of its choices.
func (s *Server) serveAnswer(w http.ResponseWriter, r *http.Request) {
	var a struct {
		N      uint64 `json:"n"`
		Choice *int   `json:"choice"`
	}
	if !read(w, r, &a) {
		return
	}
	s.mu.Lock()
	q := s.state.Question
	s.mu.Unlock()
	switch {
	case q == nil || q.Text == "" || q.N != a.N:
		Refuse(w, http.StatusConflict, errors.New("that question has been settled already"))
	case a.Choice == nil || *a.Choice < 0 || *a.Choice >= len(q.Choices):
		Refuse(w, http.StatusBadRequest, fmt.Errorf("choice must be 0 to %d", len(q.Choices)-1))
	default:
		finish(w, s.controls.Answer(r.Context(), a.N, *a.Choice))
	}
}

// serveStep takes {"n","do","step"}.
func (s *Server) serveStep(w http.ResponseWriter, r *http.Request) {
	var a struct {
		N    uint64 `json:"n"`
		Do   string `json:"do"`
		Step string `json:"step"`
	}
	if !read(w, r, &a) {
		return
	}
	switch {
	case a.Do != Later && a.Do != Again:
		Refuse(w, http.StatusBadRequest, fmt.Errorf("do must be %q or %q; got %q", Later, Again, a.Do))
	case a.Do == Again && a.Step == "":
		Refuse(w, http.StatusBadRequest, errors.New("step must be the name of a step, like axes"))
	default:
		finish(w, s.Guide.Instead(r.Context(), a.N, a.Do, a.Step))
	}
}

// PolicyOfPaper is the content policy of papers: it lets one have its own style; nothing else, and no script.
const PolicyOfPaper = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'"

// servePaper is one paper as it is now.
func (s *Server) servePaper(w http.ResponseWriter, r *http.Request) {
	text, kind, err := s.Guide.Paper(r.PathValue("name"))
	if err != nil {
		Refuse(w, http.StatusNotFound, err)
		return
	}
	h := w.Header()
	h.Set("Content-Security-Policy", PolicyOfPaper)
	h.Set("Cache-Control", "no-store")
	h.Set("Content-Type", kind)
	_, _ = w.Write(text) // a page that went away needs no paper
}

// serveRequest takes a Request.
func (s *Server) serveRequest(w http.ResponseWriter, r *http.Request) {
	var ask Request
	if !read(w, r, &ask) {
		return
	}
	if err := ask.Check(); err != nil {
		Refuse(w, http.StatusBadRequest, err)
		return
	}
	if s.Requests == nil {
		Refuse(w, http.StatusConflict, errors.New("nothing can be asked for here"))
		return
	}
	finish(w, s.Requests.Request(r.Context(), ask))
}

// serveHalt takes anything: a stop is never refused for its form.
func (s *Server) serveHalt(w http.ResponseWriter, r *http.Request) {
	finish(w, s.controls.Halt(context.WithoutCancel(r.Context())))
}

// serveResume takes {}.
func (s *Server) serveResume(w http.ResponseWriter, r *http.Request) {
	if read(w, r, &struct{}{}) {
		finish(w, s.controls.Resume(r.Context()))
	}
}

// read parses one strict JSON object, or refuses.
func read(w http.ResponseWriter, r *http.Request, into any) bool {
	return ReadPost(w, r, largestPost, into)
}

// ReadPost parses one strict JSON object of at most so many bytes, or refuses; false when it did.
func ReadPost(w http.ResponseWriter, r *http.Request, most int64, into any) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "application/json" {
		Refuse(w, http.StatusUnsupportedMediaType, errors.New("post JSON with Content-Type application/json"))
		return false
	}
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, most))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		Refuse(w, http.StatusBadRequest, fmt.Errorf("cannot read the JSON: %w", err))
		return false
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		Refuse(w, http.StatusBadRequest, errors.New("post one JSON object and nothing after it"))
		return false
	}
	return true
}

// finish reports what the control said.
func finish(w http.ResponseWriter, err error) {
	if err != nil {
		Refuse(w, http.StatusConflict, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = io.WriteString(w, `{"ok":true}`+"\n") // a page that went away needs no reply
}

// Refuse answers with one sentence that the page shows as it is.
func Refuse(w http.ResponseWriter, status int, err error) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]string{"error": err.Error()}) // as above
}

// SPDX-License-Identifier: Apache-2.0

package web

import (
	"embed"
	"io/fs"
	"net/http"
	"sync"
	"time"

	"boardhand/internal/handbook"
)

//go:embed page
var pages embed.FS

// Server keeps the newest state of the game and shows it to any number of
// pages. Set its fields before Listen, Serve or Handler is called.
type Server struct {
	// AllowRemote lets the server listen on addresses other than loopback and
	// be called by a bare IP address. Who has the Code can then move the machine,
	// so it is for a network one trusts.
	AllowRemote bool
	// Code must be given once, as /?code=…, by everybody who looks or acts; empty:
	// nobody is asked.
	Code string
	// Names are further host names the server may be called by, such as
	// "boardhand.local". Only with AllowRemote.
	Names []string
	// Specimens shows every state of the pages with canned data at /specimens.
	Specimens bool
	// Requests does what the pages ask for; nil: nothing.
	Requests Requester
	// Guide leads through a bring-up, whose page is then the first one; nil: a game is played.
	Guide Guide
	// Office serves what the Drawing office shows, below /office/; nil: there is none. A server
	// without controls has that page alone.
	Office http.Handler

	controls Controls
	now      func() time.Time
	beat     time.Duration // between two signs of life on a stream
	patience time.Duration // for one read or write of a call
	closing  chan struct{}
	close    sync.Once

	mu       sync.Mutex
	state    Event
	began    time.Time // of state.Motion
	jpeg     []byte
	lines    uint64 // log lines numbered so far
	asked    uint64 // questions numbered so far
	placed   uint64 // times the pieces were published
	watchers map[*watcher]struct{}
}

// New returns a server whose pages work the given controls.
func New(c Controls) *Server {
	return &Server{
		controls: c,
		now:      time.Now,
		beat:     beat,
		patience: patience,
		closing:  make(chan struct{}),
		watchers: map[*watcher]struct{}{},
	}
}

// Publish lays the event over the state and sends it to every page. It never
// waits for a page: what a slow one has not taken yet is merged for it.
func (s *Server) Publish(e Event) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.publish(e)
}

// publish is Publish for those who hold mu.
func (s *Server) publish(e Event) {
	shown, moves, ended := s.state.Pieces, e.Moves, s.state.Result+s.state.LastMove
	s.complete(&e)
	before := s.state
	before.Pieces = shown // a carried piece that has been put down is news
	s.state.merge(e)
	e.trim(before)
	if ended != "" && before.Result+before.LastMove == "" {
		e.Moves = moves // they tell a page to forget the end, even if they are the same
	}
	if e.isEmpty() {
		return
	}
	for w := range s.watchers {
		w.put(e, false)
	}
}

// complete fills in what the server knows better than the caller, and brings
// the state to where the event begins.
func (s *Server) complete(e *Event) {
	if len(e.JPEG) > 0 {
		s.jpeg = e.JPEG
		e.Picture = s.state.Picture + 1
	}
	if e.Log != nil {
		e.Log = append([]Line(nil), e.Log...) // the caller's stays as it is
	}
	for i := range e.Log {
		s.lines++
		e.Log[i].N = s.lines
		if e.Log[i].At.IsZero() {
			e.Log[i].At = s.now()
		}
	}
	if e.Sentence != "" && e.Wanted == nil && s.state.Wanted != nil {
		e.Wanted = []Asked{}
	}
	if e.Question != nil && e.Question.Text != "" {
		q := *e.Question
		if q.N == 0 {
			q.N = s.asked + 1
		}
		s.asked = max(s.asked, q.N)
		e.Question = &q
	}
	settled := s.completeMotion(e)
	s.completePieces(e, settled)
	if e.Moves != nil && (len(e.Moves) == 0 || len(e.Moves) < len(s.state.Moves)) { // new, or taken back
		s.state.LastMove, s.state.Result = "", ""
		for w := range s.watchers {
			w.forget()
		}
	}
}

// completeMotion ends the motion before this one; it says whether that left a
// carried piece in a new place.
func (s *Server) completeMotion(e *Event) (settled bool) {
	ends := e.Carriage != nil && e.Motion == nil
	if e.Motion == nil && !ends {
		return false
	}
	s.state.Pieces, settled = settle(s.state.Pieces, s.state.Motion, e.Carriage)
	s.began = s.now()
	if ends {
		e.Motion = &Motion{}
	}
	return settled
}

func (s *Server) completePieces(e *Event, settled bool) {
	side := 0.0
	if m := s.state.Machine; m != nil {
		side = m.Square
	}
	if m := e.Machine; m != nil {
		side = m.Square
	}
	newGame := e.Moves != nil && len(e.Moves) == 0 // nobody is beside the board
	switch {
	case e.Pieces == nil && e.FEN != "":
		e.Pieces = piecesOf(e.FEN, s.state.Pieces, side)
	case e.Pieces == nil && settled:
		e.Pieces = s.state.Pieces
	}
	if e.Pieces != nil && !newGame {
		e.Pieces = withBeside(e.Pieces, s.state.Pieces)
	}
	if e.Pieces != nil {
		s.placed++
	}
	if e.Lean == nil && (e.Pieces != nil || e.Camera != nil || e.Machine != nil) {
		next := s.state
		next.merge(Event{Pieces: e.Pieces, Camera: e.Camera, Machine: e.Machine})
		e.Lean = leans(next)
	}
}

// snapshot is everything, with the age of the motion. The caller holds mu.
func (s *Server) snapshot() Event {
	e := s.state
	if m := e.Motion; m != nil && len(m.Path) > 0 {
		aged := *m
		aged.Elapsed = s.now().Sub(s.began).Seconds()
		e.Motion = &aged
	}
	return e
}

// Handler serves the pages, the stream and the controls.
func (s *Server) Handler() http.Handler {
	files, err := fs.Sub(pages, "page")
	if err != nil {
		files = pages // cannot happen: the folder is embedded
	}
	m := http.NewServeMux()
	m.Handle("GET /static/", http.StripPrefix("/static/", static(files)))
	m.HandleFunc("GET /letters/{font}", serveLettering)
	m.Handle("GET /manual/", http.StripPrefix("/manual", handbook.Handler()))
	m.HandleFunc("GET /events", s.serveEvents)
	if s.Office != nil {
		m.Handle("GET /office", sheet(files, "office.html"))
		m.Handle("/office/", http.StripPrefix("/office", s.Office))
	}
	switch {
	case s.controls == nil && s.Office != nil:
		m.Handle("GET /{$}", http.RedirectHandler("office", http.StatusFound))
		return s.guard(m)
	case s.Guide != nil:
		m.Handle("GET /{$}", http.RedirectHandler("bringup", http.StatusFound))
		s.addGuide(m, sheet(files, "bringup.html"))
	default:
		m.Handle("GET /{$}", sheet(files, "game.html"))
		m.Handle("GET /bench", sheet(files, "bench.html"))
	}
	s.addControls(m)
	if s.Specimens {
		s.addSpecimens(m, files)
	}
	return s.guard(m)
}

// addControls serves the picture and what works a machine.
func (s *Server) addControls(m *http.ServeMux) {
	m.HandleFunc("GET /picture", s.servePicture)
	m.HandleFunc("POST /api/hand", s.serveHand)
	m.HandleFunc("POST /api/answer", s.serveAnswer)
	m.HandleFunc("POST /api/request", s.serveRequest)
	m.HandleFunc("POST /api/halt", s.serveHalt)
	m.HandleFunc("POST /api/resume", s.serveResume)
}

// addGuide serves the page of a bring-up, which then is the first one.
func (s *Server) addGuide(m *http.ServeMux, page http.Handler) {
	m.Handle("GET /bringup", page)
	m.HandleFunc("POST /api/step", s.serveStep)
	m.HandleFunc("GET /papers/{name}", s.servePaper)
}

// SPDX-License-Identifier: Apache-2.0

package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// serveEvents is the stream of server-sent events (WHATWG HTML, "Server-sent
// events").
func (s *Server) serveEvents(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	box := s.watch()
	defer s.unwatch(box)
	tick := time.NewTicker(s.beat)
	defer tick.Stop()
	for {
		var err error
		select {
		case <-r.Context().Done():
			return
		case <-s.closing:
			return
		case <-tick.C:
			err = send(w, "event: beat\ndata: 1\n\n")
		case <-box.bell:
			err = sendPending(w, box)
		}
		if err != nil {
			return
		}
	}
}

func (s *Server) watch() *watcher {
	w := newWatcher()
	s.mu.Lock()
	defer s.mu.Unlock()
	w.put(s.snapshot(), true)
	s.watchers[w] = struct{}{}
	return w
}

func (s *Server) unwatch(w *watcher) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.watchers, w)
}

func sendPending(w http.ResponseWriter, box *watcher) error {
	e, snapshot, ok := box.take()
	if !ok {
		return nil
	}
	name := "part"
	if snapshot {
		name = "snapshot"
	}
	b, err := json.Marshal(e)
	if err != nil {
		return err
	}
	return send(w, fmt.Sprintf("event: %s\ndata: %s\n\n", name, b))
}

func send(w http.ResponseWriter, text string) error {
	c := http.NewResponseController(w)
	// A writer without deadlines (a test's recorder) is no error.
	_ = c.SetWriteDeadline(time.Now().Add(patience))
	if _, err := w.Write([]byte(text)); err != nil {
		return err
	}
	return c.Flush()
}

// servePicture is the newest picture as the camera gave it.
func (s *Server) servePicture(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	b := s.jpeg
	s.mu.Unlock()
	w.Header().Set("Cache-Control", "no-store")
	if len(b) == 0 {
		http.Error(w, "no picture yet", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	_, _ = w.Write(b) // a page that went away needs no picture
}

// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"errors"
	"html/template"
	"io/fs"
	"net/http"
)

// addSpecimens serves every specimen as pages of its own under /specimens, for
// whoever works on the pages. No machine stands behind them.
func (s *Server) addSpecimens(m *http.ServeMux, files fs.FS) {
	list := specimens()
	for _, specimen := range list {
		sub := New(nil)
		sub.controls = &specimenDesk{server: sub}
		sub.closing, sub.AllowRemote, sub.Names = s.closing, s.AllowRemote, s.Names
		for _, e := range specimen.events {
			sub.Publish(e)
		}
		at := "/specimens/" + specimen.name
		m.Handle(at+"/", http.StripPrefix(at, sub.Handler()))
	}
	m.HandleFunc("GET /specimens", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		index, err := template.ParseFS(files, "specimens.html")
		if err == nil {
			err = index.Execute(w, specimenNames(list))
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	})
}

func specimenNames(list []specimen) []string {
	names := make([]string, len(list))
	for i := range list {
		names[i] = list[i].name
	}
	return names
}

// specimenDesk does what the visitor asks on a bare desk: pieces go where they are
// put, and nothing judges.
type specimenDesk struct{ server *Server }

// Hand lets the piece be moved.
func (d *specimenDesk) Hand(_ context.Context, act HandAct) error {
	d.server.mu.Lock()
	pieces := handled(d.server.state.Pieces, act, 1)
	d.server.mu.Unlock()
	if pieces == nil {
		return errors.New("no piece stands on " + act.From)
	}
	return nil
}

// Answer clears the question.
func (d *specimenDesk) Answer(context.Context, uint64, int) error {
	d.server.Publish(Event{Question: &Question{}, Sentence: "Thank you."})
	return nil
}

// Halt shows the halted state.
func (d *specimenDesk) Halt(context.Context) error {
	yes := true
	d.server.Publish(Event{Halted: &yes, Motion: &Motion{}, Sentence: "Stopped. Nothing moves until you press Resume."})
	return nil
}

// Resume ends it.
func (d *specimenDesk) Resume(context.Context) error {
	no := false
	d.server.Publish(Event{Halted: &no, Sentence: "Going on."})
	return nil
}

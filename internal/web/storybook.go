package web

import (
	"context"
	"errors"
	"html/template"
	"io/fs"
	"net/http"
)

// addStories serves every story as pages of its own under /storybook, for
// whoever works on the pages. No machine stands behind them.
func (s *Server) addStories(m *http.ServeMux, files fs.FS) {
	list := stories()
	for _, story := range list {
		sub := New(nil)
		sub.controls = &storyDesk{server: sub}
		sub.closing, sub.AllowRemote, sub.Names = s.closing, s.AllowRemote, s.Names
		for _, e := range story.events {
			sub.Publish(e)
		}
		at := "/storybook/" + story.name
		m.Handle(at+"/", http.StripPrefix(at, sub.Handler()))
	}
	m.HandleFunc("GET /storybook", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		index, err := template.ParseFS(files, "storybook.html")
		if err == nil {
			err = index.Execute(w, storyNames(list))
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	})
}

func storyNames(list []story) []string {
	names := make([]string, len(list))
	for i := range list {
		names[i] = list[i].name
	}
	return names
}

// storyDesk does what the visitor asks on a bare desk: men go where they are
// put, and nothing judges.
type storyDesk struct{ server *Server }

// Hand lets the man be moved.
func (d *storyDesk) Hand(_ context.Context, act HandAct) error {
	d.server.mu.Lock()
	men := handled(d.server.state.Men, act, 1)
	d.server.mu.Unlock()
	if men == nil {
		return errors.New("no man stands on " + act.From)
	}
	return nil
}

// Answer clears the question.
func (d *storyDesk) Answer(context.Context, int) error {
	d.server.Publish(Event{Question: &Question{}, Sentence: "Thank you."})
	return nil
}

// Halt shows the halted state.
func (d *storyDesk) Halt(context.Context) error {
	yes := true
	d.server.Publish(Event{Halted: &yes, Motion: &Motion{}, Sentence: "Stopped. Nothing moves until you let it go on."})
	return nil
}

// Resume ends it.
func (d *storyDesk) Resume(context.Context) error {
	no := false
	d.server.Publish(Event{Halted: &no, Sentence: "Going on."})
	return nil
}
